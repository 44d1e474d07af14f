"""The randomisation test of a trial in complete blocks: what the drawing alone could have done."""

from __future__ import annotations

import itertools
import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

FloatArray = NDArray[np.float64]

MOST_COUNTED = 200_000  # arrangements counted out one by one; beyond it they are drawn
DRAWN = 20_000
_AT_ONCE = 20_000
ROUNDING = 1e-9  # of what could be seen at most: what differs by less is one


@dataclass(frozen=True)
class Randomised:
    """The p of a randomisation test [-], whether all arrangements were counted, and how many."""

    p: float
    exact: bool
    arrangements: int


def randomised_blocks(readings: ArrayLike, *, seed: int = 0) -> Randomised:
    """The share of the ways the treatments could have been laid within their blocks whose means
    lie as far apart as those seen, had the treatments done nothing.

    Parameters
    ----------
    readings : (blocks, treatments), 2 or more of each, none missing
    seed : for drawing, where there are more than 200,000 arrangements to count out

    How far apart is the sum of squares between treatments, which orders arrangements as F does:
    the total of a block stays what it is. A drawn p counts the one seen as well, so that it is
    never 0. Raises ValueError for another shape or a missing reading.

    Source: O. Kempthorne, The Design and Analysis of Experiments, Wiley, 1952, ch. 8.
    """
    values = np.asarray(readings, dtype=np.float64)
    if values.ndim != 2 or min(values.shape) < 2:
        raise ValueError(f"readings of shape {values.shape}; give 2 blocks and treatments or more")
    if not np.isfinite(values).all():
        raise ValueError("a reading is missing: a block must hold all treatments, or be left out")
    blocks, treatments = values.shape
    values = values - values.mean(axis=1, keepdims=True)
    # of what could lie apart at most, so that means all alike are no farther apart than any
    rounding = ROUNDING * blocks * float((values**2).sum())
    seen = float((values.sum(axis=0) ** 2).sum()) - rounding
    # the first block may stay as it lies: only which readings come together counts
    ways = math.factorial(treatments) ** (blocks - 1)
    if ways <= MOST_COUNTED:
        return Randomised(_counted(values, seen) / ways, True, ways)
    generator = np.random.default_rng(seed)
    drawn = np.broadcast_to(values, (DRAWN, blocks, treatments))
    sums = generator.permuted(drawn, axis=2).sum(axis=1)
    far = int(((sums**2).sum(axis=1) >= seen).sum())
    return Randomised((far + 1) / (DRAWN + 1), False, DRAWN)


def _counted(values: FloatArray, seen: float) -> int:
    orders = np.array(list(itertools.permutations(range(values.shape[1]))))
    sums = values[:1].copy()
    for block in values[1:]:
        sums = (sums[:, None, :] + block[orders][None, :, :]).reshape(-1, values.shape[1])
    found = 0
    for start in range(0, len(sums), _AT_ONCE):
        part = (sums[start : start + _AT_ONCE] ** 2).sum(axis=1)
        found += int((part >= seen).sum())
    return found
