"""Heat ahead: what it does to each planting, what cloth is worth, and the hours for work."""

from __future__ import annotations

from datetime import date
from typing import Any

from django.http import HttpRequest, HttpResponse
from django.urls import path

from bedwright.planning.summer.model import Summer
from bedwright.planning.summer.people import CLASSES, MonthWork
from bedwright.reports.summer_clock import clock_shift_h
from bedwright.reports.summer_ground_said import evidence_lines, ground_lines
from bedwright.reports.summer_said import month_words, summer_sentence, warmth
from bedwright.reports.summer_work_said import drink_lines
from bedwright.reports.words_summer import WORK
from bedwright.web.forms_of_parts import Paper
from bedwright.web.standing import Standing
from bedwright.web.summer.told import (
    forecast,
    forecast_fields,
    hours_told,
    index_words,
    months_told,
    plantings_told,
)
from bedwright.web.views.common import page, plan_or_work, with_standing

_MONTHS = 12
# Where on the page a caution stands, by how its code begins.
_CAUTIONS = {"work": ("work_",), "cloth": ("cloth_", "fruit_"), "ground": ("wind_",)}


@with_standing
def heat(request: HttpRequest, standing: Standing) -> HttpResponse:
    """The summer's page, with the hours of work of a day that the form may describe."""
    plan, _job = plan_or_work(standing)
    summer = None if plan is None else plan.summer
    paper = Paper({"on": standing.as_of.isoformat(), **request.GET.dict()})
    on = paper.day("on") or standing.as_of
    context: dict[str, Any] = {"summer": summer}
    if plan is not None and summer is not None:
        context |= _garden(summer, standing)
        context["plantings"] = plantings_told(summer, standing.library, standing.system)
        context |= _day(summer, standing, paper, on)
    context["fields"] = forecast_fields(paper, standing.system)
    answer = page(request, "heat.html", standing, **context)
    answer.status_code = 422 if paper.faults else 200
    return answer


def _garden(summer: Summer, standing: Standing) -> dict[str, Any]:
    system = standing.system
    cautions = {
        name: [
            summer_sentence(each, system)
            for each in summer.findings
            if each.weight in ("act", "caution") and each.code.startswith(starts)
        ]
        for name, starts in _CAUTIONS.items()
    }
    notes = [
        summer_sentence(each, system)
        for each in summer.findings
        if each.weight not in ("act", "caution")
    ]
    return {
        "cautions": cautions,
        "notes": notes,
        "ground": [
            *ground_lines(summer.mulch, summer.wind, system),
            *evidence_lines(summer, system),
        ],
        "months": months_told(summer, standing.document),
        "drink": drink_lines(summer.drinking, system),
        "moderate_is": WORK["moderate_is"],
        "by_hour": WORK["by_hour"],
        "classes": [WORK[f"class_{each}"] for each in CLASSES],
    }


def _day(summer: Summer, standing: Standing, paper: Paper, on: date) -> dict[str, Any]:
    """The hours of the day by the forecast typed, else of a usual day of its month or the next
    month of heat.
    """
    document = standing.document
    day = forecast(paper, document, standing.library, on)
    usual = None
    if day is None and not paper.faults:
        usual = _month(summer, on)
        if usual is not None:
            day, on = usual.usual, usual.day
    if day is None:
        return {}
    known = clock_shift_h(document, on) is not None
    return {
        "hours": hours_told(day, document, on),
        "on": on,
        "month": None if usual is None else month_words(usual.month),
        "high": warmth(day.t_max_c, standing.system),
        "index": index_words(day, standing.system),
        "clock": WORK["clock" if known else "sun"],
    }


def _month(summer: Summer, on: date) -> MonthWork | None:
    """The month of a day, if heat shortens work on its hot days, else the next month whose usual
    day it shortens.
    """
    here = next((each for each in summer.work if each.month == on.month), None)
    ahead = [each for each in summer.work if each.usual.shortened] or list(summer.work)
    return here or min(ahead, key=lambda each: (each.month - on.month) % _MONTHS, default=None)


URLS = [path("heat/", heat, name="heat")]
