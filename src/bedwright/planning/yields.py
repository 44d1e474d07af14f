"""Yields that the gardener states, as a mass per area."""

from __future__ import annotations

from bedwright.garden import Document, Want
from bedwright.units import Quantity
from bedwright.working import Figure


def yield_per_area(stated: Quantity, area_m2: float) -> float:
    """A harvest or a goal [kg/m2]; a mass alone is that of the whole area [m2]."""
    return float(stated.si if stated.kind == "mass_per_area" else stated.si / area_m2)


def stated_goal(document: Document, want: Want) -> Figure | None:
    """A want's yield goal [kg/m2], None without one; a mass alone is that of all its beds."""
    stated = want.yield_goal
    if stated is None:
        return None
    area = sum(bed.area_m2 for bed in document.garden.bed if bed.id in want.beds)
    value = yield_per_area(stated, area)
    return Figure("yield_goal", value, "kg/m2", "stated", note=stated.text)
