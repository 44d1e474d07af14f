"""The record of the beds, from the garden document and the journal, each act once."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator
from dataclasses import replace
from datetime import date

from bedwright.garden import Document
from bedwright.journal import Did, Entry, Note, Picked, with_journal
from bedwright.journal.names import crop_key, kilograms, material_key
from bedwright.journal.same_act import SAME_ACT_DAYS
from bedwright.planning.ledger_entries import crop_name
from bedwright.reference import Library, UnknownName
from bedwright.reference.library import fold
from bedwright.reports.bed_record.model import BedRecord, GardenRecord, RecordLine
from bedwright.units import Quantity

_TOLD_TWICE = frozenset({"spread_one", "spread_two", "harvest_stated", "harvest_picked"})
_DID = {"spread": "spread", "sowed": "sown", "set out": "set_out"}
# Tasks of the document's list of done work, and of the journal, that belong in the record.
_TASKS = {
    "clear": "cleared", "spread": "spread_unnamed", "side_dress": "side_dress", "mulch": "mulched",
    "sow": "sown", "set_out": "set_out", "plant": "planted", "pick": "picked",
}  # fmt: skip
# Which acts may be the same one, told in two places.
_ALIKE = {
    "spread_unnamed": {"spread"}, "side_dress": {"spread"}, "sown": {"sown"},
    "set_out": {"set_out"}, "planted": {"set_out", "sown"}, "picked": {"picked"},
    "cleared": {"cleared"}, "mulched": set(), "stands": {"sown", "set_out", "planted"},
}  # fmt: skip


def garden_record(
    document: Document, library: Library, as_of: date, entries: Iterable[Entry] = ()
) -> GardenRecord:
    """What was put on the beds, sown, set out, picked and cleared, up to a day.

    Parameters
    ----------
    document : as its text says, without the journal counted in
    library : the tables under the garden's own facts
    as_of : the last day that is told of
    entries : the journal's, none of them taken back; each id counts once

    Which of two tells of one act counts is what :func:`bedwright.journal.with_journal` decides:
    docs/journal.md has the rule. Entries of beds that the document no longer has are left out.
    """
    known = {str(each.id): each for each in entries if each.on <= as_of}
    kept = sorted(known.values(), key=lambda each: (each.on, str(each.id)))
    _, notes = with_journal(document, kept, library, as_of)
    told = tuple(each for each in notes if each.code in _TOLD_TWICE)
    names = _Names(document, library)
    lines = [line for each in kept for line in _of_entry(each, names)]
    lines += [each for each in _of_history(names, told) if each.on is None or each.on <= as_of]
    for more in (_of_done_work(names), _of_standing(names)):
        lines += [
            each for each in more if each.on is None or not any(_same(each, one) for one in lines)
        ]
    lines.sort(key=_at)
    beds = tuple(
        BedRecord(
            bed.id, bed.area_m2, tuple(sorted((e for e in lines if e.bed == bed.id), key=_at))
        )
        for bed in document.garden.bed
    )
    return GardenRecord(as_of, beds, told)


class _Names:
    """What words of a document and its journal stand for, and what amounts weigh."""

    def __init__(self, document: Document, library: Library) -> None:
        self.document, self._library = document, library
        self._area = {bed.id: bed.area_m2 for bed in document.garden.bed}

    def material(self, word: str) -> tuple[str, str, str]:
        """General name, key and the gardener's name of a material; the word where it is unknown."""
        try:
            key = material_key(word, self.document, self._library)
        except UnknownName:
            return word, "", ""
        base, rows = self._library.base_of(key), self._library.rows("materials")
        name = next((row["name"] for row in rows if row["material"] == base), word)
        return name, key, self._library.own_name(key) or ""

    def crop(self, word: str) -> tuple[str, str]:
        """Name and key of a crop; the word itself where it is known no more."""
        try:
            key = crop_key(word, self.document, self._library)
            return crop_name(self._library, key), key
        except UnknownName:
            return word, ""

    def mass(self, amount: Quantity, material: str, bed: str) -> float | None:
        """What an amount on a bed weighs [kg]; None where that is not known."""
        if not material and amount.kind not in ("mass", "mass_per_area"):
            return None
        return kilograms(amount, material, self._library, self._area.get(bed))


def _at(line: RecordLine) -> tuple[int, date, str, str]:
    return (line.year, line.on or date.min, line.act, line.entry)


