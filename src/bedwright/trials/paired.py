"""Two ways side by side, in pairs of strips or beds: the difference, and how sure it is."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from bedwright.guards import within

FloatArray = NDArray[np.float64]

_MOST_PAIRS = 40  # two halves of 2^20 sign patterns each
_ROUNDING = 1e-9  # of the largest sum: sums that differ by less are one sum


@dataclass(frozen=True)
class PairedComparison:
    """The mean of the differences, first less second, in the unit of the readings.

    ``interval`` is the two-sided confidence interval of the mean at ``confidence``; ``least``
    the least mean difference that would differ from 0 at that level; ``p`` of Student's t and
    ``p_signs`` of the exact randomisation test, both two-sided.
    """

    pairs: int
    mean: float
    standard_deviation: float
    standard_error: float
    t: float
    degrees_of_freedom: int
    p: float
    p_signs: float
    interval: tuple[float, float]
    least: float
    confidence: float


def compare_pairs(
    first: ArrayLike, second: ArrayLike, *, confidence: float = 0.95
) -> PairedComparison:
    """Compare two treatments that stood side by side in pairs.

    Parameters
    ----------
    first, second : readings of each pair, (pairs,); 2 pairs or more, up to 40
    confidence : of the interval [-], above 0.5 and below 1

    Raises ValueError for readings that don't pair, are not finite, or all differ alike, of which
    no spread can be told.

    Student's paired t: R. A. Fisher, The Design of Experiments, 1935, ch. III.
    """
    within(0.5, 0.9999, confidence=confidence)
    differences = _differences(first, second)
    from scipy import stats

    pairs = differences.size
    mean = float(differences.mean())
    deviation = float(differences.std(ddof=1))
    if deviation == 0:
        raise ValueError("all differences are the same: there is no spread to judge them by")
    error = deviation / float(np.sqrt(pairs))
    critical = float(stats.t.ppf((1 + confidence) / 2, pairs - 1))
    return PairedComparison(
        pairs=pairs,
        mean=mean,
        standard_deviation=deviation,
        standard_error=error,
        t=mean / error,
        degrees_of_freedom=pairs - 1,
        p=float(2 * stats.t.sf(abs(mean / error), pairs - 1)),
        p_signs=sign_flip_p(differences),
        interval=(mean - critical * error, mean + critical * error),
        least=critical * error,
        confidence=confidence,
    )


def sign_flip_p(differences: ArrayLike) -> float:
    """The exact randomisation test of paired differences: two-sided p [-].

    The share of all 2^n ways in which the signs could have fallen, had the treatment done nothing,
    whose sum lies as far from 0 as the one seen. Sums are made in two halves and put together by
    sorting, so that 40 pairs are done as exactly as 6.

    Parameters
    ----------
    differences : of each pair, (pairs,); 1 to 40, not all 0

    Raises ValueError outside of that. Source: R. A. Fisher, The Design of Experiments, 1935,
    section 21.
    """
    values = np.abs(np.asarray(differences, dtype=np.float64))
    if values.ndim != 1 or not 1 <= values.size <= _MOST_PAIRS:
        raise ValueError(f"{values.size} differences; the test takes 1 to {_MOST_PAIRS}")
    if not np.isfinite(values).all() or not values.any():
        raise ValueError("the differences must be finite and not all 0")
    seen = abs(float(np.sum(np.asarray(differences, dtype=np.float64))))
    seen -= _ROUNDING * float(values.sum())
    half = values.size // 2
    left, right = _signed_sums(values[:half]), np.sort(_signed_sums(values[half:]))
    above = right.size - np.searchsorted(right, seen - left, side="left")
    below = np.searchsorted(right, -seen - left, side="right")
    total = left.size * right.size
    # a sum seen as 0 would be counted from both sides
    return float(min(total, int(above.sum()) + int(below.sum())) / total)


def _signed_sums(values: FloatArray) -> FloatArray:
    sums = np.zeros(1)
    for each in values:
        sums = np.concatenate([sums - each, sums + each])
    return sums


def _differences(first: ArrayLike, second: ArrayLike) -> FloatArray:
    one, other = np.asarray(first, dtype=np.float64), np.asarray(second, dtype=np.float64)
    if one.ndim != 1 or one.shape != other.shape:
        raise ValueError(f"{one.size} readings against {other.size}: each pair needs both")
    if one.size < 2:
        raise ValueError("one pair shows no spread: give two or more")
    if not (np.isfinite(one).all() and np.isfinite(other).all()):
        raise ValueError("a reading is missing or not finite: leave its pair out")
    return np.asarray(one - other)
