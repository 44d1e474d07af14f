"""A week's tasks as the page tells them: in order, with what to mind and to bring."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date, timedelta
from typing import Any
from uuid import UUID

from bedwright.planning.work.model import Assigned, Task
from bedwright.reports.days_said import day_words
from bedwright.reports.words_work import TASKS, THINGS, WEEK
from bedwright.reports.work_said import bring_words, hours_words, place_words, work_sentence
from bedwright.reports.work_text import (
    choice_words,
    heat_words,
    in_order,
    left_words,
    overload_words,
    sum_words,
)
from bedwright.season import SeasonPlan
from bedwright.web.work.kept import WorkInHand

WEEK_LONG = timedelta(days=7)
_MOST_LEFT = 12  # tasks that don't fit told one by one


@dataclass(frozen=True)
class Caution:
    """What to mind at a task; ``grave`` where work can hurt."""

    words: str
    grave: bool


@dataclass(frozen=True)
class TaskTold:
    """A task of the week. ``hours`` is "" where it takes none; ``when`` the days of the week on
    which it serves, ``bring`` what to take along."""

    id: str
    kind: str
    bed: str
    crop: str
    head: str
    place: str
    hours: str
    when: str
    people: str
    bring: str
    cautions: tuple[Caution, ...]


@dataclass(frozen=True)
class Group:
    """The same work on beds that come one after the other: what holds for all is told once, and
    the tasks hold the rest."""

    head: str
    hours: str
    cautions: tuple[Caution, ...]
    bring: str
    tasks: tuple[TaskTold, ...]


@dataclass(frozen=True)
class Returning:
    """Work that comes back each week, on several beds."""

    head: str
    hours: str
    bring: str
    tasks: tuple[TaskTold, ...]


def week_told(hand: WorkInHand, begin: date) -> dict[str, Any]:
    """What the page shows of the week from a Monday: sum, heat, tasks, and what does not fit."""
    plan, work = hand.plan, hand.work
    here = [each for each in work.assigned if each.week == begin]
    due = in_order(work, [each for each in here if not each.done])
    several = [pair for pair in due if pair[1].repeated and not pair[1].cautions]
    by_id = {each.id: each for each in work.tasks}
    end = begin + WEEK_LONG
    ahead = [each for each in work.left_out if by_id[each.task].latest >= begin]
    left = [each for each in ahead if by_id[each.task].earliest < end]
    first = [each for each in left if each.why != "waits"] or left
    return {
        "sum": sum_words(work, begin, [task for _, task in due]),
        "heat": heat_words(plan, begin),
        "groups": [
            _group(plan, pairs, begin)
            for pairs in _together(
                [pair for pair in due if not pair[1].repeated or pair[1].cautions]
            )
        ],
        "returning": [
            _returning(plan, [pair for pair in several if pair[1].kind == kind], begin)
            for kind in dict.fromkeys(task.kind for _, task in several)
        ],
        "overloads": [
            overload_words(plan, each, by_id)
            for each in work.overloads
            if each.first < end and begin < each.last + WEEK_LONG
        ],
        "left": [left_words(plan, each, by_id) for each in first[:_MOST_LEFT]],
        "more_left": len(left) - len(first[:_MOST_LEFT]),
        "left_later": len(ahead) - len(left),
        "choices": [choice_words(each) for each in work.choices] if ahead else [],
        "notes": list(
            dict.fromkeys(
                work_sentence(each, plan.document.garden.garden.units) for each in work.findings
            )
        ),
    }


def tasks_in_short(hand: WorkInHand, begin: date) -> str:
    """What is to be done in the week from a Monday: kinds of tasks and hours; "" for nothing."""
    work = hand.work
    due = in_order(work, [e for e in work.assigned if e.week == begin and not e.done])
    if not due:
        return ""
    kinds = ", ".join(dict.fromkeys(TASKS[task.kind] for _, task in due))
    tasks = [task for _, task in due]
    return f"{kinds.capitalize()}. {sum_words(work, begin, tasks)}"


def done_told(
    hand: WorkInHand, done: Iterable[Assigned], entries: Mapping[str, UUID]
) -> list[tuple[str, UUID | None]]:
    """Tasks that are done, each with its day and the entry that tells it."""
    return [
        (
            WEEK["done_line"].format(
                task=TASKS[task.kind].capitalize(),
                place=place_words(task, hand.plan.library),
                day=day_words(assigned.day),
            ),
            entries.get(task.id),
        )
        for assigned, task in in_order(hand.work, done)
    ]


def _told(plan: SeasonPlan, task: Task, assigned: Assigned, begin: date) -> TaskTold:
    system = plan.document.garden.garden.units
    when = []
    if assigned.day > begin:
        when.append(WEEK["from_day"].format(day=day_words(assigned.day)))
    if task.latest < begin + WEEK_LONG:
        when.append(WEEK["by_day"].format(day=day_words(task.latest)))
    things = ", ".join(bring_words(each, plan.library, system) for each in task.bring)
    return TaskTold(
        id=task.id,
        kind=task.kind,
        bed=task.bed or "",
        crop=task.crop or "",
        head=TASKS[task.kind].capitalize(),
        place=place_words(task, plan.library),
        hours=f"{hours_words(task.hours.value)} h" if task.hours.value > 0 else "",
        when="; ".join(when),
        people=WEEK["two"].format(people=task.people) if task.people > 1 else "",
        bring=WEEK["bring"].format(things=things) if things else "",
        cautions=tuple(
            Caution(work_sentence(each, system), each.weight in ("act", "caution"))
            for each in task.cautions
        ),
    )


def _together(pairs: Sequence[tuple[Assigned, Task]]) -> list[list[tuple[Assigned, Task]]]:
    """Tasks of one kind and day told together, where nothing that must go before one of them comes
    after the first of them."""
    groups: list[list[tuple[Assigned, Task]]] = []
    for assigned, task in pairs:
        before = {key for key, _ in task.after}
        for group in reversed(groups):
            if group[0][1].kind == task.kind and group[0][0].day == assigned.day:
                group.append((assigned, task))
                break
            if any(each.id in before for _, each in group):
                groups.append([(assigned, task)])
                break
        else:
            groups.append([(assigned, task)])
    return groups


def _group(plan: SeasonPlan, pairs: Sequence[tuple[Assigned, Task]], begin: date) -> Group:
    told = [_told(plan, task, assigned, begin) for assigned, task in pairs]
    first = told[0]
    common = tuple(one for one in first.cautions if all(one in each.cautions for each in told))
    same = all(each.bring == first.bring for each in told)
    whole = sum(task.hours.value for _, task in pairs)
    return Group(
        head=first.head,
        hours=f"{hours_words(whole)} h" if whole > 0 else "",
        cautions=common,
        bring=first.bring if same else "",
        tasks=tuple(
            replace(
                each,
                cautions=tuple(one for one in each.cautions if one not in common),
                bring="" if same else each.bring,
            )
            for each in told
        ),
    )


def _returning(plan: SeasonPlan, pairs: Sequence[tuple[Assigned, Task]], begin: date) -> Returning:
    system = plan.document.garden.garden.units
    tasks = [task for _, task in pairs]
    tools = dict.fromkeys(b.key for each in tasks for b in each.bring if b.amount is None)
    things = ", ".join(THINGS[each] for each in tools)
    told = []
    for assigned, task in pairs:
        one = _told(plan, task, assigned, begin)
        amounts = [bring_words(each, plan.library, system) for each in task.bring if each.amount]
        told.append(replace(one, place="; ".join([one.place, *amounts])))
    return Returning(
        TASKS[tasks[0].kind].capitalize(),
        f"{hours_words(sum(each.hours.value for each in tasks))} h",
        WEEK["bring"].format(things=things) if things else "",
        tuple(told),
    )
