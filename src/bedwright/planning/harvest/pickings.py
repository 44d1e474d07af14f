"""When a planting is picked, and how much of it falls in which week."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from datetime import date, timedelta

from bedwright.planning.harvest.model import Picking
from bedwright.planning.layout.stays import CropDays
from bedwright.planning.timing_model import Spread, WantDates
from bedwright.planning.work.bed_days import BedDays

_WEEK = timedelta(days=7)
_DAY = timedelta(days=1)


def pickings_of(days: BedDays | None, dates: WantDates | None) -> tuple[Picking, ...]:
    """The days of picking of a bed's own crop, one entry for each sowing.

    Sowings that follow the first are picked as long after it as they are sown. Empty where the
    days are not known.
    """
    if days is None or days.first_pick is None or days.last_pick is None:
        return ()
    starts = (days.start, *days.again)
    first, last = days.first_pick, days.last_pick
    early, late = _shifts(days, dates)
    made = []
    for start in starts:
        moved = start - days.start
        usual = (first + moved, last + moved)
        made.append(Picking(*usual, 1 / len(starts), _moved(usual, early), _moved(usual, late)))
    return tuple(made)


def companion_pickings(days: CropDays | None) -> tuple[Picking, ...]:
    """The days of picking of a crop that shares a bed; empty where they are not known."""
    if days is None:
        return ()
    usual = (days.first_pick, days.end)
    return (Picking(*usual, 1.0, usual, usual),)


def _moved(usual: tuple[date, date], by: tuple[timedelta, timedelta]) -> tuple[date, date]:
    first = usual[0] + by[0]
    return first, max(usual[1] + by[1], first)


def _shifts(
    days: BedDays, dates: WantDates | None
) -> tuple[tuple[timedelta, timedelta], tuple[timedelta, timedelta]]:
    """How far the first and the last picking lie off in an early and in a late year."""
    taken = None if dates is None else dates.taken
    if taken is None or taken.on != days.start:
        return (timedelta(0),) * 2, (timedelta(0),) * 2
    first, last = _off(taken.first_harvest), _off(taken.last_harvest)
    return (first[0], last[0]), (first[1], last[1])


def _off(spread: Spread | None) -> tuple[timedelta, timedelta]:
    if spread is None:
        return timedelta(0), timedelta(0)
    low, high = spread.low - spread.mean, spread.high - spread.mean
    return timedelta(days=min(round(low), 0)), timedelta(days=max(round(high), 0))


def monday_of(day: date) -> date:
    """The Monday of a day's week, as ISO 8601 counts weeks."""
    return day - timedelta(days=day.weekday())


def mondays_of(pickings: Iterable[Picking]) -> tuple[date, ...]:
    """Every week in which something may be picked, early and late years counted."""
    spans = [span for p in pickings for span in ((p.first, p.last), p.early, p.late)]
    found: set[date] = set()
    for first, last in spans:
        week = monday_of(first)
        while week <= last:
            found.add(week)
            week += _WEEK
    return tuple(sorted(found))


def shares_in(pickings: Sequence[Picking], monday: date) -> tuple[float, float, float]:
    """The share of a planting's harvest that a week brings in a late, a usual and an early year
    [-]. A harvest is spread evenly over its days."""
    late, usual, early = (
        sum(each.share * _inside(span, monday) for each, span in zip(pickings, spans, strict=True))
        for spans in (
            [each.late for each in pickings],
            [(each.first, each.last) for each in pickings],
            [each.early for each in pickings],
        )
    )
    return late, usual, early


def _inside(span: tuple[date, date], monday: date) -> float:
    first, last = span
    end = min(last, monday + _WEEK - _DAY)
    return max((end - max(first, monday)).days + 1, 0) / ((last - first).days + 1)
