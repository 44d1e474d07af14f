"""The garden drawn small, once for each month: what stands in each bed and what is done with it."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from xml.etree.ElementTree import Element

from bedwright.drawings.bed_shape import rooms
from bedwright.drawings.geometry import Polygon
from bedwright.drawings.ink import FAINT, INK, PAPER, SMALL, TEXT, THIN
from bedwright.drawings.labels import Words, write
from bedwright.drawings.months_ground import BETWEEN, EDGE, TITLE, Panel, Size, arranged, wide_of
from bedwright.drawings.months_said import cell_words, held_of, month_title, notes_of, said_of
from bedwright.drawings.parted import parted
from bedwright.drawings.svg import add, finish, points, sheet
from bedwright.face import text_width, wrapped
from bedwright.garden import Bed, Document, Garden
from bedwright.planning.occupancy import Cell, Doing, Held, Months

_LINE = 1.3
_LEAST_WIDTH = 240.0
_THEN = " > "
_OUTLINE = 1.1  # px: thinner than in the plan, for beds that are a few px wide
_ROOM = 0.25  # px kept free above and below a bed's words
_KEY_MORE = 2.0  # px by which the key's words are larger than a bed's smallest letters
_STROKES: Mapping[Doing, tuple[float, str, float, str]] = {  # size, path, weight, ink
    Doing.RESTING: (7.0, "M2 2 h0.01 M5.5 5.5 h0.01", 1.7, FAINT),
    Doing.COVER: (6.0, "M0 1.5 H6 M0 4.5 H6", 0.7, FAINT),
    Doing.GROWING: (7.0, "M-2 2 L2 -2 M0 7 L7 0 M5 9 L9 5", 1.0, FAINT),
    Doing.PICKED: (5.0, "M0 5 L5 0 M0 0 L5 5", 1.3, "#5c5c5c"),
}


def months_drawing(
    document: Document,
    months: Months,
    *,
    words: Mapping[str, str],
    called: Callable[[str], str],
    codes: Mapping[str, str],
    size: Size,
    link: Callable[[str], str] | None = None,
    id_prefix: str = "months",
) -> str:
    """The garden in each month as one SVG text, north at the top of each.

    A bed is filled by what is done with it; in it stands the crop's name, or its letters where
    there is no room for the name. Two crops at the same time share the bed lengthwise, two of one
    month after each other are written so. A bed in parts is divided.

    Parameters
    ----------
    document, months : the garden and what stands in it
    words : ``MONTH_WORDS``
    called : a crop's name as it is said
    codes : the letters of every crop by its name
    size : of the paper
    link : the address of a bed's page by its id; a reader of pages is told of them elsewhere
    id_prefix : begins every id

    Raises ValueError for paper too narrow or too low, and for a crop without letters.
    """
    if not size.width >= _LEAST_WIDTH:
        raise ValueError(f"months of {size.width} px are too narrow to be read")
    lacking = {held.name for held in held_of(months)} - set(codes)
    if lacking:
        raise ValueError(f"no letters for {', '.join(sorted(lacking))}")
    used = [each for each in Doing if each in {c.doing for row in months.cells for c in row}]
    key = _Key(words, size, id_prefix, used, notes_of(months, words, called, codes))
    columns, panel = arranged(document.garden, len(months.months), size, key.height)
    root = sheet(words["months_title"].format(garden=document.garden.garden.name),
                 said_of(months, words), id_prefix, linked=link is not None)  # fmt: skip
    _define(root, id_prefix)
    wide = wide_of(size.width, columns)
    for at, month in enumerate(months.months):
        row, column = divmod(at, columns)
        x, y = EDGE + column * (wide + BETWEEN), EDGE + row * (panel.height + TITLE + BETWEEN)
        group = add(root, "g", class_="month", data_month=month.isoformat()[:7])
        add(group, "text", month_title(month, words), x=x, y=y + TEXT, font_weight="bold")
        add(group, "line", x1=x, y1=y + TEXT + 5, x2=x + wide, y2=y + TEXT + 5, stroke=INK,
            stroke_width=THIN)  # fmt: skip
        own = _Month(document.garden, months, at, panel, (x, y + TITLE), called, codes, words,
                     size.letters, id_prefix, link)  # fmt: skip
        own.draw(group)
    rows = -(-len(months.months) // columns)
    y = EDGE + rows * (panel.height + TITLE + BETWEEN)
    key.draw(root, y)
    return finish(root, size.width, y + key.height)


@dataclass(frozen=True)
class _Month:
    """One month to be drawn: where, and by what words."""

    garden: Garden
    months: Months
    at: int
    panel: Panel
    origin: tuple[float, float]
    called: Callable[[str], str]
    codes: Mapping[str, str]
    words: Mapping[str, str]
    letters: float
    id_prefix: str
    link: Callable[[str], str] | None

    def draw(self, parent: Element) -> None:
        for text, (x, foot) in self.panel.headings:
            add(parent, "text", text, x=x + self.origin[0], y=foot + self.origin[1],
                font_size=SMALL)  # fmt: skip
        for at, bed in enumerate(self.garden.bed):
            corners = tuple(
                (x + self.origin[0], y + self.origin[1]) for x, y in self.panel.beds[at]
            )
            cells = [
                (unit.part, row[self.at])
                for unit, row in zip(self.months.units, self.months.cells, strict=True)
                if unit.bed == bed.id
            ]
            self._bed(parent, bed, corners, cells)

    def _bed(
        self, parent: Element, bed: Bed, corners: Polygon, cells: Sequence[tuple[int | None, Cell]]
    ) -> None:
        known = {"class_": "bed", "data_bed": bed.id}
        if self.link is None:
            group = add(parent, "g", **known)
        else:  # the table gives the same links to those who go by keyboard or ear
            group = add(parent, "a", href=self.link(bed.id), tabindex="-1",
                        aria_hidden="true", **known)  # fmt: skip
        add(group, "title", self._label(bed, cells))
        if len({cell for _, cell in cells}) == 1:  # parts that do the same are one
            cells = cells[:1]
        if len(cells) == 1 and not cells[0][1].beside:
            _outline(group, corners, self._fill(cells[0][1].doing))
            self._write(group, bed, corners, cells[0][1].held)
            return
        grounds = parted(bed, corners, len(cells))
        for ground, (_, cell) in zip(grounds, cells, strict=True):
            if cell.beside:
                halves = parted(bed, ground, 2, lengthwise=True)
                for half, held in zip(halves, _halves(cell.held), strict=True):
                    self._ground(group, bed, half, held)
            else:
                self._ground(group, bed, ground, cell.held)
        _outline(group, corners, "none")

    def _ground(self, group: Element, bed: Bed, ground: Polygon, held: Sequence[Held]) -> None:
        rank = list(Doing).index
        doing = max((each.doing for each in held), key=rank, default=Doing.EMPTY)
        add(group, "polygon", class_=f"ground ground-{doing}", points=points(ground),
            fill=self._fill(doing), stroke=INK, stroke_width=THIN)  # fmt: skip
        self._write(group, bed, ground, held)

    def _fill(self, doing: Doing) -> str:
        return f"url(#{self.id_prefix}-{doing})" if doing in _STROKES else PAPER

    def _label(self, bed: Bed, cells: Sequence[tuple[int | None, Cell]]) -> str:
        """What the pointer is told of a bed."""
        said = []
        for part, cell in cells:
            told = cell_words(cell, self.words, self.called)
            named = "" if part is None else self.words["part"].format(part=part) + " "
            said.append(f"{named}{told}")
        return f"{bed.id}: {'; '.join(said)}"

    def _write(self, group: Element, bed: Bed, ground: Polygon, held: Sequence[Held]) -> None:
        """Names of the crops where they fit, else their letters, else nothing."""
        if not held:
            return
        names = [self.called(each.name) for each in held]
        codes = [self.codes[each.name] for each in held]
        italic = all(each.proposed for each in held)
        places = rooms(bed, ground) if len(ground) == 4 or bed.outline is not None else ()
        for text in dict.fromkeys((_THEN.join(names), _THEN.join(codes))):
            for letter in dict.fromkeys((SMALL, self.letters)):
                said = Words(text, letter, italic=italic)
                for room in places:
                    if said.width + 4 <= room.along and said.tall <= room.across - 2 * _ROOM:
                        write(group, room, (said,), plate=True)
                        return


def _halves(held: Sequence[Held]) -> tuple[Sequence[Held], Sequence[Held]]:
    return held[:1], held[1:]


class _Key:
    """The patterns with their words, the letters, and what is to be said of them."""

    def __init__(
        self,
        words: Mapping[str, str],
        size: Size,
        id_prefix: str,
        used: Sequence[Doing],
        notes: Sequence[str],
    ) -> None:
        self._words, self._prefix, width = words, id_prefix, size.width
        self._size = min(SMALL, size.letters + _KEY_MORE)
        self._boxes: list[tuple[Doing, float, float]] = []
        x, y = EDGE, 0.0
        for each in used:
            wide = 32 + text_width(words[f"doing_{each}"], TEXT) + 20
            if x > EDGE and x + wide > width - EDGE:
                x, y = EDGE, y + 26
            self._boxes.append((each, x, y))
            x += wide
        self._lines = [
            line for note in notes for line in wrapped(note, width - 2 * EDGE, self._size)
        ]
        self._from = y + 38
        self.height = self._from + len(self._lines) * self._size * _LINE + EDGE

    def draw(self, root: Element, top: float) -> None:
        """The key under the months."""
        for doing, x, y in self._boxes:
            fill = f"url(#{self._prefix}-{doing})" if doing in _STROKES else PAPER
            add(root, "rect", x=x, y=top + y, width=26, height=18, fill=fill, stroke=INK,
                stroke_width=THIN)  # fmt: skip
            add(root, "text", self._words[f"doing_{doing}"], x=x + 32, y=top + y + 14)
        for at, line in enumerate(self._lines):
            add(root, "text", line, x=EDGE, y=top + self._from + at * self._size * _LINE,
                font_size=self._size)  # fmt: skip


def _outline(group: Element, corners: Polygon, fill: str) -> None:
    add(group, "polygon", class_="outline", points=points(corners), fill=fill, stroke=INK,
        stroke_width=_OUTLINE)  # fmt: skip


def _define(root: Element, id_prefix: str) -> None:
    room = add(root, "defs")
    for doing, (size, path, width, ink) in _STROKES.items():
        pattern = add(room, "pattern", id=f"{id_prefix}-{doing}", patternUnits="userSpaceOnUse",
                      width=size, height=size)  # fmt: skip
        add(pattern, "rect", width=size, height=size, fill=PAPER)
        add(pattern, "path", d=path, stroke=ink, stroke_width=width, stroke_linecap="round")
