"""Rows in a bed: how many fit, where they lie, and where along them the plants stand."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

from bedwright.guards import positive
from bedwright.planning.layout.frame import BedFrame
from bedwright.working import Source, formula

_ALMOST = 1e-6  # of a spacing: 30 in hold two spacings of 15 in, whatever the last digit
_ROUNDED = 0.04  # a bed of 1.2 m takes two rows of 2 ft: judgement
_TRIANGLE = math.sqrt(3) / 2  # height of a triangle of equal sides


@dataclass(frozen=True)
class PlantRow:
    """One row. ``offset_m`` is across the bed from its left side, ``spans`` along it [m].

    ``places`` are where plants, hills or thinned seedlings stand, along the row [m]. ``tall``
    tells that the row stands on the trellis or is taller than what it stands with.
    """

    crop: str
    offset_m: float
    spans: tuple[tuple[float, float], ...]
    places: tuple[float, ...]
    tall: bool = False

    @property
    def length_m(self) -> float:
        """The row's length, over all its spans."""
        return sum(end - start for start, end in self.spans)


def row_count(width_m: float, apart_m: float) -> int:
    """Rows that a width takes where each has its distance to itself, half to either side.

    A row always finds room: where the bed is narrower than the distance, one.
    """
    positive(width_m=width_m, apart_m=apart_m)
    return max(1, math.floor(width_m / apart_m + _ROUNDED))


def spread(start_m: float, end_m: float, count: int, most_apart_m: float) -> tuple[float, ...]:
    """Rows spread evenly from side to side, no farther apart than asked; else in the middle."""
    apart = min((end_m - start_m) / count, most_apart_m)
    first = (start_m + end_m - (count - 1) * apart) / 2
    return tuple(first + at * apart for at in range(count))


def row_at(
    frame: BedFrame,
    crop: str,
    offset_m: float,
    spacing_m: float,
    *,
    tall: bool = False,
    shift_m: float = 0.0,
) -> PlantRow:
    """A row of a bed with its plants, in every span of the bed that it crosses."""
    spans = frame.spans(offset_m)
    found = [place for each in spans for place in places(each, spacing_m, shift_m)]
    return PlantRow(crop, offset_m, spans, tuple(found), tall)


def places(span: tuple[float, float], spacing_m: float, shift_m: float = 0.0) -> tuple[float, ...]:
    """Where plants stand along a span [m]: in its middle, half a spacing or more from its ends.

    ``shift_m`` moves them along, as in every second row of a triangular grid. None where less
    than half a spacing is free.
    """
    positive(spacing_m=spacing_m)
    start, end = span
    room = end - start - shift_m
    count = math.floor(room / spacing_m + _ALMOST)
    if count == 0:
        return ((start + end) / 2,) if end - start >= spacing_m / 2 and not shift_m else ()
    if shift_m:
        return tuple(start + shift_m + (at + 0.5) * spacing_m for at in range(count))
    first = (start + end - (count - 1) * spacing_m) / 2
    return tuple(first + at * spacing_m for at in range(count))


def triangular(frame: BedFrame, crop: str, spacing_m: float) -> tuple[PlantRow, ...]:
    """Rows of a triangular grid: every plant the same distance from its six neighbors."""
    positive(spacing_m=spacing_m)
    apart = spacing_m * _TRIANGLE
    free = frame.width_m - spacing_m
    count = max(1, math.floor(free / apart + _ALMOST) + 1)
    offsets = spread(0.0, frame.width_m, count, apart)
    return tuple(
        row_at(frame, crop, offset, spacing_m, shift_m=spacing_m / 2 if at % 2 else 0.0)
        for at, offset in enumerate(offsets)
    )


def between(rows: Sequence[PlantRow], width_m: float) -> tuple[tuple[float, float], ...]:
    """The strips that rows leave free, from and to across the bed [m]."""
    edges = [0.0, *sorted(each.offset_m for each in rows), width_m]
    return tuple(pairwise(edges))


@formula(
    "plants = area / (spacing x spacing x sqrt(3) / 2)",
    result=("ratio", "-"),
    sources=(Source("computed", "", "area of a triangular grid's cell; edges left out"),),
    example={"area_m2": "250 ft2", "spacing_m": "6 in"},
    area_m2=("area", "m2"),
    spacing_m=("length", "m"),
)
def triangular_grid_plants(area_m2: float, spacing_m: float) -> float:
    """Plants of a triangular grid on an area, edges left out.

    Parameters
    ----------
    area_m2 : of the bed [m2], more than 0
    spacing_m : from plant to plant [m], more than 0

    Raises ValueError for an input outside its range.
    """
    positive(area_m2=area_m2, spacing_m=spacing_m)
    return area_m2 / (_TRIANGLE * spacing_m**2)
