"""A part of a bed as a bed of its own, for the crop that has but this part."""

from __future__ import annotations

import math

from bedwright.garden import Bed
from bedwright.garden.ground_plan import Point, ground_plan
from bedwright.units import Quantity


def piece_of(bed: Bed, part: int | None) -> Bed:
    """A part of a bed under the bed's id, the whole bed where no part is named.

    Parts are of equal length and area; the first lies at the southern or western end. An outline
    is drawn together along the bed: its area is the part's share, its shape near enough.
    """
    if part is None or bed.parts == 1:
        return bed
    share = 1 / bed.parts
    plan = ground_plan(bed)
    along = _along(bed, plan)
    far = [east * along[0] + north * along[1] for east, north in plan]
    begin, whole = min(far), max(far) - min(far)
    moved = whole * share * (part - 1)
    if bed.length is not None and bed.width is not None:
        long, short = max(bed.length, bed.width, key=_size), min(bed.length, bed.width, key=_size)
        if long.si * share >= short.si:
            corner = bed.corner
            if corner is not None:
                corner = (
                    _shifted(corner[0], along[0] * moved),
                    _shifted(corner[1], along[1] * moved),
                )
            length = Quantity(long.si * share, long.kind, f"{long.text} / {bed.parts}")
            made = {"length": length, "width": short, "corner": corner, "parts": 1}
            return bed.model_copy(update=made)
    outline = []
    for (east, north), at in zip(plan, far, strict=True):
        step = (at - begin) * (share - 1) + moved
        x, y = east + along[0] * step, north + along[1] * step
        outline.append((_length(x), _length(y)))
    axis = bed.long_axis or Quantity(math.atan2(*along), "direction", "along the bed")
    made_of = {"length": None, "width": None, "outline": outline, "long_axis": axis, "parts": 1}
    return bed.model_copy(update=made_of)


def _along(bed: Bed, plan: tuple[Point, ...]) -> Point:
    """The way along a bed, east and north, toward its northern or eastern end."""
    if bed.outline is None:
        east, north = plan[1]
        size = math.hypot(east, north)
        return east / size, north / size
    if bed.long_axis is not None:
        turn = bed.long_axis.si % math.pi
        sign = -1.0 if turn > 3 * math.pi / 4 else 1.0
        return sign * math.sin(turn), sign * math.cos(turn)
    wide = max(x for x, _ in plan) - min(x for x, _ in plan)
    tall = max(y for _, y in plan) - min(y for _, y in plan)
    return (1.0, 0.0) if wide >= tall else (0.0, 1.0)


def _size(length: Quantity) -> float:
    return length.si


def _shifted(place: Quantity, by_m: float) -> Quantity:
    return _length(place.si + by_m)


def _length(value_m: float) -> Quantity:
    return Quantity(value_m, "length", f"{value_m:.2f} m")
