"""How a number's working is answered: in the margin, or on a page of its own without script."""

from __future__ import annotations

from collections.abc import Sequence
from functools import cache

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render

from bedwright.reports.worked import worked
from bedwright.season import SeasonPlan
from bedwright.units import UnitSystem
from bedwright.working import Figure


def show_working(
    request: HttpRequest,
    figure: Figure,
    plan: SeasonPlan,
    system: UnitSystem,
    *,
    bed_id: str = "",
    decided: Sequence[str] = (),
    demands: Sequence[str] = (),
) -> HttpResponse:
    """The working of a figure. ``decided`` and ``demands`` say what decides an amount."""
    template = "part_working" if request.htmx else "working"  # type: ignore[attr-defined]
    context = {
        "worked": worked(figure, plan.library, _formulas()),
        "system": system,
        "bed_id": bed_id,
        "decided": decided,
        "demands": demands,
    }
    return render(request, f"web/{template}.html", context)


@cache
def _formulas() -> dict[str, str]:
    """The formulas' own words, by name; their modules are loaded when they are first asked for."""
    from bedwright.reckon import formulas

    return {each.name: each.words for each in formulas()}
