"""One crop's dates: every candidate of the year in all years, and what is chosen among them."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from datetime import date, timedelta

import numpy as np
from numpy.typing import NDArray

from bedwright.crops.choice import (
    Choice,
    Limits,
    acceptable,
    best_date,
    last_worth_planting,
    shifted,
)
from bedwright.crops.frost_damage import Cover
from bedwright.crops.summary import DateSummary, summary
from bedwright.crops.timing_tables import TimingTables
from bedwright.crops.windows import Crop, planting_outcomes
from bedwright.garden import Want
from bedwright.planning.timing_flowers import met_by_flowers
from bedwright.planning.timing_model import (
    TURNS,
    DateOutlook,
    DatesCurve,
    Judged,
    Turn,
    TurnDates,
    outlook,
)
from bedwright.planning.timing_work import sowings, work_days
from bedwright.planning.weather import GardenWeather
from bedwright.reference import Library

IntArray = NDArray[np.int_]
BoolArray = NDArray[np.bool_]
_YEAR, _WEEK = 365, 7  # days
_HALF_YEAR = timedelta(days=183)
_HALF = 0.5  # of the years


@dataclass(frozen=True, eq=False)
class Planting:
    """One crop as it is planted in the garden's weather, and what is accepted of its dates.

    ``off_range`` tells the days too hot and those too cool for fruit set, (days,) each; None for
    a crop that is not grown for its fruit. ``bulbs_in`` is the type of bulb that the gardener
    states.
    """

    key: str
    weather: GardenWeather
    crop: Crop
    score: NDArray[np.float64] | None
    cover: Cover
    tables: TimingTables
    limits: Limits
    step_days: int
    off_range: tuple[BoolArray, BoolArray] | None = None
    bulbs_in: str | None = None

    @property
    def start(self) -> str:
        """How it is started: sown, set_out or pieces."""
        return self.tables.words[(self.key, "start")]["word"]

    @property
    def frost_known(self) -> bool:
        """Whether a killing minimum is known: without one no best date can be told."""
        return not np.isnan(self.crop.kill_c[1])

    @property
    def days_to_harvest(self) -> float:
        """Days from the start to the first harvest in good weather, by the table [days]."""
        return self.tables.days_to_harvest(self.key, self.tables.usual_start(self.key))

    def outlook(self, dates: DateSummary, at: int, on: date, offset: int) -> DateOutlook:
        """What the years say of a date, with the weather that its flowers meet."""
        seen = outlook(dates, at, on)
        hot, cool = met_by_flowers(
            seen, offset, self.off_range, self.weather.firsts, self.crop.fruit_days
        )
        return replace(seen, too_hot=hot, too_cool=cool)

    def summary(self, offsets: IntArray) -> DateSummary:
        """The years together for dates given as days from a season's start, (dates,)."""
        starts = self.weather.firsts[None, :] + offsets[:, None]
        found = planting_outcomes(
            self.weather.days,
            self.crop,
            self.score,
            starts,
            self.weather.firsts + self.weather.turn,
            cover=self.cover,
            rules=self.tables.rules(),
        )
        return summary(found, starts)


@dataclass(frozen=True, eq=False)
class Calendar:
    """Where on the calendar a want's dates lie: about its own day, or next from ``as_of`` on."""

    weather: GardenWeather
    want: Want
    as_of: date

    def day(self, offset: int) -> date:
        """The day that lies so many days into a season."""
        near = self.want.set_out
        day = self.weather.season_of(near or self.as_of) + timedelta(days=offset)
        if near is None:
            return day if day >= self.as_of else _years_on(day, 1)
        if day - near > _HALF_YEAR:
            return _years_on(day, -1)
        return _years_on(day, 1) if near - day > _HALF_YEAR else day

    def stated(self) -> int | None:
        """The want's own day, as days from its season's start."""
        own = self.want.set_out
        return None if own is None else (own - self.weather.season_of(own)).days


def _years_on(day: date, years: int) -> date:
    if (day.month, day.day) == (2, 29):
        day = day.replace(day=28)
    return day.replace(year=day.year + years)


