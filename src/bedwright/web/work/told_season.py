"""The weeks of the season as the page tells them: hours against hours, and what begins when."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date, timedelta
from itertools import groupby

from django.utils.translation import gettext as _

from bedwright.language import named
from bedwright.planning.work.making import monday
from bedwright.planning.work.model import Assigned, Task, Work
from bedwright.reports.days_said import span_words
from bedwright.reports.words_charts import CHART_WORDS
from bedwright.reports.words_work import TASKS
from bedwright.reports.work_said import hours_words
from bedwright.reports.work_text import in_order
from bedwright.season import SeasonPlan
from bedwright.web.work.kept import WorkInHand

_FULL = 100  # px, the longest bar
_TOLD_FROM = 0.1  # h of a week
_SIX = timedelta(days=6)
# Told in the season's list by crop and bed; the rest stands in the week.
_TOLD = frozenset(
    "sow_trays sow plant set_out cover uncover shade mulch side_dress clear spread trellis".split()
)
_FIRST = frozenset({"pick"})  # of work that comes back, its first time


@dataclass(frozen=True)
class Bar:
    """A week's hours as lengths [px]: ``there`` is None where they are not stated; ``over`` is what
    does not fit, drawn after what does."""

    fits: int
    over: int
    there: int | None


@dataclass(frozen=True)
class WeekTold:
    """A week: ``asked`` hours in all, of which ``over`` do not fit; ``left`` counts such tasks."""

    monday: date
    span: str
    asked: str
    there: str
    over: str
    left: int
    bar: Bar
    begins: tuple[str, ...]


def months_told(hand: WorkInHand) -> list[tuple[str, list[WeekTold]]]:
    """The weeks from now on, by month; those with hardly any work, where nothing begins, are left
    out."""
    work = hand.work
    by_id = {each.id: each for each in work.tasks}
    there = {each.monday: each.available for each in work.weeks}
    first = min(there, default=monday(hand.plan.as_of))
    fits: dict[date, float] = defaultdict(float)
    over: dict[date, float] = defaultdict(float)
    left: dict[date, int] = defaultdict(int)
    for assigned in work.assigned:
        if not assigned.done:
            fits[assigned.week] += by_id[assigned.task].hours.value
    for out in work.left_out:
        task = by_id[out.task]
        week = max(monday(task.earliest), first)
        left[week] += 1
        over[week] += task.hours.value
    begins = _begins(hand.plan, work)
    weeks = sorted(
        week
        for week in {*fits, *over, *begins}
        if week >= first and (left[week] or week in begins or fits[week] >= _TOLD_FROM)
    )
    longest = max(
        (max(fits[week] + over[week], there.get(week) or 0.0) for week in weeks), default=0.0
    )
    told = [
        _week(
            week, fits[week], over[week], left[week], there.get(week), longest, begins.get(week, ())
        )
        for week in weeks
    ]
    return [
        (f"{CHART_WORDS[f'month_{month}']} {year}", list(of_month))
        for (year, month), of_month in groupby(told, lambda e: (e.monday.year, e.monday.month))
    ]


def _week(
    week: date, fits: float, over: float, left: int, there: float | None, longest: float,
    begins: tuple[str, ...],
) -> WeekTold:  # fmt: skip
    def px(hours: float) -> int:
        return round(hours / longest * _FULL) if longest > 0 else 0

    return WeekTold(
        monday=week,
        span=span_words(week, week + _SIX),
        asked=hours_words(fits + over),
        there="" if there is None else hours_words(there),
        over=hours_words(over) if over > 0 else "",
        left=left,
        bar=Bar(px(fits), px(over), None if there is None else px(there)),
        begins=begins,
    )


def _begins(plan: SeasonPlan, work: Work) -> dict[date, tuple[str, ...]]:
    """What begins in each week: the same work is told once, with its crops and their beds."""
    found: dict[date, dict[str, dict[str, list[str]]]] = defaultdict(dict)
    for assigned, task in _singled(in_order(work, [e for e in work.assigned if not e.done])):
        crops = found[assigned.week].setdefault(task.kind, {})
        beds = crops.setdefault(task.crop or "", [])
        if task.bed is not None and task.bed not in beds:
            beds.append(task.bed)
    return {
        week: tuple(_said(plan, kind, crops) for kind, crops in of_week.items())
        for week, of_week in found.items()
    }


def _singled(pairs: list[tuple[Assigned, Task]]) -> Iterator[tuple[Assigned, Task]]:
    """The work that is told one by one, and the first time of what comes back."""
    seen: set[tuple[str, str | None, str | None]] = set()
    for assigned, task in pairs:
        if task.kind in _FIRST:
            if task.standing:  # it is picked already: nothing begins
                continue
            key = task.kind, task.bed, task.crop
            if key in seen:
                continue
            seen.add(key)
        elif task.kind not in _TOLD:
            continue
        yield assigned, task


def _said(plan: SeasonPlan, kind: str, crops: dict[str, list[str]]) -> str:
    word = _("First harvest") if kind == "pick" else TASKS[kind].capitalize()
    told = []
    for crop, beds in crops.items():
        name = named(plan.library.crop(crop)["name"]).lower() if crop else ""
        told.append(f"{name} ({', '.join(beds)})".strip() if beds else name)
    return f"{word}: {', '.join(told)}"
