"""Water: the day's minutes, the zones' week, a bed's balance, salt over the years."""

from __future__ import annotations

from datetime import date
from typing import Any
from urllib.parse import urlencode

from django.http import Http404, HttpRequest, HttpResponse
from django.urls import path
from django.utils.translation import gettext as _

from bedwright.charts.salt_chart import salt_chart
from bedwright.charts.theme import Spec
from bedwright.charts.water_chart import water_chart
from bedwright.garden.model_water import Readings
from bedwright.planning.watering.garden_water import GardenWater
from bedwright.planning.watering.stand_water import StandWater
from bedwright.reports.water_said import volume_words
from bedwright.reports.water_text import day_line
from bedwright.reports.words_charts import CHART_WORDS
from bedwright.reports.words_water import SALT_CHARTS, WATER_CHARTS
from bedwright.units import UnitSystem
from bedwright.web.drawn.charts import AXIS, chart_answer
from bedwright.web.forms_of_parts import Field, Paper
from bedwright.web.standing import Standing
from bedwright.web.views.common import page, with_standing
from bedwright.web.views.working import show_working
from bedwright.web.watering.kept import water_of, water_plan
from bedwright.web.watering.told_day import (
    bed_minutes_figure,
    before_planting,
    findings_told,
    short_told,
    week_told,
    zones_told,
)
from bedwright.web.watering.told_season import (
    BalanceTold,
    balance_told,
    salt_told,
    zone_months_told,
)

_COLDEST_C, _HOTTEST_C = -10.0, 50.0  # of a forecast that the page takes
_MOST_RAIN_MM = 300.0
_YEARS = range(1900, 2101)  # of a day that the page takes


@with_standing
def water(request: HttpRequest, standing: Standing) -> HttpResponse:
    """The day's water, with the day, the heat and the rain that the address asks for."""
    paper, on, readings = _asked(request, standing)
    found = water_of(standing, on, readings)
    system = standing.system
    context: dict[str, Any] = {"on": on, "fields": _fields(paper, system)}
    if found is not None:
        context |= {
            "water": found,
            "asked": urlencode({key: paper.text(key) for key in ("on", "high", "rain")}),
            "supposed": bool(readings.gauge),
            "day": "" if found.today is None else day_line(found.today, system),
            "zones": zones_told(found, system),
            "before": before_planting(found, system),
            "short": short_told(found, system),
            "told": findings_told(found, system),
        }
    return _page(request, "water.html", standing, paper, **context)


@with_standing
def week(request: HttpRequest, standing: Standing) -> HttpResponse:
    """Which zone runs when through the week of a day, and through the months."""
    paper, on, readings = _asked(request, standing)
    found = water_of(standing, on, readings)
    context: dict[str, Any] = {"on": on, "fields": _fields(paper, standing.system)[:1]}
    if found is not None:
        context |= {
            "water": found,
            "days": week_told(found),
            "today": on.weekday(),
            "short": short_told(found, standing.system),
            "months": zone_months_told(found),
            "told": findings_told(found, standing.system),
        }
    return _page(request, "water_week.html", standing, paper, **context)


@with_standing
def bed_water(request: HttpRequest, standing: Standing, bed_id: str) -> HttpResponse:
    """A bed's balance through the season of each of its plantings."""
    _known(standing, bed_id)
    found = water_of(standing, standing.as_of)
    context: dict[str, Any] = {"bed_id": bed_id}
    if found is not None:
        context |= {
            "water": found,
            "plantings": [
                _balance(each, standing) for each in found.stands if each.stand.bed == bed_id
            ],
            "salty": any(each.bed == bed_id for each in found.salt),
        }
    return page(request, "water_bed.html", standing, **context)


@with_standing
def seasons(request: HttpRequest, standing: Standing) -> HttpResponse:
    """All beds with their season's water, and what all take together."""
    found = water_of(standing, standing.as_of)
    context: dict[str, Any] = {}
    if found is not None:
        money = standing.document.garden.garden.currency
        context = {
            "water": found,
            "beds": [(each.stand.bed, _balance(each, standing)) for each in found.stands],
            "volume": volume_words(found.gross_m3, standing.system),
            "cost": "" if found.cost is None else f"{found.cost:.2f} {money}",
        }
    return page(request, "water_beds.html", standing, **context)


def _balance(each: StandWater, standing: Standing) -> BalanceTold:
    garden = standing.document.garden
    stated = garden.watering
    price = None if stated is None or stated.price is None else stated.price.si
    return balance_told(each, standing.system, price, garden.garden.currency)


@with_standing
def salt(request: HttpRequest, standing: Standing) -> HttpResponse:
    """Salt at the roots of every bed over ten years, with and without leaching."""
    found = water_of(standing, standing.as_of)
    context: dict[str, Any] = {}
    if found is not None:
        context = {
            "water": found,
            "beds": salt_told(found, standing.system),
            "told": findings_told(found, standing.system),
        }
    return page(request, "water_salt.html", standing, **context)


