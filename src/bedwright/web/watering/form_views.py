"""Readings, the lines that lie and what covers the ground: lists, and forms that change them."""

from __future__ import annotations

from typing import Any

from django.contrib import messages
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import path
from django.utils.translation import gettext as _

from bedwright.garden.model_water import Gauge, SoilMoisture
from bedwright.reports.water_said import clock_words
from bedwright.web.forms_of_parts import Paper, save
from bedwright.web.standing import Standing, standing_of
from bedwright.web.views.common import page, with_standing
from bedwright.web.views.parts import urls_of
from bedwright.web.watering.cups import (
    cups_fields,
    cups_groups,
    cups_read,
    cups_stated,
    cups_written,
    zone_place,
)
from bedwright.web.watering.forms import GaugeForm, SoilForm, ZoneForm, feel_words
from bedwright.web.watering.mulch_form import (
    mulch_fields,
    mulch_groups,
    mulch_path,
    mulch_stated,
    mulch_words,
    mulch_written,
    stated_on,
)
from bedwright.web.watering.tap import TAP_FIELDS, tap_groups, tap_stated, tap_written

_LATELY = 30  # readings of each kind that are listed


@with_standing
def readings(request: HttpRequest, standing: Standing) -> HttpResponse:
    """What was read lately, newest first, and the ways to write down more."""
    garden = standing.stated.garden
    gauges = sorted(enumerate(garden.gauge), key=lambda each: each[1].on, reverse=True)
    soils = sorted(enumerate(garden.soil_moisture), key=lambda each: each[1].on, reverse=True)
    today = next((at for at, each in gauges if each.on == standing.as_of), None)
    return page(
        request, "water_readings.html", standing,
        gauges=[(at, each.on, _gauge(each)) for at, each in gauges[:_LATELY]],
        soils=[(at, each.on, each.bed, _soil(each)) for at, each in soils[:_LATELY]],
        more=max(len(gauges), len(soils)) > _LATELY, gauge_today=today,
        zones=[each.id for each in garden.water_zone],
    )  # fmt: skip


def _gauge(each: Gauge) -> str:
    said = []
    if each.rain is not None:
        said.append(_("rain {depth}").format(depth=each.rain.text))
    if each.t_max is not None:
        said.append(_("high {warmth}").format(warmth=each.t_max.text))
    if each.t_min is not None:
        said.append(_("low {warmth}").format(warmth=each.t_min.text))
    return ", ".join(said)


def _soil(each: SoilMoisture) -> str:
    if each.feel is not None:
        return feel_words(each.feel)
    if each.tension is not None:
        return _("tensiometer {tension}").format(tension=each.tension.text)
    assert each.available is not None
    return _("{share} of its water left").format(share=each.available.text)


@with_standing
def lines(request: HttpRequest, standing: Standing) -> HttpResponse:
    """The tap and the lines of each zone, with what is stated of them and their beds."""
    garden = standing.stated.garden
    zones = [
        {
            "at": at,
            "zone": each,
            "beds": [bed.id for bed in garden.bed if bed.water_zone == each.id],
            "cups": cups_read(each, standing.system),
        }
        for at, each in enumerate(garden.water_zone)
    ]
    named = {bed.water_zone for bed in garden.bed if bed.water_zone is not None}
    tap = garden.watering
    return page(
        request, "water_lines.html", standing, zones=zones, tap=tap,
        hours=[(clock_words(a), clock_words(b)) for a, b in (tap.hours or () if tap else ())],
        unknown=sorted(named - {each.id for each in garden.water_zone}),
        unwatered=[bed.id for bed in garden.bed if bed.water_zone is None],
        mulch_of_all=mulch_words(stated_on(standing, None)),
        mulches=[(bed.id, mulch_words(bed.mulch)) for bed in garden.bed],
    )  # fmt: skip


