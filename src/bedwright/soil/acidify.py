"""Lowering pH with sulfur: what free lime swallows, and the published rates where there is none."""

from __future__ import annotations

from itertools import pairwise

from bedwright.guards import not_negative, positive, within
from bedwright.reference import Library, Row
from bedwright.soil.forms import CALCIUM, CARBON, OXYGEN, SULFUR
from bedwright.units import to_si
from bedwright.working import Figure, Source, formula

_CARBONATE_PER_SULFUR = (CALCIUM + CARBON + 3 * OXYGEN) / SULFUR  # kg CaCO3 per kg S


@formula(
    "sulfur = lime in the layer x 32.06 / 100.09",
    result=("mass_per_area", "kg/m2"),
    sources=(
        Source("computed", "", "S + 1.5 O2 + H2O -> H2SO4; H2SO4 + CaCO3 -> CaSO4 + H2O + CO2"),
    ),
    example={"carbonate": "1 %", "bulk_density": "1.3 kg/l", "depth": "6 in"},
    carbonate=("fraction", "%"),
    bulk_density=("density", "kg/m3"),
    depth=("depth", "m"),
)
def sulfur_to_dissolve_lime(carbonate: float, bulk_density: float, depth: float) -> float:
    """Sulfur that the free lime of a layer uses up before its pH moves [kg/m2].

    Parameters
    ----------
    carbonate : calcium carbonate in the soil [%], 0 to 100
    bulk_density : of the dry soil [kg/m3], above 0
    depth : of the layer [m], above 0

    Raises ValueError for an input outside its range.
    """
    within(0, 100, carbonate=carbonate)
    positive(bulk_density=bulk_density, depth=depth)
    return carbonate / 100 * bulk_density * depth / _CARBONATE_PER_SULFUR


@formula(
    "gypsum formed = sulfur x 172.17 / 32.06",
    result=("mass_per_area", "kg/m2"),
    sources=(Source("computed", "", "atomic weights"),),
    example={"sulfur": "1 lb/100 ft2"},
    sulfur=("mass_per_area", "kg/m2"),
)
def gypsum_from_sulfur(sulfur: float) -> float:
    """Gypsum that sulfur makes of a soil's lime [kg/m2].

    Parameters
    ----------
    sulfur : elemental [kg/m2], 0 and up

    Raises ValueError for a negative input.
    """
    from bedwright.soil.forms import HYDROGEN

    not_negative(sulfur=sulfur)
    gypsum = CALCIUM + SULFUR + 4 * OXYGEN + 2 * (2 * HYDROGEN + OXYGEN)
    return sulfur * gypsum / SULFUR


def sulfur_by_texture(library: Library, texture_group: str, ph: float, target_ph: float) -> Figure:
    """Sulfur for a soil without free lime [kg/m2], with the spread of the published rates.

    The value is by the first scheme in use that was read in a source; low and high are the least
    and the most that any scheme for this step asks for. A scheme of one rate is taken in
    proportion to the pH step, a scheme of several as a curve that ends at its own target.
    Schemes for acid-loving shrubs (Michigan's table to pH 4.5) are left out. ``texture_group``
    is coarse, medium, fine, or any where it is not known. Raises LookupError for another.
    """
    if ph <= target_ph:
        return Figure("sulfur_requirement", 0.0, "kg/m2", "computed", formula="sulfur_by_texture")
    schemes: dict[str, list[Row]] = {}
    for row in library.rows("sulfur_rates"):
        if row["texture_group"] in (texture_group, "any") and _covers(row, target_ph):
            schemes.setdefault(row["scheme"], []).append(row)
    schemes = {
        scheme: rows
        for scheme, rows in schemes.items()
        if len(rows) == 1 or target_ph >= (rows[0].number("to_ph") or 0.0)
    }
    own = [
        rows
        for rows in schemes.values()
        if rows[0]["texture_group"] == texture_group and any(row.used for row in rows)
    ]
    read = [rows for rows in own if rows[0].source.source_id != "from_memory"]
    if not own:
        raise LookupError(f"no sulfur rate for a {texture_group!r} texture")
    chosen = (read or own)[0]
    return Figure(
        "sulfur_requirement",
        _rate(chosen, "typical", ph, target_ph),
        "kg/m2",
        "computed",
        low=min(_rate(rows, "low", ph, target_ph) for rows in schemes.values()),
        high=max(_rate(rows, "high", ph, target_ph) for rows in schemes.values()),
        sources=(chosen[0].source,),
        formula="sulfur_by_texture",
    )


def _covers(row: Row, target_ph: float) -> bool:
    """Whether a scheme speaks of steps in a garden's range, not of acid-loving shrubs."""
    to_ph = row.number("to_ph")
    return to_ph is not None and to_ph >= 6.0 and target_ph >= 5.5


def _rate(rows: list[Row], end: str, ph: float, target_ph: float) -> float:
    """What one scheme asks for [kg/m2]: its rate by the step, or the difference on its curve."""
    points = sorted((row.number("from_ph") or 0.0, _per_area(row, end)) for row in rows)
    end_point = rows[0].number("to_ph") or 0.0
    if len(points) == 1:
        from_ph, rate = points[0]
        return rate * (ph - target_ph) / (from_ph - end_point)
    curve = [(end_point, 0.0), *points]
    return _on_curve(curve, ph) - _on_curve(curve, target_ph)


def _per_area(row: Row, end: str) -> float:
    value = row.number(end)
    return to_si(row.typical() if value is None else value, row["unit"], "mass_per_area")


def _on_curve(curve: list[tuple[float, float]], ph: float) -> float:
    """The rate at a pH, straight between points; the last line carries on beyond the end."""
    lines = list(pairwise(curve))
    (x0, y0), (x1, y1) = next((line for line in lines if ph <= line[1][0]), lines[-1])
    return y0 + (y1 - y0) * (ph - x0) / (x1 - x0)
