"""Keeping entries of the journal: once under each id, never over another's words, with history."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import timedelta
from typing import Any, Literal
from uuid import UUID

from django.db import IntegrityError, transaction
from django.utils import timezone

from bedwright.journal import EntryError, EntryFault, check_entry, plain_entry, read_entry
from bedwright.web.journal_counted import own_library
from bedwright.web.models import Entry, EntryHistory, Garden, Photograph
from bedwright.web.standing import Standing

_AHEAD = timedelta(days=1)  # a telephone's day may be ahead of the server's
_OWN_COLUMNS = ("id", "kind", "on", "bed")
What = EntryHistory.What


@dataclass(frozen=True)
class Saved:
    """An entry as it is kept, and what saving did: made it, changed it, or found it so already."""

    entry: Entry
    state: Literal["saved", "changed", "same"]


class EntryConflict(Exception):
    """The entry stands with other words than the writer had read; theirs were not saved."""

    def __init__(self, standing: Entry) -> None:
        self.standing = standing
        super().__init__(f"entry {standing.id} stands at revision {standing.revision}")


def save_entry(
    standing: Standing, sent: dict[str, Any], user: Any, *, revision: int | None = None
) -> Saved:
    """Keep an entry sent as plain data.

    The same content under the same id is kept once, however often it is sent. Other content is a
    change only where ``revision`` names the revision that its writer had read. Raises EntryError
    for what can't be kept, EntryConflict where the entry stands otherwise.
    """
    plain = checked(standing, sent)
    try:
        return _kept(standing.garden, plain, user, revision)
    except IntegrityError:  # the same entry came twice at once: one of them is there now
        return _kept(standing.garden, plain, user, revision)


def checked(standing: Standing, sent: dict[str, Any]) -> dict[str, Any]:
    """What is sent, read and held against the garden, as plain data. Raises EntryError."""
    entry = read_entry(sent)
    library = own_library(standing.stated, standing.library)
    check_entry(entry, standing.stated, library, standing.as_of + _AHEAD)
    digests = set(entry.photographs)
    there = Photograph.objects.filter(garden=standing.garden, digest__in=digests).count()
    if there != len(digests):
        raise EntryError([EntryFault("photographs", "a photograph has not arrived",
                                     "Add it again.")])  # fmt: skip
    return plain_entry(entry)


def undo(entry: Entry, user: Any) -> None:
    """Take an entry back; it stays in the journal's history and can be restored."""
    _mark(entry, user, What.UNDONE)


def restore(entry: Entry, user: Any) -> None:
    """Let an entry that was taken back count again."""
    _mark(entry, user, What.RESTORED)


def _mark(entry: Entry, user: Any, what: EntryHistory.What) -> None:
    with transaction.atomic():
        held = Entry.objects.select_for_update().get(pk=entry.pk)
        if (held.voided_at is None) == (what == What.RESTORED):
            return
        held.voided_at = timezone.now() if what == What.UNDONE else None
        held.save(update_fields=["voided_at"])
        _note(held, what, user, None)


def _kept(garden: Garden, plain: dict[str, Any], user: Any, revision: int | None) -> Saved:
    data = {name: value for name, value in plain.items() if name not in _OWN_COLUMNS}
    with transaction.atomic():
        held = Entry.objects.select_for_update().filter(pk=UUID(plain["id"])).first()
        if held is None:
            made = Entry.objects.create(
                id=UUID(plain["id"]), garden=garden, kind=plain["kind"], on=plain["on"],
                bed=plain.get("bed", ""), data=data, made_at=timezone.now(), by=known(user),
            )  # fmt: skip
            _note(made, What.MADE, user, None)
            made.refresh_from_db()
            return Saved(made, "saved")
        if held.garden_id != garden.pk:
            raise EntryError([EntryFault("id", "this id belongs to another garden's entry")])
        if held.plain() == plain:
            return Saved(held, "same")
        if revision != held.revision:
            raise EntryConflict(held)
        before = held.plain()
        held.kind, held.bed, held.data = plain["kind"], plain.get("bed", ""), data
        held.on = plain["on"]
        held.revision += 1
        held.save()
        _note(held, What.CHANGED, user, before)
        held.refresh_from_db()
        return Saved(held, "changed")


def _note(entry: Entry, what: EntryHistory.What, user: Any, before: dict[str, Any] | None) -> None:
    EntryHistory.objects.create(
        entry=entry, garden_id=entry.garden_id, revision=entry.revision, what=what,
        at=timezone.now(), by=known(user), before=before,
    )  # fmt: skip


def known(user: Any) -> Any:
    """The user to be written beside a change; None for nobody in particular."""
    return user if getattr(user, "is_authenticated", False) else None
