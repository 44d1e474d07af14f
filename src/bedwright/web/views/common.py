"""What the pages share: the garden looked at, its plan or the work on it, the rooms' names."""

from __future__ import annotations

from collections.abc import Callable
from functools import wraps
from typing import Any

from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils.translation import gettext_lazy as _

from bedwright.garden import GardenError
from bedwright.planning.assignment.result import YearsAhead
from bedwright.season import SeasonPlan
from bedwright.web import jobs
from bedwright.web.models import Garden, Job
from bedwright.web.rotation_settings import is_stated
from bedwright.web.standing import Standing, standing_of
from bedwright.web.years_store import first_years, stored_years

# The rooms of the site in the order of the gardener's year: address name, word.
ROOMS = (
    ("today", _("Today")),
    ("garden", _("Garden")),
    ("soil", _("Soil")),
    ("shed", _("Shed")),
    ("crops", _("Crops and dates")),
    ("rotation", _("Rotation")),
    ("water", _("Water")),
    ("heat", _("Heat ahead")),
    ("journal", _("Journal")),
    ("trial", _("What if")),
    ("reckon", _("Reckon")),
    ("safekeeping", _("Safekeeping")),
    ("settings", _("Settings")),
)

View = Callable[..., HttpResponse]


def of_every_page(request: HttpRequest) -> dict[str, Any]:
    """What the frame of every page shows."""
    return {"rooms": ROOMS, "standing": getattr(request, "standing", None)}


def chosen_garden(request: HttpRequest) -> Garden | None:
    """The garden that this browser looks at: the one it chose, or the first made."""
    key = request.session.get("garden")
    found = Garden.objects.filter(pk=key).first() if key is not None else None
    return found or Garden.objects.order_by("pk").first()


def with_standing(view: View) -> View:
    """Give a view the standing garden; without one go to the start, with a broken one say so."""

    @wraps(view)
    def answer(request: HttpRequest, *args: Any, **kwargs: Any) -> HttpResponse:
        garden = chosen_garden(request)
        if garden is None or garden.standing is None:
            return redirect("start")
        try:
            standing = standing_of(garden)
        except GardenError as error:
            faults = {"faults": error.faults, "garden": garden}
            return render(request, "web/broken_document.html", faults, status=500)
        request.standing = standing  # type: ignore[attr-defined]
        return view(request, standing, *args, **kwargs)

    return answer


def plan_or_work(standing: Standing) -> tuple[SeasonPlan | None, Job | None]:
    """The season plan, or the job that makes it; never waits."""
    plan = standing.plan()
    if plan is not None:
        return plan, None
    job = jobs.ask(standing.garden, "plan", standing.key, revision=standing.revision.pk)
    return None, job


def years_or_work(standing: Standing, *, ask: bool = True) -> tuple[YearsAhead | None, Job | None]:
    """The years ahead, or the job that seeks them with what is shown meanwhile; never waits.

    Meanwhile a first plan is shown, or that of an earlier day. Neither in a garden that says
    nothing of the years ahead. Without ``ask`` no work is begun: it takes a core for half a
    minute, and an entry in the journal is no reason to begin it anew.
    """
    if not is_stated(standing.revision.text):
        return None, None
    years = stored_years(standing.key)
    if years is not None:
        return years, None
    if not ask:
        return first_years(standing.key) or stored_years(standing.text_key), None
    job = jobs.ask(standing.garden, "years", standing.key, revision=standing.revision.pk)
    if job.state == Job.State.WAITING and not standing.revision.trial:
        jobs.stop_years_of_others(standing.garden, standing.key)
    return first_years(standing.key) or stored_years(standing.text_key), job


def page(request: HttpRequest, template: str, standing: Standing, **shown: Any) -> HttpResponse:
    """A page of a room, with the plan or the work on it beside what the view shows."""
    plan, job = plan_or_work(standing)
    context = {"plan": plan, "system": standing.system, **shown}
    context["job"] = job or shown.get("job")
    return render(request, f"web/{template}", context)
