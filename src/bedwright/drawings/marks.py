"""The surveyor's marks: dimension lines, the north arrow, the scale bar."""

from __future__ import annotations

import math
from xml.etree.ElementTree import Element

from bedwright.drawings.geometry import Point
from bedwright.drawings.ink import INK, PAPER, PLAIN, SMALL, THIN
from bedwright.drawings.labels import Room, Words, write
from bedwright.drawings.svg import add, number, points
from bedwright.face import text_width

_TICK = 4.0  # px to each side of the slanting stroke at the end of a dimension line


def upright(degrees: float) -> float:
    """The turn of words along a line so that none stands on its head: -90 to below 90."""
    turned = (degrees + 90) % 180 - 90
    return -90.0 if turned > 90 - 1e-6 else turned


def dimension(parent: Element, start: Point, end: Point, text: str, *, off: float = 0.0) -> None:
    """A dimension line with its length written on it, or beside it where the line is short.

    ``off`` moves it to the left of the way from start to end [px], with thin lines that reach
    back to both.
    """
    length = math.dist(start, end)
    if length < 1e-6:
        return
    ux, uy = (end[0] - start[0]) / length, (end[1] - start[1]) / length
    nx, ny = uy, -ux
    a = (start[0] + nx * off, start[1] + ny * off)
    b = (end[0] + nx * off, end[1] + ny * off)
    group = add(parent, "g", class_="dimension", stroke=INK, stroke_width=THIN)
    if abs(off) > 6:
        reach = off + math.copysign(3, off)
        gap = math.copysign(3, off)
        for x, y in (start, end):
            _line(group, (x + nx * gap, y + ny * gap), (x + nx * reach, y + ny * reach))
    _line(group, a, b)
    for x, y in (a, b):
        tick = ((ux - nx) * _TICK * 0.7, (uy - ny) * _TICK * 0.7)
        _line(group, (x - tick[0], y - tick[1]), (x + tick[0], y + tick[1]), PLAIN)
    degrees = upright(math.degrees(math.atan2(uy, ux)))
    words = Words(text, SMALL)
    center = ((a[0] + b[0]) / 2, (a[1] + b[1]) / 2)
    inside = words.width + 12 <= length
    if not inside:  # beyond the line, on the side away from what is measured
        push = math.copysign(SMALL * 0.75 + 2, off or 1)
        center = (center[0] + nx * push, center[1] + ny * push)
        if abs(ny) < 0.5:  # a steep line: level words beside it
            degrees = 0.0
            away = math.copysign(words.width / 2 + 5, nx * (off or 1))
            center = ((a[0] + b[0]) / 2 + away, (a[1] + b[1]) / 2)
    room = Room(center, words.width, words.size, degrees)
    lettering = add(parent, "g", class_="dimension-words")
    write(lettering, room, (words,), plate=inside)


def north_arrow(parent: Element, center: Point, degrees: float, letter: str) -> None:
    """An arrow to the north, turned clockwise from the top of the page; 44 px from end to end.

    Its letter stands upright at its head.
    """
    x, y = center
    turn = f"translate({number(x)} {number(y)}) rotate({number(degrees)})"
    arrow = add(parent, "g", class_="north", transform=turn, data_degrees=degrees)
    add(arrow, "line", x1=0, y1=16, x2=0, y2=-10, stroke=INK, stroke_width=PLAIN)
    add(arrow, "polygon", points=points(((0, -18), (-5, -4), (0, -7))), fill=INK)
    add(arrow, "polygon", points=points(((0, -18), (5, -4), (0, -7))), fill=PAPER, stroke=INK)
    reach = math.radians(degrees)
    at = (x + 27 * math.sin(reach), y - 27 * math.cos(reach))
    write(parent, Room(at, 12, 12), (Words(letter, bold=True),), plate=False)


def scale_bar(
    parent: Element, start: Point, step: tuple[float, float], unit: str, scale: float
) -> float:
    """A bar of two steps from a point, with figures above it; its width with the figures [px].

    ``step`` is one step in meters and in the reader's unit; ``scale`` is px per meter.
    """
    x, y = start
    length = step[0] * scale
    group = add(parent, "g", class_="scale-bar")
    for at, fill in ((0, INK), (1, PAPER)):
        add(
            group,
            "rect",
            x=x + at * length,
            y=y,
            width=length,
            height=5,
            fill=fill,
            stroke=INK,
            stroke_width=THIN,
        )
    figures = [number(at * step[1]) for at in range(3)]
    crowded = length < max(text_width(each, SMALL) for each in figures) + 6
    for at, figure in enumerate(figures):
        if at == 1 and crowded:
            continue
        add(
            group,
            "text",
            figure,
            x=x + at * length,
            y=y - 5,
            font_size=SMALL,
            text_anchor="middle",
        )
    after = x + 2 * length + text_width(figures[2], SMALL) / 2 + 5
    add(group, "text", unit, x=after, y=y - 5, font_size=SMALL)
    return after + text_width(unit, SMALL) - x


def _line(parent: Element, start: Point, end: Point, weight: float | None = None) -> None:
    add(
        parent,
        "line",
        x1=start[0],
        y1=start[1],
        x2=end[0],
        y2=end[1],
        stroke_width=weight,
    )
