"""When a crop may stand: dates of planting that keep within the risk, and the harvest of each."""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from datetime import date, timedelta

import numpy as np

from bedwright.crops.choice import acceptable
from bedwright.crops.covers import wait_after
from bedwright.crops.growing import growing
from bedwright.crops.summary import DateSummary
from bedwright.crops.timing_tables import TimingTables
from bedwright.garden import Document, Want
from bedwright.planning.assignment.model import Candidate, Slot
from bedwright.planning.timing import bulbs_stated, planting_of
from bedwright.planning.timing_choice import Calendar, Planting, dates_of
from bedwright.planning.timing_model import TURNS, Turn
from bedwright.planning.weather import GardenWeather, garden_weather
from bedwright.reference import Library

_ANY_YEAR = 2001
_TABLES = ("crop_timing", "crop_habits", "emergence", "fruit_set_responses", "protection")
APART = 12  # days: starts nearer than this to each other are one for a plan of years: judgement
_MOST_STARTS = 8  # in one turn of the year for a crop wished by the week: judgement
_WEEK = 7
_FILLING_DAYS = 28  # before the picking, in which a head or a leaf crop fills out: judgement


@dataclass(frozen=True, eq=False)
class Timer:
    """The garden's weather and timing tables; ``weather`` is None where nothing is known of it."""

    document: Document
    library: Library
    weather: GardenWeather | None
    tables: TimingTables
    _plantings: dict[tuple[str, int | None, str | None, str | None], Planting] = field(
        default_factory=dict
    )

    @staticmethod
    def of(document: Document, library: Library, weather: GardenWeather | None = None) -> Timer:
        """The timer of a garden; ``weather`` is its weather where that was worked already.

        Raises WeatherError for a weather file that can't be used.
        """
        tables = TimingTables.of(*(library.rows(name) for name in _TABLES))
        known = garden_weather(document, library) if weather is None else weather
        return Timer(document, library, known, tables)

    def timed(self, candidate: Candidate) -> bool:
        """Whether weather and tables can tell the candidate's dates."""
        return self.weather is not None and not self.tables.missing(candidate.key)

    def planting(self, candidate: Candidate, cover: str | None = None) -> Planting:
        """The candidate as it is planted in the garden's weather."""
        assert self.weather is not None
        bulbs_in = bulbs_stated(self.document, candidate.own)
        alike = (candidate.key, candidate.days_to_maturity, cover, bulbs_in)
        if alike not in self._plantings:
            risk = self.document.garden.limits.risk_accepted / 10
            self._plantings[alike] = planting_of(
                candidate.key,
                self._want(candidate),
                cover,
                self.weather,
                self.tables,
                risk,
                self.library,
                bulbs_in=bulbs_in,
            )
        return self._plantings[alike]

    def _want(self, candidate: Candidate) -> Want:
        return Want(
            crop=candidate.key,
            beds=[self.document.garden.bed[0].id],
            days_to_maturity=candidate.days_to_maturity,
        )

    def slots(self, candidate: Candidate, *, weekly: bool) -> tuple[Slot, ...]:
        """The times of the year at which a crop may be started, the best of each turn first.

        Beside the best date of a turn: the ends of its window and, where ``weekly`` asks for
        harvests that follow each other, some until the last date worth planting; where the best
        date fills out in heat that hurts the crop, dates between that are picked longer without
        it. Empty where no date will do.
        """
        planting = self.planting(candidate)
        assert self.weather is not None
        calendar = Calendar(self.weather, self._want(candidate), self.weather_day)
        found: list[Slot] = []
        for turn in dates_of(planting, calendar, self.library).turns:
            if turn.best is None or turn.window is None:
                continue
            best = self._offset(turn.best.chosen.on)
            first, last = (best + (day - turn.best.chosen.on).days for day in turn.window)
            worth = last
            if turn.last_worth is not None:
                worth = max(last, best + (turn.last_worth - turn.best.chosen.on).days)
            step = max(round(planting.crop.span_days), _WEEK)
            starts = _starts(best, first, last, (worth, step) if weekly else None)
            own = self._good(planting, starts, turn.turn, best)
            found += own
            if own[0].heat > 0 and not weekly:
                cooler = self._good(planting, _between(best, last), turn.turn, None)
                found += [each for each in cooler if each.picked > own[0].picked]
        return tuple(found)

    def _good(
        self, planting: Planting, offsets: list[int], turn: Turn, best: int | None
    ) -> list[Slot]:
        """The slots of those days that keep within the risk, and of the best one in any case."""
        if not offsets:
            return []
        dates = planting.summary(np.array(offsets))
        good = acceptable(dates, planting.limits) & ~np.isnan(dates.first_harvest.mean)
        return [
            self._weighed(planting, dates, at, _slot(dates, at, offset, turn, offset == best))
            for at, offset in enumerate(offsets)
            if good[at] or offset == best
        ]

    def _weighed(self, planting: Planting, dates: DateSummary, at: int, slot: Slot) -> Slot:
        """A slot without what bolts, and without the share of days too warm for a cool crop."""
        bolts = float(np.nan_to_num(dates.bolted.mean[at]))
        heat = self._too_warm(planting.key, slot)
        return replace(slot, heat=heat, bolts=bolts, picked=slot.picked * (1 - bolts) * (1 - heat))

    def _too_warm(self, key: str, slot: Slot) -> float:
        """The share of the days in which a crop fills out and is picked that have a mean above the
        warmest month that suits it, over the years [-]; 0 where no such limit is known."""
        assert self.weather is not None
        limit_c = self.tables.temperature_c(key, "warmest_mean_temperature")
        if np.isnan(limit_c) or np.isnan(slot.first):
            return 0.0
        first = max(round(slot.first) - _FILLING_DAYS, 0)
        at = slot.offset + np.arange(first, round(slot.last) + 1)
        met = self.weather.by_season(self.weather.days.mean_c, at)
        known = ~np.isnan(met)
        return float(((met > limit_c) & known).sum() / max(known.sum(), 1))

    def wait_after(self, candidate: Candidate, *, dead: bool) -> int:
        """Days that a cover's remains keep its bed from the next crop."""
        ratio = growing(self.library, candidate.key).residue_c_to_n
        known = None if ratio is None else ratio.value
        return round(wait_after(self.tables, candidate.key, known, dead=dead))

    def years_to_harvest(self, candidate: Candidate) -> int:
        """Years from planting a perennial to the first in which it is picked; 0: the same."""
        row = self.tables.facts.get((candidate.key, "years_to_harvest", ""))
        return 0 if row is None else round(row.typical())

    @property
    def weather_day(self) -> date:
        """Any day of a season: what is told of dates here does not hang on the year."""
        return self.season_start(_ANY_YEAR)

    def _offset(self, on: date) -> int:
        assert self.weather is not None
        return (on - self.weather.season_of(on)).days

    def stated(self, candidate: Candidate, on: date, cover: str | None) -> Slot | None:
        """What a stated day of planting leads to; None where no year brings a harvest."""
        assert self.weather is not None
        offset = (on - self.weather.season_of(on)).days
        dates = self.planting(candidate, cover).summary(np.array([offset]))
        if np.isnan(dates.first_harvest.mean[0]):
            return None
        turn: Turn = TURNS[0] if offset < self.weather.turn else TURNS[1]
        planting = self.planting(candidate, cover)
        return self._weighed(planting, dates, 0, _slot(dates, 0, offset, turn, True))

    def season_start(self, year: int) -> date:
        """The first day of the season that begins in a calendar year."""
        assert self.weather is not None
        return date(year, self.weather.start.month, self.weather.start.day)

    def days_to_harvest(self, candidate: Candidate) -> int:
        """Days from planting to the first harvest by the tables alone, for want of weather."""
        if candidate.days_to_maturity is not None:
            return candidate.days_to_maturity
        if self.tables.missing(candidate.key):
            return 0
        start = self.tables.usual_start(candidate.key)
        return round(self.tables.days_to_harvest(candidate.key, start))


