"""Ways drawn over whole beds without blocks: their means, and what tells them apart."""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import lru_cache

import numpy as np
from numpy.typing import ArrayLike, NDArray

from bedwright.guards import within
from bedwright.trials.permuted import DRAWN, MOST_COUNTED, ROUNDING, Randomised

FloatArray = NDArray[np.float64]
IntArray = NDArray[np.int_]

_AT_ONCE = 2_000


@dataclass(frozen=True)
class GroupComparison:
    """The one-way analysis of variance of ways that were drawn over plots without blocks.

    ``means`` and ``deviations`` (standard deviations, NaN for a single plot) of the ways, with
    their ``counts`` of plots, (ways,); ``error`` the mean square within ways, with its
    ``degrees_of_freedom``; ``f`` and ``p`` of the ways; ``least`` the least significant
    difference of each two means at ``level``, (ways, ways), 0 on its diagonal; ``p_spreads`` is
    Bartlett's test of whether the ways are equally spread [-], NaN where it can't be made.

    Of two ways ``difference`` is the first less the second, with its ``standard_error``, the
    pooled ``t`` and the confidence ``interval`` at 1 - ``level``; of more they are None.
    """

    counts: tuple[int, ...]
    means: FloatArray
    deviations: FloatArray
    error: float
    degrees_of_freedom: int
    f: float
    p: float
    least: FloatArray
    p_spreads: float
    level: float
    difference: float | None
    standard_error: float | None
    t: float | None
    interval: tuple[float, float] | None


def compare_groups(groups: Sequence[ArrayLike], *, level: float = 0.05) -> GroupComparison:
    """Analyse a completely randomised trial, with as many plots of each way as there were.

    Parameters
    ----------
    groups : readings of each way, each (plots,) of 1 or more; 2 ways or more, and more plots in
        all than ways
    level : two-sided level of the least significant difference and interval [-], 0.001 to 0.5

    Raises ValueError outside of that, for a reading that is not finite, or where the plots of
    every way gave the same. It takes the ways as equally spread: look at ``p_spreads``.

    Source: W. G. Cochran and G. M. Cox, Experimental Designs, 2nd ed., Wiley, 1957, ch. 4; the
    pooled t of two groups: R. A. Fisher, Statistical Methods for Research Workers, 1925, ch. V;
    spreads: M. S. Bartlett, Proceedings of the Royal Society A 160, 1937, p. 268.
    """
    within(0.001, 0.5, level=level)
    values = _groups(groups)
    from scipy import stats

    counts = np.array([each.size for each in values])
    total = int(counts.sum())
    degrees = total - len(values)
    if degrees < 1:
        raise ValueError(f"{total} plots of {len(values)} ways leave no error to judge them by")
    means = np.array([float(each.mean()) for each in values])
    mean = float(counts @ means) / total
    error = sum(float(((each - each.mean()) ** 2).sum()) for each in values) / degrees
    if error <= 1e-24 * max(1.0, mean * mean):
        raise ValueError("the readings leave no error to judge them by")
    f = float(counts @ (means - mean) ** 2) / (len(values) - 1) / error
    critical = float(stats.t.ppf(1 - level / 2, degrees))
    least = critical * np.sqrt(error * (1 / counts[:, None] + 1 / counts[None, :]))
    np.fill_diagonal(least, 0.0)
    difference = off = t = interval = None
    if len(values) == 2:
        difference = float(means[0] - means[1])
        off = float(np.sqrt(error * (1 / counts[0] + 1 / counts[1])))
        t = difference / off
        interval = (difference - critical * off, difference + critical * off)
    return GroupComparison(
        counts=tuple(int(each) for each in counts),
        means=means,
        deviations=np.array(
            [float(each.std(ddof=1)) if each.size > 1 else float("nan") for each in values]
        ),
        error=error,
        degrees_of_freedom=degrees,
        f=f,
        p=float(stats.f.sf(f, len(values) - 1, degrees)),
        least=least,
        p_spreads=_p_spreads(values),
        level=level,
        difference=difference,
        standard_error=off,
        t=t,
        interval=interval,
    )


