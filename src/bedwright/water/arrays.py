"""Numbers or series of numbers as arrays of one type."""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike, NDArray

FloatArray = NDArray[np.float64]


def floats(values: ArrayLike) -> FloatArray:
    """``values`` as an array of floating point numbers, not copied where they are one already."""
    return np.asarray(values, dtype=np.float64)
