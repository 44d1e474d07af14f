"""A week's work as plain text: tasks in order, what to bring, cautions, what does not fit."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from datetime import date, timedelta

from bedwright.planning.work.model import Assigned, Choice, LeftOut, Overload, Task, Work
from bedwright.reports.days_said import day_words, day_year_words
from bedwright.reports.layout import wrapped
from bedwright.reports.summer_clock import clock_shift_h
from bedwright.reports.summer_said import warmth
from bedwright.reports.summer_work_said import work_spans
from bedwright.reports.words_work import TASKS, THINGS, WEEK
from bedwright.reports.work_said import bring_words, hours_words, place_words, work_sentence
from bedwright.season import SeasonPlan

_WEEK = timedelta(days=7)
_MOST_LEFT = 12  # left-out tasks told one by one


def monday_of(day: date) -> date:
    """The Monday of a day's week."""
    return day - timedelta(days=day.weekday())


def in_order(work: Work, assigned: Iterable[Assigned]) -> list[tuple[Assigned, Task]]:
    """Assigned tasks in the order in which they are done: by their day, then what must go first,
    then bed by bed."""
    by_id = {each.id: each for each in work.tasks}
    depth: dict[str, int] = {}

    def deep(key: str) -> int:
        if key not in depth:
            after = [before for before, _ in by_id[key].after if before in by_id]
            depth[key] = 1 + max((deep(each) for each in after), default=0)
        return depth[key]

    place = {each.id: at for at, each in enumerate(work.tasks)}
    pairs = [(each, by_id[each.task]) for each in assigned]
    return sorted(pairs, key=lambda pair: (pair[0].day, deep(pair[1].id), place[pair[1].id]))


def week_page(plan: SeasonPlan, day: date) -> str:
    """The work of the week of a day, in 80 columns.

    Raises LookupError for a plan of one bed alone, which has no work.
    """
    work = plan.work
    if work is None:
        raise LookupError("a plan of one bed alone has no work")
    begin = monday_of(day)
    name = plan.document.garden.garden.name
    title = WEEK["title"].format(garden=name, day=day_year_words(begin))
    lines = [title, "=" * len(title), ""]
    here = [each for each in work.assigned if each.week == begin]
    due = in_order(work, [each for each in here if not each.done])
    lines += wrapped(sum_words(work, begin, [task for _, task in due]))
    heat = heat_words(plan, begin)
    if heat:
        lines += ["", *wrapped(f"{WEEK['heat']}: {heat[0]}", "", "  ")]
        lines += [line for each in heat[1:] for line in wrapped(each, "", "  ")]
    if not due:
        lines += ["", WEEK["nothing"]]
    many = [pair for pair in due if pair[1].repeated and not pair[1].cautions]
    for kind in dict.fromkeys(task.kind for _, task in many):
        lines += ["", *_many(plan, [task for _, task in many if task.kind == kind])]
    for assigned, task in due:
        if not task.repeated or task.cautions:
            lines += ["", *_task(plan, task, assigned, begin)]
    lines += _done(plan, in_order(work, [each for each in here if each.done]))
    lines += _left(plan, work, begin)
    lines += _notes(plan, work)
    return "\n".join(lines) + "\n"


def sum_words(work: Work, begin: date, tasks: Sequence[Task]) -> str:
    """The hours that tasks of a week ask for, against those there are, and its trays."""
    known = next((each for each in work.weeks if each.monday == begin), None)
    values = {
        "hours": hours_words(sum(each.hours.value for each in tasks)),
        "low": hours_words(sum(each.hours.least for each in tasks)),
        "high": hours_words(sum(each.hours.most for each in tasks)),
    }
    if known is None or known.available is None:
        told = WEEK["hours_open"].format(**values)
    else:
        told = WEEK["hours"].format(**values, available=hours_words(known.available))
    if known is not None and known.trays:
        told += " " + WEEK["trays"].format(trays=known.trays)
    return told


def heat_words(plan: SeasonPlan, begin: date) -> list[str]:
    """The hours of a week's month in which heat asks for no rests, on a usual day and on a hot
    one; empty where it never asks."""
    middle = begin + _WEEK / 2
    months = plan.summer.work if plan.summer is not None else ()
    month = next((each for each in months if each.month == middle.month), None)
    if month is None:
        return []
    system = plan.document.garden.garden.units
    shift = clock_shift_h(plan.document, month.day)
    return [
        WEEK[key].format(high=warmth(day.t_max_c, system), spans=work_spans(day, shift))
        for key, day in (("heat_usual", month.usual), ("heat_hot", month.hot))
    ]


def _many(plan: SeasonPlan, tasks: Sequence[Task]) -> list[str]:
    """The same work at several beds, as it comes back each week."""
    if len(tasks) == 1 and tasks[0].bed is None:
        head = WEEK["task"].format(
            task=TASKS[tasks[0].kind].capitalize(), place=WEEK["whole_garden"],
            hours=hours_words(tasks[0].hours.value),
        )  # fmt: skip
        lines = wrapped(head, "[ ] ")
    else:
        head = WEEK["task_many"].format(
            task=TASKS[tasks[0].kind].capitalize(),
            hours=hours_words(sum(each.hours.value for each in tasks)),
        )
        lines = wrapped(head, "[ ] ")
        told = [
            "; ".join([place_words(each, plan.library), *_amounts(plan, each)]) for each in tasks
        ]
        if any(_amounts(plan, each) for each in tasks):
            lines += [line for each in told for line in wrapped(each, "    [ ] ")]
        else:
            lines += wrapped(", ".join(told), "    ")
    tools = dict.fromkeys(b.key for each in tasks for b in each.bring if b.amount is None)
    if tools:
        things = ", ".join(THINGS[each] for each in tools)
        lines += wrapped(WEEK["bring"].format(things=things), "    ")
    return lines


