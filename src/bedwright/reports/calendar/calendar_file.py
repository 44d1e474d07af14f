"""The calendar file of a season plan: stable ids, rising sequences, dropped events called off."""

from __future__ import annotations

from uuid import UUID, uuid5

from bedwright.reference.library import fold
from bedwright.reports.calendar.earlier import Earlier, read_earlier
from bedwright.reports.calendar.events import season_events
from bedwright.reports.calendar.writing import Head, SeasonCalendar, written
from bedwright.reports.days_said import day_year_words
from bedwright.reports.words_calendar import CALENDAR
from bedwright.season import SeasonPlan

_GARDENS = UUID("8b10c135-6c8b-49c9-af8d-e15ad2f55605")  # name space of gardens, drawn once


def garden_identity(name: str) -> UUID:
    """What the ids of a garden's events are made of, by the garden's name."""
    return uuid5(_GARDENS, fold(name))


def calendar_text(plan: SeasonPlan, earlier: str | None = None) -> str:
    """The calendar file of a plan, lines ended by CR LF, in the language of the moment.

    Parameters
    ----------
    plan : of the whole garden
    earlier : the file that was sent before; None for the first one

    The same plan and the same earlier file give the same text. Raises CalendarError where
    ``earlier`` is no calendar of this garden, LookupError for a plan of one bed alone.
    """
    return season_calendar(plan, earlier).text


def season_calendar(
    plan: SeasonPlan, earlier: str | None = None, identity: UUID | None = None
) -> SeasonCalendar:
    """As :func:`calendar_text`, with what was changed.

    ``identity`` is what the ids of the events are made of, where it is not to be that of the
    garden's name.
    """
    place = plan.document.garden.garden
    of = identity or garden_identity(place.name)
    held = Earlier({}) if earlier is None else read_earlier(earlier, of)
    name = CALENDAR["name"].format(garden=place.name)
    about = CALENDAR["about"].format(day=day_year_words(plan.as_of))
    return written(Head(name, about, of, plan.as_of), season_events(plan), held)