@with_standing
def working(request: HttpRequest, standing: Standing, bed_id: str) -> HttpResponse:
    """The working of a bed's minutes on the day that the address asks for."""
    _known(standing, bed_id)
    paper, on, readings = _asked(request, standing)
    found, plan = water_of(standing, on, readings), water_plan(standing)
    figure = None if found is None else bed_minutes_figure(found, bed_id)
    if figure is None or plan is None or paper.faults:
        raise Http404
    return show_working(request, figure, plan, standing.system, bed_id=bed_id)


@with_standing
def chart(
    request: HttpRequest, standing: Standing, bed_id: str, want: int, name: str
) -> HttpResponse:
    """A chart of a planting as its Vega-Lite specification, for the width [px] that there is."""
    found = water_of(standing, standing.as_of)
    if found is None:
        raise Http404
    return chart_answer(
        request,
        (standing.key, bed_id, want, name),
        lambda width: _chart(found, standing.system, bed_id, want, name, width),
    )


def _chart(
    found: GardenWater, system: UnitSystem, bed: str, want: int, name: str, width: int
) -> Spec | None:
    of = next(
        (each for each in found.stands if (each.stand.bed, each.stand.want) == (bed, want)), None
    )
    if of is None:
        return None
    if name == "balance":
        words = {**CHART_WORDS, **WATER_CHARTS}
        return water_chart(of.stand, of.years, system, words, width=width - AXIS)
    salty = next((each for each in found.salt if (each.bed, each.want) == (bed, want)), None)
    if name != "salt" or salty is None:
        return None
    limit = None if of.leaching.limit is None else of.leaching.limit.value
    words = {**CHART_WORDS, **SALT_CHARTS}
    return salt_chart(salty, of.stand.name, limit, words, width=width - AXIS)


def _page(
    request: HttpRequest, template: str, standing: Standing, paper: Paper, **context: Any
) -> HttpResponse:
    answer = page(request, template, standing, **context)
    answer.status_code = 422 if paper.faults else 200
    return answer


def _known(standing: Standing, bed_id: str) -> None:
    """Raises Http404 for a bed that is not there."""
    if all(each.id != bed_id for each in standing.document.garden.bed):
        raise Http404


def _asked(request: HttpRequest, standing: Standing) -> tuple[Paper, date, Readings]:
    """The day that the address asks for, and its heat and rain as if they had been read."""
    paper = Paper({"on": standing.as_of.isoformat(), **request.GET.dict()})
    on = paper.day("on") or standing.as_of
    if on.year not in _YEARS:
        paper.fault("on", _("Choose a day between 1900 and 2100."))
        on = standing.as_of
    us = standing.system is UnitSystem.US
    high, rain = paper.number("high"), paper.number("rain")
    gauge: dict[str, Any] = {}
    if high is not None:
        celsius = (high - 32) * 5 / 9 if us else float(high)
        if _COLDEST_C <= celsius <= _HOTTEST_C:
            gauge["t_max"] = f"{celsius:.6g} C"
        else:
            ends = ("14 F", "122 F") if us else ("-10 C", "50 C")
            paper.fault("high", _("Write a temperature from {least} to {most}.").format(
                least=ends[0], most=ends[1]))  # fmt: skip
    if rain is not None:
        millimeters = rain * 25.4 if us else float(rain)
        if millimeters <= _MOST_RAIN_MM:
            gauge["rain"] = f"{millimeters:.6g} mm"
        else:
            most = "12 in" if us else "300 mm"
            paper.fault("rain", _("Write the rain of a day: {most} at most.").format(most=most))
    if not gauge:
        return paper, on, Readings()
    return paper, on, Readings.model_validate({"gauge": [{"on": on, **gauge}]})


def _fields(paper: Paper, system: UnitSystem) -> list[Field]:
    us = system is UnitSystem.US
    named = (("high", _("If its high is"), "F" if us else "C"),
             ("rain", _("If it rains"), "in" if us else "mm"))  # fmt: skip
    return [
        Field("on", _("Day"), paper.text("on"), "date", faults=paper.faults.get("on", ())),
        *(
            Field(name, label, paper.text(name), "number", unit=unit,
                  faults=paper.faults.get(name, ()))
            for name, label, unit in named
        ),
    ]  # fmt: skip


URLS = [
    path("water/", water, name="water"),
    path("water/week/", week, name="water-week"),
    path("water/seasons/", seasons, name="water-seasons"),
    path("water/salt/", salt, name="water-salt"),
    path("water/working/<str:bed_id>/", working, name="water-working"),
    path("bed/<str:bed_id>/water/", bed_water, name="bed-water"),
    path("bed/<str:bed_id>/water/<int:want>/<str:name>.json", chart, name="water-chart"),
]
