"""When a stage is reached: daily heat added up from a planting date, for many dates and years.

Days are counted on one continuous axis, the record's first day being 0, so that a season may run
across the turn of the year in either hemisphere.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike, NDArray

from bedwright.guards import not_negative
from bedwright.working import Source, formula

FloatArray = NDArray[np.float64]
IntArray = NDArray[np.int64]

_TEMPERATURE = ("temperature", "K")
_HEAT = ("ratio", "degC d")
_HAIR = 1e-6  # of a degree day: a sum that falls short by rounding alone has arrived


@formula(
    "mean of the day's maximum and minimum, both held between base and upper, less the base",
    result=_HEAT,
    sources=(
        Source("mcmaster_wilhelm_1997", "method 2", "extremes are held before the mean is taken"),
        Source("osu_degree_days", "50/86 F rule of sweet corn", "the same with an upper limit"),
    ),
    example={"t_max": "90 F", "t_min": "55 F", "base": "50 F", "upper": "86 F"},
    t_max=_TEMPERATURE,
    t_min=_TEMPERATURE,
    base=_TEMPERATURE,
    upper=_TEMPERATURE,
)
def degree_days_held(
    t_max: ArrayLike, t_min: ArrayLike, base: ArrayLike, upper: ArrayLike
) -> FloatArray:
    """One day's heat above a base, extremes held between base and upper limit [degC d].

    Parameters
    ----------
    t_max, t_min : of the air [K or C, all alike]; an unknown (NaN) stays unknown
    base : at and below it nothing develops [K or C]
    upper : above it warmth adds no more [K or C], above the base

    Raises ValueError where the upper limit is not above the base.
    """
    low, top = np.asarray(base, dtype=np.float64), np.asarray(upper, dtype=np.float64)
    if not np.all(top > low):
        raise ValueError("upper must be above base")
    high = np.clip(np.asarray(t_max, dtype=np.float64), low, top)
    cool = np.clip(np.asarray(t_min, dtype=np.float64), low, top)
    return np.asarray((high + cool) / 2 - low)


@formula(
    "heat = days to maturity x (mean temperature at which they hold - base)",
    result=_HEAT,
    sources=(
        Source(
            "judgement",
            "",
            "a catalog's days are taken to hold at the best monthly mean temperature of the crop",
        ),
    ),
    example={"days": "75", "mean_temperature": "72.5 F", "base": "50 F"},
    days=("ratio", "-"),
    mean_temperature=_TEMPERATURE,
    base=_TEMPERATURE,
)
def heat_of_days_to_maturity(
    days: ArrayLike, mean_temperature: ArrayLike, base: ArrayLike
) -> FloatArray:
    """Heat that stands for a number of days to maturity [degC d].

    Parameters
    ----------
    days : from planting to first harvest in good weather [days], 0 or more
    mean_temperature : at which that number of days holds [K or C], above the base
    base : of the crop [K or C, as the mean]

    Raises ValueError for an input outside its range.
    """
    not_negative(days=days)
    warmth = np.asarray(mean_temperature, dtype=np.float64) - np.asarray(base, dtype=np.float64)
    if np.any(warmth <= 0):
        raise ValueError("mean_temperature must be above base")
    return np.asarray(np.asarray(days, dtype=np.float64) * warmth)


def running_total(increments: ArrayLike) -> FloatArray:
    """Sums up to each day: element k is the sum of the days before day k. (..., days + 1).

    Unknown days (NaN) add nothing here: whoever uses the total asks :func:`running_total` of
    ``isnan`` whether any lies within.
    """
    daily = np.nan_to_num(np.asarray(increments, dtype=np.float64), nan=0.0)
    start = np.zeros(daily.shape[:-1] + (1,))
    return np.concatenate([start, np.cumsum(daily, axis=-1)], axis=-1)


def day_reached(total: FloatArray, starts: ArrayLike, required: ArrayLike) -> FloatArray:
    """The day on which the sum since the start (that day included) reaches what is required.

    Parameters
    ----------
    total : of :func:`running_total` for daily amounts of 0 or more, (days + 1,)
    starts : first day counted [index of a day], any shape; NaN or outside the record gives NaN
    required : in the unit of the total, of the same shape or a single one

    Returns days [index], NaN where the record ends before; never before the start.
    """
    first = np.asarray(starts, dtype=np.float64)
    need = np.asarray(required, dtype=np.float64)
    days = total.shape[-1] - 1
    known = np.isfinite(first) & (first >= 0) & (first < days) & ~np.isnan(need)
    at = np.where(known, first, 0).astype(np.int64)
    goal = total[at] + np.where(np.isnan(need), 0.0, need) - _HAIR
    found = np.searchsorted(total, goal, side="left")
    day = np.maximum(found - 1, at).astype(np.float64)
    return np.where(known & (found <= days), day, np.nan)


def sum_between(total: FloatArray, first: ArrayLike, end: ArrayLike) -> FloatArray:
    """The sum of the days from ``first`` up to, not including, ``end``; 0 where they are none.

    Both are held inside the record; NaN in either gives NaN.
    """
    a, b = np.broadcast_arrays(
        np.asarray(first, dtype=np.float64), np.asarray(end, dtype=np.float64)
    )
    days = total.shape[-1] - 1
    known = ~np.isnan(a) & ~np.isnan(b)
    low = np.clip(np.where(known, a, 0), 0, days).astype(np.int64)
    high = np.maximum(np.clip(np.where(known, b, 0), 0, days).astype(np.int64), low)
    return np.where(known, total[high] - total[low], np.nan)


def next_day(flags: NDArray[np.bool_]) -> IntArray:
    """For each day the first flagged day at or after it; the number of days where none follows.

    The result has one element more than there are days, so that it may be asked at the end.
    """
    days = flags.shape[-1]
    at = np.where(flags, np.arange(days), days)
    ahead = np.minimum.accumulate(at[..., ::-1], axis=-1)[..., ::-1]
    end = np.full((*flags.shape[:-1], 1), days)
    return np.concatenate([ahead, end], axis=-1).astype(np.int64)
