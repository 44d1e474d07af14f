"""Freeze odds by date and threshold, as the climate agencies reckon them.

A season has a freeze or not; the dates of the last (first) freeze of the seasons that have one
are taken as normal. The senses are in the names: a *later* freeze is one after the date, an
*earlier* freeze one before it. Beside the normal stands the estimate by ranks, which reads the
recorded dates as they are and says nothing beyond them.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any, Literal

import numpy as np

from bedwright.climate.normal_dates import (
    date_with_earlier_chance,
    date_with_later_chance,
    earlier_chance,
    later_chance,
)
from bedwright.climate.rank_dates import rank_chance_later, rank_date_later, ratio
from bedwright.climate.record import FloatArray, whole_fahrenheit
from bedwright.climate.season_days import BoolArray, first_and_last
from bedwright.guards import not_negative

Method = Literal["normal", "ranks"]
Which = Literal["last", "first"]

_SAME_C = 1e-6  # K: below this two temperatures are one, whatever unit they came in


@dataclass(frozen=True, eq=False)
class FreezeDays:
    """The last (spring) and first (autumn) freeze of each season, (thresholds, seasons).

    In days from the season's start; NaN where the season had none or can't be told. ``known``
    arrays say which seasons count.
    """

    thresholds_c: FloatArray
    last: FloatArray
    first: FloatArray
    last_known: BoolArray
    first_known: BoolArray


def freeze_days(
    t_min_c: FloatArray,
    thresholds_c: FloatArray,
    *,
    missing_allowed: int,
    rounding: Literal["none", "whole_f"] = "none",
) -> FreezeDays:
    """The last and first day of each season on which the minimum was at or below thresholds.

    Parameters
    ----------
    t_min_c : minima [C], (seasons, days) by plain count of days, NaN where missing
    thresholds_c : freeze thresholds [C], (thresholds,)
    missing_allowed : so many missing days where a freeze may have hidden leave a season out
    rounding : "whole_f" for stations that write whole degrees F and are stored in tenths of C,
        as the published US tables are reckoned; "none" for all others

    Raises ValueError for another rounding or shapes that do not agree.
    """
    minima = np.asarray(t_min_c, dtype=np.float64)
    thresholds = np.atleast_1d(np.asarray(thresholds_c, dtype=np.float64))
    if minima.ndim != 2:
        raise ValueError(f"t_min_c has the shape {minima.shape}; it must be (seasons, days)")
    known = ~np.isnan(minima)
    if rounding == "whole_f":
        shown, limits = whole_fahrenheit(minima), thresholds * 9 / 5 + 32
    elif rounding == "none":
        shown, limits = minima, thresholds
    else:
        raise ValueError(f"rounding is {rounding!r}; it must be none or whole_f")
    events = shown[None] <= limits[:, None, None] + _SAME_C
    ends = first_and_last(events, known, missing_allowed)
    return FreezeDays(thresholds, ends.last, ends.first, ends.last_known, ends.first_known)


@dataclass(frozen=True, eq=False)
class FreezeOdds:
    """What the seasons say of the last or the first freeze, by threshold (thresholds,).

    ``seasons`` and ``freeze_seasons`` are counts; with weights they are what as many equal
    seasons would tell. ``freeze_share`` is the (weighted) share of seasons with a freeze;
    ``mean_day`` and ``sd_day`` [days from the season's start] are NaN where it takes more
    seasons to know them. ``days``, ``known`` (thresholds, seasons) and ``weights`` (seasons,)
    are what went in.
    """

    which: Which
    thresholds_c: FloatArray
    seasons: FloatArray
    freeze_seasons: FloatArray
    freeze_share: FloatArray
    mean_day: FloatArray
    sd_day: FloatArray
    days: FloatArray
    known: BoolArray
    weights: FloatArray


def freeze_odds(days: FreezeDays, which: Which, weights: FloatArray | None = None) -> FreezeOdds:
    """The odds of the last (spring) or the first (autumn) freeze.

    Parameters
    ----------
    days : freezes of each season
    which : "last" or "first"
    weights : of the seasons [-], 0 and up, such as :func:`recent_weights`; all alike without

    Seasons without a freeze count as such; seasons that can't be told are left out.
    Raises ValueError for another ``which`` or weights of another length.
    """
    if which not in ("last", "first"):
        raise ValueError(f"which is {which!r}; it must be last or first")
    at, known = (days.last, days.last_known) if which == "last" else (days.first, days.first_known)
    weight = np.ones(at.shape[-1]) if weights is None else np.asarray(weights, dtype=np.float64)
    if weight.shape != at.shape[-1:]:
        raise ValueError(f"there are {len(weight)} weights for {at.shape[-1]} seasons")
    not_negative(weights=weight)
    frozen = ~np.isnan(at)
    all_weights, freeze_weights = weight * known, weight * frozen
    whole, part = all_weights.sum(axis=-1), freeze_weights.sum(axis=-1)
    mean = ratio((freeze_weights * np.where(frozen, at, 0.0)).sum(axis=-1), part)
    off = np.where(frozen, at - mean[:, None], 0.0)
    squares = (freeze_weights**2).sum(axis=-1)
    variance = ratio((freeze_weights * off**2).sum(axis=-1), part - ratio(squares, part))
    return FreezeOdds(
        which=which,
        thresholds_c=days.thresholds_c,
        seasons=_effective(all_weights),
        freeze_seasons=_effective(freeze_weights),
        freeze_share=ratio(part, whole),
        mean_day=mean,
        sd_day=np.sqrt(variance),
        days=at,
        known=known,
        weights=weight,
    )


def _effective(weights: FloatArray) -> FloatArray:
    """How many seasons of equal weight tell as much (Kish): (sum w)^2 / sum w^2."""
    squares = (weights**2).sum(axis=-1)
    whole = weights.sum(axis=-1)
    return np.nan_to_num(ratio(whole**2, squares))


def chance_of_later_freeze(
    odds: FreezeOdds, day: FloatArray, method: Method = "normal"
) -> FloatArray:
    """Chance that the season's last freeze comes after a date, (thresholds, dates).

    Parameters
    ----------
    odds : of the last freeze
    day : days from the season's start, (dates,)
    method : "normal" (the climate agencies') or "ranks" (share of the recorded seasons)

    NaN where there are too few freezes to know their spread. Raises ValueError for odds of the
    first freeze or another method.
    """
    _asked(odds, "last", method)
    at = np.atleast_1d(np.asarray(day, dtype=np.float64))
    if method == "ranks":
        return rank_chance_later(odds.days, odds.known * odds.weights, at)
    return _spread(later_chance, at, odds)


def day_with_chance_of_later_freeze(
    odds: FreezeOdds, chance: FloatArray, method: Method = "normal"
) -> FloatArray:
    """The date after which a freeze still comes with a chance, (thresholds, chances).

    Parameters
    ----------
    odds : of the last freeze
    chance : of a later freeze [-], above 0 and below 1, (chances,)
    method : "normal" or "ranks"

    Days from the season's start, not rounded. NaN where so many seasons have no freeze that
    there is no such date, and by ranks where the record holds none that rare. Raises
    ValueError for odds of the first freeze, another method or a chance out of range.
    """
    _asked(odds, "last", method)
    wanted = _chances(chance)
    if method == "ranks":
        return rank_date_later(odds.days, odds.known * odds.weights, wanted)
    return _spread(date_with_later_chance, wanted, odds)


def chance_of_earlier_freeze(
    odds: FreezeOdds, day: FloatArray, method: Method = "normal"
) -> FloatArray:
    """Chance that the season's first freeze comes before a date, (thresholds, dates).

    Parameters
    ----------
    odds : of the first freeze
    day : days from the season's start, (dates,)
    method : "normal" or "ranks"

    NaN and errors as in :func:`chance_of_later_freeze`.
    """
    _asked(odds, "first", method)
    at = np.atleast_1d(np.asarray(day, dtype=np.float64))
    if method == "ranks":
        return rank_chance_later(-odds.days, odds.known * odds.weights, -at)
    return _spread(earlier_chance, at, odds)


def day_with_chance_of_earlier_freeze(
    odds: FreezeOdds, chance: FloatArray, method: Method = "normal"
) -> FloatArray:
    """The date before which a freeze has come with a chance, (thresholds, chances).

    Parameters
    ----------
    odds : of the first freeze
    chance : of an earlier freeze [-], above 0 and below 1, (chances,)
    method : "normal" or "ranks"

    NaN and errors as in :func:`day_with_chance_of_later_freeze`.
    """
    _asked(odds, "first", method)
    wanted = _chances(chance)
    if method == "ranks":
        return -rank_date_later(-odds.days, odds.known * odds.weights, wanted)
    return _spread(date_with_earlier_chance, wanted, odds)


def _asked(odds: FreezeOdds, which: Which, method: str) -> None:
    if odds.which != which:
        raise ValueError(
            f"these are the odds of the {odds.which} freeze; give those of the {which}"
        )
    if method not in ("normal", "ranks"):
        raise ValueError(f"method is {method!r}; it must be normal or ranks")


def _chances(chance: FloatArray) -> FloatArray:
    wanted = np.atleast_1d(np.asarray(chance, dtype=np.float64))
    if not np.all((wanted > 0) & (wanted < 1)):
        raise ValueError(f"chance is {wanted.tolist()}; it must lie between 0 and 1")
    return wanted


def _spread(of: Callable[..., Any], at: FloatArray, odds: FreezeOdds) -> FloatArray:
    return np.asarray(
        of(at, odds.mean_day[:, None], odds.sd_day[:, None], odds.freeze_share[:, None]),
        dtype=np.float64,
    )
