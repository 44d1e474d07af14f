"""The back of a bed's sheet: its tasks in order, and what is to be known of its summer."""

from __future__ import annotations

from dataclasses import dataclass

from bedwright.planning.work.model import Assigned, Task
from bedwright.reports.days_said import day_year_words
from bedwright.reports.summer_said import planting_lines
from bedwright.reports.words_book import BOOK
from bedwright.reports.words_work import TASKS
from bedwright.reports.work_said import bring_words, hours_words, work_sentence
from bedwright.reports.work_text import in_order, left_words
from bedwright.season import SeasonPlan


@dataclass(frozen=True)
class BackRow:
    """A task, or one that comes back, told once: when, what, hours, what to bring, cautions."""

    when: str
    task: str
    hours: str
    bring: str
    cautions: str


@dataclass(frozen=True)
class Back:
    """The words of a sheet's back; ``head`` are those over the columns."""

    heading: str
    head: tuple[str, ...]
    rows: tuple[BackRow, ...]
    left_out: tuple[str, ...]
    summer_heading: str
    summer: tuple[str, ...]


def sheet_back(plan: SeasonPlan, bed: str) -> Back | None:
    """The back of a bed's sheet; None where neither work nor summer is known of it.

    A plan of one bed alone has no work: then the summer stands alone.
    """
    rows = bed_rows(plan, bed)
    system = plan.document.garden.garden.units
    summer = [
        line
        for each in plan.plantings
        if each.prescription.bed.id == bed and (found := plan.summer_of(each)) is not None
        for line in planting_lines(found, system)
    ]
    if not rows and not summer:
        return None
    head = tuple(BOOK[key] for key in ("when", "task", "hours", "bring"))
    work = plan.work
    by_id = {} if work is None else {each.id: each for each in work.tasks}
    left = [] if work is None else [e for e in work.left_out if by_id[e.task].bed == bed]
    told = tuple(left_words(plan, each, by_id) for each in left)
    return Back(BOOK["work_of_bed"], head, rows, told, BOOK["summer"], tuple(dict.fromkeys(summer)))


def bed_rows(plan: SeasonPlan, bed: str) -> tuple[BackRow, ...]:
    """The tasks of a bed that are still to be done, in order; one that comes back, once."""
    work = plan.work
    if work is None:
        return ()
    due = [
        pair
        for pair in in_order(work, [each for each in work.assigned if not each.done])
        if pair[1].bed == bed
    ]
    groups: dict[str, list[tuple[Assigned, Task]]] = {}
    for assigned, task in due:
        key = f"{task.crop}/{task.kind}" if task.repeated else task.id
        groups.setdefault(key, []).append((assigned, task))
    return tuple(_row(plan, group) for group in groups.values())


def _row(plan: SeasonPlan, group: list[tuple[Assigned, Task]]) -> BackRow:
    system = plan.document.garden.garden.units
    first, last = (day_year_words(each.day) for each in (group[0][0], group[-1][0]))
    name = TASKS[group[0][1].kind].capitalize()
    tasks = [task for _, task in group]
    # The amounts of work that comes back change from week to week: its tools alone are told.
    things = [
        bring_words(each, plan.library, system)
        for task in tasks
        for each in task.bring
        if len(group) == 1 or each.amount is None
    ]
    hours = sum(each.hours.value for each in tasks)
    cautions = [work_sentence(each, system) for task in tasks for each in task.cautions]
    return BackRow(
        first if len(group) == 1 else BOOK["from_to"].format(first=first, last=last),
        name if len(group) == 1 else BOOK["times"].format(task=name, count=len(group)),
        hours_words(hours) if hours > 0 else "",
        ", ".join(dict.fromkeys(things)),
        " ".join(dict.fromkeys(cautions)),
    )
