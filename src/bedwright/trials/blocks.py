"""Several ways in blocks that each hold all of them: means, and what tells them apart."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from bedwright.guards import within

FloatArray = NDArray[np.float64]


@dataclass(frozen=True)
class BlockComparison:
    """The analysis of variance of a trial in complete blocks.

    ``means`` of the treatments, (treatments,); ``error`` the mean square of the error with its
    ``degrees_of_freedom``; ``f`` and ``p`` of the treatments, ``f_blocks`` of the blocks;
    ``least`` the least significant difference of two means at ``level``; ``variation`` the
    coefficient of variation [-], NaN where the mean of all is not above 0.
    """

    means: FloatArray
    blocks: int
    error: float
    degrees_of_freedom: int
    f: float
    p: float
    f_blocks: float
    least: float
    level: float
    variation: float


def compare_in_blocks(readings: ArrayLike, *, level: float = 0.05) -> BlockComparison:
    """Analyse a trial in randomised complete blocks.

    Parameters
    ----------
    readings : (blocks, treatments), 2 or more of each, none missing
    level : two-sided level of the least significant difference [-], 0.001 to 0.5

    Raises ValueError for another shape, a missing reading, or readings without any error.

    Source: W. G. Cochran and G. M. Cox, Experimental Designs, 2nd ed., Wiley, 1957, ch. 4.
    """
    within(0.001, 0.5, level=level)
    values = np.asarray(readings, dtype=np.float64)
    if values.ndim != 2 or min(values.shape) < 2:
        raise ValueError(
            f"readings of shape {values.shape}; give 2 blocks and 2 treatments or more"
        )
    if not np.isfinite(values).all():
        raise ValueError("a reading is missing: a block must hold all treatments, or be left out")
    from scipy import stats

    blocks, treatments = values.shape
    mean = float(values.mean())
    by_treatment, by_block = values.mean(axis=0), values.mean(axis=1)
    left = values - by_treatment[None, :] - by_block[:, None] + mean
    degrees = (blocks - 1) * (treatments - 1)
    error = float((left**2).sum()) / degrees
    if error <= 1e-24 * max(1.0, mean * mean):
        raise ValueError("the readings leave no error to judge them by")
    square = blocks * float(((by_treatment - mean) ** 2).sum()) / (treatments - 1)
    square_blocks = treatments * float(((by_block - mean) ** 2).sum()) / (blocks - 1)
    critical = float(stats.t.ppf(1 - level / 2, degrees))
    return BlockComparison(
        means=np.asarray(by_treatment),
        blocks=blocks,
        error=error,
        degrees_of_freedom=degrees,
        f=square / error,
        p=float(stats.f.sf(square / error, treatments - 1, degrees)),
        f_blocks=square_blocks / error,
        least=critical * float(np.sqrt(2 * error / blocks)),
        level=level,
        variation=float(np.sqrt(error)) / mean if mean > 0 else float("nan"),
    )
