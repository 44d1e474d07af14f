"""Beds and parts of beds as the rotation sees them, and how near they lie to each other."""

from __future__ import annotations

import math
from itertools import combinations

import numpy as np

from bedwright.garden import Document
from bedwright.garden.ground_plan import Point, placed_plan
from bedwright.planning.assignment.model import Unit
from bedwright.planning.rotation.problem import FloatArray

NEIGHBOR_GAP_M = 1.5  # judgement: across the usual path between two beds, and no farther
_FAR_M = 20.0  # judgement: beyond the reach of one hose and one basket, beds are not near


def units_of(document: Document) -> tuple[Unit, ...]:
    """Every bed in the garden's order, those of several parts as so many units."""
    units = []
    for bed in document.garden.bed:
        for part in range(1, bed.parts + 1):
            share = 1 / bed.parts
            named = None if bed.parts == 1 else part
            units.append(Unit(bed.id, named, bed.area_m2 * share, share))
    return tuple(units)


def units_at(units: tuple[Unit, ...], bed: str, part: int | None) -> tuple[int, ...]:
    """The units of a bed: of one part, or all where none is named."""
    return tuple(
        at
        for at, each in enumerate(units)
        if each.bed == bed and (part is None or each.part in (None, part))
    )


def nearness(document: Document, units: tuple[Unit, ...]) -> FloatArray | None:
    """How near each two units lie, (units, units) from 0 to 1; None where no corners are stated.

    1 within one bed and across a path, falling evenly to 0 at a distance of 20 m.
    """
    gaps = _gaps(document)
    if not gaps:
        return None
    found = np.zeros((len(units), len(units)))
    for one, other in combinations(range(len(units)), 2):
        a, b = units[one].bed, units[other].bed
        gap = 0.0 if a == b else gaps.get((a, b), math.inf)
        near = 1 - max(gap - NEIGHBOR_GAP_M, 0.0) / (_FAR_M - NEIGHBOR_GAP_M)
        found[one, other] = found[other, one] = max(near, 0.0)
    return found


def beside(document: Document, units: tuple[Unit, ...]) -> tuple[tuple[int, int], ...]:
    """The pairs of units that stand side by side: in one bed, or across a path."""
    gaps = _gaps(document)
    return tuple(
        (one, other)
        for one, other in combinations(range(len(units)), 2)
        if units[one].bed == units[other].bed
        or gaps.get((units[one].bed, units[other].bed), math.inf) <= NEIGHBOR_GAP_M
    )


def _gaps(document: Document) -> dict[tuple[str, str], float]:
    """The distance between each two beds whose corners are stated [m]."""
    plans = {bed.id: plan for bed in document.garden.bed if (plan := placed_plan(bed)) is not None}
    return {(a, b): _gap(plans[a], plans[b]) for a, b in combinations(plans, 2)}


def _gap(one: tuple[Point, ...], other: tuple[Point, ...]) -> float:
    """Between two outlines that don't overlap: from a corner of one to a side of the other."""
    pairs = [(one, other), (other, one)]
    return min(
        _to_side(corner, start, end)
        for corners, sides in pairs
        for corner in corners
        for start, end in zip(sides, sides[1:] + sides[:1], strict=True)
    )


def _to_side(point: Point, start: Point, end: Point) -> float:
    along = (end[0] - start[0], end[1] - start[1])
    length = along[0] ** 2 + along[1] ** 2
    share = 0.0
    if length > 0:
        reach = (point[0] - start[0]) * along[0] + (point[1] - start[1]) * along[1]
        share = min(max(reach / length, 0.0), 1.0)
    foot = (start[0] + share * along[0], start[1] + share * along[1])
    return math.hypot(point[0] - foot[0], point[1] - foot[1])
