"""The summer in the plan's text: a few lines for each bed, and once for the garden."""

from __future__ import annotations

from bedwright.garden import Document
from bedwright.planning.summer.model import PlantingSummer, Summer
from bedwright.reports.layout import wrapped
from bedwright.reports.summer_clock import clock_shift_h
from bedwright.reports.summer_ground_said import evidence_lines, ground_lines
from bedwright.reports.summer_said import (
    month_words,
    planting_lines,
    summer_sentence,
    warmth,
)
from bedwright.reports.summer_work_said import bed_work_line, drink_lines, work_spans
from bedwright.reports.words_summer import SUMMER, WORK


def bed_summer_lines(summer: Summer, each: PlantingSummer, document: Document) -> list[str]:
    """A planting's summer in 80 columns, and the hours of work at its bed."""
    system = document.garden.garden.units
    told = planting_lines(each, system)
    work = bed_work_line(summer, each, document)
    if work is not None:
        told.append(work)
    if not told:
        return []
    return [SUMMER["bed"], *_wrapped(told)]


def summer_text(summer: Summer, document: Document) -> str:
    """The garden's summer in 80 columns: work by month, water to drink, mulch, wind, cautions."""
    system = document.garden.garden.units
    title = SUMMER["title"]
    lines = [title, "-" * len(title)]
    cautions = [each for each in summer.findings if each.weight in ("act", "caution")]
    rest = [each for each in summer.findings if each.weight not in ("act", "caution")]
    for each in cautions:
        lines += wrapped(summer_sentence(each, system), "* ")
    told: list[str] = []
    if summer.work:
        lines += ["", WORK["title"].upper()]
        for month in summer.work:
            shift = clock_shift_h(document, month.day)
            for word, day in (("day", month.usual), ("hot_day", month.hot)):
                told.append(
                    WORK[word].format(
                        month=month_words(month.month).capitalize(),
                        high=warmth(day.t_max_c, system),
                        spans=work_spans(day, shift),
                    )
                )
        known = clock_shift_h(document, summer.work[0].day) is not None
        told += [WORK["moderate_is"], WORK["clock" if known else "sun"]]
        told += drink_lines(summer.drinking, system)
        lines += _wrapped(told)
    lines += ["", *_wrapped(ground_lines(summer.mulch, summer.wind, system))]
    lines += _wrapped(evidence_lines(summer, system))
    lines += _wrapped([summer_sentence(each, system) for each in rest])
    return "\n".join([*lines, ""])


def _wrapped(told: list[str]) -> list[str]:
    return [line for one in told for line in wrapped(one, "  ", "    ")]
