"""Laying out a comparison: how many pairs it takes, and an order drawn at random."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from bedwright.guards import positive, within

IntArray = NDArray[np.int_]

_MOST_PAIRS = 1000  # nobody lays out more: judgement


def power_of_pairs(
    pairs: int, difference: float, variation: float, *, level: float = 0.05
) -> float:
    """The chance that so many pairs show a true difference [-], by a two-sided paired t.

    Parameters
    ----------
    pairs : 2 to 1000
    difference : the true difference, share of the mean [-], above 0
    variation : of one strip about its pair's mean level, share of the mean (coefficient of
        variation of a plot) [-], above 0
    level : two-sided level of the test [-], 0.001 to 0.5

    Raises ValueError outside of that. A difference of two plots varies by the square root of 2
    more than one plot; the chance is that of the noncentral t, both tails. Source: J. Cohen,
    Statistical Power Analysis for the Behavioral Sciences, 2nd ed., 1988, ch. 2.
    """
    within(2, _MOST_PAIRS, pairs=pairs)
    positive(difference=difference, variation=variation)
    return power_of_contrast(difference, variation * np.sqrt(2 / pairs), pairs - 1, level=level)


def power_of_contrast(
    difference: float, error: float, degrees: int, *, level: float = 0.05
) -> float:
    """The chance that a trial shows a true difference [-], by a two-sided t.

    Parameters
    ----------
    difference : the true difference, above 0
    error : standard error of the difference that is seen, in the same unit, above 0
    degrees : degrees of freedom of that error, 1 and up
    level : two-sided level of the test [-], 0.001 to 0.5

    Raises ValueError outside of that. The noncentral t, both tails. Source: as for
    :func:`power_of_pairs`.
    """
    within(0.001, 0.5, level=level)
    positive(difference=difference, error=error, degrees=degrees)
    from scipy import stats

    critical = float(stats.t.ppf(1 - level / 2, degrees))
    shift = difference / error
    # far beyond the critical value the noncentral t is 1 to every digit, and slow to say so
    if shift > critical + 40:
        return 1.0
    return _beyond(critical, degrees, shift) + _beyond(critical, degrees, -shift)


def _beyond(critical: float, degrees: int, shift: float) -> float:
    """The chance that a noncentral t lies above ``critical``."""
    from scipy import integrate, stats

    found = float(stats.nct.sf(critical, degrees, shift))
    if np.isfinite(found) and 0 <= found <= 1:
        return found
    # where the library's series fails (one degree of freedom): over the spread that is drawn
    chance, _error = integrate.quad(
        lambda chi: (
            stats.chi.pdf(chi, degrees) * stats.norm.cdf(shift - critical * chi / np.sqrt(degrees))
        ),
        0.0,
        np.inf,
    )
    return float(chance)


def pairs_needed(
    difference: float, variation: float, *, level: float = 0.05, power: float = 0.8
) -> int | None:
    """The least number of pairs that shows a true difference with the given chance.

    Arguments as for :func:`power_of_pairs`; ``power`` from 0.5 to 0.99. None where 1000 pairs
    would not do.
    """
    within(0.5, 0.99, power=power)
    low, high = 2, 2
    while power_of_pairs(high, difference, variation, level=level) < power:
        if high == _MOST_PAIRS:
            return None
        low, high = high, min(2 * high, _MOST_PAIRS)
    while low < high:
        middle = (low + high) // 2
        if power_of_pairs(middle, difference, variation, level=level) >= power:
            high = middle
        else:
            low = middle + 1
    return high


def drawn_order(blocks: int, treatments: int, seed: int) -> IntArray:
    """Which treatment goes to which place of each block, drawn at random: (blocks, treatments).

    The caller gives the seed, so that the layout that was drawn can be drawn again: never draw
    until one pleases. ``blocks`` and ``treatments`` 2 to 100; raises ValueError otherwise.
    """
    within(2, 100, blocks=blocks, treatments=treatments)
    generator = np.random.default_rng(seed)
    places = np.tile(np.arange(treatments), (blocks, 1))
    return np.asarray(generator.permuted(places, axis=1))
