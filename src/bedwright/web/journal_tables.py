"""The journal of a garden as rows, for files that go out, and from files that come in."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from typing import Any
from uuid import UUID

from django.contrib.auth import get_user_model
from django.db import transaction
from django.utils import timezone

from bedwright.journal import EntryError, EntryFault, plain_entry, read_entry
from bedwright.web.models import Entry, EntryHistory, Garden, Photograph

_OF_ROW = ("revision", "made_at", "made_by", "undone_at")


@dataclass(frozen=True)
class BroughtIn:
    """What an import did: entries made, and those that were there already."""

    made: int
    there: int


def journal_rows(garden: Garden) -> list[dict[str, Any]]:
    """Every entry of a garden as a row of plain data, the oldest first, taken back or not."""
    found: list[dict[str, Any]] = []
    entries = Entry.objects.filter(garden=garden).select_related("by")
    for each in entries.order_by("on", "made_at", "id"):
        row = each.plain() | {"revision": each.revision, "made_at": each.made_at.isoformat()}
        if each.by is not None:
            row["made_by"] = each.by.get_username()
        if each.voided_at is not None:
            row["undone_at"] = each.voided_at.isoformat()
        found.append(row)
    return found


def history_rows(garden: Garden) -> list[dict[str, Any]]:
    """Every change of every entry as a row: entry, revision, what, when, by whom, before."""
    found: list[dict[str, Any]] = []
    for each in (
        EntryHistory.objects.filter(garden=garden).select_related("by").order_by("at", "pk")
    ):
        row: dict[str, Any] = {
            "entry": str(each.entry_id), "revision": each.revision, "what": each.what,
            "at": each.at.isoformat(),
        }  # fmt: skip
        if each.by is not None:
            row["by"] = each.by.get_username()
        if each.before is not None:
            row["before"] = each.before
        found.append(row)
    return found


def bring_in(
    garden: Garden, rows: list[dict[str, Any]], history: list[dict[str, Any]] | None = None
) -> BroughtIn:
    """Take rows into a garden's journal, all or none of them.

    An entry that is there already in the same words is left alone; one of a bed or material that
    the document no longer has is kept, and does not count. Photographs come before their entries.
    Raises EntryError, whose faults name the row, for what can't be kept: unreadable
    rows, and entries that stand here in other words.
    """
    faults: list[EntryFault] = []
    news: list[tuple[dict[str, Any], dict[str, Any]]] = []
    there = 0
    seen: set[str] = set()
    kept = Photograph.objects.filter(garden=garden).values_list("digest", flat=True)
    photographs = frozenset(kept)
    for at, row in enumerate(rows, 1):
        sent = {name: value for name, value in row.items() if name not in _OF_ROW}
        try:
            plain = _read(sent, photographs)
            revision = row.get("revision", 1)
            if not isinstance(revision, int) or revision < 1:
                raise EntryError([EntryFault("revision", "the revision is not a whole number")])
            for name in ("made_at", "undone_at"):
                _moment(row.get(name), name)
        except EntryError as error:
            faults += [EntryFault(each.field, f"row {at}: {each.problem}", each.remedy)
                       for each in error.faults]  # fmt: skip
            continue
        held = Entry.objects.filter(pk=UUID(plain["id"])).first()
        if plain["id"] in seen or (held is not None and (
                held.garden_id != garden.pk or held.plain() != plain)):  # fmt: skip
            faults.append(EntryFault("id", f"row {at}: an entry of this id has other words"))
        elif held is not None:
            there += 1
        else:
            news.append((row, plain))
        seen.add(plain["id"])
    if faults:
        raise EntryError(faults)
    users = {each.get_username(): each for each in get_user_model().objects.all()}
    with transaction.atomic():
        for row, plain in news:
            _make(garden, row, plain, users, history or [])
    return BroughtIn(len(news), there)


def _read(sent: dict[str, Any], photographs: frozenset[str]) -> dict[str, Any]:
    entry = read_entry(sent)
    if not set(entry.photographs) <= photographs:
        raise EntryError([EntryFault("photographs", "a photograph of it is not here")])
    return plain_entry(entry)


def _make(
    garden: Garden, row: dict[str, Any], plain: dict[str, Any], users: dict[str, Any],
    history: list[dict[str, Any]],
) -> None:  # fmt: skip
    data = {n: v for n, v in plain.items() if n not in ("id", "kind", "on", "bed")}
    made_at = _moment(row.get("made_at"), "made_at") or timezone.now()
    by = users.get(str(row.get("made_by")))
    entry = Entry.objects.create(
        id=UUID(plain["id"]), garden=garden, kind=plain["kind"], on=plain["on"],
        bed=plain.get("bed", ""), data=data, revision=row.get("revision", 1), made_at=made_at,
        by=by, voided_at=_moment(row.get("undone_at"), "undone_at"),
    )  # fmt: skip
    mine = [each for each in history if each.get("entry") == plain["id"]]
    for each in mine or [{"what": "made", "at": row.get("made_at"), "revision": 1,
                          "by": row.get("made_by")}]:  # fmt: skip
        what, revision = each.get("what"), each.get("revision")
        if what not in EntryHistory.What.values or not isinstance(revision, int):
            raise EntryError([EntryFault("history", "the history of an entry cannot be read")])
        EntryHistory.objects.create(
            entry=entry, garden=garden, revision=revision, what=what,
            at=_moment(each.get("at"), "history") or made_at, by=users.get(str(each.get("by"))),
            before=each.get("before"),
        )  # fmt: skip


def _moment(text: Any, field: str) -> datetime | None:
    if text is None:
        return None
    try:
        found = datetime.fromisoformat(str(text))
    except ValueError:
        raise EntryError([EntryFault(field, f"{str(text)[:40]!r} is no moment")]) from None
    return found if found.tzinfo is not None else timezone.make_aware(found)
