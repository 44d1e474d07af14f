"""The spreadsheet of the season: a page that tells what is in it, and the file itself."""

from __future__ import annotations

from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.urls import path
from django.utils.http import content_disposition_header
from django.utils.text import slugify
from django.views.decorators.http import require_safe

from bedwright.reports.spreadsheet.spreadsheet import spreadsheet_bytes
from bedwright.reports.words_spreadsheet import SHEET_TITLES, SHEETS_TOLD
from bedwright.web import jobs
from bedwright.web.plan_store import stored_ledger
from bedwright.web.standing import Standing
from bedwright.web.views.common import page, plan_or_work, with_standing

_TYPE = "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet"


@require_safe
@with_standing
def spreadsheet(request: HttpRequest, standing: Standing) -> HttpResponse:
    """What is in the file, and the way to it."""
    plan, job = plan_or_work(standing)
    if plan is not None and plan.acts != standing.acts:
        job = jobs.ask(standing.garden, "work", standing.work_key, revision=standing.revision.pk)
    sheets = [(SHEET_TITLES[key], told) for key, told in SHEETS_TOLD.items()]
    return page(request, "spreadsheet.html", standing, sheets=sheets, job=job)


@require_safe
@with_standing
def download(request: HttpRequest, standing: Standing) -> HttpResponse:
    """The file; while the plan or its work is made anew, the page, which says so."""
    plan, _job = plan_or_work(standing)
    if plan is None or plan.acts != standing.acts:
        return redirect("spreadsheet")
    made = spreadsheet_bytes(plan, stored_ledger(standing.key))
    name = f"{slugify(standing.garden.name) or 'garden'}-{plan.as_of.isoformat()}.xlsx"
    answer = HttpResponse(made, content_type=_TYPE)
    shown = content_disposition_header(as_attachment=True, filename=name)
    answer["Content-Disposition"] = shown or "attachment"
    return answer


URLS = [
    path("spreadsheet/", spreadsheet, name="spreadsheet"),
    path("spreadsheet/season.xlsx", download, name="spreadsheet-file"),
]
