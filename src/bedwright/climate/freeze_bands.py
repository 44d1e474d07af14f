"""How far the odds may be off, because they rest on so many seasons and no more.

Mean, spread and share of a record are drawn anew as often as asked from what the record leaves
open (chi-squared for the variance, normal for the mean given the variance, beta with Jeffreys'
start for the share): the band of a normal quantile then has its stated level for any number of
seasons, and a short record has a wide band. Drawing seasons with replacement instead would make
short records look better than they are.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from bedwright.climate.freeze_odds import (
    FreezeOdds,
    chance_of_earlier_freeze,
    chance_of_later_freeze,
    day_with_chance_of_earlier_freeze,
    day_with_chance_of_later_freeze,
)
from bedwright.climate.normal_dates import (
    date_with_earlier_chance,
    date_with_later_chance,
    earlier_chance,
    later_chance,
)
from bedwright.climate.record import FloatArray
from bedwright.guards import not_negative

_JEFFREYS = 0.5  # start of the beta distribution of a share
_LEAST_DATES = 2  # to know a spread


@dataclass(frozen=True, eq=False)
class Band:
    """An estimate with the band in which the truth lies at the stated level.

    Chances or days [days from the season's start], (thresholds, dates or chances). NaN in
    ``low`` or ``high`` of a day: it may be that there is no such day.
    """

    estimate: FloatArray
    low: FloatArray
    high: FloatArray
    level: float


def chance_band(odds: FreezeOdds, day: FloatArray, *, level: float, draws: int, seed: int) -> Band:
    """Chance of a later freeze (odds of the last) or an earlier one (of the first), with band.

    Parameters
    ----------
    odds : of the last or the first freeze
    day : days from the season's start, (dates,)
    level : of the band [-], above 0 and below 1
    draws : how many, 100 and up
    seed : any whole number from 0; the same seed gives the same band

    Where fewer than two seasons had a freeze the date is unknown: the band runs from 0 to what
    the share of such seasons may be. Raises ValueError for inputs out of range.
    """
    _checked(level, draws, seed)
    at = np.atleast_1d(np.asarray(day, dtype=np.float64))
    last = odds.which == "last"
    estimate = (chance_of_later_freeze if last else chance_of_earlier_freeze)(odds, at)
    of = later_chance if last else earlier_chance
    low, high = np.empty(estimate.shape), np.empty(estimate.shape)
    for row, (mean, sd, share) in enumerate(_drawn(odds, draws, seed)):
        if np.isnan(mean).any():
            low[row], high[row] = 0.0, np.quantile(share, level)
            continue
        drawn = of(at[:, None], mean, sd, share)
        low[row], high[row] = np.quantile(drawn, _ends(level), axis=-1)
    return _around(estimate, low, high, level)


def day_band(odds: FreezeOdds, chance: FloatArray, *, level: float, draws: int, seed: int) -> Band:
    """The date of a chance of a later (earlier) freeze, with band.

    Parameters
    ----------
    odds : of the last or the first freeze
    chance : of a later (earlier) freeze [-], above 0 and below 1, (chances,)
    level : of the band [-], above 0 and below 1
    draws : how many, 100 and up
    seed : any whole number from 0

    NaN at an end of the band: that such a date does not exist (seasons without a freeze) is
    within the band too. Raises ValueError for inputs out of range.
    """
    _checked(level, draws, seed)
    wanted = np.atleast_1d(np.asarray(chance, dtype=np.float64))
    last = odds.which == "last"
    estimate = (day_with_chance_of_later_freeze if last else day_with_chance_of_earlier_freeze)(
        odds, wanted
    )
    of, never = (date_with_later_chance, -np.inf) if last else (date_with_earlier_chance, np.inf)
    low, high = np.full(estimate.shape, np.nan), np.full(estimate.shape, np.nan)
    for row, (mean, sd, share) in enumerate(_drawn(odds, draws, seed)):
        if np.isnan(mean).any():
            continue
        drawn = of(wanted[:, None], mean, sd, share)
        drawn = np.where(np.isnan(drawn), never, drawn)
        ends = np.quantile(drawn, _ends(level), axis=-1, method="nearest")
        low[row], high[row] = np.where(np.isinf(ends), np.nan, ends)
    return _around(estimate, low, high, level)


def _checked(level: float, draws: int, seed: int) -> None:
    if not 0 < level < 1:
        raise ValueError(f"level is {level:g}; it must lie between 0 and 1")
    if draws < 100:
        raise ValueError(f"draws is {draws}; it must be 100 or more")
    not_negative(seed=seed)


def _ends(level: float) -> tuple[float, float]:
    return (1 - level) / 2, (1 + level) / 2


def _around(estimate: FloatArray, low: FloatArray, high: FloatArray, level: float) -> Band:
    """A band that holds its estimate: a share of all or none has nothing on its other side."""
    return Band(
        estimate,
        np.where(estimate < low, estimate, low),
        np.where(estimate > high, estimate, high),
        level,
    )


def _drawn(
    odds: FreezeOdds, draws: int, seed: int
) -> list[tuple[FloatArray, FloatArray, FloatArray]]:
    """Drawn means, deviations and shares of each threshold; NaN means where they are unknown.

    All thresholds use the same noise, so that their bands move together.
    """
    noise = np.random.default_rng(seed)
    normal = noise.standard_normal(draws)
    uniform_spread, uniform_share = noise.random(draws), noise.random(draws)
    return [
        _one(*each, normal, uniform_spread, uniform_share)
        for each in zip(
            odds.seasons,
            odds.freeze_seasons,
            odds.freeze_share,
            odds.mean_day,
            odds.sd_day,
            strict=True,
        )
    ]


def _one(
    seasons: float,
    frozen: float,
    share: float,
    mean: float,
    sd: float,
    normal: FloatArray,
    uniform_spread: FloatArray,
    uniform_share: FloatArray,
) -> tuple[FloatArray, FloatArray, FloatArray]:
    from scipy.special import betaincinv, gammaincinv

    unknown = np.full(len(normal), np.nan)
    if seasons == 0:
        return unknown, unknown, np.ones(len(normal))
    with_freeze = share * seasons
    shares = betaincinv(with_freeze + _JEFFREYS, seasons - with_freeze + _JEFFREYS, uniform_share)
    if frozen < _LEAST_DATES - 1e-9 or np.isnan(sd):
        return unknown, unknown, shares
    freedom = frozen - 1
    chi_squared = 2 * gammaincinv(freedom / 2, uniform_spread)
    spread = sd * np.sqrt(freedom / chi_squared)
    return mean + spread / np.sqrt(frozen) * normal, spread, shares
