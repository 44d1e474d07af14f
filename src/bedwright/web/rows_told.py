"""How the rows of a bed lie, for its page: drawing, rows, counts, trellis and cautions, why."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from django.utils.safestring import SafeString, mark_safe

from bedwright.garden import Document
from bedwright.language import spoken
from bedwright.planning.layout.model import BedLayout
from bedwright.reports.layout_text import (
    caution_lines,
    count_lines,
    crop_names,
    drip_line,
    layout_sentence,
    row_lines,
    side_word,
    trellis_lines,
)
from bedwright.reports.words_layout import LAYOUT
from bedwright.sheets.bed_layout import layout_drawing
from bedwright.units import UnitSystem
from bedwright.units.tape import tape
from bedwright.web.drawn.kept import Kept

_URGENT = frozenset({"act", "caution"})
_kept: Kept[SafeString] = Kept(40)


@dataclass(frozen=True)
class TrellisTold:
    """A trellis: what can hurt, its parts, and what else is to be known."""

    cautions: tuple[str, ...]
    parts: tuple[str, ...]
    notes: tuple[str, ...]


@dataclass(frozen=True)
class RowsTold:
    """One planting's rows in words, with its drawing by the width of the screen."""

    crop: str
    drawings: Mapping[str, SafeString]
    mind: tuple[str, ...]
    rows: tuple[str, ...]
    takes: tuple[str, ...]
    paths: tuple[str, ...]
    trellises: tuple[TrellisTold, ...]
    why: tuple[str, ...]
    pair: tuple[str, ...]


def rows_told(
    layouts: tuple[BedLayout, ...], document: Document, key: str, widths: Mapping[str, float]
) -> list[RowsTold]:
    """The rows of a bed, one entry for each crop of its year. ``key`` names the plan."""
    system = document.garden.garden.units
    return [_told(each, at, document, system, key, widths) for at, each in enumerate(layouts)]


def _told(
    layout: BedLayout,
    at: int,
    document: Document,
    system: UnitSystem,
    key: str,
    widths: Mapping[str, float],
) -> RowsTold:
    frame = layout.planting.frame
    said = [(each.weight, layout_sentence(each, system)) for each in layout.findings]
    paths = (
        LAYOUT["path"].format(
            bed=path.beside,
            side=side_word(frame.bearing_across(left=path.left)),
            width=tape(path.width_m, system),
        )
        for path in layout.paths
    )
    pair = () if layout.pair is None else layout.pair.findings
    return RowsTold(
        crop=", ".join(crop_names(layout).values()),
        drawings={
            name: _drawing(layout, at, document, system, key, name, width)
            for name, width in widths.items()
        },
        mind=tuple(text for weight, text in said if weight in _URGENT),
        rows=tuple(row_lines(layout, system)),
        takes=(*count_lines(layout, system), drip_line(layout, system)),
        paths=tuple(paths),
        trellises=tuple(
            TrellisTold(
                tuple(caution_lines(parts, system)),
                tuple(trellis_lines(parts, system)),
                tuple(
                    layout_sentence(each, system)
                    for each in parts.findings
                    if each.weight not in _URGENT
                ),
            )
            for parts in layout.trellises
        ),
        why=tuple(text for weight, text in said if weight not in _URGENT),
        pair=tuple(layout_sentence(each, system) for each in pair),
    )


def _drawing(
    layout: BedLayout,
    at: int,
    document: Document,
    system: UnitSystem,
    key: str,
    name: str,
    width: float,
) -> SafeString:
    """The bed with its rows, drawn once for each plan, width and language."""
    place = (key, layout.planting.bed.id, at, name, spoken())
    return _kept.made(
        place,
        lambda: mark_safe(  # our own drawing escapes every word that it is given
            layout_drawing(
                layout,
                document,
                system,
                width_px=width,
                height_px=320.0,
                id_prefix=f"rows-{at}-{name}",
            )
        ),
    )
