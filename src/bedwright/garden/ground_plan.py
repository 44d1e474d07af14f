"""Where a bed's corners lie, from its size, its long axis and the corner that is stated."""

from __future__ import annotations

import math

from bedwright.garden.model import Bed

Point = tuple[float, float]

_AS_EQUAL = 1e-9  # rad: 45 degrees written as "45 deg" or "NE-SW" are one direction


def ground_plan(bed: Bed) -> tuple[Point, ...]:
    """The bed's corners in order [m], east and north of its own corner.

    A rectangle lies along its ``long_axis`` and its own corner is the one farthest to the
    southwest (where a whole side faces southwest, the western end of that side); one whose long
    axis is not stated is taken to lie north-south. An outline stays as it is written.
    """
    if bed.length is None or bed.width is None:
        return tuple((east.si, north.si) for east, north in bed.outline or ())
    long, short = max(bed.length.si, bed.width.si), min(bed.length.si, bed.width.si)
    along, across = _directions(bed.long_axis.si if bed.long_axis is not None else 0.0)
    end = (along[0] * long, along[1] * long)
    side = (across[0] * short, across[1] * short)
    return ((0.0, 0.0), end, (end[0] + side[0], end[1] + side[1]), side)


def placed_plan(bed: Bed) -> tuple[Point, ...] | None:
    """The bed's corners [m], east and north of the garden's shared point; None where no corner
    is stated."""
    if bed.corner is None:
        return None
    east, north = bed.corner[0].si, bed.corner[1].si
    return tuple((east + x, north + y) for x, y in ground_plan(bed))


def _directions(axis: float) -> tuple[Point, Point]:
    """Unit vectors (east, north) along and across a rectangle, from its southwestern corner."""
    quarter = math.pi / 4
    turn, side = axis, axis + math.pi / 2
    if axis > 3 * quarter + _AS_EQUAL:
        turn, side = axis + math.pi, axis - math.pi / 2
    elif axis > quarter + _AS_EQUAL:
        side = axis - math.pi / 2
    return (math.sin(turn), math.cos(turn)), (math.sin(side), math.cos(side))
