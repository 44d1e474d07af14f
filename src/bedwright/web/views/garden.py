"""The garden drawn to scale, with each bed's state."""

from __future__ import annotations

from django.http import HttpRequest, HttpResponse
from django.urls import path

from bedwright.web.standing import Standing
from bedwright.web.views.common import page, with_standing


@with_standing
def garden(request: HttpRequest, standing: Standing) -> HttpResponse:
    """The room's first page."""
    return page(request, "garden.html", standing)


URLS = [path("garden/", garden, name="garden")]
