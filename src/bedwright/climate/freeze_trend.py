"""Whether dates have moved over the decades, and weights for those who trust recent years more."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from bedwright.climate.record import FloatArray, IntArray
from bedwright.guards import positive

_FEWEST_SEASONS = 4  # below this no order of the values is rare enough for any test


@dataclass(frozen=True)
class Trend:
    """A straight trend of yearly values and its test.

    ``per_decade`` [unit of the values per 10 years] is the Theil-Sen slope with the ends
    ``low`` and ``high`` of its band; ``p_value`` that of the Mann-Kendall test; ``code`` is
    "later" (values grow), "earlier" (they fall), "no_clear_trend" or "too_short".
    """

    per_decade: float
    low: float
    high: float
    p_value: float
    seasons: int
    code: str


def trend(years: IntArray, values: FloatArray, *, significance: float, seasons_least: int) -> Trend:
    """The trend of yearly values, such as the days of last freezes.

    Parameters
    ----------
    years : of the values (seasons,)
    values : one per year (seasons,), NaN where there is none
    significance : chance of calling chance a trend [-], above 0 and below 1; also sets the band
    seasons_least : values below which the trend is called too short to tell, 4 and up

    Slope by Theil and Sen, test by Mann and Kendall (Kendall's tau of values and years, ties
    allowed for). Raises ValueError where the lengths differ or an input is out of range.
    """
    from scipy.stats import kendalltau, theilslopes

    at, numbers = np.asarray(years), np.asarray(values, dtype=np.float64)
    if at.shape != numbers.shape or at.ndim != 1:
        raise ValueError(f"there are {at.shape} years for {numbers.shape} values")
    if not 0 < significance < 1:
        raise ValueError(f"significance is {significance:g}; it must lie between 0 and 1")
    if seasons_least < _FEWEST_SEASONS:
        raise ValueError(f"seasons_least is {seasons_least}; it must be {_FEWEST_SEASONS} or more")
    there = ~np.isnan(numbers)
    at, numbers = at[there], numbers[there]
    count = len(numbers)
    if count < seasons_least:
        return Trend(np.nan, np.nan, np.nan, np.nan, count, "too_short")
    slope = theilslopes(numbers, at, alpha=1 - significance)
    per_decade, low, high = (10 * float(each) for each in (slope[0], slope[2], slope[3]))
    if np.ptp(numbers) == 0:  # the test knows no order of values that are all alike
        return Trend(0.0, low, high, 1.0, count, "no_clear_trend")
    p_value = float(kendalltau(at, numbers).pvalue)
    code = "no_clear_trend"
    if p_value <= significance and per_decade != 0:
        code = "later" if per_decade > 0 else "earlier"
    return Trend(per_decade, low, high, p_value, count, code)


def recent_weights(years: IntArray, half_life_years: float) -> FloatArray:
    """Weights that halve for every so many years back from the last (seasons,).

    Parameters
    ----------
    years : of the seasons (seasons,), one or more
    half_life_years : years after which a season counts half, above 0
    """
    positive(half_life_years=half_life_years)
    at = np.asarray(years, dtype=np.float64)
    return np.asarray(0.5 ** ((at.max() - at) / half_life_years))


def effective_seasons(weights: FloatArray) -> float:
    """How many seasons of equal weight tell as much (Kish): (sum w)^2 / sum w^2.

    Parameters
    ----------
    weights : of the seasons [-], 0 and up, not all 0
    """
    weight = np.asarray(weights, dtype=np.float64)
    positive(sum_of_weights=weight.sum())
    return float(weight.sum() ** 2 / (weight**2).sum())
