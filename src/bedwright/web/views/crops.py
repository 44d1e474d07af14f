"""Crops wanted, the dates for them, and their odds."""

from __future__ import annotations

import json
from typing import Any

from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import render
from django.urls import path
from django.utils.translation import get_language

from bedwright.charts.export import chart_rows
from bedwright.charts.garden_dates import garden_dates_charts
from bedwright.charts.theme import Spec
from bedwright.garden.failed import open_wants
from bedwright.reports import fill
from bedwright.reports.dates_text import want_lines
from bedwright.reports.season_text import year_lines
from bedwright.reports.words_charts import CHART_WORDS
from bedwright.reports.words_dates import DATES_CHARTS
from bedwright.season import SeasonPlan
from bedwright.web.drawn.kept import Kept
from bedwright.web.standing import Standing
from bedwright.web.structure_forms import CropForm
from bedwright.web.views.common import page, plan_or_work, with_standing
from bedwright.web.views.parts import urls_of
from bedwright.web.want_forms import WantForm

_specs: Kept[Spec] = Kept(40)  # placing a chart's words takes a fifth of a second


@with_standing
def crops(request: HttpRequest, standing: Standing) -> HttpResponse:
    """Every crop wanted with its dates in sentences; the year's frost and heat above them."""
    plan, _job = plan_or_work(standing)
    wants = list(enumerate(standing.stated.garden.want))
    context: dict[str, Any] = {
        "wants": [(at, want, _dates(plan, at), _fruiting(plan, at)) for at, want in wants],
        "weather": _weather(plan),
        "said": [fill.sentence(each, standing.system) for each in plan.dates.findings]
        if plan is not None and plan.dates is not None
        else [],
        "open_beds": _open_beds(standing),
        "own": list(enumerate(standing.stated.garden.crop)),
    }
    return page(request, "crops.html", standing, **context)


@with_standing
def chart(request: HttpRequest, standing: Standing, name: str) -> HttpResponse:
    """A chart of the dates as its Vega-Lite specification."""
    return HttpResponse(json.dumps(_charts(standing, name)), content_type="application/json")


@with_standing
def figures(request: HttpRequest, standing: Standing, name: str) -> HttpResponse:
    """The figures behind a chart of the dates as a table: within the page, or a page of its own."""
    spec = _charts(standing, name)
    heads, rows = chart_rows(spec)
    context = {"heads": heads, "rows": rows, "said": spec.get("description", "")}
    template = "part_figures" if request.htmx else "figures"  # type: ignore[attr-defined]
    return render(request, f"web/{template}.html", context)


def _charts(standing: Standing, name: str) -> Spec:
    """A chart by its name, made once for a plan. Raises Http404 where there is none."""
    plan, _job = plan_or_work(standing)
    dates = None if plan is None else plan.dates
    if dates is None:
        raise Http404

    def make() -> Spec:
        words = {**CHART_WORDS, **DATES_CHARTS}
        crop = name.removeprefix("fruit-set-")
        only = {crop} if crop != name else None
        made = garden_dates_charts(dates, standing.document, standing.as_of, words, only)
        if name not in made:
            raise Http404
        return made[name]

    return _specs.made((standing.key, name, get_language()), make)


def _fruiting(plan: SeasonPlan | None, at: int) -> str:
    """The name of a want's chart of fruit set, empty where it is not grown for its fruit."""
    if plan is None or plan.dates is None or at >= len(plan.dates.wants):
        return ""
    want = plan.dates.wants[at]
    return f"fruit-set-{want.crop}" if want.curve is not None and any(want.curve.high) else ""


def _dates(plan: SeasonPlan | None, at: int) -> list[str]:
    if plan is None or plan.dates is None or at >= len(plan.dates.wants):
        return []
    return want_lines(plan.dates.wants[at], plan.document.garden.garden.units)


def _weather(plan: SeasonPlan | None) -> list[str]:
    if plan is None or plan.dates is None or plan.dates.weather is None:
        return []
    return year_lines(plan.dates.weather, plan.document.garden.garden.units)


def _open_beds(standing: Standing) -> list[str]:
    taken = open_wants(standing.document.garden)
    return [bed.id for bed in standing.stated.garden.bed if bed.id not in taken]


URLS = [
    path("crops/", crops, name="crops"),
    path("crops/charts/<str:name>.json", chart, name="dates-chart"),
    path("crops/charts/<str:name>/", figures, name="dates-figures"),
    *urls_of(CropForm(), "crops/own/"),
    *urls_of(WantForm(), "crops/"),
]
