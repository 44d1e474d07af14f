"""Crops wanted, their dates and odds."""

from __future__ import annotations

from django.http import HttpRequest, HttpResponse
from django.urls import path

from bedwright.web.standing import Standing
from bedwright.web.views.common import page, with_standing


@with_standing
def crops(request: HttpRequest, standing: Standing) -> HttpResponse:
    """The room's first page."""
    return page(request, "crops.html", standing)


URLS = [path("crops/", crops, name="crops")]
