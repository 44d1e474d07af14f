"""The garden's shade at a date and an hour, what casts it, and the light on each bed."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from typing import Any

from django.http import HttpRequest, HttpResponse
from django.urls import path
from django.utils.cache import patch_vary_headers
from django.utils.safestring import SafeString
from django.utils.translation import gettext as _

from bedwright.reports.words_charts import CHART_WORDS
from bedwright.units.show import plain
from bedwright.web import jobs
from bedwright.web.bed_states import bed_states, standing_crops
from bedwright.web.drawn.garden import WIDTHS, garden_drawn
from bedwright.web.forms_of_parts import Field, Paper
from bedwright.web.models import Job
from bedwright.web.shading import Moment, hour_words, moment_of
from bedwright.web.standing import Standing
from bedwright.web.structure_forms import StructureForm
from bedwright.web.views.common import page, plan_or_work, with_standing
from bedwright.web.views.parts import urls_of
from bedwright.web.years_store import stored_light

_HOURS = range(5, 22)  # of the clock: outside of them the sun is down or very low
_USUAL_HOUR = 15  # in the heat of the day
_QUARTERS = ((3, 21), (6, 21), (9, 21), (12, 21))
_MONTHS = 12


@with_standing
def shade(request: HttpRequest, standing: Standing) -> HttpResponse:
    """The garden with its shade at the day and hour that the address asks for."""
    usual = _usual_day(standing)
    paper = Paper({"on": usual.isoformat(), "hour": str(_USUAL_HOUR), **request.GET.dict()})
    on = paper.day("on") or usual
    hour = paper.whole("hour", 0, 23)
    if hour is None:
        hour = _USUAL_HOUR
    context: dict[str, Any] = {
        "structures": list(enumerate(standing.stated.garden.structure)),
        "fields": _fields(paper),
        "quick": _quick(on),
        "month": CHART_WORDS[f"month_{on.month}"],
    }
    try:
        moment = moment_of(standing.document, standing.library, on, hour)
    except (ValueError, OverflowError):  # a year that the sun's series does not reach
        paper.fault("on", _("Choose a day between 1900 and 2100."))
        context["fields"] = _fields(paper)
        moment = None
    if moment is not None:
        context |= {"moment": moment, "drawings": _drawings(standing, moment, _asked(request))}
        light, job = _light(standing)
        context |= {"light": light_rows(standing, on.month), "job": job} if light else {"job": job}
    answer = page(request, "shade.html", standing, **context)
    answer.status_code = 422 if paper.faults else 200
    patch_vary_headers(answer, ("Drawn-For",))
    return answer


def light_rows(standing: Standing, month: int) -> list[tuple[str, str, str, str]]:
    """Each bed's light in a month: mol a day, hours of sun, and its share of that in the open."""
    found = stored_light(standing.key)
    if found is None:
        return []
    at = month - 1
    return [
        (
            bed,
            plain(float(each.light_mol_m2_d[at]), 2),
            plain(float(each.sun_h[at]), 2),
            f"{round(100 * float(each.light_mol_m2_d[at] / each.open_mol_m2_d[at]))} %",
        )
        for bed, each in found.beds.items()
        if each.open_mol_m2_d[at] > 0
    ]


def _light(standing: Standing) -> tuple[bool, Job | None]:
    """Whether the light on the beds is worked out, or the work on it."""
    if not standing.stated.garden.structure:
        return False, None
    if stored_light(standing.key) is not None:
        return True, None
    return False, jobs.ask(standing.garden, "light", standing.key, revision=standing.revision.pk)


def _fields(paper: Paper) -> list[Field]:
    hours = [str(each) for each in _HOURS]
    asked = paper.text("hour")
    if asked.isdecimal() and int(asked[:3]) < 24 and asked not in hours:
        hours.append(asked)
    return [
        Field("on", _("Day"), paper.text("on"), "date", faults=paper.faults.get("on", ())),
        Field("hour", _("Hour"), asked, "choice", faults=paper.faults.get("hour", ()),
              choices=[(each, hour_words(int(each))) for each in sorted(hours, key=int)]),
    ]  # fmt: skip


def _usual_day(standing: Standing) -> date:
    """The longest day of the season that comes, or that it is in."""
    latitude = standing.document.garden.garden.latitude
    south = latitude is not None and latitude.si < 0
    found = date(standing.as_of.year, 12 if south else 6, 21)
    return found if (found - standing.as_of).days > -100 else found.replace(year=found.year + 1)


def _quick(on: date) -> list[tuple[date, int, str]]:
    """Four days of the year at three hours, to compare."""
    return [
        (date(on.year, *day), hour, hour_words(hour)) for day in _QUARTERS for hour in (9, 12, 15)
    ]


def _asked(request: HttpRequest) -> tuple[str, ...]:
    """The widths to draw: that of the screen where our script says which it is, else all."""
    name = request.headers.get("Drawn-For", "")
    return (name,) if name in WIDTHS else tuple(WIDTHS)


def _drawings(standing: Standing, moment: Moment, widths: Sequence[str]) -> dict[str, SafeString]:
    """The garden with its shade."""
    plan, _job = plan_or_work(standing)
    states = bed_states(standing.document, plan, standing.as_of)
    stands = standing_crops(standing.document, plan, standing.as_of)
    return {name: garden_drawn(standing, states, stands, name, moment) for name in widths}


URLS = [
    path("garden/shade/", shade, name="shade"),
    *urls_of(StructureForm(), "garden/structure/"),
]
