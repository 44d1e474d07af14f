"""Events written into a calendar file, each held against what was sent of it before.

RFC 5545, with the name, the id and the time of asking again of a calendar by RFC 7986. The file has
no METHOD: RFC 5546 would ask for an organizer, and one file could not both publish and cancel.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import UTC, date, datetime, time, timedelta
from uuid import UUID, uuid5

import icalendar

from bedwright import __version__
from bedwright.language import spoken
from bedwright.reports.calendar.earlier import Earlier
from bedwright.reports.calendar.model import SeasonEvent
from bedwright.reports.calendar.of_event import (
    CANCELLED,
    ID,
    cancelled,
    content_of,
    last_of,
    sequence_of,
    start_of,
)
from bedwright.reports.words_calendar import CALENDAR, CALENDAR_KINDS

_DAY = timedelta(days=1)


@dataclass(frozen=True)
class Head:
    """What a calendar says of itself. ``identity`` is what the ids of its events are made of."""

    name: str
    about: str
    identity: UUID
    as_of: date


@dataclass(frozen=True)
class SeasonCalendar:
    """A calendar file, and how many of its events are new, changed, called off now, and stand."""

    text: str
    new: int
    changed: int
    dropped: int
    standing: int


def written(head: Head, events: Iterable[SeasonEvent], earlier: Earlier) -> SeasonCalendar:
    """The file of ``events``, gone on from an earlier one.

    An event that is seen to be other than before gets a higher SEQUENCE; one that is not there any
    more and not over is called off; what is over, or was written into the file by somebody else,
    stays as it was.
    """
    new = changed = dropped = 0
    kept: list[icalendar.Event] = []
    fresh: set[str] = set()
    for each in events:
        made = _event(each, head.identity)
        uid = str(made["UID"])
        fresh.add(uid)
        before = earlier.events.get(uid)
        if before is None:
            _stamp(made, head.as_of, 0)
            new += 1
        elif content_of(before) == content_of(made):
            made = before
        else:
            _stamp(made, head.as_of, sequence_of(before) + 1)
            changed += 1
        kept.append(made)
    standing = len(kept)
    for uid, before in earlier.events.items():
        if uid in fresh:
            continue
        last = last_of(before)
        ours = ID in before
        if ours and not cancelled(before) and last is not None and last >= head.as_of:
            kept.append(_called_off(before, head.as_of))
            dropped += 1
        else:
            kept.append(before)
    calendar = _calendar(head)
    for event in sorted(kept, key=lambda one: (str(start_of(one)), str(one["UID"]))):
        calendar.add_component(event)
    text = calendar.to_ical().decode("utf-8")
    return SeasonCalendar(text, new, changed, dropped, standing)


def _calendar(head: Head) -> icalendar.Calendar:
    name = icalendar.vText(_plain(head.name))
    calendar = icalendar.Calendar()
    calendar.add("version", "2.0")
    calendar.add("prodid", f"-//bedwright//bedwright {__version__}//{spoken().upper()}")
    calendar.add("calscale", "GREGORIAN")
    calendar.add("uid", str(head.identity))
    calendar.add("name", name)
    calendar.add("x-wr-calname", name)
    calendar.add("description", _plain(head.about))
    calendar.add("refresh-interval", _DAY, parameters={"VALUE": "DURATION"})
    return calendar


def _event(each: SeasonEvent, identity: UUID) -> icalendar.Event:
    event = icalendar.Event()
    event.add("uid", str(uuid5(identity, each.key)))
    event.add("dtstart", each.first)
    event.add("dtend", each.last + _DAY)  # the first day on which it is over
    event.add("summary", _plain(each.summary))
    if each.lines:
        event.add("description", "\n".join(_plain(line) for line in each.lines))
    if each.bed is not None:
        event.add("location", _plain(CALENDAR["bed"].format(bed=each.bed)))
    event.add("categories", [CALENDAR_KINDS[each.kind]])
    event.add("status", "CONFIRMED")
    event.add("transp", "TRANSPARENT")  # nobody is away because something may be weeded
    event.add(ID, icalendar.vText(_plain(each.key)))
    return event


def _called_off(event: icalendar.Event, as_of: date) -> icalendar.Event:
    made = event.copy(recursive=True)
    _set(made, "STATUS", CANCELLED)
    _stamp(made, as_of, sequence_of(event) + 1)
    return made


def _stamp(event: icalendar.Event, as_of: date, sequence: int) -> None:
    """Say when an event was written, by the day of planning, and how often it was changed."""
    _set(event, "DTSTAMP", datetime.combine(as_of, time(), UTC))
    _set(event, "SEQUENCE", sequence)


def _set(event: icalendar.Event, name: str, value: object) -> None:
    event.pop(name, None)
    event.add(name, value)


def _plain(text: str) -> str:
    """A text of one line, without the signs that no calendar takes."""
    return "".join(each if each.isprintable() else " " for each in text)