def _amounts(plan: SeasonPlan, task: Task) -> list[str]:
    system = plan.document.garden.garden.units
    return [bring_words(each, plan.library, system) for each in task.bring if each.amount]


def _task(plan: SeasonPlan, task: Task, assigned: Assigned, begin: date) -> list[str]:
    system = plan.document.garden.garden.units
    place = place_words(task, plan.library)
    key = "task" if task.hours.value > 0 else "task_none"
    head = WEEK[key].format(
        task=TASKS[task.kind].capitalize(), place=place, hours=hours_words(task.hours.value)
    )
    when = []
    if assigned.day > begin:
        when.append(WEEK["from_day"].format(day=day_words(assigned.day)))
    if task.latest < begin:
        when.append(WEEK["was_due"].format(day=day_words(task.latest)))
    elif task.latest < begin + _WEEK:
        when.append(WEEK["by_day"].format(day=day_words(task.latest)))
    lines = wrapped("; ".join([head, *when]), "[ ] ")
    if task.bring:
        things = ", ".join(bring_words(each, plan.library, system) for each in task.bring)
        lines += wrapped(WEEK["bring"].format(things=things), "    ")
    if task.people > 1:
        lines += wrapped(WEEK["two"].format(people=task.people), "    ")
    for each in task.cautions:
        mark = "! " if each.weight == "caution" else ""
        lines += wrapped(mark + work_sentence(each, system), "    ", "      ")
    return lines


def _done(plan: SeasonPlan, done: Sequence[tuple[Assigned, Task]]) -> list[str]:
    if not done:
        return []
    lines = ["", WEEK["done"].upper()]
    for assigned, task in done:
        told = WEEK["done_line"].format(
            task=TASKS[task.kind], place=place_words(task, plan.library),
            day=day_words(assigned.day),
        )  # fmt: skip
        lines += wrapped(told, "[x] ")
    return lines


def _left(plan: SeasonPlan, work: Work, begin: date) -> list[str]:
    """What does not fit in this week and those after it, and what would make it fit."""
    by_id = {each.id: each for each in work.tasks}
    left = [each for each in work.left_out if by_id[each.task].latest >= begin]
    if not left:
        return []
    lines = ["", WEEK["left_out"].upper()]
    lines += [
        line for e in work.overloads for line in wrapped(overload_words(plan, e, by_id), "* ")
    ]
    first = [each for each in left if each.why != "waits"] or left
    for each in first[:_MOST_LEFT]:
        lines += wrapped(left_words(plan, each, by_id), "- ")
    more = len(left) - len(first[:_MOST_LEFT])
    if more:
        lines += wrapped(WEEK["more_left"].format(count=more), "- ")
    if work.choices:
        lines += ["", WEEK["choices"].upper()]
        lines += [line for each in work.choices for line in wrapped(choice_words(each), "- ")]
    return lines


def _named(plan: SeasonPlan, task: Task) -> dict[str, str]:
    return {"task": TASKS[task.kind].capitalize(), "place": place_words(task, plan.library)}


def left_words(plan: SeasonPlan, left: LeftOut, by_id: dict[str, Task]) -> str:
    """A task that does not fit, and why."""
    values = _named(plan, by_id[left.task])
    if left.why == "time" and left.possible is not None:
        values["day"] = day_words(left.possible)
    if left.why == "hours":
        values["day"] = day_words(by_id[left.task].latest)
    if left.by is not None:
        values["by"] = TASKS[by_id[left.by].kind] if left.by in by_id else left.by
    return WEEK[f"left_{left.why}"].format(**values)


def overload_words(plan: SeasonPlan, each: Overload, by_id: dict[str, Task]) -> str:
    """Tasks that can't all be done, with the hours they ask for and those there are."""
    tasks = "; ".join("{task}, {place}".format(**_named(plan, by_id[key])) for key in each.tasks)
    key = "overload_week" if each.first == each.last else "overload"
    if each.hours <= each.available:
        key = "overload_whole"
    asked, there = hours_words(each.hours), hours_words(each.available)
    if asked == there:
        asked = WEEK["just_over"].format(hours=there)
    return WEEK[key].format(
        first=day_words(each.first), last=day_words(each.last + timedelta(days=6)),
        hours=asked, available=there, tasks=tasks,
    )  # fmt: skip


def choice_words(choice: Choice) -> str:
    """One way to fit everything, as a sentence."""
    if choice.kind == "hours":
        weeks = "; ".join(
            WEEK["choice_week"].format(day=day_words(on), hours=hours_words(hours))
            for on, hours in choice.weeks
        )
        key = "choice_hours_trays" if choice.trays else "choice_hours"
        whole = hours_words(sum(hours for _, hours in choice.weeks))
        told = WEEK[key].format(hours=whole, weeks=weeks, trays=choice.trays)
    elif choice.kind == "earlier":
        told = WEEK["choice_earlier"].format(days=choice.days)
    elif choice.kind == "beds":
        told = WEEK["choice_beds"].format(beds=", ".join(choice.beds))
    else:
        told = WEEK["choice_trays"].format(trays=choice.trays)
    return told if choice.least else f"{told} {WEEK['choice_maybe']}"


def _notes(plan: SeasonPlan, work: Work) -> list[str]:
    system = plan.document.garden.garden.units
    told = list(dict.fromkeys(work_sentence(each, system) for each in work.findings))
    if not told:
        return []
    return ["", WEEK["note"].upper(), *(line for each in told for line in wrapped(each, "- "))]
