"""What lies within a polygon of the page: a rim, a rectangle for words, a level line."""

from __future__ import annotations

import math

from bedwright.drawings.geometry import (
    Point,
    Polygon,
    bounds,
    contains,
    cross,
    middle,
    sides,
    signed_area,
)

_NEAR = 1e-6


def inset(polygon: Polygon, by: float) -> Polygon:
    """A polygon drawn in by a distance, its corners mitered."""
    turn = 1 if signed_area(polygon) > 0 else -1
    moved = []
    for (x1, y1), (x2, y2) in sides(polygon):
        length = math.dist((x1, y1), (x2, y2))
        if length > _NEAR:
            dx, dy = -(y2 - y1) / length * by * turn, (x2 - x1) / length * by * turn
            moved.append(((x1 + dx, y1 + dy), (x2 + dx, y2 + dy)))
    return tuple(
        _meeting(before, after)
        for before, after in zip(moved[-1:] + moved[:-1], moved, strict=True)
    )


def inner_rectangle(polygon: Polygon) -> tuple[Point, float, float]:
    """The largest upright rectangle found in a polygon: center, width, height.

    Its sides are looked for at the polygon's corners and at even steps between, so it is the
    largest of an outline of right angles, and nearly so of others.
    """
    left, top, right, bottom = bounds(polygon)
    xs, ys = (
        _steps(left, right, [x for x, _ in polygon]),
        _steps(top, bottom, [y for _, y in polygon]),
    )
    found = sorted(
        (
            (x2 - x1) * (y2 - y1),
            x1,
            y1,
            x2,
            y2,
        )
        for at, x1 in enumerate(xs)
        for x2 in xs[at + 1 :]
        for row, y1 in enumerate(ys)
        for y2 in ys[row + 1 :]
    )
    for _, x1, y1, x2, y2 in reversed(found):
        center = ((x1 + x2) / 2, (y1 + y2) / 2)
        if contains(polygon, center) and not _entered(polygon, x1, y1, x2, y2):
            return center, x2 - x1, y2 - y1
    return middle(polygon), 0.0, 0.0


def level_spans(polygon: Polygon, y: float) -> list[tuple[float, float]]:
    """Where a level line runs within a polygon, from left to right."""
    crossings = sorted(
        x1 + (y - y1) / (y2 - y1) * (x2 - x1)
        for (x1, y1), (x2, y2) in sides(polygon)
        if (y1 > y) != (y2 > y)
    )
    return list(zip(crossings[::2], crossings[1::2], strict=True))


def _steps(low: float, high: float, corners: list[float]) -> list[float]:
    found = sorted({round(each, 6) for each in corners})
    even = [low + (high - low) * at / 6 for at in range(7)]
    return sorted({*found[:: max(1, len(found) // 8)], *(round(each, 6) for each in even)})


def _entered(polygon: Polygon, x1: float, y1: float, x2: float, y2: float) -> bool:
    """Whether a side of the polygon runs through the rectangle."""
    shrunk = ((x1, y1), (x2, y1), (x2, y2), (x1, y2))
    inner = inset(shrunk, min(x2 - x1, y2 - y1) * 1e-3)
    low_x, low_y, high_x, high_y = bounds(inner)
    for p, q in sides(polygon):
        if any(low_x < x < high_x and low_y < y < high_y for x, y in (p, q)):
            return True
        if any(cross(p, q, r, s) for r, s in sides(inner)):
            return True
    return False


def _meeting(before: tuple[Point, Point], after: tuple[Point, Point]) -> Point:
    (x1, y1), (x2, y2) = before
    (x3, y3), (x4, y4) = after
    cross = (x2 - x1) * (y4 - y3) - (y2 - y1) * (x4 - x3)
    if abs(cross) < _NEAR:
        return x3, y3
    share = ((x3 - x1) * (y4 - y3) - (y3 - y1) * (x4 - x3)) / cross
    return x1 + share * (x2 - x1), y1 + share * (y2 - y1)
