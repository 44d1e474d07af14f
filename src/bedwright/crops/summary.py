"""What the years say of each date: shares, means and the band between one year in ten and nine."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from bedwright.crops.windows import Outcomes
from bedwright.guards import within

FloatArray = NDArray[np.float64]
_TENTH, _NINE_TENTHS = 0.1, 0.9


@dataclass(frozen=True)
class Band:
    """Mean over the years, the value that one year in ten stays below, and nine in ten; (dates,).

    ``years`` is the number of years that had a value; all three are NaN where none had.
    """

    mean: FloatArray
    low: FloatArray
    high: FloatArray
    years: NDArray[np.int64]


@dataclass(frozen=True)
class DateSummary:
    """The years together, for each date, (dates,) or, stacked, (crops, dates).

    Risks are shares of the years that could be followed (``years``). ``killed_range`` are the
    shares at the cold and the warm end of the killing minimum. Days are counted as they come: the
    bands of ``first_flower``, ``first_harvest`` and ``last_harvest`` are days after planting, of
    the years in which they came, and so is that of ``emergence``. ``set_days`` and
    ``harvest_days`` count lost years as 0.
    """

    years: NDArray[np.int64]
    killed: FloatArray
    killed_range: tuple[FloatArray, FloatArray]
    damaged: FloatArray
    soil_warm: FloatArray
    lost: FloatArray
    bolted: Band
    set_days: Band
    harvest_days: Band
    margin: Band
    hot_days: Band
    cover_off: Band
    first_flower: Band
    first_harvest: Band
    last_harvest: Band
    emergence: Band


def band(values: FloatArray, low: float = _TENTH, high: float = _NINE_TENTHS) -> Band:
    """Mean and quantiles along the last axis, unknown values (NaN) left out.

    Parameters
    ----------
    values : (..., years)
    low, high : shares of the years below the ends of the band [-], 0 to 1

    Quantiles lie on the straight line between the two nearest years.
    """
    within(0.0, 1.0, shares=[low, high])
    ranked = np.sort(values, axis=-1)  # NaN goes last
    count = np.sum(~np.isnan(values), axis=-1)
    some = count > 0
    mean = np.nansum(values, axis=-1) / np.maximum(count, 1)
    ends = [_quantile(ranked, count, share) for share in (low, high)]
    return Band(
        np.where(some, mean, np.nan),
        np.where(some, ends[0], np.nan),
        np.where(some, ends[1], np.nan),
        count.astype(np.int64),
    )


def summary(outcomes: Outcomes, starts: NDArray[np.int_]) -> DateSummary:
    """The years of one crop's outcomes together.

    Parameters
    ----------
    outcomes : of :func:`bedwright.crops.windows.planting_outcomes`
    starts : the dates that they are of [index], (dates, years)
    """
    first = np.where(starts >= 0, starts, 0).astype(np.float64)
    return DateSummary(
        years=outcomes.known.sum(axis=-1).astype(np.int64),
        killed=_share(outcomes.killed),
        killed_range=(_share(outcomes.killed_low), _share(outcomes.killed_high)),
        damaged=_share(outcomes.damaged),
        soil_warm=_share(outcomes.soil_warm),
        lost=_share(outcomes.lost),
        bolted=band(outcomes.bolted),
        set_days=band(outcomes.set_days),
        harvest_days=band(outcomes.harvest_days),
        margin=band(outcomes.margin),
        hot_days=band(outcomes.hot_days),
        cover_off=band(outcomes.cover_off - first),
        first_flower=band(outcomes.first_flower - first),
        first_harvest=band(outcomes.first_harvest - first),
        last_harvest=band(outcomes.last_harvest - first),
        emergence=band(outcomes.emergence - first),
    )


def stacked(summaries: Sequence[DateSummary]) -> DateSummary:
    """The summaries of several crops over the same dates as one, (crops, dates).

    Raises ValueError where there are none.
    """
    if not summaries:
        raise ValueError("there is no summary to stack")
    together: dict[str, object] = {}
    for name in DateSummary.__dataclass_fields__:
        parts = [getattr(each, name) for each in summaries]
        if isinstance(parts[0], Band):
            together[name] = Band(
                *(
                    np.stack([getattr(each, end) for each in parts])
                    for end in Band.__dataclass_fields__
                )
            )
        elif isinstance(parts[0], tuple):
            together[name] = tuple(np.stack(ends) for ends in zip(*parts, strict=True))
        else:
            together[name] = np.stack(parts)
    return DateSummary(**together)  # type: ignore[arg-type]


def _share(flags: FloatArray) -> FloatArray:
    count = np.sum(~np.isnan(flags), axis=-1)
    mean = np.nansum(flags, axis=-1) / np.maximum(count, 1)
    return np.where(count > 0, mean, np.nan)


def _quantile(ranked: FloatArray, count: NDArray[np.int_], share: float) -> FloatArray:
    place = share * np.maximum(count - 1, 0)
    below = np.floor(place).astype(np.int64)
    above = np.minimum(below + 1, np.maximum(count - 1, 0))
    low = np.take_along_axis(ranked, below[..., None], axis=-1)[..., 0]
    high = np.take_along_axis(ranked, above[..., None], axis=-1)[..., 0]
    return np.asarray(low + (high - low) * (place - below))
