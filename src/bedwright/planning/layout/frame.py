"""A bed turned so that its rows run level: from its ground plan to places along and across it."""

from __future__ import annotations

import math
from dataclasses import dataclass
from itertools import pairwise

from bedwright.garden import Bed
from bedwright.garden.ground_plan import Point, ground_plan

_NEAR = 1e-9  # m: corners this close lie on one line across the bed
_QUARTER = math.pi / 2


@dataclass(frozen=True)
class BedFrame:
    """A bed's outline along and across its rows [m].

    ``corners`` are (along, across): along the long axis toward its bearing (0 to below 180
    degrees), across from the side at the left hand of one who looks that way, which is 0.
    ``bearing_rad`` is from north over east; ``known`` tells whether the document states it.
    ``origin`` is the place of (0, 0), east and north of the garden's shared point, or of the
    bed's own corner where ``placed`` is false.
    """

    corners: tuple[Point, ...]
    bearing_rad: float
    known: bool
    origin: Point
    placed: bool

    @property
    def width_m(self) -> float:
        """Across the rows, from side to side."""
        return max(across for _, across in self.corners)

    @property
    def length_m(self) -> float:
        """Along the rows, from end to end."""
        return max(along for along, _ in self.corners)

    def spans(self, across_m: float) -> tuple[tuple[float, float], ...]:
        """Where a row that far across runs within the bed: from and to, along it [m]."""
        at = min(max(across_m, _NEAR), self.width_m - _NEAR)
        sides = zip(self.corners, self.corners[1:] + self.corners[:1], strict=True)
        ends = sorted(
            u1 + (at - v1) / (v2 - v1) * (u2 - u1)
            for (u1, v1), (u2, v2) in sides
            if (v1 > at) != (v2 > at)
        )
        return tuple(zip(ends[::2], ends[1::2], strict=True))

    def ground(self, along_m: float, across_m: float) -> Point:
        """East and north [m] of a place in the bed."""
        east, north = self.origin
        s, c = math.sin(self.bearing_rad), math.cos(self.bearing_rad)
        return east + along_m * s + across_m * c, north + along_m * c - across_m * s

    def bearing_across(self, *, left: bool) -> float:
        """Toward which bearing one of the long sides lies from the middle [rad], 0 to 2 pi."""
        return (self.bearing_rad + (-_QUARTER if left else _QUARTER)) % (2 * math.pi)

    def long_strip(self) -> tuple[float, float]:
        """The strip across the bed whose rows are longest, as from and to [m].

        All of a rectangle; of an L the arm along the rows.
        """
        edges = sorted({across for _, across in self.corners})
        strips = [
            (sum(b - a for a, b in self.spans((low + high) / 2)), low, high)
            for low, high in pairwise(edges)
            if high - low > _NEAR
        ]
        longest = max(length for length, _, _ in strips)
        kept = [(low, high) for length, low, high in strips if length > (1 - _NEAR) * longest]
        return kept[0][0], kept[-1][1]


def bed_frame(bed: Bed) -> BedFrame:
    """The frame of a bed; one without a direction is taken as it is drawn.

    A rectangle without a long axis is taken to lie north-south, an outline east-west.
    """
    plan = ground_plan(bed)
    if bed.long_axis is not None:
        bearing = bed.long_axis.si % math.pi
    else:
        bearing = 0.0 if bed.outline is None else _QUARTER
    s, c = math.sin(bearing), math.cos(bearing)
    turned = [(east * s + north * c, east * c - north * s) for east, north in plan]
    along, across = min(u for u, _ in turned), min(v for _, v in turned)
    east, north = along * s + across * c, along * c - across * s
    if bed.corner is not None:
        east, north = east + bed.corner[0].si, north + bed.corner[1].si
    return BedFrame(
        corners=tuple((u - along, v - across) for u, v in turned),
        bearing_rad=bearing,
        known=bed.long_axis is not None or bed.outline is not None,
        origin=(east, north),
        placed=bed.corner is not None,
    )
