"""A bed's outline on the page: single, or double where it is raised; and the room within."""

from __future__ import annotations

import math
from xml.etree.ElementTree import Element

from bedwright.drawings.geometry import Polygon, bounds, middle
from bedwright.drawings.ink import INK, PLAIN, THIN
from bedwright.drawings.interior import inner_rectangle, inset
from bedwright.drawings.labels import Room
from bedwright.drawings.marks import upright
from bedwright.drawings.svg import add, points
from bedwright.garden import Bed

_WALL = 3.5  # px between the two lines of a raised bed


def draw_shape(parent: Element, bed: Bed, corners: Polygon, fill: str) -> None:
    """Draw the bed's outline with its filling."""
    add(
        parent,
        "polygon",
        class_="outline",
        points=points(corners),
        fill=fill,
        stroke=INK,
        stroke_width=PLAIN,
    )
    if bed.kind == "raised":
        add(
            parent,
            "polygon",
            class_="wall",
            points=points(inset(corners, _wall(corners))),
            fill="none",
            stroke=INK,
            stroke_width=THIN,
        )


def rooms(bed: Bed, corners: Polygon) -> tuple[Room, Room]:
    """The room for words in a bed, in both turns, the flatter first."""
    if bed.outline is None:
        (x1, y1), (x2, y2), _, (x4, y4) = corners
        center = middle(corners)
        long, short = math.dist((x1, y1), (x2, y2)), math.dist((x1, y1), (x4, y4))
        degrees = upright(math.degrees(math.atan2(y2 - y1, x2 - x1)))
    else:
        center, long, short = inner_rectangle(corners)
        degrees = 0.0
    rim = 2 * _wall(corners) if bed.kind == "raised" else 1.0
    long, short = max(long - rim, 0.0), max(short - rim, 0.0)
    both = [
        Room(center, along, across, turn, head_at_end=turn < -45)  # the upper end is the head
        for along, across, turn in (
            (long, short, degrees),
            (short, long, upright(degrees + 90)),
        )
    ]
    flat, steep = sorted(both, key=lambda room: abs(room.degrees))
    return flat, steep


def _wall(corners: Polygon) -> float:
    left, top, right, bottom = bounds(corners)
    return min(_WALL, 0.12 * min(right - left, bottom - top))
