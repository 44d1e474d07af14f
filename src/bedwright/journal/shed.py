"""The stock with the journal counted in, from the day on which each line was counted."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

from bedwright.garden import Document
from bedwright.garden.model import Stock
from bedwright.journal.entries import Bought, Did, UsedUp
from bedwright.journal.names import kilograms, material_key
from bedwright.journal.notes import Note, note
from bedwright.reference import Library
from bedwright.units import Quantity, show

# Within a day a bag is bought, then spread from, then found empty. docs/journal.md says so.
_ORDER = {"bought": 0, "did": 1, "used up": 2}
_LEAST_KG = 1e-6  # less than a scale shows: rounding, no shortage


@dataclass
class _Line:
    """A line of the stock list while it is counted: ``kg`` on hand since ``since``."""

    kg: float | None
    since: date | None
    changed: bool = False

    def counts(self, on: date) -> bool:
        """Whether what happened on a day comes after the count."""
        return self.kg is not None and self.since is not None and self.since < on


@dataclass
class _Kept:
    """One material: its lines by their places in the document, and a line of the journal's own."""

    places: list[int]
    lines: list[_Line]
    own: Bought | None = None


def stock_with(
    document: Document, entries: Sequence[Did | Bought | UsedUp], library: Library
) -> tuple[list[Stock], dict[int, str], list[Note]]:
    """The stock list after what was spread, bought and used up; keys of lines that are new.

    Only what happened after a line's day of counting changes it. On hand after all is the count,
    and what was bought, less what was spread; where more was spread than was there, nothing is
    left, and a note says how much was missing.
    """
    stock = list(document.garden.stock)
    said: list[Note] = []
    by_key: dict[str, list[Did | Bought | UsedUp]] = {}
    for entry in entries:
        assert entry.material is not None
        by_key.setdefault(material_key(entry.material, document, library), []).append(entry)
    if not stock:
        return stock, {}, [note("no_stock_list")] if _shed_news(entries) else []
    keys: dict[int, str] = {}
    for key in sorted(by_key):
        acts = sorted(by_key[key], key=lambda e: (e.on, _ORDER[e.kind], str(e.id)))
        kept = _kept(document, key, library, said)
        if kept is None:
            continue
        for entry in acts:
            _count(kept, entry, key, document, library, said)
        units = document.garden.garden.units
        for place, line in zip(kept.places, kept.lines, strict=False):
            if line.changed and line.kg is not None:
                on_hand = Quantity(line.kg, "mass", show(line.kg, "mass", units))
                stock[place] = stock[place].model_copy(update={"on_hand": on_hand})
        if kept.own is not None and (kg := kept.lines[-1].kg) is not None:
            keys[len(stock)] = key
            stock.append(_new_line(kept.own, Quantity(kg, "mass", show(kg, "mass", units))))
    return stock, keys, said


def _shed_news(entries: Sequence[Did | Bought | UsedUp]) -> bool:
    return any(not isinstance(each, Did) for each in entries)


def _kept(document: Document, key: str, library: Library, said: list[Note]) -> _Kept | None:
    """The lines of a material; None, with a note, where they can't be counted on."""
    places = [
        at for at in range(len(document.garden.stock))
        if document.keys[("stock", at, "material")] == key
    ]  # fmt: skip
    lines: list[_Line] = []
    for at in places:
        each = document.garden.stock[at]
        if each.on_hand is None:
            lines.append(_Line(None, None))
            continue
        kg = kilograms(each.on_hand, key, library)
        if each.counted is None or kg is None:
            code = "stock_undated" if each.counted is None else "stock_not_weighed"
            said.append(note(code, material=key))
            return None
        lines.append(_Line(kg, each.counted))
    return _Kept(places, lines)


def _count(
    kept: _Kept, entry: Did | Bought | UsedUp, key: str, document: Document, library: Library,
    said: list[Note],
) -> None:  # fmt: skip
    if isinstance(entry, UsedUp):
        for line in kept.lines:
            if line.kg is None:
                line.kg, line.since, line.changed = 0.0, entry.on, True
            elif _open(line, entry.on):
                line.kg, line.changed = 0.0, True
        return
    assert entry.amount is not None
    area = None
    if isinstance(entry, Did):
        area = next((bed.area_m2 for bed in document.garden.bed if bed.id == entry.bed), None)
    kg = kilograms(entry.amount, key, library, area)
    if kg is None:
        said.append(note("amount_not_weighed", entry.id, material=key, on=entry.on,
                         amount=entry.amount.text))  # fmt: skip
        return
    if isinstance(entry, Bought):
        _buy(kept, entry, kg, key, said)
    else:
        _take(kept, entry, kg, key, said)


def _buy(kept: _Kept, entry: Bought, kg: float, key: str, said: list[Note]) -> None:
    for line in kept.lines:
        if _open(line, entry.on):
            line.kg, line.changed = (line.kg or 0.0) + kg, True
            return
    for line in kept.lines:
        if line.kg is None:
            line.kg, line.since, line.changed = kg, entry.on, True
            said.append(note("stock_at_least", entry.id, material=key, on=entry.on))
            return
    if not kept.lines:
        kept.own = entry
        kept.lines.append(_Line(kg, entry.on, changed=True))


def _take(kept: _Kept, entry: Did, kg: float, key: str, said: list[Note]) -> None:
    open_lines = [line for line in kept.lines if _open(line, entry.on)]
    if not open_lines:
        return
    for line in open_lines:
        taken = min(line.kg or 0.0, kg)
        line.kg, line.changed = (line.kg or 0.0) - taken, True
        kg -= taken
    if kg > _LEAST_KG:
        said.append(note("stock_short", entry.id, material=key, on=entry.on, missing=kg))


def _open(line: _Line, on: date) -> bool:
    """Whether a line takes part: counted before the day, or begun by the journal by that day."""
    return line.counts(on) or (line.kg is not None and line.changed and line.since == on)


def _new_line(bought: Bought, on_hand: Quantity) -> Stock:
    priced = bought.price is not None and bought.price.si > 0
    return Stock.model_construct(
        material=bought.material,
        package=bought.amount if priced else None,
        price=bought.price if priced else None,
        on_hand=on_hand,
        counted=bought.on,
        can_buy=True,
    )
