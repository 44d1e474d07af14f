"""What the pages share: the garden looked at, its plan or the work on it, the rooms' names."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from functools import wraps
from typing import Any

from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils.functional import Promise
from django.utils.translation import gettext_lazy as _

from bedwright.garden import GardenError
from bedwright.planning.assignment.result import YearsAhead
from bedwright.season import SeasonPlan
from bedwright.web import jobs
from bedwright.web.models import Garden, Job
from bedwright.web.rotation_settings import is_stated
from bedwright.web.standing import Standing, standing_of
from bedwright.web.years_store import first_years, stored_years

# The rooms of the site in groups: what the group is for, then address name and word of each.
GROUPS = (
    (_("To do"), (
        ("today", _("Today")),
        ("week", _("Week")),
        ("season-work", _("Work of the season")),
        ("water", _("Water")),
        ("heat", _("Heat ahead")),
        ("turnover", _("What comes out")),
    )),
    (_("Beds"), (
        ("garden", _("Garden")),
        ("months", _("Month by month")),
        ("soil", _("Soil")),
        ("crops", _("Crops and dates")),
        ("rotation", _("Rotation")),
    )),
    (_("Harvest and shed"), (
        ("harvest", _("Harvest by week")),
        ("purchases", _("To buy by date")),
        ("shed", _("Shed")),
    )),
    (_("Written down"), (
        ("journal", _("Journal")),
        ("bed_record", _("Record of the beds")),
        ("compare", _("Comparisons")),
    )),
    (_("Try and reckon"), (
        ("what_if", _("What if")),
        ("reckon", _("Reckon")),
    )),
    (_("To take along"), (
        ("calendar", _("Calendar")),
        ("book", _("Season book")),
        ("spreadsheet", _("Spreadsheet")),
    )),
    (_("The garden's papers"), (
        ("safekeeping", _("Safekeeping")),
        ("settings", _("Settings")),
    )),
)  # fmt: skip
# What stands in the bar itself; on a wide screen the second line does, too.
_AT_HAND = ("today", "week", "garden", "journal")
_BESIDE = ("crops", "water", "harvest", "purchases", "shed")

View = Callable[..., HttpResponse]


def of_every_page(request: HttpRequest) -> dict[str, Any]:
    """What the frame of every page shows."""
    standing = getattr(request, "standing", None)
    if standing is None:
        return {"standing": None}
    here = request.resolver_match.url_name if request.resolver_match else None
    groups = [
        (
            word,
            [Room(name, each, reverse(name), name == here) for name, each in rooms],
        )
        for word, rooms in GROUPS
    ]
    by_name = {room.name: room for _word, rooms in groups for room in rooms}
    at_hand = [by_name[each] for each in _AT_HAND]
    beside = [by_name[each] for each in _BESIDE]
    return {
        "rooms_grouped": groups,
        "rooms_at_hand": at_hand,
        "rooms_beside": beside,
        "room_elsewhere": next(
            (r for r in by_name.values() if r.here and r not in at_hand and r not in beside), None
        ),
        "standing": standing,
    }


@dataclass(frozen=True)
class Room:
    """A room as the bar shows it; ``here`` tells that it is the one looked at."""

    name: str
    word: Promise
    address: str
    here: bool


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


def page(
    request: HttpRequest, template: str, standing: Standing, *, quiet: bool = False, **shown: Any
) -> HttpResponse:
    """A page of a room, with the plan or the work on it beside what the view shows.

    A page that shows the work is loaded anew when it ends: ``quiet`` keeps what is typed on it.
    """
    plan, job = plan_or_work(standing)
    context = {"plan": plan, "system": standing.system, **shown}
    context["job"] = None if quiet else job or shown.get("job")
    return render(request, f"web/{template}", context)
