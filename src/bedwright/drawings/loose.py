"""Beds whose place is not stated: side by side on shelves, block by block, each to scale."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from bedwright.drawings.geometry import Point, Polygon, bounds
from bedwright.drawings.ink import TEXT
from bedwright.garden import Garden
from bedwright.garden.ground_plan import ground_plan

_BETWEEN, _SHELF = 16.0, 26.0  # px between beds, and between shelves
_HEADING = TEXT * 1.6
_SMALLER = 0.93  # the step by which the scale is lowered until all finds room


@dataclass(frozen=True)
class Shelves:
    """Beds by their number in the document, headings with their left foot, and the height [px]."""

    beds: dict[int, Polygon]
    headings: tuple[tuple[str, Point], ...]
    height: float


def shelves(garden: Garden, loose: Sequence[int], scale: float, width: float) -> Shelves:
    """Lay beds out from the top left; ``scale`` is px per meter, ``width`` px."""
    names = {block.id: block.name or block.id for block in garden.block}
    groups: dict[str | None, list[int]] = {}
    for at in loose:
        groups.setdefault(garden.bed[at].block, []).append(at)
    beds: dict[int, Polygon] = {}
    headings: list[tuple[str, Point]] = []
    y = 0.0
    for block, members in groups.items():
        if block is not None:
            y += _HEADING
            headings.append((names.get(block, block), (0.0, y)))
        y += _SHELF
        x, tallest = 0.0, 0.0
        for at in members:
            drawn = tuple(
                (east * scale, -north * scale) for east, north in ground_plan(garden.bed[at])
            )
            left, top, right, bottom = bounds(drawn)
            if x and x + right - left > width:
                x, y, tallest = 0.0, y + tallest + _SHELF, 0.0
            beds[at] = tuple((x + px - left, y + py - top) for px, py in drawn)
            x += right - left + _BETWEEN
            tallest = max(tallest, bottom - top)
        y += tallest
    return Shelves(beds, tuple(headings), y)


def fitting_scale(
    garden: Garden, loose: Sequence[int], width: float, height: float, most: float
) -> float:
    """The largest scale [px per meter], up to ``most``, at which the beds fit, or nearly so."""
    scale = min(most, width / max(widest_m(garden, loose), 1e-9))
    for _ in range(120):
        if shelves(garden, loose, scale, width).height <= height:
            break
        scale *= _SMALLER
    return scale


def widest_m(garden: Garden, loose: Sequence[int]) -> float:
    """How far the widest of these beds reaches from west to east [m]; 0 for none."""
    reach = [bounds(ground_plan(garden.bed[at])) for at in loose]
    return max((right - left for left, _, right, _ in reach), default=0.0)
