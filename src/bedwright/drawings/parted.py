"""A bed's ground on the page divided into equal pieces, across it or along it."""

from __future__ import annotations

import math

from bedwright.drawings.geometry import Point, Polygon
from bedwright.garden import Bed

_NEAR = 1e-9


def parted(bed: Bed, ground: Polygon, count: int, *, lengthwise: bool = False) -> list[Polygon]:
    """So many pieces of a bed's ground in order; the first lies at its southern or western end.

    ``ground`` are corners on the page, those of the bed or of a piece of it. ``lengthwise`` cuts
    along the bed. Pieces of an outline are of equal length, not always of equal area.
    """
    if count == 1:
        return [ground]
    shares = [(at / count, (at + 1) / count) for at in range(count)]
    if bed.outline is None:
        a, b, c, d = ground  # along the bed, across it, and back
        if lengthwise:
            return [
                (_between(a, d, low), _between(b, c, low), _between(b, c, high),
                 _between(a, d, high))
                for low, high in shares
            ]  # fmt: skip
        return [
            (_between(a, b, low), _between(a, b, high), _between(d, c, high), _between(d, c, low))
            for low, high in shares
        ]
    axis = _axis(bed, ground)
    if lengthwise:
        axis = (-axis[1], axis[0])
    far = [x * axis[0] + y * axis[1] for x, y in ground]
    begin, length = min(far), max(far) - min(far)
    back = (-axis[0], -axis[1])
    return [
        _kept(_kept(ground, axis, begin + length * low), back, -(begin + length * high))
        for low, high in shares
    ]


def _axis(bed: Bed, ground: Polygon) -> Point:
    """The way along an outline on the page, toward its northern or eastern end."""
    if bed.long_axis is not None:
        turn = bed.long_axis.si % math.pi
        east, north = math.sin(turn), math.cos(turn)
        if turn > 3 * math.pi / 4:
            east, north = -east, -north
        return east, -north
    wide = max(x for x, _ in ground) - min(x for x, _ in ground)
    tall = max(y for _, y in ground) - min(y for _, y in ground)
    return (1.0, 0.0) if wide >= tall else (0.0, -1.0)


def _between(one: Point, other: Point, share: float) -> Point:
    return one[0] + (other[0] - one[0]) * share, one[1] + (other[1] - one[1]) * share


def _kept(ground: Polygon, axis: Point, least: float) -> Polygon:
    """What of a polygon lies beyond a line across an axis."""
    found: list[Point] = []
    for one, other in zip(ground, ground[1:] + ground[:1], strict=True):
        a = one[0] * axis[0] + one[1] * axis[1] - least
        b = other[0] * axis[0] + other[1] * axis[1] - least
        if a >= -_NEAR:
            found.append(one)
        if (a > _NEAR and b < -_NEAR) or (a < -_NEAR and b > _NEAR):
            found.append(_between(one, other, a / (a - b)))
    return tuple(found)
