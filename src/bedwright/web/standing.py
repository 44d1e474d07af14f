"""What the pages show: the standing revision of the garden, read, and its plan where it is made."""

from __future__ import annotations

import hashlib
import os
from collections import OrderedDict
from dataclasses import dataclass
from datetime import date
from pathlib import Path
from zoneinfo import ZoneInfo

from django.utils import timezone

from bedwright.garden import Document, load_text
from bedwright.journal import Note
from bedwright.planning.work.model import Act, Work
from bedwright.reference import Library
from bedwright.season import SeasonPlan
from bedwright.units import UnitSystem
from bedwright.web.drawn.kept import Kept
from bedwright.web.home import home
from bedwright.web.journal_counted import counted_in
from bedwright.web.models import Garden, Revision
from bedwright.web.plan_store import plan_key, stored_as, stored_plan, with_work

_KEPT = 8
_documents: OrderedDict[tuple[str, date], Document] = OrderedDict()
_libraries: dict[str, Library] = {}
_replanned: Kept[SeasonPlan] = Kept(4)


@dataclass(frozen=True)
class Standing:
    """A revision of a garden, read on a day, with the garden's journal counted in.

    ``document`` has the journal counted in; ``stated`` is what the revision's text says alone: a
    form that edits the text reads this one. ``notes`` say how the journal was counted, and
    ``journal`` names its effect, empty where it has none; ``acts`` is what it tells of done work.
    """

    garden: Garden
    revision: Revision
    document: Document
    as_of: date
    stated: Document
    notes: tuple[Note, ...] = ()
    journal: str = ""
    acts: tuple[Act, ...] = ()

    @property
    def library(self) -> Library:
        """The reference tables; the garden's own rows lie in ``plan.library``."""
        return tables()

    @property
    def system(self) -> UnitSystem:
        """The units that the gardener wants to see."""
        return self.document.garden.garden.units

    @property
    def key(self) -> str:
        """What names the plan of this revision on this day."""
        files = files_digest(self.garden)
        return plan_key(self.stated.text, files, self.as_of, self.journal)

    @property
    def text_key(self) -> str:
        """What names what was made of this revision on any day, whatever the journal told."""
        return plan_key(self.stated.text, files_digest(self.garden), date.min)

    @property
    def work_key(self) -> str:
        """What names the work of the season with what is done of it."""
        return hashlib.sha256(f"{self.key}\0{self.acts!r}".encode()).hexdigest()

    def plan(self) -> SeasonPlan | None:
        """The season plan, None while it is not made yet.

        Its work is that of what the journal tells now where it is laid anew already, else that
        of the day on which the plan was made: compare ``acts`` of both.
        """
        plan = stored_plan(self.key)
        if plan is None or plan.acts == self.acts:
            return plan
        work = stored_as(self.work_key, "work")
        if not isinstance(work, Work):
            return plan
        return _replanned.made(self.work_key, lambda: with_work(plan, self.acts, work))


def tables() -> Library:
    """The reference tables, read once in a process."""
    return _libraries.setdefault("shipped", Library())


def today(document: Document | None = None) -> date:
    """Today where the garden lies; ``BEDWRIGHT_AS_OF`` holds the clock for demo and tests."""
    held = os.environ.get("BEDWRIGHT_AS_OF")
    if held:
        return date.fromisoformat(held)
    zone = document.garden.garden.time_zone if document is not None else None
    return timezone.localdate(timezone=ZoneInfo(zone) if zone else None)


def files_digest(garden: Garden) -> str:
    """A digest of the files of a garden, by name and content."""
    found = hashlib.sha256()
    for name, digest in garden.files.order_by("name").values_list("name", "digest"):
        found.update(f"{name}\0{digest}\0".encode())
    return found.hexdigest()


def files_folder(garden: Garden) -> Path:
    """A folder that holds the garden's files, written where they lack. Raises OSError."""
    digest = files_digest(garden)
    folder = home().cache / "files" / f"{garden.pk}-{digest[:24]}"
    if not folder.is_dir():
        from bedwright.garden import write_whole

        for each in garden.files.all():
            write_whole(folder / each.name, bytes(each.content))
        folder.mkdir(parents=True, exist_ok=True)
    return folder


def read(garden: Garden, text: str, as_of: date) -> Document:
    """Read and check a document's text with the garden's files. Raises GardenError."""
    key = (hashlib.sha256(f"{files_digest(garden)}\0{text}".encode()).hexdigest(), as_of)
    if key in _documents:
        _documents.move_to_end(key)
        return _documents[key]
    found = load_text(text, f"{garden.name}.toml", files_folder(garden), tables(), as_of)
    _documents[key] = found
    while len(_documents) > _KEPT:
        _documents.popitem(last=False)
    return found


def standing_of(garden: Garden, revision: Revision | None = None) -> Standing:
    """A revision of a garden (the standing one), read today. Raises GardenError."""
    shown = revision or garden.standing
    if shown is None:
        raise LookupError(f"{garden} has no revision")
    stated = read(garden, shown.text, today())
    as_of = today(stated)
    counted = counted_in(garden, stated, tables(), as_of)
    return Standing(
        garden, shown, counted.document, as_of, stated, counted.notes, counted.digest,
        counted.acts,
    )  # fmt: skip
