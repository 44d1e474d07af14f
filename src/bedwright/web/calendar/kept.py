"""The calendar of a garden as it is kept: made of the standing plan, gone on from the last one."""

from __future__ import annotations

import hashlib

from django.db import IntegrityError, transaction
from django.utils import timezone

from bedwright.language import LANGUAGES, using
from bedwright.reports.calendar.calendar_file import garden_identity, season_calendar
from bedwright.reports.calendar.earlier import CalendarError, identity_in, read_earlier
from bedwright.season import SeasonPlan
from bedwright.web import jobs
from bedwright.web.models import Garden, GardenCalendar, Job
from bedwright.web.standing import Standing


def calendar_of(garden: Garden, language: str) -> GardenCalendar:
    """The garden's calendar; made where there is none yet, in a language, without an address.

    Its events bear the ids of the calendar file that the command writes, unless another garden
    here has these.
    """
    found = GardenCalendar.objects.filter(garden=garden).first()
    if found is not None:
        return found
    own = {"identity": garden_identity(garden.name)}
    if GardenCalendar.objects.filter(**own).exists():
        own = {}
    try:
        with transaction.atomic():
            return GardenCalendar.objects.create(garden=garden, language=language, **own)
    except IntegrityError:  # asked for twice at once
        return GardenCalendar.objects.get(garden=garden)


def bring_in(garden: Garden, text: str, language: str) -> None:
    """Take in a calendar that was sent elsewhere, to be gone on from; it has no address here.

    Where another garden here has its ids, it is passed over. Raises CalendarError for a text that
    is no calendar of bedwright.
    """
    identity = identity_in(text)
    read_earlier(text, identity)
    if language not in LANGUAGES:
        raise CalendarError("its language is not known")
    if not GardenCalendar.objects.filter(identity=identity).exists():
        GardenCalendar.objects.create(
            garden=garden, identity=identity, text=text, language=language
        )


def made_of(standing: Standing, calendar: GardenCalendar) -> str:
    """What names the plan, the work and the language that a calendar is made of now."""
    return hashlib.sha256(f"{standing.work_key}\0{calendar.language}".encode()).hexdigest()


def work_on(standing: Standing, calendar: GardenCalendar) -> Job | None:
    """The job that makes the calendar anew; None where it is made of what stands. Never waits."""
    key = made_of(standing, calendar)
    if calendar.made_of == key:
        return None
    return jobs.ask(standing.garden, "calendar", key, revision=standing.revision.pk)


def write_calendar(standing: Standing, plan: SeasonPlan) -> None:
    """Make the calendar of a plan and keep it, going on from what is kept of it.

    What is kept that can't be gone on from raises CalendarError.
    """
    with transaction.atomic():
        held = GardenCalendar.objects.select_for_update().get(garden=standing.garden)
        with using(held.language):
            made = season_calendar(plan, held.text or None, held.identity)
        held.text, held.made_of = made.text, made_of(standing, held)
        held.made_at = timezone.now()
        held.save(update_fields=["text", "made_of", "made_at"])
