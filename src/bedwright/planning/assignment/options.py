"""Every crop at every time at which it may stand, in the years ahead."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from datetime import date, timedelta

from bedwright.garden import Document
from bedwright.planning.assignment.candidates import rotation_of
from bedwright.planning.assignment.dates import Timer, days_after
from bedwright.planning.assignment.long_dates import long_slots
from bedwright.planning.assignment.model import Candidate, Claim, Option, Slot
from bedwright.planning.findings import Finding, finding
from bedwright.planning.timing import bulbs_said

_SEASON_DAYS = 365
_LONG = ("overwintered", "perennial", "cover", "plastic")


@dataclass(frozen=True)
class Horizon:
    """The years that are planned, the day from which, and the days between two crops on a bed.

    ``southern`` tells where a season runs from July to June; its year is that in which it ends.
    """

    years: tuple[int, ...]
    as_of: date
    turnover_days: int
    southern: bool

    def whole_year(self, year: int) -> tuple[date, date]:
        """The days of a year, for a crop that is known by its year alone."""
        if self.southern:
            return date(year - 1, 7, 1), date(year, 7, 1)
        return date(year, 1, 1), date(year + 1, 1, 1)

    @property
    def end(self) -> date:
        """The day after the last year."""
        return self.whole_year(self.years[-1])[1]


def horizon_of(document: Document, as_of: date, years: int | None = None) -> Horizon:
    """The years ahead: as many as are stated or asked for, from the first.

    A garden that states no first year is planned from the year that holds the day half a year
    after ``as_of``: in fall that is the next.
    """
    stated = rotation_of(document)
    first = stated.first_year or (as_of + timedelta(days=183)).year
    count = years or stated.years
    latitude = document.garden.garden.latitude
    southern = latitude is not None and latitude.si < 0
    return Horizon(tuple(range(first, first + count)), as_of, stated.turnover_days, southern)


def options_of(
    candidates: tuple[Candidate, ...],
    claims: tuple[Claim, ...],
    timer: Timer,
    horizon: Horizon,
    weekly: frozenset[str],
) -> tuple[tuple[Option, ...], tuple[Finding, ...]]:
    """The options, and what is to be said of crops without a date.

    Parameters
    ----------
    candidates : the crops that take part
    claims : a claim with a day of its own gets an option of its own
    timer : the garden's weather and tables
    horizon : the years ahead
    weekly : ids of candidates that are wished by the week
    """
    options: list[Option] = []
    said: list[Finding] = []
    if timer.weather is None:
        said.append(finding("rotation_without_weather", "assumed"))
    for at, candidate in enumerate(candidates):
        options += _of(at, candidate, timer, horizon, candidate.id in weekly, said)
    places = {each.id: at for at, each in enumerate(candidates)}
    for claim in claims:
        if claim.on is not None:
            options.append(claimed(claim, places[claim.candidate], candidates, timer, horizon))
    return tuple(options), tuple(said)


def claimed(
    claim: Claim, at: int, candidates: tuple[Candidate, ...], timer: Timer, horizon: Horizon
) -> Option:
    """The option of a claim that has a day of its own; for its units alone."""
    assert claim.on is not None
    candidate = candidates[at]
    slot = stated_slot(candidate, claim.on, claim.cover, timer)
    made = _placed(at, candidate, claim.on, slot, timer, horizon)
    end = horizon.end if candidate.life == "perennial" else made.free_from
    return replace(made, year=claim.year, best=True, free_from=end, only=frozenset(claim.units))


def stated_slot(candidate: Candidate, on: date, cover: str | None, timer: Timer) -> Slot:
    """What a stated day leads to: by the weather, else by the days of the tables alone."""
    slot = None
    if candidate.resting and timer.weather is not None:
        slot = _like_nearest(candidate, on, timer)
    elif timer.timed(candidate):
        slot = timer.stated(candidate, on, cover)
    if slot is not None:
        return slot
    days = float(timer.days_to_harvest(candidate))
    span = timer.tables.days(candidate.key, "harvest_span")
    last = days + (0.0 if math.isnan(span) else span)
    return Slot("spring", 0, days, last, (days, days), True)


def _like_nearest(candidate: Candidate, on: date, timer: Timer) -> Slot | None:
    """The time of a cover that lies nearest to a stated day; what stands over the winter ends on
    the same day whenever it was sown, another stands as long."""
    assert timer.weather is not None
    offset = (on - timer.weather.season_of(on)).days
    slots = _slots(candidate, timer, False)
    near = min(slots, key=lambda each: abs(each.offset - offset), default=None)
    if near is None:
        return None
    over_winter = near.offset + near.last > _SEASON_DAYS
    last = near.last + (near.offset - offset if over_winter else 0)
    return replace(near, offset=offset, last=last) if last > 0 else near


def _of(
    at: int,
    candidate: Candidate,
    timer: Timer,
    horizon: Horizon,
    weekly: bool,
    said: list[Finding],
) -> list[Option]:
    by_year = timer.weather is None
    if not by_year and candidate.life == "annual" and not timer.timed(candidate):
        said.append(finding("rotation_crop_not_timed", "assumed", crop=candidate.name.lower()))
        by_year = True
    if by_year:
        return [] if candidate.life == "plastic" else _whole_years(at, candidate, timer, horizon)
    if candidate.life == "annual":
        said += bulbs_said(timer.planting(candidate), candidate.name.lower())
    slots = _slots(candidate, timer, weekly)
    longest = max((x.picked for x in slots if not math.isnan(x.picked)), default=0.0)
    if not slots and not candidate.resting:
        said.append(finding("rotation_no_date", "caution", crop=candidate.name.lower()))
    made = []
    for year in range(horizon.years[0] - 2, horizon.years[-1] + 1):
        start = timer.season_start(year)
        for slot in slots:
            on = start + timedelta(days=slot.offset)
            full = slot.picked / longest if longest > 0 and slot.picked >= 0 else 1.0
            made.append(replace(_placed(at, candidate, on, slot, timer, horizon), full=full))
    last = horizon.years[-1]
    return [
        each
        for each in made
        if horizon.years[0] <= each.year <= last and each.start >= horizon.as_of
    ]


def _slots(candidate: Candidate, timer: Timer, weekly: bool) -> tuple[Slot, ...]:
    if candidate.life not in _LONG:
        return timer.slots(candidate, weekly=weekly)
    usual: tuple[Slot, ...] = ()
    if candidate.life == "overwintered" and timer.timed(candidate):
        usual = timer.slots(candidate, weekly=weekly)
    if candidate.life == "overwintered" and not timer.timed(candidate):
        return ()
    return usual or long_slots(candidate, timer)


def _placed(
    at: int, candidate: Candidate, on: date, slot: Slot, timer: Timer, horizon: Horizon
) -> Option:
    if candidate.life == "perennial":
        return Option(at, on.year, slot.turn, on, max(horizon.end, on + timedelta(days=1)), on,
                      None, None, bears=on.year + timer.years_to_harvest(candidate))  # fmt: skip
    first, last = days_after(on, slot.first), days_after(on, slot.last)
    wait = horizon.turnover_days
    if candidate.life == "cover":
        wait = max(timer.wait_after(candidate, dead=slot.dead), wait)
    free = last + timedelta(days=1 + wait)
    if candidate.resting:
        return Option(at, last.year, slot.turn, on, free, on, None, last, slot.best,
                      killed=slot.killed, dead=slot.dead)  # fmt: skip
    return Option(at, first.year, slot.turn, on, free, on, first, last, slot.best,
                  heat=slot.heat, bolts=slot.bolts)  # fmt: skip


def _whole_years(at: int, candidate: Candidate, timer: Timer, horizon: Horizon) -> list[Option]:
    found = []
    for year in horizon.years:
        start, end = horizon.whole_year(year)
        bears = None
        if candidate.life == "perennial":
            end, bears = horizon.end, year + timer.years_to_harvest(candidate)
        found.append(Option(at, year, None, start, end, None, None, None, bears=bears))
    return found
