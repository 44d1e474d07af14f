"""The garden month by month: drawn twelve times, and as a table of the same."""

from __future__ import annotations

import re
from datetime import date
from typing import Any

from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.urls import path, reverse
from django.utils.http import content_disposition_header
from django.utils.safestring import SafeString, mark_safe
from django.utils.translation import gettext as _

from bedwright.drawings.months_ground import Size
from bedwright.language import spoken
from bedwright.planning.assignment.result import YearsAhead
from bedwright.planning.occupancy import Months
from bedwright.season import SeasonPlan
from bedwright.sheets.months import garden_months, months_svg, months_table
from bedwright.sheets.months_paper import months_pdf
from bedwright.sheets.paper import SheetError
from bedwright.units import UnitSystem
from bedwright.web.drawn.kept import Kept
from bedwright.web.standing import Standing
from bedwright.web.views.common import page, plan_or_work, with_standing, years_or_work
from bedwright.web.views.faults import not_printed

SIZES = {"desk": Size(760.0, columns=2), "telephone": Size(360.0, columns=1)}
_FROM = re.compile(r"(\d{4})-(\d{2})")
_HALF_A_YEAR = 6  # months
_YEARS = (1900, 2200)
_months: Kept[Months] = Kept(12)
_drawn: Kept[SafeString] = Kept(24)


@with_standing
def months(request: HttpRequest, standing: Standing) -> HttpResponse:
    """Twelve months from the one that the address names, or from this one."""
    first = _first(request.GET.get("from", ""), standing.as_of)
    plan, _job = plan_or_work(standing)
    years, _work = years_or_work(standing, ask=False)
    context: dict[str, Any] = {
        "earlier": _moved(first, -_HALF_A_YEAR), "later": _moved(first, _HALF_A_YEAR),
        "first": first, "ahead": years is not None, "here": first == standing.as_of.replace(day=1),
    }  # fmt: skip
    if plan is not None:
        key, found = _found(standing, plan, years, first)
        heads, rows = months_table(found)
        context |= {
            "heads": list(zip(found.months, heads, strict=True)), "rows": rows,
            "drawings": {name: _drawing(key, plan, found, name) for name in SIZES},
        }  # fmt: skip
    return page(request, "months.html", standing, **context)


@with_standing
def printed(request: HttpRequest, standing: Standing) -> HttpResponse:
    """The same twelve months on one page of paper; while there is no plan, the page says so."""
    first = _first(request.GET.get("from", ""), standing.as_of)
    plan, _job = plan_or_work(standing)
    if plan is None:
        return redirect("months")
    years, _work = years_or_work(standing, ask=False)
    _key, found = _found(standing, plan, years, first)
    paper = "letter" if standing.system is UnitSystem.US else "a4"
    try:
        made = months_pdf(plan, found, paper=paper, lang=spoken())
    except SheetError as error:
        return not_printed(request, error)
    name = _("months")
    shown = content_disposition_header(as_attachment=False, filename=f"{name}.pdf")
    answer = HttpResponse(made, content_type="application/pdf")
    answer["Content-Disposition"] = shown or "inline"
    return answer


def _found(
    standing: Standing, plan: SeasonPlan, years: YearsAhead | None, first: date
) -> tuple[tuple[object, ...], Months]:
    """What stands where, with what it is known by."""
    known = years and (years.as_of, years.objective, years.bound)
    key = (standing.work_key, known, first)
    return key, _months.made(key, lambda: garden_months(plan, years=years, first=first))


def _drawing(key: tuple[object, ...], plan: SeasonPlan, found: Months, name: str) -> SafeString:
    return _drawn.made(
        (key, name, spoken()),
        lambda: mark_safe(  # our own drawing escapes every word that it is given
            months_svg(
                plan,
                months=found,
                size=SIZES[name],
                link=lambda bed: reverse("bed", args=[bed]),
                id_prefix=f"months-{name}",
            )
        ),
    )


def _first(typed: str, today: date) -> date:
    """The first month: that which is typed as 2027-03, or today's. Raises Http404 for another."""
    if not typed:
        return today.replace(day=1)
    read = _FROM.fullmatch(typed)
    if not read or not 1 <= int(read[2]) <= 12 or not _YEARS[0] <= int(read[1]) <= _YEARS[1]:
        raise Http404
    return date(int(read[1]), int(read[2]), 1)


def _moved(first: date, by: int) -> date:
    years, month = divmod(first.month - 1 + by, 12)
    return date(first.year + years, month + 1, 1)


URLS = [
    path("months/", months, name="months"),
    path("months.pdf", printed, name="months-printed"),
]
