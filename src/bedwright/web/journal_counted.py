"""The journal of a garden counted into its document, kept while neither changes."""

from __future__ import annotations

import hashlib
import logging
from collections import OrderedDict
from collections.abc import Callable
from dataclasses import dataclass
from datetime import date, datetime
from threading import Lock
from typing import Any, TypeVar

from bedwright.garden import Document
from bedwright.journal import Entry, EntryError, Note, read_entry, with_journal
from bedwright.planning.own import library_of
from bedwright.planning.work.acts import acts_of
from bedwright.planning.work.model import Act
from bedwright.reference import Library
from bedwright.web.models import Entry as EntryRow
from bedwright.web.models import EntryHistory, Garden

_KEPT = 12
_kept: OrderedDict[tuple[Any, ...], tuple[Any, Any]] = OrderedDict()
_lock = Lock()
_log = logging.getLogger("bedwright.web")
Stamp = tuple[int, int, datetime]
_Made = TypeVar("_Made")


@dataclass(frozen=True)
class Counted:
    """A document with its journal, what is said of the counting, and a name for its effect.

    ``digest`` is empty where nothing of the journal touches the document, so that a note on the
    weather asks for no new plan. ``acts`` is what the journal tells of done work.
    """

    document: Document
    notes: tuple[Note, ...]
    digest: str
    acts: tuple[Act, ...] = ()


def counted_in(garden: Garden, document: Document, library: Library, as_of: date) -> Counted:
    """The garden's journal counted into a document of it. ``library`` holds the shipped tables."""
    stamp = _stamp(garden)
    if stamp is None:
        return Counted(document, (), "")

    def make() -> Counted:
        own = own_library(document, library)
        entries = _entries(garden, stamp)
        found, notes = with_journal(document, entries, own, as_of)
        acts = acts_of((each for each in entries if each.on <= as_of), document, own)
        return Counted(found, notes, "" if found is document else _digest(found), acts)

    return _once(("counted", id(document), stamp, as_of), document, make)


def own_library(document: Document, library: Library) -> Library:
    """The tables with the facts and materials of a document over them."""
    return _once(("own", id(document)), document, lambda: library_of(document, library))


def _once(key: tuple[Any, ...], holds: object, make: Callable[[], _Made]) -> _Made:
    """What was made under a key; ``holds`` keeps the object alive whose id the key has."""
    with _lock:
        found = _kept.get(key)
        if found is not None and found[0] is holds:
            _kept.move_to_end(key)
            kept: _Made = found[1]
            return kept
    made = make()
    with _lock:
        _kept[key] = (holds, made)
        while len(_kept) > _KEPT:
            _kept.popitem(last=False)
    return made


def _stamp(garden: Garden) -> Stamp | None:
    """What names the journal's state: its last change; None for an empty journal."""
    last = (
        EntryHistory.objects.filter(garden=garden).order_by("-pk").values_list("pk", "at").first()
    )
    return None if last is None else (garden.pk, *last)


def _entries(garden: Garden, stamp: Stamp) -> tuple[Entry, ...]:
    def make() -> tuple[Entry, ...]:
        found: list[Entry] = []
        for each in EntryRow.objects.filter(garden=garden, voided_at=None):
            try:
                found.append(read_entry(each.plain()))
            except EntryError:  # written by a later version, or by hand
                _log.warning("entry %s cannot be read and does not count", each.pk)
        return tuple(found)

    return _once(("entries", stamp), None, make)


def _digest(document: Document) -> str:
    garden = document.garden
    parts = (
        garden.history, garden.stock, garden.soil_report, garden.weather, garden.labor_time,
    )  # fmt: skip
    return hashlib.sha256(repr(parts).encode()).hexdigest()
