"""Safekeeping: backups, taking the garden out and in."""

from __future__ import annotations

from django.http import HttpRequest, HttpResponse
from django.urls import path

from bedwright.web.standing import Standing
from bedwright.web.views.common import page, with_standing


@with_standing
def safekeeping(request: HttpRequest, standing: Standing) -> HttpResponse:
    """The room's first page."""
    return page(request, "safekeeping.html", standing)


URLS = [path("safekeeping/", safekeeping, name="safekeeping")]
