"""Work and rest in the heat in the reader's words."""

from __future__ import annotations

from datetime import date

from bedwright.garden import Document
from bedwright.planning.summer.model import PlantingSummer, Summer
from bedwright.planning.summer.people import CLASSES, Drinking, WorkDay
from bedwright.reports.summer_clock import clock_shift_h, span_by_clock
from bedwright.reports.summer_said import month_words, per_cent, warmth
from bedwright.reports.words_summer import WORK
from bedwright.units import UnitSystem
from bedwright.units.parse import unit_factor
from bedwright.units.show import plain


def work_spans(day: WorkDay, shift_h: float | None) -> str:
    """For each class of work its hours without set rests, on one day."""
    told = []
    for workload in CLASSES:
        spans = day.spans(workload)
        word = WORK[f"class_{workload}"]
        if not spans:
            told.append(WORK["none"].format(workload=word))
            continue
        hours = ", ".join(_hours(each, shift_h) for each in spans)
        if len(spans) == 1 and spans[0][1] - spans[0][0] >= len(day.hours):
            hours = WORK["all_day"]
        told.append(WORK["span"].format(workload=word, hours=hours))
    return "; ".join(told)


def _hours(span: tuple[int, int], shift_h: float | None) -> str:
    start, end = span_by_clock(span, shift_h)
    return WORK["hours"].format(start=start, end=end)


def bed_work_line(summer: Summer, each: PlantingSummer, document: Document) -> str | None:
    """Work at a bed in its crop's hottest month; None where no heat shortens it."""
    months = _months(each.start, each.end)
    worst = max(
        (one for one in summer.work if one.month in months),
        key=lambda one: one.usual.t_max_c,
        default=None,
    )
    if worst is None:
        return None
    day = worst.usual
    return WORK["bed"].format(
        month=month_words(worst.month),
        high=warmth(day.t_max_c, document.garden.garden.units),
        spans=work_spans(day, clock_shift_h(document, worst.day)),
    )


def _months(start: date, end: date) -> set[int]:
    count = (end.year - start.year) * 12 + end.month - start.month
    return {(start.month - 1 + at) % 12 + 1 for at in range(count + 1)}


def drink_lines(water: Drinking, system: UnitSystem) -> list[str]:
    """What to drink, and how people get used to the heat."""

    def shares(values: tuple[float, ...]) -> str:
        return ", ".join(per_cent(each) for each in values)

    return [
        WORK["drink"].format(
            cup=_drink(water.cup.value, system),
            low=plain(water.every_min.least),
            high=plain(water.every_min.most),
            most=_drink(water.most_an_hour.value, system),
        ),
        WORK["new"].format(shares=shares(water.new_worker), back=shares(water.returning)),
    ]


def _drink(volume_m3: float, system: UnitSystem) -> str:
    if system is UnitSystem.METRIC:
        return WORK["liters"].format(n=plain(volume_m3 / unit_factor("l")[0], 2))
    cups = plain(volume_m3 / unit_factor("cup")[0], 2)
    return WORK["cup"] if cups == "1" else WORK["cups"].format(n=cups)