@dataclass(frozen=True)
class FoundDates:
    """What was found for one want: see :class:`bedwright.planning.timing_model.WantDates`."""

    asked: Turn | None
    turns: tuple[TurnDates, ...]
    stated: Judged | None
    curve: DatesCurve | None


def dates_of(planting: Planting, calendar: Calendar, library: Library) -> FoundDates:
    """The dates of one want.

    Parameters
    ----------
    planting : its crop in the garden's weather
    calendar : of the want
    library : the tables, for the work about a date
    """
    offsets = np.arange(0, _YEAR, planting.step_days)
    year = _Year(planting, calendar, library, offsets, planting.summary(offsets))
    spring, late = (year.best(turn) for turn in TURNS)
    chosen = dict(zip(TURNS, (spring, late), strict=True))
    own = calendar.stated()
    wanted = [each.taken for each in chosen.values() if each.taken is not None]
    near = _Near.of(planting, [*wanted, *([] if own is None else [own])])
    asked = calendar.want.turn
    if own is not None and asked is None:
        asked = TURNS[0] if own < planting.weather.turn else TURNS[1]
    stated = None
    if own is not None and asked is not None:
        last = max(own, chosen[asked].worth or own)
        stated = year.judged(own, calendar.want.set_out, last, near)
    return FoundDates(
        asked,
        tuple(year.turn(turn, each, spring, near) for turn, each in chosen.items()),
        stated,
        year.curve(next((each.taken for each in chosen.values() if each.taken is not None), own)),
    )


@dataclass(frozen=True, eq=False)
class _Near:
    """The dates that are told, and those a week to either side, each on its own day."""

    offsets: IntArray
    dates: DateSummary

    @staticmethod
    def of(planting: Planting, offsets: list[int]) -> _Near:
        around = [each + shift for each in offsets for shift in (-_WEEK, 0, _WEEK)]
        every = np.unique(np.array(around or [0]))
        return _Near(every, planting.summary(every))


@dataclass(frozen=True)
class _Best:
    """A turn's choice and its run: the date taken, the first and last that are nearly as good,
    and the last worth planting, all as days from the season's start.
    """

    choice: Choice
    taken: int | None = None
    first: int = 0
    last: int = 0
    worth: int | None = None


