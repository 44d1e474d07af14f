"""What a record holds: its span, how whole it is, its months, extremes and days of freeze."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from bedwright.climate.completeness import Gap, completeness, longest_gaps
from bedwright.climate.limits import WeatherLimits
from bedwright.climate.record import (
    DailyRecord,
    FloatArray,
    whole_fahrenheit,
    year_month_day,
)

_MONTHS = 12
_SUMS = frozenset({"rain_mm"})


@dataclass(frozen=True)
class ElementSummary:
    """How whole an element is, and its highest and lowest value with the first day of each."""

    element: str
    present: int
    days: int
    longest_gap: Gap | None
    highest: float
    highest_day: np.datetime64
    lowest: float
    lowest_day: np.datetime64


@dataclass(frozen=True, eq=False)
class MonthSummary:
    """Per calendar month the mean (of rain the mean total) and how many months it rests on."""

    element: str
    values: FloatArray  # 12, NaN where no month is whole enough
    months: tuple[int, ...]


@dataclass(frozen=True)
class FreezeDays:
    """Days a year at or below a threshold: mean, fewest and most of the years counted."""

    threshold_c: float
    years: int
    mean: float
    fewest: int
    most: int


@dataclass(frozen=True, eq=False)
class WeatherSummary:
    """A record in short."""

    first_day: np.datetime64
    last_day: np.datetime64
    elements: tuple[ElementSummary, ...]
    months: tuple[MonthSummary, ...]
    freezes: tuple[FreezeDays, ...]


def summarized(
    record: DailyRecord,
    limits: WeatherLimits,
    freeze_c: Sequence[float],
    *,
    in_whole_fahrenheit: bool = False,
) -> WeatherSummary:
    """The record in short.

    Parameters
    ----------
    record : after its checks
    limits : ``month_missing_days`` says which months are whole enough for a mean
    freeze_c : thresholds of freeze [C]
    in_whole_fahrenheit : compare minima and thresholds as whole degrees F
    """
    dates = record.dates()
    series = record.elements()
    return WeatherSummary(
        dates[0],
        dates[-1],
        tuple(
            _element(record, name, values)
            for name, values in series.items()
            if not np.all(np.isnan(values))
        ),
        tuple(_months(record, name, values, limits) for name, values in series.items()),
        tuple(_freezes(record, limits, each, in_whole_fahrenheit) for each in freeze_c),
    )


def _element(record: DailyRecord, name: str, values: FloatArray) -> ElementSummary:
    dates = record.dates()
    high, low = int(np.nanargmax(values)), int(np.nanargmin(values))
    gaps = longest_gaps(record, values, 1)
    return ElementSummary(
        name,
        int(np.sum(~np.isnan(values))),
        record.days,
        gaps[0] if gaps else None,
        float(values[high]),
        dates[high],
        float(values[low]),
        dates[low],
    )


def _months(
    record: DailyRecord, name: str, values: FloatArray, limits: WeatherLimits
) -> MonthSummary:
    whole = completeness(record, values, "month")
    index = record.dates().astype("datetime64[M]").astype(np.int64)
    sums = np.bincount(index - index[0], weights=np.nan_to_num(values))
    enough = whole.expected - whole.present <= limits.month_missing_days
    mean = np.divide(sums, whole.present, out=np.full(len(sums), np.nan), where=enough)
    if name in _SUMS:
        mean = mean * whole.expected
    month = whole.periods.astype(np.int64) % _MONTHS
    counts = tuple(int(np.sum(enough & (month == at))) for at in range(_MONTHS))
    means = [
        float(np.mean(mean[enough & (month == at)])) if counts[at] else float("nan")
        for at in range(_MONTHS)
    ]
    return MonthSummary(name, np.array(means), counts)


def _freezes(
    record: DailyRecord, limits: WeatherLimits, threshold_c: float, in_whole_fahrenheit: bool
) -> FreezeDays:
    """Counted in the years that miss no more days than twelve whole enough months may."""
    t_min, threshold = record.t_min_c, threshold_c
    if in_whole_fahrenheit:
        t_min, threshold = whole_fahrenheit(t_min), float(whole_fahrenheit(np.array(threshold)))
    whole = completeness(record, record.t_min_c, "year")
    year, _, _ = year_month_day(record.dates())
    counts = np.bincount(year - year[0], weights=t_min <= threshold).astype(np.int64)
    enough = whole.expected - whole.present <= _MONTHS * limits.month_missing_days
    kept = counts[enough]
    if not len(kept):
        return FreezeDays(threshold_c, 0, float("nan"), 0, 0)
    return FreezeDays(
        threshold_c, len(kept), float(np.mean(kept)), int(kept.min()), int(kept.max())
    )
