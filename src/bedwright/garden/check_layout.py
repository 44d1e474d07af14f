"""Beds that are said to lie over one another."""

from __future__ import annotations

import math
from collections.abc import Iterator

from bedwright.garden.checked import Checked
from bedwright.garden.ground_plan import Point, placed_plan
from bedwright.garden.model import Bed, Garden

_HAND_M = 0.10  # as near as a gardener measures with a tape: judgement

Plan = tuple[Point, ...]


def check_layout(garden: Garden, checked: Checked) -> None:
    """Find beds whose stated corners lay them over another by more than a hand, 10 cm.

    Two rectangles, or a rectangle and an outline, are held against each other; two outlines are
    not.
    """
    for first, second in _neighbors(garden):
        one, other = garden.bed[first], garden.bed[second]
        if _lie_over(one, other):
            checked.fault(
                ("bed", second, "corner"),
                f"bed {other.id!r} lies over bed {one.id!r} by more than a hand",
                "Correct the corner, the size or the long_axis of one of them.",
            )


def _neighbors(garden: Garden) -> Iterator[tuple[int, int]]:
    """Pairs of placed beds whose reach from west to east and from south to north overlaps."""
    reach = []
    for at, bed in enumerate(garden.bed):
        plan = placed_plan(bed)
        if plan is not None:
            east, north = zip(*plan, strict=True)
            reach.append((min(east), max(east), min(north), max(north), at))
    reach.sort()
    open_: list[tuple[float, float, float, float, int]] = []
    for here in reach:
        open_ = [each for each in open_ if each[1] > here[0]]
        for each in open_:
            if each[2] < here[3] and here[2] < each[3]:
                yield min(each[4], here[4]), max(each[4], here[4])
        open_.append(here)


def _lie_over(one: Bed, other: Bed) -> bool:
    first, second = placed_plan(one), placed_plan(other)
    assert first is not None and second is not None
    if one.outline is None and other.outline is None:
        return _least_shift(first, second) > _HAND_M
    if one.outline is not None and other.outline is not None:
        return False
    rectangle, outline = (first, second) if one.outline is None else (second, first)
    core = _drawn_in(rectangle, _HAND_M)
    return core is not None and _area(_clipped(outline, core)) > 0


def _least_shift(first: Plan, second: Plan) -> float:
    """How far one rectangle must move to lie clear of the other [m]; negative where it does."""
    least = math.inf
    for plan in (first, second):
        for start, end in ((plan[0], plan[1]), (plan[1], plan[2])):
            length = math.dist(start, end)
            if length == 0:  # a bed too small for its place to be told apart
                return 0.0
            x, y = (end[0] - start[0]) / length, (end[1] - start[1]) / length
            low, high = _extent(first, x, y)
            other_low, other_high = _extent(second, x, y)
            least = min(least, high - other_low, other_high - low)
    return least


def _extent(plan: Plan, x: float, y: float) -> tuple[float, float]:
    along = [east * x + north * y for east, north in plan]
    return min(along), max(along)


def _drawn_in(rectangle: Plan, by: float) -> Plan | None:
    """The rectangle without a rim; None where nothing is left of it."""
    corner, end, _, side = rectangle
    long, short = math.dist(corner, end), math.dist(corner, side)
    if min(long, short) <= 2 * by:
        return None
    along = ((end[0] - corner[0]) / long, (end[1] - corner[1]) / long)
    across = ((side[0] - corner[0]) / short, (side[1] - corner[1]) / short)
    steps = ((by, by), (long - by, by), (long - by, short - by), (by, short - by))
    return tuple(
        (corner[0] + along[0] * u + across[0] * v, corner[1] + along[1] * u + across[1] * v)
        for u, v in steps
    )


def _clipped(outline: Plan, rectangle: Plan) -> Plan:
    """What of an outline lies within a rectangle (Sutherland and Hodgman's clipping)."""
    kept = list(outline)
    middle = (
        sum(east for east, _ in rectangle) / len(rectangle),
        sum(north for _, north in rectangle) / len(rectangle),
    )
    for start, end in zip(rectangle, rectangle[1:] + rectangle[:1], strict=True):
        inward = 1 if _side(start, end, middle) > 0 else -1
        before, kept = kept, []
        for here, there in zip(before, before[1:] + before[:1], strict=True):
            a, b = inward * _side(start, end, here), inward * _side(start, end, there)
            if a >= 0:
                kept.append(here)
            if (a > 0 > b) or (a < 0 < b):
                share = a / (a - b)
                kept.append(
                    (
                        here[0] + share * (there[0] - here[0]),
                        here[1] + share * (there[1] - here[1]),
                    )
                )
    return tuple(kept)


def _side(start: Point, end: Point, point: Point) -> float:
    return (end[0] - start[0]) * (point[1] - start[1]) - (end[1] - start[1]) * (point[0] - start[0])


def _area(plan: Plan) -> float:
    pairs = zip(plan, plan[1:] + plan[:1], strict=True)
    return abs(math.fsum(x1 * y2 - x2 * y1 for (x1, y1), (x2, y2) in pairs)) / 2
