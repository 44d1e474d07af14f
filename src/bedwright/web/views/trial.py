"""What if: a change tried beside the standing plan, then kept or dropped."""

from __future__ import annotations

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
from bedwright.web.documents import Conflict, fault_words, save_revision
from bedwright.web.standing import Standing, read, standing_of
from bedwright.web.trying import (
    Wish,
    amounts_changed,
    dates_compared,
    garden_compared,
    ledgers_compared,
    tried,
)
from bedwright.web.views.common import plan_or_work, with_standing

_MOST_TRIALS = 20  # kept open in one garden; the oldest go first


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
        read(standing.garden, found.text, standing.as_of)
    except GardenError as error:
        return _form(request, standing, asked, [Wish("", each) for each in fault_words(error)])
    open_trials = standing.garden.revisions.filter(number=None).order_by("-made_at")
    for old in open_trials[_MOST_TRIALS - 1 :]:
        old.delete()
    made = standing.garden.revisions.create(
        text=found.text, change=found.change[:300], parent=standing.revision, made_by=_user(request)
    )
    return redirect("trial-shown", made.pk)


@with_standing
def shown(request: HttpRequest, standing: Standing, key: int) -> HttpResponse:
    """A trial beside the standing plan."""
    revision = get_object_or_404(standing.garden.revisions, pk=key, number=None)
    tried_out = standing_of(standing.garden, revision)
    plan, job = plan_or_work(standing)
    other, other_job = plan_or_work(tried_out)
    context: dict[str, Any] = {"revision": revision, "job": job or other_job}
    if plan is not None and other is not None:
        context |= _compared(plan, other, standing.system)
    return render(request, "web/trial_shown.html", context)


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
    revision.delete()
    messages.success(request, _("Kept: {change}").format(change=revision.change))
    return redirect("today")


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


def _user(request: HttpRequest) -> Any:
    return request.user if request.user.is_authenticated else None


URLS = [
    path("what-if/", trial, name="trial"),
    path("what-if/try/", begin, name="trial-begin"),
    path("what-if/<int:key>/", shown, name="trial-shown"),
    path("what-if/<int:key>/keep/", keep, name="trial-keep"),
    path("what-if/<int:key>/drop/", drop, name="trial-drop"),
]
