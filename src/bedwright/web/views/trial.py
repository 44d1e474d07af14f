"""What if: a change tried beside the standing plan, then kept or dropped."""

from __future__ import annotations

import tomllib
from typing import Any

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import path
from django.utils.translation import gettext as _
from django.views.decorators.http import require_POST

from bedwright.garden import GardenError
from bedwright.season import SeasonPlan
from bedwright.units import UnitSystem
from bedwright.web import jobs
from bedwright.web.documents import Conflict, fault_words, save_revision, try_revision
from bedwright.web.models import Revision
from bedwright.web.standing import Standing, standing_of
from bedwright.web.trying import (
    Wish,
    amounts_changed,
    dates_compared,
    garden_compared,
    ledgers_compared,
    tried,
)
from bedwright.web.views.common import plan_or_work, with_standing, years_or_work
from bedwright.web.years_store import keep_years, stored_years, years_that_stand
from bedwright.web.years_told import years_compared

_OF_THE_YEARS = {"rotation", "wish", "pin", "bed_problem"}


@with_standing
def trial(request: HttpRequest, standing: Standing) -> HttpResponse:
    """The form of a change, and the trials that are open."""
    return _form(request, standing, request.GET.dict(), [])


@require_POST
@with_standing
def begin(request: HttpRequest, standing: Standing) -> HttpResponse:
    """Try a change."""
    asked = request.POST.dict()
    found = tried(standing.revision.text, standing.stated.garden, asked)
    if isinstance(found, list):
        return _form(request, standing, asked, found)
    try:
        made = try_revision(standing.garden, found.text, parent=standing.revision,
                            change=found.change, user=request.user)  # fmt: skip
    except GardenError as error:
        return _form(request, standing, asked, [Wish("", each) for each in fault_words(error)])
    return redirect("trial-shown", made.pk)


@with_standing
def shown(request: HttpRequest, standing: Standing, key: int) -> HttpResponse:
    """A trial beside the standing plan."""
    revision = get_object_or_404(standing.garden.revisions, pk=key, number=None)
    tried_out = standing_of(standing.garden, revision)
    of_the_years = _changes_the_years_alone(standing.revision.text, revision.text)
    plan, job, other, other_job = None, None, None, None
    if not of_the_years:
        plan, job = plan_or_work(standing)
        other, other_job = plan_or_work(tried_out)
    years, years_job = years_or_work(tried_out)
    context: dict[str, Any] = {
        "revision": revision, "job": years_job or job or other_job, "of_the_years": of_the_years,
    }  # fmt: skip
    if years is not None:
        stands = years_or_work(standing)[0]
        context |= {"years": years, "ahead": years_compared(stands, years, standing.system)}
    if plan is not None and other is not None:
        context |= _compared(plan, other, standing.system)
    return render(request, "web/trial_shown.html", context)


def _changes_the_years_alone(standing: str, changed: str) -> bool:
    """Whether a change leaves the season's plan as it is."""
    one, other = map(_without_years, (standing, changed))
    return one == other


def _without_years(text: str) -> dict[str, Any]:
    data = tomllib.loads(text)
    kept = {key: each for key, each in data.items() if key not in _OF_THE_YEARS}
    return {**kept, "turnover": data.get("rotation", {}).get("turnover_days")}


def _compared(plan: SeasonPlan, other: SeasonPlan, system: UnitSystem) -> dict[str, Any]:
    return {
        "plan": plan,
        "garden_rows": garden_compared(plan, other, system),
        "amounts": amounts_changed(plan, other, system),
        "dates": dates_compared(plan, other),
        "ledgers": ledgers_compared(plan, other, system),
    }


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
    return redirect("trial")


def _form(
    request: HttpRequest, standing: Standing, asked: dict[str, str], faults: list[Wish]
) -> HttpResponse:
    garden = standing.stated.garden
    system = standing.system
    context = {
        "asked": asked,
        "faults": faults,
        "wants": list(enumerate(garden.want)),
        "stock": list(enumerate(garden.stock)),
        "materials": sorted({each.material for each in garden.stock}),
        "depth_unit": "in" if system is UnitSystem.US else "cm",
        "rate_unit": "lb/100 ft2" if system is UnitSystem.US else "g/m2",
        "currency": garden.garden.currency,
        "trials": standing.garden.revisions.filter(number=None).order_by("-made_at"),
    }
    return render(request, "web/trial.html", context, status=422 if faults else 200)


URLS = [
    path("what-if/", trial, name="trial"),
    path("what-if/try/", begin, name="trial-begin"),
    path("what-if/<int:key>/", shown, name="trial-shown"),
    path("what-if/<int:key>/keep/", keep, name="trial-keep"),
    path("what-if/<int:key>/drop/", drop, name="trial-drop"),
]
