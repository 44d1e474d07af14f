"""Soil reports: how they were read, and a form for a new one."""

from __future__ import annotations

from django.http import HttpRequest, HttpResponse
from django.urls import path

from bedwright.web.standing import Standing
from bedwright.web.views.common import page, with_standing


@with_standing
def soil(request: HttpRequest, standing: Standing) -> HttpResponse:
    """The room's first page."""
    return page(request, "soil.html", standing)


URLS = [path("soil/", soil, name="soil")]
