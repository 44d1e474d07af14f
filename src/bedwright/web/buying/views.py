"""What to buy, by the day for which it is ordered."""

from __future__ import annotations

from typing import Any

from django.http import HttpRequest, HttpResponse
from django.urls import path

from bedwright.web.buying.told import buying_told
from bedwright.web.standing import Standing
from bedwright.web.views.common import page, plan_or_work, with_standing


@with_standing
def purchases(request: HttpRequest, standing: Standing) -> HttpResponse:
    """What is ordered by which day, its cost, what can wait, and what is on hand."""
    plan, _job = plan_or_work(standing)
    context: dict[str, Any] = {}
    if plan is not None and plan.purchases is not None:
        currency = standing.document.garden.garden.currency
        context = {"told": buying_told(plan.purchases, standing.system, currency)}
    return page(request, "purchases.html", standing, **context)


URLS = [path("purchases/", purchases, name="purchases")]
