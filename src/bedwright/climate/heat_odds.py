"""Heat odds: hot days and nights in the weeks ahead, and when the heat comes and goes."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from bedwright.climate.rank_dates import rank_chance_later, rank_date_later
from bedwright.climate.record import FloatArray
from bedwright.climate.season_days import BoolArray, first_and_last
from bedwright.guards import positive, within

_SAME_C = 1e-6  # K: below this two temperatures are one, whatever unit they came in


def days_above(t_c: FloatArray, above_c: float, days_ahead: int) -> FloatArray:
    """How many of the next days, counted from each day itself, are above a limit.

    Parameters
    ----------
    t_c : maxima for days, minima for nights [C], (..., days), one after the other; NaN missing
    above_c : the limit [C]; a day at the limit is not above it
    days_ahead : how many days are looked at, 1 and up

    Returns the shape of ``t_c``; NaN where one of the days is missing or lies beyond the end.
    """
    positive(days_ahead=days_ahead)
    values = np.asarray(t_c, dtype=np.float64)
    hot = _running(values > above_c + _SAME_C, days_ahead)
    there = _running(~np.isnan(values), days_ahead)
    found = np.full(values.shape, np.nan)
    whole = there == days_ahead
    found[..., : hot.shape[-1]] = np.where(whole, hot, np.nan)
    return found


def _running(events: BoolArray, days: int) -> FloatArray:
    """Sums over so many days from each on, (..., max(days - n + 1, 0))."""
    start = np.zeros((*events.shape[:-1], 1), dtype=np.int64)
    sums = np.concatenate([start, np.cumsum(events, axis=-1)], axis=-1)
    count = max(sums.shape[-1] - days, 0)
    return np.asarray(sums[..., days:] - sums[..., :count], dtype=np.float64)


@dataclass(frozen=True, eq=False)
class CountOdds:
    """How many days of a kind a date brings, over the seasons.

    ``mean`` (dates,), ``quantiles`` (shares, dates) in days, ``seasons`` (dates,) that went in.
    NaN where none did.
    """

    mean: FloatArray
    shares: FloatArray
    quantiles: FloatArray
    seasons: FloatArray


def count_odds(counts: FloatArray, shares: FloatArray) -> CountOdds:
    """The distribution over seasons of a count at each date.

    Parameters
    ----------
    counts : :func:`days_above` by season and date, (seasons, dates), NaN where unknown
    shares : of the seasons that have as many or fewer [-], 0 to 1, (shares,)

    Raises ValueError where a share is out of range or counts have another shape.
    """
    table = np.asarray(counts, dtype=np.float64)
    wanted = np.atleast_1d(np.asarray(shares, dtype=np.float64))
    within(0, 1, shares=wanted)
    if table.ndim != 2:
        raise ValueError(f"counts have the shape {table.shape}; it must be (seasons, dates)")
    there = ~np.isnan(table)
    seasons = there.sum(axis=0).astype(np.float64)
    mean, quantiles = (
        np.full(table.shape[1], np.nan),
        np.full((len(wanted), table.shape[1]), np.nan),
    )
    some = seasons > 0
    mean[some] = np.nanmean(table[:, some], axis=0)
    quantiles[:, some] = np.nanquantile(table[:, some], wanted, axis=0)
    return CountOdds(mean, wanted, quantiles, seasons)


@dataclass(frozen=True, eq=False)
class HeatDays:
    """The day on which the heat has come, and the last on which it is still there (seasons,).

    In days from the season's start; NaN where a season had none or can't be told. ``known``
    arrays say which seasons count.
    """

    first: FloatArray
    last: FloatArray
    first_known: BoolArray
    last_known: BoolArray


def heat_days(
    t_c: FloatArray, at_least_c: float, *, days: int, window: int, missing_allowed: int
) -> HeatDays:
    """The first and the last day of each season when so many of the last days were hot.

    Parameters
    ----------
    t_c : maxima, means or minima [C], (seasons, days) by plain count of days, NaN missing
    at_least_c : temperature from which a day is hot [C]
    days : how many of the window's days must be hot, 1 to ``window``
    window : days that are looked back on, the day itself among them
    missing_allowed : so many missing days where the heat may have hidden leave a season out

    A missing day is not hot. Raises ValueError where a number is out of range.
    """
    positive(window=window)
    within(1, window, days=days)
    values = np.asarray(t_c, dtype=np.float64)
    if values.ndim != 2:
        raise ValueError(f"t_c has the shape {values.shape}; it must be (seasons, days)")
    known = ~np.isnan(values)
    hot = values >= at_least_c - _SAME_C
    lead = np.zeros((len(values), window - 1), dtype=bool)
    enough = _running(np.concatenate([lead, hot], axis=-1), window) >= days
    ends = first_and_last(enough & known, known, missing_allowed)
    return HeatDays(ends.first, ends.last, ends.first_known, ends.last_known)


def chance_that_heat_has_come(heat: HeatDays, day: FloatArray) -> FloatArray:
    """The share of seasons in which the heat has come by a date (dates,).

    Parameters
    ----------
    heat : of the seasons
    day : days from the season's start, (dates,)

    NaN where no season can be told.
    """
    at = np.atleast_1d(np.asarray(day, dtype=np.float64))
    # "has come by" is on the date or before it; dates are whole, hence the half day
    return rank_chance_later(-heat.first, heat.first_known.astype(float), -(at + 0.5))


def day_with_chance_that_heat_has_come(heat: HeatDays, chance: FloatArray) -> FloatArray:
    """The date by which the heat has come with a chance (chances,).

    Parameters
    ----------
    heat : of the seasons
    chance : [-], above 0 and below 1, (chances,)

    By ranks; NaN where the record holds nothing so rare, or where the heat does not come in so
    many seasons. Raises ValueError for a chance out of range.
    """
    wanted = np.atleast_1d(np.asarray(chance, dtype=np.float64))
    if not np.all((wanted > 0) & (wanted < 1)):
        raise ValueError(f"chance is {wanted.tolist()}; it must lie between 0 and 1")
    return -rank_date_later(-heat.first, heat.first_known.astype(float), wanted)
