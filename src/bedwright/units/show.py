"""Writing quantities for people: their unit system, and no more digits than they can use."""

from __future__ import annotations

import math
from enum import StrEnum

from bedwright.language import said
from bedwright.units.parse import unit_factor


class UnitSystem(StrEnum):
    """The units that a garden's owner wants to see."""

    US = "US customary"
    METRIC = "metric"


_OUNCES_PER_POUND = 16  # by definition
_UNITS: dict[str, tuple[str, str]] = {  # kind -> (US customary, metric)
    "length": ("ft", "m"),
    "depth": ("in", "cm"),
    "area": ("ft2", "m2"),
    "mass_per_area": ("lb/100 ft2", "g/m2"),
    "mass": ("lb", "kg"),
    "density": ("lb/ft3", "kg/m3"),
    "temperature_difference": ("F", "C"),
    "conductivity": ("dS/m", "dS/m"),
    "fraction": ("%", "%"),
    "volume": ("gal", "l"),
    "concentration": ("mg/l", "mg/l"),
    "charge_fraction": ("meq/100 g", "meq/100 g"),
    "charge_concentration": ("meq/l", "meq/l"),
}


def show(value_si: float, kind: str, system: UnitSystem, *, digits: int = 3) -> str:
    """``value_si`` of ``kind`` in the units of ``system``, to ``digits`` significant digits.

    A US mass is written in pounds and ounces. Raises KeyError for a kind that has no unit to be
    shown in, and ValueError for a value that is not finite: unknown must be said in words.
    """
    if not math.isfinite(value_si):
        raise ValueError("a value that is not known cannot be shown as a number")
    if kind == "mass" and system is UnitSystem.US:
        return _pounds_and_ounces(value_si)
    if kind == "mass" and abs(value_si) < 1:
        return f"{plain(value_si * 1000, digits)} g"
    if kind == "temperature":
        celsius = value_si - 273.15  # BIPM SI Brochure 2019, table 4
        return (
            f"{celsius:.0f} C" if system is UnitSystem.METRIC else f"{celsius * 9 / 5 + 32:.0f} F"
        )
    unit = _UNITS[kind][0 if system is UnitSystem.US else 1]
    return f"{plain(value_si / unit_factor(unit)[0], digits)} {said(unit, 'unit')}"


def show_range(
    low_si: float, high_si: float, kind: str, system: UnitSystem, *, digits: int = 2
) -> str:
    """A range, written once with both ends."""
    low, high = (show(end, kind, system, digits=digits) for end in (low_si, high_si))
    return said("{low} to {high}").format(low=low, high=high)


def plain(value: float, digits: int = 3) -> str:
    """A number to ``digits`` significant digits without an exponent: 0.0123, 4.6, 1250."""
    if value == 0:
        return "0"
    places = digits - 1 - math.floor(math.log10(abs(value)))
    rounded = round(value, places)
    text = f"{rounded:.{max(places, 0)}f}"
    return text.rstrip("0").rstrip(".") if "." in text else text


def _pounds_and_ounces(value_kg: float) -> str:
    ounces = value_kg / unit_factor("oz")[0]
    if ounces < 0:
        return f"-{_pounds_and_ounces(-value_kg)}"
    if ounces < 4:  # a kitchen scale shows a quarter of an ounce
        return f"{plain(round(ounces * 4) / 4, 3) if ounces >= 0.25 else plain(ounces, 2)} oz"
    whole = round(ounces * 2) / 2 if ounces < _OUNCES_PER_POUND else round(ounces)
    pounds, rest = divmod(whole, _OUNCES_PER_POUND)
    if pounds == 0:
        return f"{plain(rest)} oz"
    if pounds >= 20:
        return f"{plain(round(ounces / _OUNCES_PER_POUND * 2) / 2)} lb"
    return f"{pounds:.0f} lb" if rest == 0 else f"{pounds:.0f} lb {plain(rest)} oz"
