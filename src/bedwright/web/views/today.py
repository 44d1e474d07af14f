"""What to do now: warnings, dates coming up, what is due."""

from __future__ import annotations

from django.http import HttpRequest, HttpResponse
from django.urls import path

from bedwright.web.standing import Standing
from bedwright.web.views.common import page, with_standing


@with_standing
def today(request: HttpRequest, standing: Standing) -> HttpResponse:
    """The first page."""
    return page(request, "today.html", standing)


def healthy(request: HttpRequest) -> HttpResponse:
    """That the server answers; asked by what starts it."""
    return HttpResponse("yes", content_type="text/plain")


URLS = [path("", today, name="today"), path("healthy/", healthy, name="healthy")]
