"""The tasks of a plan as events: when, where, how long, what to bring, what to mind."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import timedelta

from bedwright.planning.work.model import Assigned, Task, Work
from bedwright.reports.calendar.model import SeasonEvent
from bedwright.reports.days_said import day_words, day_year_words
from bedwright.reports.words_calendar import CALENDAR
from bedwright.reports.words_work import TASKS, WEEK
from bedwright.reports.work_said import bring_words, hours_words, place_words, work_sentence
from bedwright.season import SeasonPlan

_SUNDAY = timedelta(days=6)


def task_events(plan: SeasonPlan) -> Iterator[SeasonEvent]:
    """An event for each task that has its week, and for each that is written down as done.

    A task lies from the first day on which it can be done in its week to the last, which is the
    week's or its own; one that is done, on the day on which it was. What is only taken as done,
    because nothing is written down at all, is told of by nothing. Raises LookupError for a plan of
    one bed alone.
    """
    work = plan.work
    if work is None:
        raise LookupError("a plan of one bed alone has no work, so no calendar")
    told = bool(plan.acts or plan.document.garden.labor_done)
    by_id = {each.id: each for each in work.tasks}
    for assigned in work.assigned:
        if assigned.done and not told:
            continue
        yield _event(plan, work, assigned, by_id)


def _event(plan: SeasonPlan, work: Work, assigned: Assigned, by_id: dict[str, Task]) -> SeasonEvent:
    task = by_id[assigned.task]
    what = WEEK["task_none"].format(
        task=TASKS[task.kind].capitalize(), place=place_words(task, plan.library)
    )
    if assigned.done:
        return SeasonEvent(
            f"task/{task.id}", "work", assigned.day, assigned.day,
            CALENDAR["done"].format(what=what), (CALENDAR["done_on"],), task.bed,
        )  # fmt: skip
    last = max(assigned.day, min(task.latest, assigned.week + _SUNDAY))
    return SeasonEvent(
        f"task/{task.id}", "work", assigned.day, last, what,
        tuple(_lines(plan, task, by_id)), task.bed,
    )  # fmt: skip


def _lines(plan: SeasonPlan, task: Task, by_id: dict[str, Task]) -> Iterator[str]:
    """What is to be known of a task: cautions first, as they stand where the hand is."""
    system = plan.document.garden.garden.units
    for each in task.cautions:
        mark = "! " if each.weight == "caution" else ""
        yield mark + work_sentence(each, system)
    if task.hours.value > 0:
        hours, low, high = (
            hours_words(each) for each in (task.hours.value, task.hours.least, task.hours.most)
        )
        key = "hours_one" if low == high else "hours"
        yield CALENDAR[key].format(hours=hours, low=low, high=high)
    if task.people > 1:
        yield WEEK["two"].format(people=task.people)
    if task.bring:
        things = ", ".join(bring_words(each, plan.library, system) for each in task.bring)
        yield WEEK["bring"].format(things=things)
    before = [TASKS[by_id[each].kind] for each, _ in task.after if each in by_id]
    if before:
        yield CALENDAR["before_it"].format(tasks=", ".join(dict.fromkeys(before)))
    if task.earliest < task.latest:
        yield CALENDAR["serves"].format(
            first=day_words(task.earliest), last=day_year_words(task.latest)
        )
    else:
        yield CALENDAR["not_after"].format(last=day_year_words(task.latest))
