"""From the sun's hours to the clock's."""

from __future__ import annotations

import math
from datetime import date, datetime, time
from zoneinfo import ZoneInfo

from bedwright.garden import Document
from bedwright.reports.water_said import clock_words

_HALF = 30  # min
_DEGREES_AN_HOUR = 15.0
_DAY_MIN = 24 * 60


def clock_shift_h(document: Document, on: date) -> float | None:
    """How far the clock runs ahead of the sun's time on a day [h].

    None where the document states no longitude or time zone. The sun itself is up to a quarter
    of an hour early or late through the year, which is left out.
    """
    place = document.garden.garden
    if place.longitude is None or place.time_zone is None:
        return None
    noon = datetime.combine(on, time(12), ZoneInfo(place.time_zone))
    offset = noon.utcoffset()
    assert offset is not None
    return offset.total_seconds() / 3600 - math.degrees(place.longitude.si) / _DEGREES_AN_HOUR


def span_by_clock(span: tuple[int, int], shift_h: float | None) -> tuple[str, str]:
    """From and to of a span of the sun's hours, to the half hour within it by the clock."""
    shift = 0.0 if shift_h is None else shift_h
    start = math.ceil((span[0] + shift) * 2 - 1e-6) * _HALF
    end = math.floor((span[1] + shift) * 2 + 1e-6) * _HALF
    return clock_words(start % _DAY_MIN), clock_words(end % _DAY_MIN)
