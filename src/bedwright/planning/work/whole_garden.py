"""The weekly work on the whole garden: tend the trays, check the drip lines, sell."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Mapping, Sequence
from datetime import date, timedelta

from bedwright.garden.model_work import Work as Stated
from bedwright.planning.work.making import WEEK, Maker, monday
from bedwright.planning.work.model import Bring, Task
from bedwright.planning.work.rates import Rates
from bedwright.working import Figure


def garden_tasks(makers: Sequence[Maker], rates: Rates, stated: Stated) -> tuple[Task, ...]:
    """The tasks that are of no one bed, one for each week that asks for them."""
    trays: dict[date, float] = defaultdict(float)
    lines: dict[date, float] = defaultdict(float)
    sold: dict[date, float] = {}
    for maker in makers:
        days = maker.days
        set_out = {each.id: each.earliest for each in maker.tasks}
        for each in maker.tasks:
            if each.kind == "sow_trays":
                until = set_out.get(each.frees_bench or "", days.start)
                for week in _weeks(each.earliest + WEEK, until):
                    trays[week] += each.trays
            elif each.kind == "drip" and maker.grown.layout is not None:
                for week in _weeks(days.drip + WEEK, days.end):
                    if maker.cold(week):
                        continue
                    lines[week] += maker.grown.layout.drip.length_m
            elif each.kind == "pick":
                sold[monday(each.earliest)] = 1.0
    found = _weekly("tend", trays, "tray", rates)
    found += _weekly("check_drip", lines, "m", rates)
    if stated.market_hours is not None:
        hours = Figure(
            "hours", stated.market_hours, "h", "stated", note=f"{stated.market_hours:g} h"
        )
        found += [
            _task("sell", number, week, hours, rates) for number, week in enumerate(sorted(sold), 1)
        ]
    return tuple(found)


def _weeks(first: date, last: date) -> list[date]:
    weeks = []
    week = monday(first)
    while week <= last:
        weeks.append(week)
        week += WEEK
    return weeks


def _weekly(kind: str, amounts: Mapping[date, float], per: str, rates: Rates) -> list[Task]:
    return [
        _task(kind, number, week, rates.time(kind, per, amounts[week]).named("hours"), rates)
        for number, week in enumerate(sorted(amounts), 1)
    ]


def _task(kind: str, number: int, week: date, hours: Figure, rates: Rates) -> Task:
    return Task(
        id=f"//{kind}/{number}",
        kind=kind,
        bed=None,
        crop=None,
        earliest=week,
        latest=week + timedelta(days=6),
        hours=hours,
        bring=tuple(Bring("tool", each) for each in rates.tools(kind)),
        priority=rates.rule(kind, "weight"),
        late=rates.rule("any", "late_cost"),
        workload=rates.workload(kind),
        repeated=True,
    )
