"""What if: a change tried beside the standing plan."""

from __future__ import annotations

from django.http import HttpRequest, HttpResponse
from django.urls import path

from bedwright.web.standing import Standing
from bedwright.web.views.common import page, with_standing


@with_standing
def trial(request: HttpRequest, standing: Standing) -> HttpResponse:
    """The room's first page."""
    return page(request, "trial.html", standing)


URLS = [path("what-if/", trial, name="trial")]