@dataclass(frozen=True, eq=False)
class _Year:
    """A planting's candidate dates over the year."""

    planting: Planting
    calendar: Calendar
    library: Library
    offsets: IntArray
    grid: DateSummary

    def best(self, turn: Turn) -> _Best:
        """What is chosen in a turn of the year."""
        if not self.planting.frost_known:
            return _Best(Choice(None, "unknown"))
        among = self._among(turn)
        choice = best_date(self.grid, self.planting.limits, self.offsets, among=among)
        if choice.at is None:
            return _Best(choice)
        passes = acceptable(self.grid, self.planting.limits)
        good = passes & among
        taken, close, worth = choice.at, 0.0, self.grid.set_days.mean
        if choice.why == "set_days":
            kept = self.library.parameter("timing_set_kept", "fraction").value
            close = self.library.parameter("timing_set_close", "fraction").value
            worth = np.nan_to_num(self.grid.set_days.mean)
            good &= worth >= kept * worth[choice.at]
        first, last = _run(good, choice.at)
        if choice.why == "set_days":
            taken = first + int(np.argmax(worth[first : last + 1] >= close * worth[choice.at]))
        day, end = int(self.offsets[taken]), int(self.offsets[last])
        last_worth = self._last_worth(passes, choice.at)
        if last_worth is not None:
            end = max(min(end, last_worth), day)
        return _Best(choice, day, int(self.offsets[first]), end, last_worth)

    def turn(self, turn: Turn, best: _Best, spring: _Best, near: _Near) -> TurnDates:
        """A turn's dates on the calendar."""
        warm = self._soil_warm_from(turn)
        soil = None if warm is None else self.calendar.day(warm)
        if best.taken is None:
            return TurnDates(turn, best.choice.why, None, None, None, soil, False)
        taken = best.taken
        on = self.calendar.day(taken)

        def day(offset: int) -> date:
            return on + timedelta(days=offset - taken)

        first_of_turn = int(self.offsets[self._among(turn)][0])
        goes_on = turn != TURNS[0] and spring.worth is not None and spring.worth >= best.first
        return TurnDates(
            turn,
            best.choice.why,
            self.judged(taken, on, taken if best.worth is None else best.worth, near),
            (day(best.first), day(best.last)),
            None if best.worth is None else day(best.worth),
            soil,
            goes_on and best.first == first_of_turn,
            before=self._beside(best.first - self.planting.step_days, turn, day),
            after=self._beside(best.last + self.planting.step_days, turn, day),
        )

    def _beside(self, offset: int, turn: Turn, day: Callable[[int], date]) -> DateOutlook | None:
        """A candidate date next to a window, None beyond the turn."""
        at = offset // self.planting.step_days
        if not 0 <= at < self.offsets.size or not self._among(turn)[at]:
            return None
        return self.planting.outlook(self.grid, at, day(offset), offset)

    def judged(self, offset: int, on: date | None, last: int, near: _Near) -> Judged:
        """A date [days from the season's start] with a week to either side.

        ``last`` is the last date on which a further sowing is worth it.
        """
        day = on or self.calendar.day(offset)
        at = int(np.searchsorted(near.offsets, offset))
        around = [
            self.planting.outlook(
                near.dates,
                int(np.searchsorted(near.offsets, offset + shift)),
                day + timedelta(days=shift),
                offset + shift,
            )
            for shift in (-_WEEK, 0, _WEEK)
        ]
        crop, weather = self.planting.crop, self.planting.weather
        rows = sowings(crop, weather, offset, last, self.calendar.want.pick_weeks)
        return Judged(
            chosen=around[1],
            earlier=around[0],
            later=around[2],
            earlier_cost=shifted(near.dates, at, near.offsets, -_WEEK),
            later_cost=shifted(near.dates, at, near.offsets, _WEEK),
            work=work_days(around[1], self.planting.key, self.planting.tables, self.library),
            sowings=tuple(day + timedelta(days=int(each) - offset) for each in rows),
        )

    def curve(self, offset: int | None) -> DatesCurve | None:
        """Days of good set by date, for a crop grown for its fruit, in the season in which the
        date ``offset`` is dated.
        """
        band = self.grid.set_days
        known = ~np.isnan(band.mean)
        if not known.any():
            return None
        at = offset or 0
        start = self.calendar.day(at) - timedelta(days=at)
        mean, low, high = (
            tuple(float(each) for each in values[known])
            for values in (band.mean, band.low, band.high)
        )
        days = tuple(start + timedelta(days=int(each)) for each in self.offsets[known])
        return DatesCurve(days, mean, low, high)

    def _among(self, turn: Turn) -> BoolArray:
        spring = self.offsets < self.planting.weather.turn
        return np.asarray(spring if turn == TURNS[0] else ~spring)

    def _last_worth(self, passes: BoolArray, at: int) -> int | None:
        """The last date worth planting of those that go on from a date without a break."""
        _, last = _run(passes, at)
        run = slice(at, last + 1)
        share = self.library.parameter("worth_harvest_share", "fraction").value
        place = last_worth_planting(
            _part(self.grid, run),
            self.planting.limits,
            self.offsets[run],
            max(share * self.planting.crop.span_days, share),
        )
        return None if place is None else int(self.offsets[run][place])

    def _soil_warm_from(self, turn: Turn) -> int | None:
        with np.errstate(invalid="ignore"):
            warm = (self.grid.soil_warm >= _HALF) & self._among(turn)
        return int(self.offsets[int(np.argmax(warm))]) if warm.any() else None


def _run(good: BoolArray, at: int) -> tuple[int, int]:
    """The first and the last place of the unbroken run about a place."""
    first = last = at
    while first > 0 and good[first - 1]:
        first -= 1
    while last + 1 < good.size and good[last + 1]:
        last += 1
    return first, last


def _part(dates: DateSummary, run: slice) -> DateSummary:
    """Some of a summary's dates."""

    def cut(value: object) -> object:
        if isinstance(value, np.ndarray):
            return value[run]
        if isinstance(value, tuple):
            return tuple(each[run] for each in value)
        return type(value)(*(each[run] for each in vars(value).values()))

    parts = {name: cut(value) for name, value in vars(dates).items()}
    return DateSummary(**parts)  # type: ignore[arg-type]