def _of_entry(entry: Entry, names: _Names) -> Iterator[RecordLine]:
    if entry.bed is None or not isinstance(entry, Did | Picked):
        return
    about = RecordLine(
        entry.bed, "worked", entry.on.year, entry.on, "journal", str(entry.id),
        note=entry.note or "",
    )  # fmt: skip
    if isinstance(entry, Picked):
        name, key = names.crop(entry.crop)
        mass = entry.mass
        yield replace(
            about, act="picked", name=name, key=key, written=entry.crop, count=entry.count,
            amount="" if mass is None else mass.text, kg=None if mass is None else mass.si,
            is_mass=True, unit=entry.of or "", grade=entry.quality or "",
        )  # fmt: skip
    elif entry.material is not None and entry.amount is not None:
        name, key, own = names.material(entry.material)
        yield replace(
            about, act=_DID[entry.what], name=name, key=key, written=entry.material,
            amount=entry.amount.text, kg=names.mass(entry.amount, key, entry.bed),
            is_mass=entry.amount.kind == "mass", own_name=own,
        )  # fmt: skip
    elif entry.task in _TASKS:
        name, key = names.crop(entry.crop) if entry.crop is not None else ("", "")
        yield replace(about, act=_TASKS[entry.task], name=name, key=key, written=entry.crop or "")
    elif entry.crop is not None and entry.task is None:
        name, key = names.crop(entry.crop)
        yield replace(
            about, act=_DID[entry.what], name=name, key=key, written=entry.crop, count=entry.count
        )
    elif entry.note is not None:  # hours alone tell nothing of the bed
        yield about


def _of_history(names: _Names, notes: tuple[Note, ...]) -> Iterator[RecordLine]:
    """What the document's seasons tell, without what the journal tells in their place."""
    told = Counter(
        (each.values["bed"], each.values["material"], each.values["stated_on"],
         each.values["stated"])
        for each in notes if each.code == "spread_one"
    )  # fmt: skip
    harvests = {
        (each.values["bed"], each.values["year"], each.values["stated"]): each.code
        for each in notes if each.code.startswith("harvest_")
    }  # fmt: skip
    for at, season in enumerate(names.document.garden.history):
        for nth, applied in enumerate(season.applied):
            name, key, own = names.material(applied.material)
            act = (season.bed, key, applied.on, applied.amount.text)
            if told[act] > 0:
                told[act] -= 1
                continue
            yield RecordLine(
                season.bed, "spread", applied.on.year, applied.on, "document",
                f"history {at + 1}, applied {nth + 1}", name, key, applied.material,
                applied.amount.text, names.mass(applied.amount, key, season.bed),
                applied.amount.kind == "mass", part=season.part, own_name=own,
            )  # fmt: skip
        if season.crop is None:
            continue
        name, key = names.crop(season.crop)
        place, harvested = f"history {at + 1}", season.harvested
        note = "" if season.note is None else season.note
        yield RecordLine(season.bed, "grew", season.year, None, "document", place, name, key,
                         season.crop, part=season.part, note=note)  # fmt: skip
        if season.failed is not None:
            yield RecordLine(season.bed, "failed", season.failed.year, season.failed, "document",
                             place, name, key, season.crop, part=season.part)  # fmt: skip
        if harvested is None:
            continue
        by_journal = harvests.get((season.bed, season.year, harvested.text), "")
        if by_journal != "harvest_picked":  # then the pickings count, and are more
            yield RecordLine(
                season.bed, "harvest", season.year, None, "document", place, name, key,
                season.crop, harvested.text, names.mass(harvested, "", season.bed),
                harvested.kind == "mass", part=season.part, holds_pickings=bool(by_journal),
            )  # fmt: skip


def _of_done_work(names: _Names) -> Iterator[RecordLine]:
    for at, done in enumerate(names.document.garden.labor_done):
        act = _TASKS.get(fold(done.task).replace(" ", "_"))
        if act is None or done.bed is None:
            continue
        name, key = ("", "") if done.crop is None else names.crop(done.crop)
        yield RecordLine(
            done.bed, act, done.on.year, done.on, "document", f"labor_done {at + 1}", name, key,
            done.crop or "", note=done.note or "",
        )  # fmt: skip


def _of_standing(names: _Names) -> Iterator[RecordLine]:
    for at, each in enumerate(names.document.garden.standing):
        name, key = names.crop(each.crop)
        place = f"standing {at + 1}"
        if each.since is not None:
            yield RecordLine(each.bed, "stands", each.since.year, each.since, "document", place,
                             name, key, each.crop, part=each.part)  # fmt: skip
        if each.sprayed is not None:
            yield RecordLine(
                each.bed, "sprayed", each.sprayed.year, each.sprayed, "document", place, name,
                key, each.crop, part=each.part,
                label_days=(each.label_grazing_days, each.label_harvest_days),
            )  # fmt: skip


def _same(stated: RecordLine, known: RecordLine) -> bool:
    """Whether a line without an amount tells of an act that another line tells already."""
    if stated.on is None or known.on is None or known.act not in _ALIKE.get(stated.act, ()):
        return False
    crops = not stated.key or not known.key or stated.key == known.key or known.act == "spread"
    near = abs((stated.on - known.on).days) <= SAME_ACT_DAYS
    return stated.bed == known.bed and crops and near