def _starts(best: int, first: int, last: int, weekly: tuple[int, int] | None) -> list[int]:
    """The best day and the ends of its window; with ``weekly`` also days until the last worth it,
    so far apart that their harvests follow each other."""
    taken = [best]
    for offset in (first, last):
        if all(abs(offset - other) >= APART for other in taken):
            taken.append(offset)
    if weekly is not None:
        worth, step = weekly
        step = max(step, -(-(worth - first) // _MOST_STARTS))
        for offset in range(first, worth + 1, step):
            if all(abs(offset - other) >= step / 2 for other in taken):
                taken.append(offset)
    return taken


def _between(best: int, last: int) -> list[int]:
    """Two days that part the time from the best to the end of the window, where that is long."""
    third = (last - best) // 3
    return [best + third, best + 2 * third] if third >= APART else []


def _slot(dates: DateSummary, at: int, offset: int, turn: Turn, best: bool) -> Slot:
    first, last = dates.first_harvest, dates.last_harvest
    return Slot(
        turn,
        offset,
        float(first.mean[at]),
        float(last.mean[at]),
        (float(first.low[at]), float(first.high[at])),
        best,
        float(dates.harvest_days.mean[at]),
    )


def days_after(start: date, days: float) -> date:
    """The day so many days after another, to the nearest day."""
    return start + timedelta(days=round(days))
