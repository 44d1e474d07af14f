"""What is read of one event of a calendar file."""

from __future__ import annotations

from datetime import date, datetime, timedelta

import icalendar

CANCELLED = "CANCELLED"
ID = "X-BEDWRIGHT-ID"  # an event's own key, in words
# What of an event is seen by whoever reads it: a change of it is a change of the event.
_CONTENT = (
    "DTSTART", "DTEND", "SUMMARY", "DESCRIPTION", "LOCATION", "CATEGORIES", "STATUS", "TRANSP",
)  # fmt: skip


def start_of(event: icalendar.Event) -> date | None:
    """The first day of an event; None where it has none."""
    return _day(event, "DTSTART")


def last_of(event: icalendar.Event) -> date | None:
    """The last day of an event, counted with it; None where it has no day."""
    end = _day(event, "DTEND")
    return start_of(event) if end is None else end - timedelta(days=1)


def sequence_of(event: icalendar.Event) -> int:
    """How often an event was changed."""
    return int(str(event.get("SEQUENCE", 0)))


def content_of(event: icalendar.Event) -> tuple[str | bytes | None, ...]:
    """What is seen of an event."""
    return tuple(event[each].to_ical() if each in event else None for each in _CONTENT)


def cancelled(event: icalendar.Event) -> bool:
    """Whether an event is called off."""
    return str(event.get("STATUS", "")) == CANCELLED


def _day(event: icalendar.Event, name: str) -> date | None:
    moment = getattr(event.get(name), "dt", None)
    if isinstance(moment, datetime):
        return moment.date()
    return moment if isinstance(moment, date) else None
