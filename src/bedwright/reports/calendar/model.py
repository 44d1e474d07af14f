"""What the calendar holds: events of whole days. Plain data."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date


@dataclass(frozen=True)
class SeasonEvent:
    """One event, from its ``first`` day to its ``last``, both counted.

    ``key`` names it within its garden and has no date in it, so that it stays the same when the
    plan is made anew. ``kind`` is a key of ``CALENDAR_KINDS``; ``lines`` are what is told of it.
    """

    key: str
    kind: str
    first: date
    last: date
    summary: str
    lines: tuple[str, ...]
    bed: str | None = None
