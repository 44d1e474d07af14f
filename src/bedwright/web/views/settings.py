"""Settings of the garden and the site."""

from __future__ import annotations

from django.http import HttpRequest, HttpResponse
from django.urls import path

from bedwright.web.standing import Standing
from bedwright.web.views.common import page, with_standing


@with_standing
def settings(request: HttpRequest, standing: Standing) -> HttpResponse:
    """The room's first page."""
    return page(request, "settings.html", standing)


URLS = [path("settings/", settings, name="settings")]
