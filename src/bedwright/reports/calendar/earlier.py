"""The calendar that was sent before: what is read of it, and what it must be to be gone on from."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from uuid import UUID

import icalendar

from bedwright.reports.calendar.of_event import start_of


class CalendarError(ValueError):
    """An earlier calendar that can't be gone on from, with the reason in words."""


@dataclass(frozen=True, eq=False)
class Earlier:
    """The events of a calendar of this garden, by their UID."""

    events: Mapping[str, icalendar.Event]


def read_earlier(text: str, identity: UUID) -> Earlier:
    """An earlier calendar of the garden with this identity.

    Raises CalendarError for a text that is no calendar, no calendar of bedwright, or that of
    another garden.
    """
    found, held = _calendar(text)
    if held != str(identity):
        name = str(found.get("X-WR-CALNAME", "")).replace("\\", "") or held
        raise CalendarError(f"it is the calendar of another garden ({name})")
    events: dict[str, icalendar.Event] = {}
    for each in found.events:
        if each.errors or "UID" not in each or start_of(each) is None:
            raise CalendarError("an event in it is damaged")
        events[str(each["UID"])] = each
    return Earlier(events)


def identity_in(text: str) -> UUID:
    """Which garden's a calendar is, by its identity.

    Raises CalendarError for a text that is no calendar of bedwright.
    """
    _, held = _calendar(text)
    try:
        return UUID(held)
    except ValueError:
        raise CalendarError("it is a calendar that bedwright did not write") from None


def _calendar(text: str) -> tuple[icalendar.Calendar, str]:
    """A calendar of bedwright with its identity. Raises CalendarError."""
    try:
        found = icalendar.Calendar.from_ical(text)
    except (ValueError, IndexError, KeyError, TypeError, AttributeError):
        raise CalendarError("it is not a calendar that can be read") from None
    if not isinstance(found, icalendar.Calendar):
        raise CalendarError("it is not a calendar that can be read")
    held = str(found.get("UID", ""))
    if "bedwright" not in str(found.get("PRODID", "")) or not held:
        raise CalendarError("it is a calendar that bedwright did not write")
    return found, held
