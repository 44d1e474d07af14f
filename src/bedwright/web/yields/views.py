"""The harvest by week, against what the stall wants."""

from __future__ import annotations

from typing import Any

from django.http import Http404, HttpRequest, HttpResponse
from django.urls import path

from bedwright.charts.export import chart_rows
from bedwright.charts.harvest_chart import harvest_chart
from bedwright.charts.theme import Spec
from bedwright.reports.words_charts import CHART_WORDS
from bedwright.reports.words_harvest import HARVEST, HARVEST_CHARTS
from bedwright.season import SeasonPlan
from bedwright.web.drawn.charts import chart_answer
from bedwright.web.standing import Standing
from bedwright.web.views.common import page, plan_or_work, with_standing
from bedwright.web.yields.told import crops_told, findings_told

_WIDEST = 640  # px, of the chart whose figures the page holds


@with_standing
def harvest(request: HttpRequest, standing: Standing) -> HttpResponse:
    """Each crop's weeks: what is fit to sell, and whether that is what the stall wants."""
    plan, _job = plan_or_work(standing)
    context: dict[str, Any] = {}
    if plan is not None and plan.harvest is not None:
        act, notes = findings_told(plan.harvest, standing.system)
        spec = _chart(plan, _WIDEST)
        context = {
            "crops": crops_told(plan.harvest, standing.system),
            "acts": act,
            "notes": notes,
            "about": HARVEST["about"],
            "figures": None if spec is None else chart_rows(spec),
        }
    return page(request, "harvest.html", standing, **context)


@with_standing
def chart(request: HttpRequest, standing: Standing) -> HttpResponse:
    """The chart of all crops as its Vega-Lite specification, for the width [px] that there is."""
    plan, _job = plan_or_work(standing)
    if plan is None:
        raise Http404
    return chart_answer(request, (standing.key, "harvest"), lambda width: _chart(plan, width))


def _chart(plan: SeasonPlan, width: int) -> Spec | None:
    if plan.harvest is None:
        return None
    place = plan.document.garden.garden
    words = {**CHART_WORDS, **HARVEST_CHARTS}
    return harvest_chart(plan.harvest, place.name, place.units, words, width=width)


URLS = [
    path("harvest/", harvest, name="harvest"),
    path("harvest/chart.json", chart, name="harvest-chart"),
]
