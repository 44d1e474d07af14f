"""Plane geometry of the page: x to the right, y down, px."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence

Point = tuple[float, float]
Polygon = tuple[Point, ...]

_NEAR = 1e-6


def bounds(points: Iterable[Point]) -> tuple[float, float, float, float]:
    """Left, top, right and bottom of some points."""
    xs, ys = zip(*points, strict=True)
    return min(xs), min(ys), max(xs), max(ys)


def box(center: Point, width: float, height: float, degrees: float = 0.0) -> Polygon:
    """A rectangle about its center, turned clockwise on the page."""
    turn = math.radians(degrees)
    across, down = (math.cos(turn), math.sin(turn)), (-math.sin(turn), math.cos(turn))
    return tuple(
        (
            center[0] + across[0] * u * width / 2 + down[0] * v * height / 2,
            center[1] + across[1] * u * width / 2 + down[1] * v * height / 2,
        )
        for u, v in ((-1, -1), (1, -1), (1, 1), (-1, 1))
    )


def sides(polygon: Polygon) -> Iterable[tuple[Point, Point]]:
    """The sides of a polygon, each from corner to corner."""
    return zip(polygon, polygon[1:] + polygon[:1], strict=True)


def signed_area(polygon: Polygon) -> float:
    """Area, positive where the corners run clockwise on the page."""
    return math.fsum(x1 * y2 - x2 * y1 for (x1, y1), (x2, y2) in sides(polygon)) / 2


def contains(polygon: Polygon, point: Point) -> bool:
    """Whether a point lies within a polygon."""
    x, y = point
    inside = False
    for (x1, y1), (x2, y2) in sides(polygon):
        if (y1 > y) != (y2 > y) and x < x1 + (y - y1) / (y2 - y1) * (x2 - x1):
            inside = not inside
    return inside


def overlap(first: Polygon, second: Polygon) -> bool:
    """Whether two polygons share ground; sides that touch do not count."""
    a, b = bounds(first), bounds(second)
    if a[2] <= b[0] or b[2] <= a[0] or a[3] <= b[1] or b[3] <= a[1]:
        return False
    if any(cross(p, q, r, s) for p, q in sides(first) for r, s in sides(second)):
        return True
    return (
        any(contains(second, _toward(p, first)) for p in first)
        or any(contains(first, _toward(p, second)) for p in second)
        or contains(second, middle(first))
    )


def middle(points: Sequence[Point]) -> Point:
    """The mean of some points."""
    return (
        math.fsum(x for x, _ in points) / len(points),
        math.fsum(y for _, y in points) / len(points),
    )


def cross(p: Point, q: Point, r: Point, s: Point) -> bool:
    """Whether the line from p to q and the line from r to s cross between their ends."""
    return _turn(p, q, r) * _turn(p, q, s) < 0 and _turn(r, s, p) * _turn(r, s, q) < 0


def _turn(a: Point, b: Point, c: Point) -> float:
    value = (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0])
    return 0.0 if abs(value) < _NEAR else value


def _toward(point: Point, polygon: Polygon) -> Point:
    """A point a little inside from a corner, so that touching is not sharing."""
    x, y = middle(polygon)
    return point[0] + (x - point[0]) * 1e-4, point[1] + (y - point[1]) * 1e-4
