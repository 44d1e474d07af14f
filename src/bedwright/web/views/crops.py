"""Crops wanted, the dates for them, and their odds."""

from __future__ import annotations

import tomllib

from django.contrib import messages
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import path
from django.utils.translation import gettext as _
from django.views.decorators.http import require_POST

from bedwright.garden import GardenError
from bedwright.garden.edit import add_item, remove_item, replace_item
from bedwright.reports import fill
from bedwright.reports.dates_text import want_lines
from bedwright.reports.season_text import year_lines
from bedwright.season import SeasonPlan
from bedwright.web.documents import Conflict, fault_words, save_revision
from bedwright.web.standing import Standing, tables
from bedwright.web.views.common import page, plan_or_work, with_standing
from bedwright.web.want_forms import (
    PROTECTIONS,
    TURNS,
    WantFields,
    shown,
    stated,
    typed,
    with_units,
)

_NEW = "new"


@with_standing
def crops(request: HttpRequest, standing: Standing) -> HttpResponse:
    """Every crop wanted with its dates in sentences; the year's frost and heat above them."""
    plan, _job = plan_or_work(standing)
    wants = list(enumerate(standing.stated.garden.want))
    context = {
        "wants": [(at, want, _dates(plan, at)) for at, want in wants],
        "weather": _weather(plan),
        "said": [fill.sentence(each, standing.system) for each in plan.dates.findings]
        if plan is not None and plan.dates is not None
        else [],
        "open_beds": _open_beds(standing),
    }
    return page(request, "crops.html", standing, **context)


def _dates(plan: SeasonPlan | None, at: int) -> list[str]:
    if plan is None or plan.dates is None or at >= len(plan.dates.wants):
        return []
    return want_lines(plan.dates.wants[at], plan.document.garden.garden.units)


def _weather(plan: SeasonPlan | None) -> list[str]:
    if plan is None or plan.dates is None or plan.dates.weather is None:
        return []
    return year_lines(plan.dates.weather, plan.document.garden.garden.units)


def _open_beds(standing: Standing) -> list[str]:
    garden = standing.stated.garden
    taken = {bed for want in garden.want for bed in want.beds}
    return [bed.id for bed in garden.bed if bed.id not in taken]


@with_standing
def want(request: HttpRequest, standing: Standing, at: str) -> HttpResponse:
    """One crop wanted, or a new one: its form, and saving it."""
    wants = standing.stated.garden.want
    if at != _NEW and not (at.isdecimal() and int(at) < len(wants)):
        raise Http404
    if request.method != "POST":
        beds = tuple(request.GET.getlist("bed"))
        fields = (
            with_units(WantFields(beds=beds), standing.system)
            if at == _NEW
            else shown(wants[int(at)], standing.system)
        )
        return _form(request, standing, at, fields, [])
    fields = typed(request.POST.dict(), request.POST.getlist("beds"), standing.system)
    text = standing.revision.text
    raw = None if at == _NEW else tomllib.loads(text)["want"][int(at)]
    made, faults = stated(fields, raw)
    if faults:
        return _form(request, standing, at, fields, faults)
    where = ", ".join(fields.beds)
    if at == _NEW:
        text = add_item(text, ("want",), made)
        change = _("{crop} wanted in {beds}").format(crop=fields.crop, beds=where)
    else:
        text = replace_item(text, ("want", int(at)), made)
        change = _("{crop} in {beds} changed").format(crop=fields.crop, beds=where)
    return _saved(request, standing, text, change, at, fields)


@require_POST
@with_standing
def remove(request: HttpRequest, standing: Standing, at: int) -> HttpResponse:
    """Want a crop no more."""
    wants = standing.stated.garden.want
    if at >= len(wants):
        raise Http404
    gone = wants[at]
    change = _("{crop} no longer wanted in {beds}").format(
        crop=gone.crop, beds=", ".join(gone.beds)
    )
    text = remove_item(standing.revision.text, ("want", at))
    return _saved(request, standing, text, change, str(at), shown(gone, standing.system))


def _saved(
    request: HttpRequest, standing: Standing, text: str, change: str, at: str, fields: WantFields
) -> HttpResponse:
    try:
        read_from = int(request.POST.get("read_from", "0"))
    except ValueError:
        read_from = 0
    try:
        save_revision(standing.garden, text, read_from=read_from, change=change, user=request.user)
    except GardenError as error:
        return _form(request, standing, at, fields, fault_words(error))
    except Conflict as conflict:
        said = _(
            "The garden was changed meanwhile ({change}). Nothing of yours is saved yet: look "
            "whether it still fits, and save again."
        ).format(change=conflict.standing.change)
        return _form(request, standing, at, fields, [said])
    messages.success(request, change)
    return redirect("crops")


def _form(
    request: HttpRequest, standing: Standing, at: str, fields: WantFields, faults: list[str]
) -> HttpResponse:
    garden = standing.stated.garden
    context = {
        "at": at,
        "fields": fields,
        "faults": faults,
        "beds": [bed.id for bed in garden.bed],
        "names": sorted({row["name"].lower() for row in tables().rows("crops")}),
        "composts": sorted(
            {row["name"].lower() for row in tables().rows("materials") if row["kind"] == "compost"}
            | {each.material for each in garden.material}
        ),
        "protections": PROTECTIONS,
        "turns": TURNS,
        "read_from": standing.revision.pk,
        "weather_known": garden.weather is not None,
    }
    return render(request, "web/want.html", context, status=422 if faults else 200)


URLS = [
    path("crops/", crops, name="crops"),
    path("crops/<str:at>/", want, name="want"),
    path("crops/<int:at>/remove/", remove, name="want-remove"),
]
