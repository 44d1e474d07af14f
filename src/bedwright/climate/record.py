"""One station's days: the record that every climate reckoning starts from."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from typing import Any

import numpy as np
import numpy.typing as npt

from bedwright.guards import within

FloatArray = npt.NDArray[np.float64]
IntArray = npt.NDArray[np.int64]
DayArray = npt.NDArray[np.datetime64]

ELEMENTS = (
    "t_max_c",
    "t_min_c",
    "t_mean_c",
    "rain_mm",
    "radiation_mj_m2",
    "humidity_max_percent",
    "humidity_min_percent",
    "wind_m_s",
)
_DAYS_OF_MONTH = (31, 29, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31)
_DAYS_BEFORE = np.concatenate(([0], np.cumsum(_DAYS_OF_MONTH)[:-1]))
_COLUMNS = sum(_DAYS_OF_MONTH)  # every date of a year that has a 29 February


@dataclass(frozen=True, eq=False)
class DailyRecord:
    """One station's days, one per calendar day from first to last, missing values as NaN.

    ``made_by`` is "station", "generator" or "reanalysis". An element that the station does not
    measure is None. Raises ValueError where the series differ in length or there is no day.
    """

    station: str
    name: str
    latitude_deg: float | None
    longitude_deg: float | None
    elevation_m: float | None
    first_day: np.datetime64
    t_max_c: FloatArray
    t_min_c: FloatArray
    t_mean_c: FloatArray | None = None
    rain_mm: FloatArray | None = None
    radiation_mj_m2: FloatArray | None = None
    humidity_max_percent: FloatArray | None = None
    humidity_min_percent: FloatArray | None = None
    wind_m_s: FloatArray | None = None
    made_by: str = "station"

    def __post_init__(self) -> None:
        lengths = {name: len(values) for name, values in self.elements().items()}
        if len(set(lengths.values())) != 1:
            raise ValueError(f"the series of a record must be equally long; they have {lengths}")
        if not len(self.t_max_c):
            raise ValueError("a record must have at least one day")

    @property
    def days(self) -> int:
        """How many days there are from first to last."""
        return len(self.t_max_c)

    def dates(self) -> DayArray:
        """The date of each day, as datetime64[D]."""
        found: DayArray = self.first_day.astype("datetime64[D]") + np.arange(self.days)
        return found

    def elements(self) -> dict[str, FloatArray]:
        """The series that the station has, by name."""
        found = ((name, getattr(self, name)) for name in ELEMENTS)
        return {name: values for name, values in found if values is not None}

    def with_elements(self, series: Mapping[str, FloatArray]) -> DailyRecord:
        """The same station and days with some series put in the place of the old ones."""
        changes: dict[str, Any] = dict(series)
        return replace(self, **changes)


def year_month_day(dates: DayArray) -> tuple[IntArray, IntArray, IntArray]:
    """Year, month (1 to 12) and day of the month of each date."""
    months = dates.astype("datetime64[M]")
    years = dates.astype("datetime64[Y]")
    day = (dates.astype("datetime64[D]") - months.astype("datetime64[D]")).astype(np.int64) + 1
    month = months.astype(np.int64) % 12 + 1
    return years.astype(np.int64) + 1970, month, day


def by_season(
    record: DailyRecord, values: FloatArray, start_month: int, start_day: int
) -> tuple[IntArray, FloatArray]:
    """The days of a record laid out by seasons that start at one date.

    Parameters
    ----------
    record : the record that ``values`` belong to
    values : one per day of the record [any unit], NaN where missing
    start_month, start_day : the date at which each season starts, 1 to 12 and 1 to 31

    Returns the years in which the seasons start and an array (seasons, 366): a column stands for
    the same calendar date in every season. 29 February always has its column, NaN in common
    years; so have the days of the first and last season that the record does not reach.

    Raises ValueError for a date that does not exist or values that don't fit the record.
    """
    within(1, 12, start_month=start_month)
    within(1, _DAYS_OF_MONTH[start_month - 1], start_day=start_day)
    if len(values) != record.days:
        raise ValueError(f"there are {len(values)} values for {record.days} days")
    year, month, day = year_month_day(record.dates())
    start = int(_DAYS_BEFORE[start_month - 1]) + start_day - 1
    column = _DAYS_BEFORE[month - 1] + day - 1 - start
    season = np.where(column >= 0, year, year - 1)
    years = np.arange(season[0], season[-1] + 1, dtype=np.int64)
    laid = np.full((len(years), _COLUMNS), np.nan)
    laid[season - years[0], column % _COLUMNS] = values
    return years, laid


def whole_fahrenheit(t_c: FloatArray) -> FloatArray:
    """Temperatures as the observer wrote them at a station that records whole degrees F.

    Parameters
    ----------
    t_c : temperatures that were stored in tenths of a degree [C], NaN where missing

    24 F is stored as -4.4 C, which turns back into 24.08 F: a comparison with a threshold in F
    needs the whole degree.
    """
    return np.rint(np.asarray(t_c, dtype=np.float64) * 9 / 5 + 32)


def share_of_whole_fahrenheit(t_c: FloatArray) -> float:
    """The share of the values that are whole degrees F turned into C; NaN without values.

    Parameters
    ----------
    t_c : temperatures [C], NaN where missing; in tenths, or else taken to the hundredth

    Of values recorded in tenths of C about 18 % fall on such a number by chance, of hundredths
    about 2 %; of a station that writes whole degrees F all do.
    """
    known = np.asarray(t_c, dtype=np.float64)
    known = known[~np.isnan(known)]
    if not len(known):
        return float("nan")
    tenths = bool(np.all(np.abs(known * 10 - np.rint(known * 10)) < 1e-6))
    parts = 10 if tenths else 100
    stored = np.rint((whole_fahrenheit(known) - 32) * 5 * parts / 9)
    return float(np.mean(np.abs(np.rint(known * parts) - stored) < 0.5))
