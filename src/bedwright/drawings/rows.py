"""Rows in a bed: a line each, with its name along it, its plants, and the trellis it stands on."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from xml.etree.ElementTree import Element

from bedwright.drawings.geometry import Polygon, bounds, box, overlap
from bedwright.drawings.ink import HEAVY, INK, SMALL, THIN
from bedwright.drawings.interior import level_spans
from bedwright.drawings.labels import Room, Words, write
from bedwright.drawings.svg import add

_END = 6.0  # px between a row's end and the bed's side
_TRIES = 12  # places tried along a row
_TICK, _TICKS_APART = 3.0, 5.5  # px that a plant's tick reaches to each side; the closest ticks
_POST = 6.0  # px, the side of a post
_NEARER = 1.5  # times as far from other rows as from its own: else a name is read as theirs


@dataclass(frozen=True)
class Row:
    """One row along a bed.

    ``offset_m`` is its distance [m] from the side at the top of the bed's drawing: the side at
    the left hand of one who looks along the long axis toward its bearing (0 to below 180
    degrees): the west side of a bed that lies north-south, the north side of one that lies
    east-west. ``places_m`` are where its plants stand and ``posts_m`` the posts of its trellis,
    from the left end of the drawing; a row with posts is drawn heavy.
    """

    offset_m: float
    name: str
    places_m: tuple[float, ...] = ()
    posts_m: tuple[float, ...] = ()


def draw_rows(parent: Element, corners: Polygon, rows: Sequence[Row], scale: float) -> bool:
    """Draw the rows within a bed on the page; whether every row's name can be read there.

    One name is enough where all rows are of one crop.
    """
    left, top, _, bottom = bounds(corners)
    inside = (top + 1.5, bottom - 1.5)  # between the bed's sides
    lines = add(parent, "g", class_="rows", stroke=INK, stroke_width=THIN)
    taken: list[Polygon] = []
    named = []
    ordered = sorted(rows, key=lambda row: row.offset_m)
    heights = [min(max(top + row.offset_m * scale, top + 1e-3), bottom - 1e-3) for row in ordered]
    for row, y in zip(ordered, heights, strict=True):
        spans = [(x1 + _END, x2 - _END) for x1, x2 in level_spans(corners, y) if x2 - x1 > 3 * _END]
        weight = HEAVY if row.posts_m else None
        for x1, x2 in spans:
            add(lines, "line", x1=x1, y1=y, x2=x2, y2=y, stroke_width=weight, data_row=row.name)
        _ticks(lines, [left + each * scale for each in row.places_m], y)
        posts = [left + each * scale for each in row.posts_m]
        _posts(lines, posts, y, spans)
        levels = _levels(y, Words(row.name, SMALL).tall, inside, heights)
        named.append(_name(parent, row.name, levels, spans, posts, taken))
    return all(named) or (any(named) and len({row.name for row in rows}) == 1)


def _levels(
    y: float, tall: float, inside: tuple[float, float], heights: Sequence[float]
) -> list[float]:
    """Where a row's name may stand: over or under its plants where that is free, else on them."""
    if tall > inside[1] - inside[0]:
        return []
    off = tall / 2 + _POST / 2 + 1
    free = [
        each
        for each in (y - off, y + off)
        if inside[0] + tall / 2 <= each <= inside[1] - tall / 2
        and all(other == y or abs(each - other) >= _NEARER * off for other in heights)
    ]
    return [*free, min(max(y, inside[0] + tall / 2), inside[1] - tall / 2)]


def _ticks(parent: Element, places: Sequence[float], y: float) -> None:
    """A stroke across the row for each plant; none where they would run together."""
    if not places or any(b - a < _TICKS_APART for a, b in pairwise(places)):
        return
    ticks = add(parent, "g", class_="plants", data_count=len(places))
    for x in places:
        add(ticks, "line", x1=x, y1=y - _TICK, x2=x, y2=y + _TICK)


def _posts(
    parent: Element, places: Sequence[float], y: float, spans: Sequence[tuple[float, float]]
) -> None:
    if not places or not spans:
        return
    first, last = spans[0][0] - _END / 2, spans[-1][1] + _END / 2
    posts = add(parent, "g", class_="posts", data_count=len(places))
    for each in places:
        x = min(max(each, first), last)  # an end post stands within the bed's side
        add(
            posts,
            "rect",
            x=x - _POST / 2,
            y=y - _POST / 2,
            width=_POST,
            height=_POST,
            fill=INK,
            stroke="none",
        )


def _name(
    parent: Element,
    name: str,
    levels: Sequence[float],
    spans: Sequence[tuple[float, float]],
    posts: Sequence[float],
    taken: list[Polygon],
) -> bool:
    """Write a row's name at the first of its levels that has room; on the row itself, the last
    of them, between two posts where it goes between them."""
    words = Words(name, SMALL)
    between = [(a + b) / 2 for a, b in pairwise(posts) if b - a > words.width + _POST + 4]
    for y in levels:
        for x1, x2 in spans:
            free = x2 - x1 - words.width - 8
            if free < 0:
                continue
            places = [x1 + 4 + words.width / 2 + free * at / _TRIES for at in range(_TRIES)]
            if y == levels[-1]:
                places = [*(each for each in between if x1 < each < x2), *places]
            for x in places:
                room = Room((x, y), words.width, SMALL)
                covered = box(room.center, words.width + 8, words.tall)
                if not any(overlap(covered, each) for each in taken):
                    taken.append(covered)
                    write(parent, room, (words,), plate=True)
                    return True
    return False
