"""The journal: what was done, picked, seen, measured, bought."""

from __future__ import annotations

from django.http import HttpRequest, HttpResponse
from django.urls import path

from bedwright.web.standing import Standing
from bedwright.web.views.common import page, with_standing


@with_standing
def journal(request: HttpRequest, standing: Standing) -> HttpResponse:
    """The room's first page."""
    return page(request, "journal.html", standing)


URLS = [path("journal/", journal, name="journal")]
