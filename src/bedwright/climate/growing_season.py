"""When the season to grow in begins and ends, per season of a record (seasons, days).

Two definitions: the longest run of days without a freeze, and the thermal season between the
first lasting warm spell and the first lasting cool one after midseason. Days are counted from the
first column, 0. A missing day (NaN) that could change an answer makes it NaN.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from bedwright.guards import positive, within

FloatArray = NDArray[np.float64]
Numbers = float | FloatArray
BoolArray = NDArray[np.bool_]


@dataclass(frozen=True)
class GrowingSeason:
    """Of each season: ``first_day`` and ``last_day`` as columns, ``length_d`` in days that the
    calendar has. NaN where it is not known; length 0 and days NaN where there was none.
    """

    first_day: FloatArray
    last_day: FloatArray
    length_d: FloatArray


def longest_run_without_freeze(
    t_min_c: Numbers, threshold_c: float = 0.0, *, leap_column: int | None = None
) -> GrowingSeason:
    """The longest run of days whose minimum stays above a threshold (the first of equals).

    Parameters
    ----------
    t_min_c : minima (seasons, days) [C]; a season should begin in the cold half of the year
    threshold_c : a minimum at or below it is a freeze [C], -30 to 15
    leap_column : column of 29 February, which common years leave NaN; without it every NaN is a
        missing day

    Raises ValueError for an input outside its range.
    """
    within(-30, 15, threshold_c=threshold_c)
    minima, counted = _days(t_min_c, leap_column)
    missing = np.isnan(minima)
    least = _longest(np.where(missing, False, minima > threshold_c), counted)
    most = _longest(np.where(missing, True, minima > threshold_c), counted)
    return _known(least, most)


def thermal_season(
    t_mean_c: Numbers,
    *,
    base_c: float,
    run_days: int,
    middle_column: int,
    leap_column: int | None = None,
) -> GrowingSeason:
    """From the first lasting warm spell to the day before the first lasting cool one.

    Parameters
    ----------
    t_mean_c : daily means (seasons, days) [C]; a season should begin in midwinter
    base_c : a day above it is warm, below it cool [C], -30 to 30; 5 C is usual
    run_days : a spell lasts so many days at least, 1 to 60; 6 is usual
    middle_column : of midsummer: a cool spell counts from here on
    leap_column : column of 29 February, which common years leave NaN

    Raises ValueError for an input outside its range. A season with no warm spell before
    midsummer has length 0; one with no cool spell after it runs to its last day.
    """
    within(-30, 30, base_c=base_c)
    within(1, 60, run_days=run_days)
    means, counted = _days(t_mean_c, leap_column)
    within(0, means.shape[-1] - 1, middle_column=middle_column)
    missing = np.isnan(means)

    def ends(warm: BoolArray, cool: BoolArray) -> tuple[FloatArray, FloatArray, FloatArray]:
        warm_from = _first(_runs(warm)[..., :middle_column] >= run_days) - run_days + 1
        cool = cool & (np.arange(cool.shape[-1]) >= middle_column)
        cool_from = _first(_runs(cool) >= run_days) - run_days + 1
        last = np.where(np.isnan(cool_from), means.shape[-1], cool_from) - 1
        last = np.where(np.isnan(warm_from), np.nan, last)
        return warm_from, last, _length(warm_from, last, counted)

    warm, cool = means > base_c, means < base_c
    return _known(ends(warm & ~missing, cool | missing), ends(warm | missing, cool & ~missing))


def _days(values_c: Numbers, leap_column: int | None) -> tuple[FloatArray, FloatArray]:
    """The values, a day that the calendar lacks like the one before, and 1 for days it has."""
    values = np.array(values_c, dtype=np.float64, ndmin=2)
    positive(days=values.shape[-1])
    counted = np.ones_like(values)
    if leap_column is not None:
        within(1, values.shape[-1] - 1, leap_column=leap_column)
        lacks = np.isnan(values[..., leap_column])
        counted[..., leap_column] = ~lacks
        values[..., leap_column] = np.where(
            lacks, values[..., leap_column - 1], values[..., leap_column]
        )
    return values, counted


def _runs(flags: BoolArray) -> NDArray[np.int_]:
    """Length of the run of true days that ends on each day."""
    days = np.arange(flags.shape[-1])
    return np.asarray(days - np.maximum.accumulate(np.where(flags, -1, days), axis=-1))


def _first(flags: BoolArray) -> FloatArray:
    """Column of the first true day, or NaN."""
    return np.where(flags.any(axis=-1), flags.argmax(axis=-1), np.nan)


def _length(first: FloatArray, last: FloatArray, counted: FloatArray) -> FloatArray:
    sums = np.concatenate([np.zeros_like(counted[..., :1]), np.cumsum(counted, axis=-1)], axis=-1)
    there = ~(np.isnan(first) | np.isnan(last))
    ends = np.where(there, last + 1, 0).astype(np.int64)[..., None]
    starts = np.where(there, first, 0).astype(np.int64)[..., None]
    span = np.take_along_axis(sums, ends, axis=-1) - np.take_along_axis(sums, starts, axis=-1)
    return np.asarray(span[..., 0])


def _longest(flags: BoolArray, counted: FloatArray) -> tuple[FloatArray, FloatArray, FloatArray]:
    runs = _runs(flags)
    last = runs.argmax(axis=-1).astype(np.float64)
    longest = runs.max(axis=-1)
    none = longest == 0
    first, last = (np.where(none, np.nan, each) for each in (last - longest + 1, last))
    return first, last, _length(first, last, counted)


def _known(
    least: tuple[FloatArray, FloatArray, FloatArray],
    most: tuple[FloatArray, FloatArray, FloatArray],
) -> GrowingSeason:
    """Each answer where the missing days, taken either way, do not change it."""
    first, last, length = (
        np.where((low == high) | (np.isnan(low) & np.isnan(high)), low, np.nan)
        for low, high in zip(least, most, strict=True)
    )
    return GrowingSeason(first, last, length)
