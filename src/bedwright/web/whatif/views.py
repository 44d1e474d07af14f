"""What if: a change tried beside the standing plan, then kept or dropped."""

from __future__ import annotations

import tomllib
from typing import Any

from django.contrib import messages
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import path
from django.utils.translation import gettext as _
from django.views.decorators.http import require_POST

from bedwright.garden import GardenError
from bedwright.reports.differences.told import differences_told
from bedwright.units import UnitSystem
from bedwright.web import jobs
from bedwright.web.documents import Conflict, fault_words, save_revision, try_revision
from bedwright.web.models import Revision
from bedwright.web.part_forms import crop_names
from bedwright.web.standing import Standing, standing_of
from bedwright.web.views.common import with_standing, years_or_work
from bedwright.web.whatif.changes import Wish, tried, water_price_unit
from bedwright.web.whatif.kept import balances_told, compared_or_work
from bedwright.web.years_store import keep_years, stored_years, years_that_stand
from bedwright.web.years_told import years_compared

_OF_THE_YEARS = {"rotation", "wish", "pin", "bed_problem"}


@with_standing
def what_if(request: HttpRequest, standing: Standing) -> HttpResponse:
    """The form of a change, and the trials that are open."""
    return _form(request, standing, _base(standing, request.GET.get("on")), request.GET.dict(), [])


@require_POST
@with_standing
def begin(request: HttpRequest, standing: Standing) -> HttpResponse:
    """Try a change, of the standing document or of a trial of it."""
    asked = request.POST.dict()
    base = _base(standing, request.POST.get("on"))
    found = tried(base.revision.text, base.stated, asked)
    if isinstance(found, list):
        return _form(request, standing, base, asked, found)
    on_top = base.revision.trial
    change = f"{base.revision.change}; {found.change}" if on_top else found.change
    parent = base.revision.parent if on_top else base.revision
    assert parent is not None
    try:
        made = try_revision(standing.garden, found.text, parent=parent, change=change,
                            user=request.user)  # fmt: skip
    except GardenError as error:
        faults = [Wish("", each) for each in fault_words(error)]
        return _form(request, standing, base, asked, faults)
    return redirect("trial-shown", made.pk)


def _base(standing: Standing, typed: str | None) -> Standing:
    """What is changed: the trial that is named, or what stands.

    Raises Http404 for a trial that is not there, or whose own base is gone.
    """
    if not typed:
        return standing
    if not typed.isdecimal():
        raise Http404
    revision = get_object_or_404(standing.garden.revisions, pk=int(typed), number=None)
    if revision.parent_id is None:
        raise Http404
    return standing_of(standing.garden, revision)


@with_standing
def shown(request: HttpRequest, standing: Standing, key: int) -> HttpResponse:
    """A trial beside the standing plan."""
    revision = get_object_or_404(standing.garden.revisions, pk=key, number=None)
    tried_out = standing_of(standing.garden, revision)
    of_the_years = _changes_the_years_alone(standing.revision.text, revision.text)
    found, job = (None, None) if of_the_years else compared_or_work(standing, tried_out)
    years, years_job = years_or_work(tried_out)
    context: dict[str, Any] = {
        "revision": revision, "job": years_job or job, "of_the_years": of_the_years,
    }  # fmt: skip
    if years is not None:
        stands = years_or_work(standing)[0]
        context |= {"years": years, "ahead": years_compared(stands, years, standing.system)}
    if found is not None:
        currency = standing.document.garden.garden.currency
        context |= {
            "told": differences_told(found.differences, standing.system, currency),
            "balances": balances_told(found, standing.system),
        }
    return render(request, "web/trial_shown.html", context)


def _changes_the_years_alone(standing: str, changed: str) -> bool:
    """Whether a change leaves the season's plan as it is."""
    one, other = map(_without_years, (standing, changed))
    return one == other


def _without_years(text: str) -> dict[str, Any]:
    data = tomllib.loads(text)
    kept = {key: each for key, each in data.items() if key not in _OF_THE_YEARS}
    return {**kept, "turnover": data.get("rotation", {}).get("turnover_days")}


@require_POST
@with_standing
def keep(request: HttpRequest, standing: Standing, key: int) -> HttpResponse:
    """Make a trial the standing revision."""
    revision = get_object_or_404(standing.garden.revisions, pk=key, number=None)
    try:
        save_revision(
            standing.garden,
            revision.text,
            read_from=revision.parent_id or 0,
            change=revision.change,
            user=request.user,
        )
    except Conflict as conflict:
        said = _("The garden was changed meanwhile ({change}). Try this change again on it.")
        messages.error(request, said.format(change=conflict.standing.change))
        return redirect("trial-shown", revision.pk)
    _keep_years(standing, revision)
    revision.delete()
    messages.success(request, _("Kept: {change}").format(change=revision.change))
    return redirect("today")


def _keep_years(standing: Standing, revision: Revision) -> None:
    """The years that the trial showed are those that stand now."""
    found = stored_years(standing_of(standing.garden, revision).key)
    if found is None:
        return
    made = standing_of(standing.garden)
    keep_years(made.key, found)
    keep_years(years_that_stand(standing.garden), found)


@require_POST
@with_standing
def drop(request: HttpRequest, standing: Standing, key: int) -> HttpResponse:
    """Throw a trial away, and stop the work on it."""
    revision = get_object_or_404(standing.garden.revisions, pk=key, number=None)
    for job in standing.garden.job_set.filter(asked__revision=revision.pk):
        jobs.stop(job)
    revision.delete()
    messages.success(request, _("Dropped: the standing plan is as it was."))
    return redirect("what_if")


def _form(
    request: HttpRequest,
    standing: Standing,
    base: Standing,
    asked: dict[str, str],
    faults: list[Wish],
) -> HttpResponse:
    garden = base.stated.garden
    us = base.system is UnitSystem.US
    stands = {
        "hours": garden.work and garden.work.hours_per_week,
        "budget": garden.limits.budget and garden.limits.budget.text,
        "water_price": garden.watering and garden.watering.price and garden.watering.price.text,
        "salt": next(
            (each.text for report in garden.water_report
             for each in base.stated.water[report.id] if each.analyte == "ec"), None
        ),
    }  # fmt: skip
    context = {
        "asked": {key.replace("-", "_"): each for key, each in asked.items()} | asked,
        "faults": faults,
        "base": base.revision if base.revision.trial else None,
        "stands": stands,
        "wants": list(enumerate(garden.want)),
        "crops": crop_names(base),
        "stock": list(enumerate(garden.stock)),
        "materials": sorted({each.material for each in garden.stock}),
        "depth_unit": "in" if us else "cm",
        "rate_unit": "lb/100 ft2" if us else "g/m2",
        "water_price_unit": water_price_unit(garden),
        "currency": garden.garden.currency,
        "trials": standing.garden.revisions.filter(number=None).order_by("-made_at"),
    }
    return render(request, "web/trial.html", context, status=422 if faults else 200)


URLS = [
    path("what-if/", what_if, name="what_if"),
    path("what-if/try/", begin, name="trial-begin"),
    path("what-if/<int:key>/", shown, name="trial-shown"),
    path("what-if/<int:key>/keep/", keep, name="trial-keep"),
    path("what-if/<int:key>/drop/", drop, name="trial-drop"),
]