def randomised_groups(groups: Sequence[ArrayLike], *, seed: int = 0) -> Randomised:
    """The share of the ways in which the plots could have been shared out whose means lie as far
    apart as those seen, had the treatments done nothing.

    Parameters
    ----------
    groups : readings of each way, each (plots,) of 1 or more; 2 ways or more
    seed : for drawing, where there are more than 200,000 divisions to count out

    How far apart is the sum of squares between ways, which orders divisions as F does, and those
    of two ways as the difference of their means does. A drawn p counts the one seen as well, so
    that it is never 0. Raises ValueError outside of that.

    Source: E. J. G. Pitman, Significance tests which may be applied to samples from any
    populations, Supplement to the Journal of the Royal Statistical Society 4, 1937, p. 119.
    """
    values = _groups(groups)
    counts = [each.size for each in values]
    pooled = np.concatenate(values)
    pooled = pooled - pooled.mean()
    sums = np.array([part.sum() for part in np.split(pooled, np.cumsum(counts)[:-1])])
    seen = float((sums**2 / counts).sum()) - ROUNDING * float((pooled**2).sum())
    divisions = _divisions(counts)
    if divisions <= MOST_COUNTED:
        # smallest way first: the last two are divided at once, so loops are fewest
        far = sum(
            int((each >= seen).sum())
            for each in _counted(pooled, np.arange(pooled.size), sorted(counts))
        )
        return Randomised(far / divisions, True, divisions)
    generator = np.random.default_rng(seed)
    starts = np.concatenate([[0], np.cumsum(counts)[:-1]])
    far = 0
    for _ in range(DRAWN // _AT_ONCE):
        drawn = generator.permuted(np.broadcast_to(pooled, (_AT_ONCE, pooled.size)), axis=1)
        between = (np.add.reduceat(drawn, starts, axis=1) ** 2 / np.array(counts)).sum(axis=1)
        far += int((between >= seen).sum())
    return Randomised((far + 1) / (DRAWN + 1), False, DRAWN)


def least_p_of_groups(counts: Sequence[int]) -> float:
    """The least p that the randomisation test of so many plots of each way can give [-].

    ``counts`` are plots of each way, 1 or more each, 2 ways or more; raises ValueError otherwise.
    Divisions that only turn over the names of ways with as many plots lie as far apart, and
    count together: two ways of five plots each have 252 divisions, and p is 2/252 at least.
    """
    if len(counts) < 2 or min(counts) < 1:
        raise ValueError(f"plots of each way {list(counts)}; give 2 ways, each with 1 or more")
    alike = math.prod(math.factorial(list(counts).count(each)) for each in set(counts))
    return alike / _divisions(counts)


def drawn_over(counts: Sequence[int], seed: int) -> IntArray:
    """Which way goes to which plot, drawn at random over all of them: (plots,).

    ``counts`` are plots of each way, 1 to 1000 in all. The caller gives the seed, so that the
    layout that was drawn can be drawn again: never draw until one pleases.
    """
    within(1, 1000, plots=sum(counts))
    return np.asarray(
        np.random.default_rng(seed).permutation(np.repeat(np.arange(len(counts)), counts))
    )


def _groups(groups: Sequence[ArrayLike]) -> list[FloatArray]:
    values = [np.asarray(each, dtype=np.float64) for each in groups]
    if len(values) < 2 or any(each.ndim != 1 or each.size < 1 for each in values):
        raise ValueError("give 2 ways or more, each with 1 reading or more")
    if not all(np.isfinite(each).all() for each in values):
        raise ValueError("a reading is missing or not finite: leave its plot out")
    return values


def _p_spreads(values: Sequence[FloatArray]) -> float:
    if any(each.size < 2 or float(each.var()) == 0 for each in values):
        return float("nan")
    from scipy import stats

    found = float(stats.bartlett(*values).pvalue)
    # of spreads that are all alike the library's rounding may leave a statistic below 0, and no p
    return 1.0 if np.isnan(found) else found


def _divisions(counts: Sequence[int]) -> int:
    found, left = 1, sum(counts)
    for each in counts:
        found *= math.comb(left, each)
        left -= each
    return found


def _counted(
    values: FloatArray, left: IntArray, counts: Sequence[int], before: float = 0.0
) -> Iterator[FloatArray]:
    """Sums of squares between ways of every division of what is ``left``, in parts."""
    if len(counts) == 2:
        held = values[left]
        first = held[_choices(left.size, counts[0])].sum(axis=1)
        yield before + first**2 / counts[0] + (held.sum() - first) ** 2 / counts[1]
        return
    for chosen in _choices(left.size, counts[0]):
        square = float(values[left[chosen]].sum()) ** 2 / counts[0]
        yield from _counted(values, np.delete(left, chosen), counts[1:], before + square)


@lru_cache(maxsize=64)
def _choices(size: int, chosen: int) -> IntArray:
    return np.array(list(itertools.combinations(range(size), chosen)))
