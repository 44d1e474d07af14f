"""What is done already, and what lies behind the day of planning."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date, timedelta

from bedwright.planning.findings import Finding, finding
from bedwright.planning.work.making import monday
from bedwright.planning.work.model import Act, Task

_NEAR = timedelta(days=60)  # an act is a task's own no farther from its days than this: judgement
_WEEK = timedelta(days=6)
_REST = "rest"  # no work, and over with its days
# A word of the journal may stand for one of several kinds.
_MEANS: Mapping[str, tuple[str, ...]] = {
    "spread": ("spread", "side_dress"),
    "sow": ("sow", "sow_trays"),
    "set_out": ("set_out", "plant"),
}


@dataclass(frozen=True)
class Standing:
    """How things stand on a day: tasks still ``open``, and those ``done`` by their day.

    ``sown`` are done tasks whose trays may stand on the bench still.
    """

    open: tuple[Task, ...]
    sown: tuple[Task, ...]
    done: Mapping[str, date]
    findings: tuple[Finding, ...]


def standing(tasks: Sequence[Task], acts: Sequence[Act], as_of: date) -> Standing:
    """Which tasks are done and which are still to be done.

    An act counts for the nearest task of its kind, bed and crop that is not done yet. What had to
    go before a task that is done counts as done with it. Work of past weeks that comes back
    falls away. Of other work whose days are past: it is overdue, and to be done this week; but
    where no act at all is told, it is taken as done, unless it waits for what is to be done yet.
    """
    found: list[Finding] = []
    done = _done(tasks, [each for each in acts if each.on <= as_of])
    by_id = {each.id: each for each in tasks}
    for key in list(done):
        _before(key, done[key], by_id, done)
    kept: list[Task] = []
    still: set[str] = set()  # what is to be done yet, and so all that waits for it
    overdue, taken = 0, 0
    for each in tasks:
        if each.id in done:
            continue
        if each.latest < as_of:
            if each.repeated or each.kind == _REST:
                continue
            waits = any(before in still for before, _ in each.after)
            if not acts and not waits:
                done[each.id] = each.latest
                taken += 1
                continue
            overdue += 1
            still.add(each.id)
            kept.append(replace(each, earliest=as_of, latest=as_of + _WEEK))
            continue
        kept.append(replace(each, earliest=max(each.earliest, as_of)))
        still.add(each.id)
    if taken:
        found.append(finding("work_taken_as_done", "assumed", count=float(taken)))
    if overdue:
        found.append(finding("work_overdue", "act", count=float(overdue)))
    sown = tuple(each for each in tasks if each.trays and each.id in done)
    return Standing(tuple(kept), sown, done, tuple(found))


def _done(tasks: Sequence[Task], acts: Sequence[Act]) -> dict[str, date]:
    done: dict[str, date] = {}
    for act in sorted(acts, key=lambda each: (each.on, each.kind, each.bed or "", each.crop or "")):
        kinds = _MEANS.get(act.kind, (act.kind,))
        fits = [
            each
            for each in tasks
            if each.kind in kinds
            and each.bed == act.bed
            and (act.crop is None or each.crop == act.crop)
            and (act.material is None or any(b.key == act.material for b in each.bring))
            and _is_near(each, act.on)
        ]
        if act.material is not None and any(done.get(each.id) == act.on for each in fits):
            continue  # another material of the same task on the same day
        fits = [each for each in fits if each.id not in done]
        if fits:
            nearest = min(fits, key=lambda each: (_away(each, act.on), each.id))
            done[nearest.id] = act.on
    return done


def _is_near(task: Task, on: date) -> bool:
    """Whether an act may be a task's own; of a crop that stood before the plan, in its week."""
    if task.standing:
        return monday(task.earliest) <= on <= task.latest
    return task.earliest - _NEAR <= on <= task.latest + _NEAR


def _away(task: Task, on: date) -> int:
    """Days between an act and a task's days; 0 within them."""
    return max((task.earliest - on).days, (on - task.latest).days, 0)


def _before(key: str, on: date, by_id: Mapping[str, Task], done: dict[str, date]) -> None:
    """Count as done what had to go before a task that is done."""
    for before, _ in by_id[key].after:
        if before in by_id and before not in done:
            done[before] = on
            _before(before, on, by_id, done)
