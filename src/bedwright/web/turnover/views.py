"""What comes out of a bed, and what comes out anywhere."""

from __future__ import annotations

from typing import Any

from django.http import Http404, HttpRequest, HttpResponse
from django.urls import path

from bedwright.language import named
from bedwright.planning.turnover import Turnover
from bedwright.reports.turnover_said import turnover_told
from bedwright.web.standing import Standing
from bedwright.web.views.common import page, plan_or_work, with_standing


@with_standing
def turnover(request: HttpRequest, standing: Standing) -> HttpResponse:
    """Every standing crop in a bed that is needed: by when it is out, and the best way out."""
    plan, _job = plan_or_work(standing)
    context: dict[str, Any] = {}
    if plan is not None:
        context["beds"] = [
            {
                "bed": each.bed,
                "crop": _crop(each),
                "next": named(each.next.name).lower(),
                "clear": each.next.clear,
                "last": each.next.last,
                "late": each.next.clear is not None and each.next.clear < standing.as_of,
                "way": turnover_told(each, standing.system, None).ways[:1],
            }
            for each in plan.turnover
        ]
        context["idle"] = [
            each.bed
            for at, each in enumerate(standing.document.garden.standing)
            if at not in {found.at for found in plan.turnover}
        ]
    return page(request, "turnover.html", standing, **context)


@with_standing
def of_bed(request: HttpRequest, standing: Standing, bed_id: str) -> HttpResponse:
    """What stands in a bed: what is left in it, what waiting costs, its ways out."""
    garden = standing.document.garden
    if all(each.id != bed_id for each in garden.bed):
        raise Http404
    plan, _job = plan_or_work(standing)
    context: dict[str, Any] = {"bed_id": bed_id}
    if plan is not None:
        currency = garden.garden.currency
        context["standing_crops"] = [
            (each, _crop(each), turnover_told(each, standing.system, currency))
            for each in plan.turnover
            if each.bed == bed_id
        ]
        context["stands"] = any(each.bed == bed_id for each in garden.standing)
    return page(request, "turnover_bed.html", standing, **context)


def _crop(each: Turnover) -> str:
    return named(each.name).lower()


URLS = [
    path("turnover/", turnover, name="turnover"),
    path("bed/<str:bed_id>/turnover/", of_bed, name="bed-turnover"),
]