@with_standing
def tap(request: HttpRequest, standing: Standing) -> HttpResponse:
    """The tap's form, and saving it."""
    paper = Paper(tap_stated(standing))
    if request.method == "POST":
        paper = Paper.of(request.POST)
        text = tap_written(standing.revision.text, paper)
        change = _("tap and hours of watering")
        if not paper.faults and save(request, standing, paper, text, change, TAP_FIELDS):
            messages.success(request, _("Saved."))
            return redirect("water-lines")
    return _form(request, standing, paper, _("The tap and its hours"), tap_groups(paper))


@with_standing
def cups(request: HttpRequest, standing: Standing, zone: str) -> HttpResponse:
    """What cups under emitters caught, and saving it."""
    at = zone_place(standing, zone)
    if at is None:
        raise Http404
    paper = Paper(cups_stated(standing, at))
    if request.method == "POST":
        paper = Paper.of(request.POST)
        text = cups_written(standing.revision.text, at, paper)
        change = _("cups of {zone}").format(zone=zone)
        if not paper.faults and save(request, standing, paper, text, change, cups_fields(at)):
            messages.success(request, _said(standing, zone))
            return redirect("water-lines")
    title = _("Cups under the emitters of {zone}").format(zone=zone)
    return _form(request, standing, paper, title, cups_groups(standing, at, paper),
                 hint=_("Set a cup under each of four emitters or more, at both ends of the lines "
                        "and between. Let them run, and write down what each caught."))  # fmt: skip


def _said(standing: Standing, zone: str) -> str:
    """What the cups that were saved say."""
    found = standing_of(standing.garden).stated.garden.water_zone
    read = next(cups_read(each, standing.system) for each in found if each.id == zone)
    if read is None:
        return _("Saved.")
    return _("{zone}: {flow} an emitter; the lowest quarter gets {evenness} of the mean.").format(
        zone=zone, flow=read.flow, evenness=read.evenness
    )


@with_standing
def mulch(request: HttpRequest, standing: Standing, bed: str | None = None) -> HttpResponse:
    """What covers a bed, or all beds that state nothing of their own, and saving it."""
    path_ = mulch_path(standing, bed)
    if path_ is None or (bed is None and standing.stated.garden.watering is None):
        raise Http404
    paper = Paper(mulch_stated(standing, bed))
    if request.method == "POST":
        paper = Paper.of(request.POST)
        text = mulch_written(standing.revision.text, path_, paper)
        change = _("mulch of all beds") if bed is None else _("mulch of {bed}").format(bed=bed)
        if not paper.faults and save(request, standing, paper, text, change, mulch_fields(path_)):
            messages.success(request, _("Saved."))
            return redirect("water-lines")
    title = _("Mulch on all beds") if bed is None else _("Mulch on {bed}").format(bed=bed)
    hint = _("It counts for the beds and plantings that state none of their own.")
    return _form(request, standing, paper, title, mulch_groups(paper),
                 hint=hint if bed is None else "")  # fmt: skip


def _form(request: HttpRequest, standing: Standing, paper: Paper, title: str, groups: Any,
          hint: str = "") -> HttpResponse:  # fmt: skip
    context = {
        "paper": paper, "groups": groups, "title": title, "hint": hint,
        "read_from": standing.revision.pk,
    }  # fmt: skip
    wrong = bool(paper.faults or paper.by_whom)
    return render(request, "web/water_form.html", context, status=422 if wrong else 200)


URLS = [
    path("water/readings/", readings, name="water-readings"),
    path("water/lines/", lines, name="water-lines"),
    path("water/tap/", tap, name="water-tap"),
    path("water/mulch/", mulch, name="water-mulch-of-all"),
    path("water/mulch/<str:bed>/", mulch, name="water-mulch"),
    path("water/cups/<str:zone>/", cups, name="water-cups"),
    *urls_of(GaugeForm(), "water/gauge/"),
    *urls_of(SoilForm(), "water/soil/"),
    *urls_of(ZoneForm(), "water/zone/"),
]
