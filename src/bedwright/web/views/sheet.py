"""The bed sheets and the season book as PDF: ready to print from the browser."""

from __future__ import annotations

from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.urls import path
from django.utils.http import content_disposition_header
from django.utils.translation import gettext as _

from bedwright.language import Words, spoken
from bedwright.reports.words_drawings import DRAWING_WORDS
from bedwright.reports.words_spreading import SHEET_WORDS
from bedwright.season import SeasonPlan
from bedwright.sheets.book import book_pdf
from bedwright.sheets.content import sheet_content
from bedwright.sheets.paper import SheetError, printed
from bedwright.units import UnitSystem
from bedwright.web.reached import reached_at
from bedwright.web.standing import Standing
from bedwright.web.views.common import plan_or_work, with_standing
from bedwright.web.views.faults import not_printed


@with_standing
def one(request: HttpRequest, standing: Standing, bed_id: str) -> HttpResponse:
    """The sheet of one bed; while there is no plan, the bed's page, which says so."""
    if all(each.id != bed_id for each in standing.document.garden.bed):
        raise Http404
    plan, _job = plan_or_work(standing)
    if plan is None:
        return redirect("bed", bed_id)
    if all(each.prescription.bed.id != bed_id for each in plan.beds):
        raise Http404  # no crop is wanted: its page says so and links to no sheet
    return _answer(request, standing, plan, bed_id)


@with_standing
def every(request: HttpRequest, standing: Standing) -> HttpResponse:
    """The sheets of all beds with a plan, in one file."""
    plan, _job = plan_or_work(standing)
    if plan is None:
        return redirect("garden")
    if not plan.beds:
        raise Http404
    return _answer(request, standing, plan, None)


@with_standing
def book(request: HttpRequest, standing: Standing) -> HttpResponse:
    """The book of the season; while there is no plan, the first page, which says so."""
    plan, _job = plan_or_work(standing)
    if plan is None:
        return redirect("today")
    try:
        made = book_pdf(plan, paper=_paper(standing), lang=spoken())
    except SheetError as error:
        return not_printed(request, error)
    return _pdf(made, _("season book"))


def _paper(standing: Standing) -> str:
    return "letter" if standing.system is UnitSystem.US else "a4"


def _pdf(made: bytes, name: str) -> HttpResponse:
    shown = content_disposition_header(as_attachment=False, filename=f"{name}.pdf")
    answer = HttpResponse(made, content_type="application/pdf")
    answer["Content-Disposition"] = shown or "inline"
    return answer


def _answer(
    request: HttpRequest, standing: Standing, plan: SeasonPlan, bed_id: str | None
) -> HttpResponse:
    words = Words(DRAWING_WORDS, SHEET_WORDS)
    place, day = standing.document.garden.garden, plan.as_of.isoformat()
    beds = [each.prescription.bed.id for each in plan.beds] if bed_id is None else [bed_id]
    title = (
        words["title"].format(garden=place.name, as_of=day)
        if bed_id is None
        else words["title_one"].format(bed=bed_id, garden=place.name, as_of=day)
    )
    address, reached = reached_at(request, "/")
    try:
        # The typesetter works outside of the interpreter's lock: other pages answer meanwhile.
        made = printed(
            [sheet_content(plan, each, words, standing.system, back=True) for each in beds],
            paper=_paper(standing),
            as_of=plan.as_of,
            title=title,
            address=address if reached else None,  # a code to localhost would lead nowhere
            lang=spoken(),
        )
    except SheetError as error:
        return not_printed(request, error)
    return _pdf(
        made, _("bed sheets") if bed_id is None else _("bed sheet %(bed)s") % {"bed": bed_id}
    )


URLS = [
    path("bed/<str:bed_id>/sheet.pdf", one, name="bed-sheet"),
    path("sheets.pdf", every, name="sheets"),
    path("book.pdf", book, name="book"),
]
