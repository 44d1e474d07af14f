"""Words that find no room in their bed: beside it, with a line that leads to it."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass
from xml.etree.ElementTree import Element

from bedwright.drawings.geometry import Point, Polygon, bounds, box, middle, overlap
from bedwright.drawings.ink import INK, THIN
from bedwright.drawings.labels import Room, Words, ground, write
from bedwright.drawings.svg import add

_OFF = (5.0, 12.0, 20.0, 30.0, 44.0)  # px from the bed
_AROUND = 16  # directions tried
_SQUARE = 24.0  # px


class Taken:
    """Ground on the page that words must not lie on, found by the squares it touches."""

    def __init__(self) -> None:
        self.lowest = 0.0
        self._squares: dict[tuple[int, int], list[Polygon]] = {}

    def add(self, polygon: Polygon) -> None:
        """Take the ground of a polygon."""
        self.lowest = max(self.lowest, bounds(polygon)[3])
        for square in _squares(polygon):
            self._squares.setdefault(square, []).append(polygon)

    def meets(self, polygon: Polygon, *, but: Polygon | None = None) -> bool:
        """Whether a polygon lies on ground that is taken, by another than ``but``."""
        return any(
            each is not but and overlap(polygon, each)
            for square in _squares(polygon)
            for each in self._squares.get(square, ())
        )


@dataclass(frozen=True)
class Beside:
    """Words beside a bed, and the line that leads to it."""

    room: Room
    words: Words
    line: tuple[Point, Point]


def beside(
    words: Words,
    bed: Room,
    own: Polygon,
    taken: Taken,
    within: tuple[float, float, float, float],
) -> Beside | None:
    """A place near a bed that lies on nothing taken and within the bounds; None if none is free.

    ``bed`` is the bed's room and ``own`` its outline; the leading line may cross that, the words
    may not. ``taken`` may hold ``own``; what is found does not join it.
    """
    for room, line in _places(words, bed):
        covered = ground(room, words)
        left, top, right, bottom = bounds(covered)
        if left < within[0] or top < within[1] or right > within[2] or bottom > within[3]:
            continue
        if overlap(covered, own) or taken.meets(covered):
            continue
        if not taken.meets(_thin(line), but=own):
            return Beside(room, words, line)
    return None


def write_beside(parent: Element, found: Beside) -> None:
    """Draw words beside a bed with their leading line."""
    (x1, y1), (x2, y2) = found.line
    add(parent, "line", x1=x1, y1=y1, x2=x2, y2=y2, stroke=INK, stroke_width=THIN)
    add(parent, "circle", cx=x1, cy=y1, r=1.4)
    write(parent, found.room, (found.words,), plate=False)


def _squares(polygon: Polygon) -> Iterator[tuple[int, int]]:
    left, top, right, bottom = bounds(polygon)
    for column in range(math.floor(left / _SQUARE), math.floor(right / _SQUARE) + 1):
        for row in range(math.floor(top / _SQUARE), math.floor(bottom / _SQUARE) + 1):
            yield column, row


def _thin(line: tuple[Point, Point]) -> Polygon:
    (x1, y1), (x2, y2) = line
    degrees = math.degrees(math.atan2(y2 - y1, x2 - x1))
    return box(middle(line), math.dist(*line), 1.0, degrees)


def _places(words: Words, bed: Room) -> Iterator[tuple[Room, tuple[Point, Point]]]:
    """Beyond the ends along the bed, then level around it, ever farther off."""
    turn = math.radians(bed.degrees)
    ux, uy = math.cos(turn), math.sin(turn)
    ends = (1, -1) if bed.head_at_end else (-1, 1)
    x, y = bed.center
    half = bed.along / 2
    pinned = min(half, 4.0)
    for off in _OFF:
        for end in ends:
            reach = half + off + words.width / 2 + 1
            room = Room(
                (x + end * ux * reach, y + end * uy * reach), words.width, words.size, bed.degrees
            )
            pin = (x + end * ux * (half - pinned), y + end * uy * (half - pinned))
            yield room, (pin, (x + end * ux * (half + off), y + end * uy * (half + off)))
        for at in range(_AROUND):
            angle = 2 * math.pi * at / _AROUND
            dx, dy = math.cos(angle), math.sin(angle)
            edge = _edge(bed, dx, dy)
            beyond = min(
                words.width / 2 / abs(dx) if abs(dx) > 1e-9 else math.inf,
                words.size / 2 / abs(dy) if abs(dy) > 1e-9 else math.inf,
            )
            reach = edge + off + beyond + 1
            room = Room((x + dx * reach, y + dy * reach), words.width, words.size)
            hold = edge - min(edge, 4.0)
            yield (
                room,
                ((x + dx * hold, y + dy * hold), (x + dx * (edge + off), y + dy * (edge + off))),
            )


def _edge(bed: Room, dx: float, dy: float) -> float:
    """How far a bed reaches from its center in a direction."""
    turn = math.radians(bed.degrees)
    along = abs(dx * math.cos(turn) + dy * math.sin(turn))
    across = abs(dy * math.cos(turn) - dx * math.sin(turn))
    return min(
        bed.along / 2 / along if along > 1e-9 else math.inf,
        bed.across / 2 / across if across > 1e-9 else math.inf,
    )
