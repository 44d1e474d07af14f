"""What the journal tells of done work, as acts that the schedule keeps."""

from __future__ import annotations

from collections.abc import Iterable

from bedwright.garden import Document
from bedwright.journal.entries import Did, Entry, Picked
from bedwright.journal.names import crop_key, material_key
from bedwright.planning.work.model import Act
from bedwright.reference import Library, UnknownName

_KINDS = {"spread": "spread", "sowed": "sow", "set out": "set_out"}


def acts_of(entries: Iterable[Entry], document: Document, library: Library) -> tuple[Act, ...]:
    """The acts that entries tell of: spread, sowed, set out, picked, and tasks that were done; in
    the order of their days.

    ``library`` holds the garden's own facts. Work that only has words or hours names no task and
    is left out, as is what names a material or crop that the garden does not know any more.
    """
    found = []
    for entry in entries:
        try:
            if isinstance(entry, Picked):
                crop = crop_key(entry.crop, document, library)
                found.append(Act("pick", entry.on, entry.bed, crop))
            elif isinstance(entry, Did) and (entry.task or entry.what in _KINDS):
                found.append(
                    Act(
                        entry.task or _KINDS[entry.what],
                        entry.on,
                        entry.bed,
                        None if entry.crop is None else crop_key(entry.crop, document, library),
                        None
                        if entry.material is None
                        else material_key(entry.material, document, library),
                    )
                )
        except UnknownName:
            continue
    return tuple(sorted(found, key=lambda each: (each.on, each.kind, each.bed or "")))
