"""Reckon: a single formula worked alone."""

from __future__ import annotations

from django.http import HttpRequest, HttpResponse
from django.urls import path

from bedwright.web.standing import Standing
from bedwright.web.views.common import page, with_standing


@with_standing
def reckoning(request: HttpRequest, standing: Standing) -> HttpResponse:
    """The room's first page."""
    return page(request, "reckoning.html", standing)


URLS = [path("reckon/", reckoning, name="reckon")]
