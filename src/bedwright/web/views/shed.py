"""The shed: what all beds take, what to buy, what is on hand and what it costs."""

from __future__ import annotations

from django.http import HttpRequest, HttpResponse
from django.urls import path

from bedwright.web.standing import Standing
from bedwright.web.stock_forms import StockForm
from bedwright.web.views.common import page, with_standing
from bedwright.web.views.parts import urls_of


@with_standing
def shed(request: HttpRequest, standing: Standing) -> HttpResponse:
    """What is taken from the shed and what is bought, then each line with its form."""
    counted = standing.document.garden.stock
    lines = [
        (at, each, counted[at].on_hand if at < len(counted) else each.on_hand)
        for at, each in enumerate(standing.stated.garden.stock)
    ]
    return page(request, "shed.html", standing, lines=lines)


URLS = [path("shed/", shed, name="shed"), *urls_of(StockForm(), "shed/")]
