"""Days counted from the date at which a season starts, and the first and last event in a season.

A season starts at the warmest time for frosts (1 August in the north, 1 February in the south)
and at the coldest for heat. Days are counted plainly: 29 February is a day like any other, as
the climate agencies' freeze dates count.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from bedwright.climate.record import FloatArray, IntArray
from bedwright.guards import positive, within

BoolArray = npt.NDArray[np.bool_]

_COMMON_YEAR = 2001  # any year without a 29 February
_LEAP_DAY = (2, 29)


@dataclass(frozen=True)
class SeasonStart:
    """The date at which each season starts: month 1 to 12 and a day that every year has."""

    month: int
    day: int = 1

    def __post_init__(self) -> None:
        within(1, 12, month=self.month)
        try:
            self._date(_COMMON_YEAR)
        except ValueError:
            raise ValueError(f"{self.month}-{self.day} is not a date of every year") from None

    def _date(self, year: int) -> np.datetime64:
        return np.datetime64(f"{year:04d}-{self.month:02d}-{self.day:02d}", "D")

    def day_of(self, month: int, day: int) -> int:
        """Days from the season's start to a date, 0 to 364, in a season without 29 February."""
        asked = SeasonStart(month, day)
        year = _COMMON_YEAR + ((month, day) < (self.month, self.day))
        return int((asked._date(year) - self._date(_COMMON_YEAR)).astype(int)) % 365

    def month_day(self, count: float) -> tuple[int, int]:
        """Month and day that lie so many days after the start, rounded to a whole day.

        Counts below 0 and above 364 lie in the seasons before and after. A season without
        29 February is taken. Raises ValueError for a count that is not a number.
        """
        if not np.isfinite(count):
            raise ValueError(f"the count of days is {count}; it must be a number")
        whole = int(np.floor(count + 0.5)) % 365
        date = str(self._date(_COMMON_YEAR) + np.timedelta64(whole, "D"))
        return int(date[5:7]), int(date[8:10])

    def lengths(self, years: IntArray) -> IntArray:
        """Days of the seasons that start in these years, 365 or 366."""
        later = (self.month, self.day) > _LEAP_DAY
        at = np.asarray(years, dtype=np.int64) + later
        leap = (at % 4 == 0) & ((at % 100 != 0) | (at % 400 == 0))
        return np.asarray(365 + leap, dtype=np.int64)


def counted_days(values: FloatArray, years: IntArray, start: SeasonStart) -> FloatArray:
    """Seasons by calendar date turned into seasons by plain count of days.

    Parameters
    ----------
    values : (seasons, 366), a column per calendar date, as ``by_season`` lays them out
    years : in which the seasons start (seasons,)
    start : the date at which they start

    In seasons without 29 February the days after its column move up by one; what is left at
    the end is NaN. Raises ValueError where the shapes do not agree.
    """
    table = np.asarray(values, dtype=np.float64)
    if table.shape != (len(years), 366):
        raise ValueError(f"values have the shape {table.shape}; it must be ({len(years)}, 366)")
    leap_column = start.day_of(2, 28) + 1
    common = start.lengths(years) == 365
    found = table.copy()
    found[common, leap_column:-1] = table[common, leap_column + 1 :]
    found[common, -1] = np.nan
    return found


@dataclass(frozen=True, eq=False)
class Ends:
    """The first and the last event of each season, in days from its start, (..., seasons).

    NaN where there was none or where it can't be told. ``first_known`` and ``last_known`` say
    whether the season counts: too many missing days where a first (last) event may have hidden
    leave it out.
    """

    first: FloatArray
    last: FloatArray
    first_known: BoolArray
    last_known: BoolArray


def first_and_last(events: BoolArray, known: BoolArray, missing_allowed: int) -> Ends:
    """The first and last day of an event in each season.

    Parameters
    ----------
    events : whether the day had the event, (..., seasons, days); False on missing days
    known : whether the day is there, (seasons, days)
    missing_allowed : so many missing days, 1 and up, between an event and the time when the
        event is no more to be expected in any season on record leave the season out

    Raises ValueError where shapes do not agree.
    """
    positive(missing_allowed=missing_allowed)
    if events.shape[-2:] != known.shape:
        raise ValueError(f"events have the shape {events.shape}, known days {known.shape}")
    days = known.shape[-1]
    events = events & known
    any_event = events.any(axis=-1)
    first = np.where(any_event, events.argmax(axis=-1), days)
    last = np.where(any_event, days - 1 - events[..., ::-1].argmax(axis=-1), -1)
    earliest = first.min(axis=-1, keepdims=True)  # of all seasons
    latest = last.max(axis=-1, keepdims=True)
    never = latest < 0
    missing = np.concatenate(
        [np.zeros((len(known), 1), dtype=np.int64), np.cumsum(~known, axis=-1)], axis=-1
    )
    seasons = np.arange(len(known))
    since = np.where(never, 0, np.where(any_event, last + 1, np.minimum(earliest, days)))
    until = np.where(never, days, latest + 1)
    after = missing[seasons, until] - missing[seasons, np.minimum(since, until)]
    begin = np.where(never, 0, np.minimum(earliest, days))
    end = np.where(never, days, np.where(any_event, first, until))
    before = missing[seasons, np.maximum(end, begin)] - missing[seasons, begin]
    first_known, last_known = before < missing_allowed, after < missing_allowed
    return Ends(
        first=np.where(any_event & first_known, first, np.nan),
        last=np.where(any_event & last_known, last, np.nan),
        first_known=first_known,
        last_known=last_known,
    )
