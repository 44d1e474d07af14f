"""What a quantity may be a quantity of, and the units that fit it."""

from __future__ import annotations

from dataclasses import dataclass

Dimension = tuple[tuple[str, int], ...]


@dataclass(frozen=True)
class Kind:
    """A kind of quantity: its name in words, its dimension, its SI unit and units that fit it.

    ``dimension`` lists base dimensions with their exponents, sorted by name.
    ``fits`` are examples shown in messages, the commonest first.
    ``ppm_is_per_litre`` marks water analyses, where laboratories print ppm for mg/L.
    """

    key: str
    words: str
    dimension: Dimension
    si_unit: str
    fits: tuple[str, ...]
    ppm_is_per_litre: bool = False


def _of(**exponents: int) -> Dimension:
    return tuple(sorted((base, power) for base, power in exponents.items() if power))


_CURRENCIES = ("USD", "EUR", "AUD", "GBP", "CAD", "NZD", "ZAR")
_ALL = (
    Kind("length", "a length", _of(m=1), "m", ("in", "ft", "cm", "m")),
    Kind("depth", "a depth", _of(m=1), "m", ("in", "cm", "mm")),
    Kind("area", "an area", _of(m=2), "m2", ("ft2", "m2", "ac", "ha")),
    Kind("volume", "a volume", _of(m=3), "m3", ("cup", "gal", "ft3", "yd3", "l")),
    Kind("mass", "a mass", _of(kg=1), "kg", ("oz", "lb", "g", "kg")),
    Kind(
        "mass_per_area",
        "a mass per area",
        _of(kg=1, m=-2),
        "kg/m2",
        ("lb/100 ft2", "lb/1000 ft2", "lb/ac", "g/m2", "kg/ha"),
    ),
    Kind("density", "a mass per volume", _of(kg=1, m=-3), "kg/m3", ("lb/ft3", "lb/cup", "kg/l")),
    Kind("fraction", "a share by mass", _of(), "kg/kg", ("%", "ppm", "mg/kg", "g/kg")),
    Kind("ratio", "a plain number", _of(), "-", ("%", "-")),
    Kind(
        "charge_fraction", "a charge per mass", _of(eq=1, kg=-1), "eq/kg", ("meq/100 g", "cmol/kg")
    ),
    Kind(
        "concentration",
        "a mass per volume of water",
        _of(kg=1, m=-3),
        "kg/m3",
        ("mg/l", "ppm"),
        ppm_is_per_litre=True,
    ),
    Kind("charge_concentration", "a charge per volume", _of(eq=1, m=-3), "eq/m3", ("meq/l",)),
    Kind("conductivity", "an electrical conductivity", _of(S=1, m=-1), "S/m", ("dS/m", "mmho/cm")),
    Kind("temperature", "a temperature", _of(K=1), "K", ("F", "C")),
    Kind("temperature_difference", "a temperature difference", _of(K=1), "K", ("F", "C")),
    Kind("time", "a time", _of(s=1), "s", ("min", "h", "day", "week")),
    Kind("angle", "an angle", _of(rad=1), "rad", ("deg",)),
    Kind("money", "an amount of money", _of(money=1), "money", _CURRENCIES),
    Kind("pressure", "a pressure", _of(m=-1, kg=1, s=-2), "Pa", ("kPa", "psi")),
    Kind("flow", "a flow of water", _of(m=3, s=-1), "m3/s", ("gal/min", "gal/h", "l/min", "l/h")),
    Kind(
        "money_per_volume",
        "a price per volume",
        _of(money=1, m=-3),
        "money/m3",
        ("USD/1000 gal", "USD/m3", "EUR/m3"),
    ),
    Kind("mass_per_mass", "a mass per mass", _of(), "kg/kg", ("lb/ton", "kg/t", "%")),
)

KINDS: dict[str, Kind] = {each.key: each for each in _ALL}


def kind(key: str) -> Kind:
    """The kind called ``key``. Raises KeyError with the known kinds for an unknown key."""
    try:
        return KINDS[key]
    except KeyError:
        raise KeyError(
            f"no kind of quantity is called {key!r}; there are: {', '.join(KINDS)}"
        ) from None
