"""The tasks of the season as a sheet: one row for each, in the order in which they are done."""

from __future__ import annotations

from collections.abc import Iterator

from bedwright.language import named
from bedwright.planning.work.model import Assigned, Task, Work
from bedwright.reports.days_said import day_year_words
from bedwright.reports.spreadsheet.model import Cell, Column, Sheet, number
from bedwright.reports.words_spreadsheet import COLUMNS, SHEET_TITLES, SHEETS_TOLD, SPREADSHEET
from bedwright.reports.words_work import TASKS, WEEK
from bedwright.reports.work_said import bring_words, work_sentence
from bedwright.reports.work_text import in_order
from bedwright.season import SeasonPlan


def tasks_sheet(plan: SeasonPlan, work: Work) -> Sheet:
    """Every task with its week; what does not fit comes last, and says why."""
    columns = (
        Column(COLUMNS["week"]), Column(COLUMNS["week_of"], "day"), Column(COLUMNS["day"], "day"),
        Column(COLUMNS["latest"], "day"), Column(COLUMNS["bed"]), Column(COLUMNS["crop"]),
        Column(COLUMNS["task"]), Column(COLUMNS["hours_low"], "number"),
        Column(COLUMNS["hours"], "number"), Column(COLUMNS["hours_high"], "number"),
        Column(COLUMNS["people"], "count"), Column(COLUMNS["bring"]), Column(COLUMNS["cautions"]),
        Column(COLUMNS["state"]),
    )  # fmt: skip
    states = task_states(work)
    rows = [
        _row(plan, task, assigned, states[task.id])
        for assigned, task in in_order(work, _laid(work))
    ]
    laid = {each.task for each in work.assigned}
    rows += [_row(plan, task, None, states[task.id]) for task in work.tasks if task.id not in laid]
    return Sheet(SHEET_TITLES["tasks"], SHEETS_TOLD["tasks"], columns, tuple(rows))


def task_states(work: Work) -> dict[str, str]:
    """How it stands with each task, in words, by its id."""
    found = {each.id: SPREADSHEET["not_yet"] for each in work.tasks}
    for each in work.assigned:
        found[each.task] = SPREADSHEET["done" if each.done else "planned"]
    for left in work.left_out:
        text = SPREADSHEET[f"left_{left.why}"]
        if left.why == "time" and left.possible is None:
            text = SPREADSHEET["left_waits"]
        elif left.possible is not None:
            text = text.format(day=day_year_words(left.possible))
        found[left.task] = text
    return found


def iso_week(assigned: Assigned) -> str:
    """The week of an assigned task as ISO 8601 writes it."""
    year, week, _ = assigned.week.isocalendar()
    return f"{year}-W{week:02d}"


def _laid(work: Work) -> Iterator[Assigned]:
    known = {each.id for each in work.tasks}
    return (each for each in work.assigned if each.task in known)


def _row(plan: SeasonPlan, task: Task, at: Assigned | None, state: str) -> tuple[Cell, ...]:
    system = plan.document.garden.garden.units
    crop = None if task.crop is None else named(plan.library.crop(task.crop)["name"]).lower()
    bring = "; ".join(bring_words(each, plan.library, system) for each in task.bring)
    cautions = " ".join(dict.fromkeys(work_sentence(each, system) for each in task.cautions))
    return (
        None if at is None else iso_week(at),
        None if at is None else at.week,
        None if at is None else at.day,
        task.latest,
        WEEK["whole_garden"] if task.bed is None else task.bed,
        crop,
        TASKS[task.kind],
        number(task.hours.least),
        number(task.hours.value),
        number(task.hours.most),
        task.people,
        bring or None,
        cautions or None,
        state,
    )
