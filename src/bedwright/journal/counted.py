"""The garden document with the journal counted in: stock, history, soil reports, nights."""

from __future__ import annotations

import dataclasses
from collections.abc import Iterable
from datetime import date
from typing import Any

from bedwright.garden import Document
from bedwright.journal.entries import Bought, Did, Entry, Measured, Picked, UsedUp
from bedwright.journal.names import crop_key, material_key
from bedwright.journal.notes import Note, note
from bedwright.journal.seasons import History
from bedwright.journal.shed import stock_with
from bedwright.journal.soil_tests import reports_with, weather_with
from bedwright.journal.timed import times_with
from bedwright.reference import Library, UnknownName


def with_journal(
    document: Document, entries: Iterable[Entry], library: Library, as_of: date
) -> tuple[Document, tuple[Note, ...]]:
    """A document as it stands with its journal, and what is to be said of the counting.

    What the document states keeps its place; what the journal adds stands after it. The order of
    ``entries`` does not matter, and each id counts once. ``library`` holds the garden's own
    facts; entries after ``as_of`` wait. The document itself is handed back where nothing of the
    journal touches it. docs/journal.md states the rules.
    """
    kept, said = _usable(document, entries, library, as_of)
    did = [each for each in kept if isinstance(each, Did)]
    spread = [each for each in did if each.what == "spread"]
    planted = [each for each in did if each.what in ("sowed", "set out")]
    picked = [each for each in kept if isinstance(each, Picked)]
    measured = [each for each in kept if isinstance(each, Measured)]
    tests = [each for each in measured if each.what == "soil test"]
    nights = [each for each in measured if each.what == "minimum"]
    shed = [*spread, *(each for each in kept if isinstance(each, Bought | UsedUp))]
    changed: dict[str, Any] = {}
    keys = dict(document.keys)
    soil = document.soil
    if spread or planted or picked:
        history = History(document, library)
        history.plant(planted)
        history.pick(picked)
        history.spread(spread)
        changed["history"], more = history.seasons()
        keys |= more
        said += history.notes
    if shed:
        stock, new, notes = stock_with(document, shed, library)
        keys |= {("stock", at, "material"): key for at, key in new.items()}
        said += notes
        if stock != document.garden.stock:
            changed["stock"] = stock
    if tests:
        changed["soil_report"], soil, notes = reports_with(document, tests, library)
        said += notes
    timed = times_with(document, did, library)
    if timed != document.garden.labor_time:
        changed["labor_time"] = timed
    if nights:
        weather, notes = weather_with(document, nights)
        said += notes
        if weather != document.garden.weather:
            changed["weather"] = weather
    if not changed:
        return document, _ordered(said)
    garden = document.garden.model_copy(update=changed)
    return dataclasses.replace(document, garden=garden, keys=keys, soil=soil), _ordered(said)


def _usable(
    document: Document, entries: Iterable[Entry], library: Library, as_of: date
) -> tuple[list[Entry], list[Note]]:
    """The entries that the garden can use, each id once, in a fixed order."""
    beds = {bed.id for bed in document.garden.bed}
    kept: dict[str, Entry] = {}
    said: list[Note] = []
    for entry in sorted(entries, key=lambda each: (each.on, str(each.id))):
        if entry.on > as_of or str(entry.id) in kept:
            continue
        if entry.bed is not None and entry.bed not in beds:
            said.append(note("bed_gone", entry.id, bed=entry.bed, on=entry.on))
            continue
        try:
            for name, key in (("material", material_key), ("crop", crop_key)):
                word = getattr(entry, name, None)
                if word is not None:
                    key(word, document, library)
        except UnknownName:
            said.append(note(f"{name}_gone", entry.id, name=str(word), on=entry.on))
            continue
        kept[str(entry.id)] = entry
    return list(kept.values()), said


def _ordered(said: list[Note]) -> tuple[Note, ...]:
    """Each note once, in an order that does not hang on that of the entries."""
    unique = {repr((each.code, sorted(each.values.items()), each.entries)): each for each in said}
    return tuple(unique[text] for text in sorted(unique))
