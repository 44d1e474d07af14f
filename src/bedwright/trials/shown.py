"""What so many pairs or blocks can show at all, before anything is sown."""

from __future__ import annotations

import math
from collections.abc import Callable

from bedwright.guards import positive, within
from bedwright.trials.design import power_of_contrast, power_of_pairs
from bedwright.working import Source, formula

_COUNT = ("ratio", "-")
_SHARE = ("ratio", "-")
_COHEN = Source("cohen_1988", "ch. 2", "paired t, noncentral")
_FISHER = Source("fisher_1935", "section 21")
_MOST = 50.0  # times the mean: no difference of two plots is larger


@formula(
    "the difference at which a two-sided paired t of n pairs has the wanted chance",
    result=_SHARE,
    sources=(_COHEN,),
    example={"pairs": "6", "variation": "0.1"},
    pairs=_COUNT,
    variation=_SHARE,
)
def difference_shown(
    pairs: float, variation: float, *, level: float = 0.05, power: float = 0.8
) -> float:
    """The least true difference that so many pairs show, as a share of the mean [-].

    Parameters
    ----------
    pairs : 2 to 1000
    variation : of one plot about its pair's level, as a share of the mean [-], above 0, at most 1
    level : two-sided level of the test [-], 0.001 to 0.5
    power : the chance with which it is shown [-], 0.5 to 0.99

    Raises ValueError outside of that. It solves :func:`power_of_pairs` for the difference.
    Source: J. Cohen, Statistical Power Analysis for the Behavioral Sciences, 2nd ed., 1988, ch. 2.
    """
    positive(variation=variation)
    within(0, 1, variation=variation)
    count = round(pairs)
    return _solved(
        lambda difference: power_of_pairs(count, difference, variation, level=level),
        variation,
        power,
    )


def contrast_shown(error: float, degrees: int, *, level: float = 0.05, power: float = 0.8) -> float:
    """The least true difference that a trial shows with the given chance.

    Arguments as for :func:`~bedwright.trials.design.power_of_contrast`; ``power`` from 0.5 to
    0.99. It is in the unit of ``error``, the standard error of the difference.
    """
    positive(error=error)
    return _solved(
        lambda difference: power_of_contrast(difference, error, degrees, level=level), error, power
    )


def _solved(chance: Callable[[float], float], scale: float, power: float) -> float:
    """The difference that has this chance; ``scale`` is about its size."""
    within(0.5, 0.99, power=power)
    from scipy.optimize import brentq

    high = scale
    while chance(high) < power and high < _MOST * 64:
        high *= 2
    return float(brentq(lambda difference: chance(difference) - power, scale * 1e-6, high,
                        xtol=1e-9))  # fmt: skip


@formula(
    "least p = 2 / 2^n",
    result=_COUNT,
    sources=(_FISHER,),
    example={"pairs": "5"},
    pairs=_COUNT,
)
def least_p_of_pairs(pairs: float) -> float:
    """The least two-sided p that the randomisation test of so many pairs can give [-].

    ``pairs`` from 1 to 40; raises ValueError otherwise. With all differences of one sign, two of
    the 2^n ways lie as far out as the one seen. Source: R. A. Fisher, The Design of Experiments,
    1935, section 21.
    """
    within(1, 40, pairs=pairs)
    return float(2.0 / 2.0 ** round(pairs))


def least_p_of_blocks(blocks: int, ways: int) -> float:
    """The least p that the randomisation test of blocks can give [-]: ways that can't be told
    apart once names are turned over count together, so it is t! of the (t!)^r."""
    within(1, 40, blocks=blocks)
    within(2, 8, ways=ways)
    return float(1.0 / math.factorial(ways) ** (blocks - 1))
