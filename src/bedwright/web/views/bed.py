"""One bed: soil and what it means, prescription with its working, history, ledger, nitrogen."""

from __future__ import annotations

from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import render
from django.urls import path

from bedwright.reports import words
from bedwright.reports.working import working_text
from bedwright.web.figures import bed_figures
from bedwright.web.standing import Standing
from bedwright.web.views.common import page, plan_or_work, with_standing


@with_standing
def bed(request: HttpRequest, standing: Standing, bed_id: str) -> HttpResponse:
    """A bed's page."""
    beds = {each.id: each for each in standing.document.garden.bed}
    if bed_id not in beds:
        raise Http404
    plan, _ = plan_or_work(standing)
    shown = next((b for b in plan.beds if b.prescription.bed.id == bed_id), None) if plan else None
    return page(
        request, "bed.html", standing, bed=beds[bed_id], bed_plan=shown, nutrients=words.NUTRIENTS
    )


@with_standing
def working(request: HttpRequest, standing: Standing, bed_id: str, key: str) -> HttpResponse:
    """The working of one number of a bed: in the margin, or a page of its own without script."""
    plan, _ = plan_or_work(standing)
    shown = next((b for b in plan.beds if b.prescription.bed.id == bed_id), None) if plan else None
    figure = bed_figures(shown).get(key) if shown else None
    if plan is None or figure is None:
        raise Http404
    from bedwright.reckon import formulas

    lines = working_text(figure, plan.library, {each.name: each.words for each in formulas()})
    template = "part_working" if request.htmx else "working"  # type: ignore[attr-defined]
    context = {"lines": lines, "name": figure.name, "bed_id": bed_id}
    return render(request, f"web/{template}.html", context)


URLS = [
    path("bed/<str:bed_id>/", bed, name="bed"),
    path("bed/<str:bed_id>/working/<str:key>/", working, name="working"),
]
