"""The words within a bed: as many of them as its room takes, along it or across."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from functools import lru_cache
from xml.etree.ElementTree import Element

from bedwright.drawings.geometry import Point, Polygon, box
from bedwright.drawings.ink import PAPER, SMALL, TEXT
from bedwright.drawings.svg import add
from bedwright.face import text_width

_LINE = 1.22  # of the size, from line to line
_DEEP, _SHALLOW = 0.98, 0.76  # of the size, head to foot, with and without letters that hang
_HANG = frozenset("gjpqyQJ,;()[]{}_|/@$")
_PAD, _GAP = 4.0, 9.0  # px


@dataclass(frozen=True)
class Words:
    """Words of one kind, and where their middle lies in their room: u along it, v across."""

    text: str
    size: float = TEXT
    bold: bool = False
    italic: bool = False
    u: float = 0.0
    v: float = 0.0

    @property
    def width(self) -> float:
        """How wide they stand [px]."""
        return text_width(self.text, self.size, bold=self.bold)

    @property
    def tall(self) -> float:
        """How high they stand [px], about the middle of a capital."""
        plain = self.text.isascii() and not _HANG & set(self.text)
        return self.size * (_SHALLOW if plain else _DEEP)


@dataclass(frozen=True)
class Room:
    """A rectangle for words: its center, its extent along and across them, and their turn.

    ``head_at_end``: the bed's head is where the words end, as in a bed read upward.
    """

    center: Point
    along: float
    across: float
    degrees: float = 0.0
    head_at_end: bool = False


@dataclass(frozen=True)
class BedWords:
    """What is said in a bed; empty where there is nothing to say."""

    name: str
    crop: str = ""
    state: str = ""
    last: str = ""


def fitted(rooms: Sequence[Room], said: BedWords) -> tuple[Room, tuple[Words, ...]] | None:
    """The first room, in order, that takes the most of what is said; None where not even the
    name fits. The name stands at the bed's head, last season's crop at its foot."""
    return _fitted(tuple(rooms), said)


@lru_cache(maxsize=1024)  # what is said of a bed stays from hour to hour of a shade drawing
def _fitted(rooms: tuple[Room, ...], said: BedWords) -> tuple[Room, tuple[Words, ...]] | None:
    for each in _fewer_and_fewer(said):
        for size in (TEXT, SMALL):
            for room in rooms:
                many = room.across >= 2 * _PAD + 3 * size * _LINE
                for way in (_stacked, _in_one_line) if many else (_in_one_line, _stacked):
                    placed = way(room, each, size)
                    if placed is not None:
                        return room, placed
    return None


def write(parent: Element, room: Room, words: Sequence[Words], *, plate: bool) -> None:
    """Write words into their room; ``plate`` lays paper under them where there is hatching."""
    x, y = room.center
    turn = f" rotate({room.degrees:.6g})" if room.degrees else ""
    group = add(parent, "g", transform=f"translate({x:.3f} {y:.3f}){turn}", class_="words")
    for each in words:
        if plate:
            add(
                group,
                "rect",
                x=each.u - each.width / 2 - 2,
                y=each.v - each.tall / 2,
                width=each.width + 4,
                height=each.tall,
                fill=PAPER,
            )
    for each in words:
        add(
            group,
            "text",
            each.text,
            x=each.u,
            y=each.v + each.size * 0.34,  # half the height of a capital
            text_anchor="middle",
            font_size=each.size,
            font_weight="bold" if each.bold else None,
            font_style="italic" if each.italic else None,
        )


def ground(room: Room, words: Words) -> Polygon:
    """The ground that words cover on the page."""
    return box(room.center, words.width + 2, words.tall + 1, room.degrees)


def _fewer_and_fewer(said: BedWords) -> Iterator[BedWords]:
    """What is said, then less of it; each once."""
    seen = set()
    for keep in ("csl", "cs", "cl", "s", "c", "l", ""):
        if keep == "l" and said.crop:  # last season's crop alone would be read as this season's
            continue
        less = replace(
            said,
            crop=said.crop if "c" in keep else "",
            state=said.state if "s" in keep else "",
            last=said.last if "l" in keep else "",
        )
        if less not in seen:
            seen.add(less)
            yield less


def _in_one_line(room: Room, said: BedWords, size: float) -> tuple[Words, ...] | None:
    """Name at the head, crop and state in the middle, last season's crop at the foot."""
    name = Words(said.name, size, bold=True)
    between = ", ".join(each for each in (said.crop, said.state) if each)
    parts = [name, Words(between, size) if between else None]
    parts.append(Words(said.last, SMALL, italic=True) if said.last else None)
    head, body, foot = parts
    there = [each for each in parts if each is not None]
    needed = sum(each.width for each in there) + _GAP * (len(there) - 1) + 2 * _PAD
    if needed > room.along or max(each.tall for each in there) > room.across:
        return None
    assert head is not None
    if len(there) == 1 and room.along < 3 * head.width:
        return (head,)
    flip = -1 if room.head_at_end else 1
    head_end = -room.along / 2 + _PAD
    placed = [replace(head, u=flip * (head_end + head.width / 2))]
    free_from = head_end + head.width + _GAP
    free_to = room.along / 2 - _PAD
    if foot is not None:
        placed.append(replace(foot, u=flip * (free_to - foot.width / 2)))
        free_to -= foot.width + _GAP
    if body is not None:
        placed.append(replace(body, u=flip * (free_from + free_to) / 2))
    return tuple(placed)


def _stacked(room: Room, said: BedWords, size: float) -> tuple[Words, ...] | None:
    """Name, crop and state below each other from the top; last season's crop at the bottom."""
    lines = [Words(said.name, size, bold=True)]
    lines += [Words(each, size) for each in (said.crop, said.state) if each]
    foot = [Words(said.last, SMALL, italic=True)] if said.last else []
    widest = max(each.width for each in (*lines, *foot))
    height = size * _LINE * (len(lines) + len(foot)) + 2 * _PAD
    if widest + 2 * _PAD > room.along or height > room.across:
        return None
    top = -room.across / 2 + _PAD + size * _LINE / 2
    placed = [replace(each, v=top + at * size * _LINE) for at, each in enumerate(lines)]
    return (*placed, *(replace(each, v=-top) for each in foot))
