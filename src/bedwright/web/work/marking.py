"""Tasks marked as done: the entries of the journal that tell it."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date
from typing import Any
from uuid import UUID, uuid5

from django.db import transaction

from bedwright.journal import EntryError, read_entry
from bedwright.planning.work.acts import acts_of
from bedwright.planning.work.done import standing as stands
from bedwright.planning.work.model import Assigned, Task, Work
from bedwright.units import UnitSystem, show
from bedwright.web import entries
from bedwright.web.journal_counted import own_library
from bedwright.web.models import Entry
from bedwright.web.standing import Standing

_SPREAD = frozenset({"spread", "side_dress"})
# What the journal has words of its own for. Sowing in trays is none: the bed stays as it is.
_PLANTED = {"sow": "sowed", "plant": "set out", "set_out": "set out"}


def mark_done(standing: Standing, tasks: Iterable[Task], on: date, page: UUID, user: Any) -> int:
    """Write tasks down as done on a day, all or none; how many entries that took.

    Parameters
    ----------
    standing : the garden
    tasks : of its work
    on : the day
    page : an id made with the page they were ticked on: a page sent twice counts once
    user : who sent it

    Raises EntryError for what can't be written down, EntryConflict for a page that was sent before
    with another day.
    """
    made = [each for task in tasks for each in entries_of(task, on, page, standing.system)]
    with transaction.atomic():
        for each in made:
            entries.save_entry(standing, each, user)
    return len(made)


def entries_of(task: Task, on: date, page: UUID, system: UnitSystem) -> list[dict[str, Any]]:
    """The entries that tell of a task, as plain data: materials as planned, plants as planted."""
    plain: dict[str, Any] = {"kind": "did", "on": on.isoformat()}
    if task.bed is not None:
        plain["bed"] = task.bed
    spread = [
        (each.key, each.amount)
        for each in task.bring
        if each.kind == "material" and each.amount is not None and each.amount.unit == "kg"
    ]
    if task.kind in _SPREAD and task.bed is not None and spread:
        return [
            plain
            | {
                "id": str(uuid5(page, f"{task.id} {material}")), "what": "spread",
                "material": material, "amount": show(amount.value, "mass", system),
                "plan": "as planned",
            }
            for material, amount in spread
        ]  # fmt: skip
    plain["id"] = str(uuid5(page, task.id))
    if task.crop is not None:
        plain["crop"] = task.crop
    if task.kind in _PLANTED and task.bed is not None and task.crop is not None:
        return [plain | {"what": _PLANTED[task.kind]}]
    return [plain | {"what": "worked", "task": task.kind}]


def entry_of(standing: Standing, work: Work, done: Iterable[Assigned]) -> dict[str, UUID]:
    """Which entry tells that a task is done, by the task; those that follow from another, or that
    the document tells of, have none."""
    of_day: dict[date, list[str]] = {}
    for each in done:
        of_day.setdefault(each.day, []).append(each.task)
    by_id = {each.id: each for each in work.tasks}
    library = own_library(standing.stated, standing.library)
    found: dict[str, UUID] = {}
    rows = Entry.objects.filter(
        garden=standing.garden, voided_at=None, on__in=list(of_day), kind__in=("did", "picked")
    )
    for row in rows:
        try:
            acts = acts_of([read_entry(row.plain())], standing.stated, library)
        except EntryError:
            continue
        for act in acts:
            tasks = [by_id[key] for key in of_day[row.on] if key not in found]
            # alone, so that what had to go before is not told by this entry
            for task in tasks:
                if stands([task], [act], standing.as_of).done.get(task.id) == act.on:
                    found[task.id] = row.pk
                    break
    return found
