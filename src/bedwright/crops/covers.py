"""Cover crops: the night that ends one, and how long its remains keep a bed from the next crop."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from bedwright.crops.frost_damage import FrostAhead
from bedwright.crops.timing_tables import TimingTables
from bedwright.guards import positive

FloatArray = NDArray[np.float64]

# Carbon to Nitrogen Ratios in Cropping Systems (USDA NRCS, 2011): what rots is fed in full at 24;
# above about 30 it ties nitrogen up (Purdue University, Vegetable Crops Hotline). Beside them a
# legume dug in green, at 17 and less, feeds at once: 20 is taken as the middle.
_LOW_C_TO_N, _HIGH_C_TO_N = 20.0, 30.0


def killed_on(
    t_min_c: FloatArray, kill_c: float, starts: FloatArray, ends: FloatArray
) -> FloatArray:
    """The first night that kills a cover before its end [index], NaN where it lives to it.

    Parameters
    ----------
    t_min_c : night's minimum [C], (days,)
    kill_c : killing minimum [C]; NaN where it is not known: nothing kills
    starts, ends : its first and last day [index], alike in shape
    """
    night = FrostAhead.of(t_min_c, kill_c, 0.0).first(starts, starts)
    return np.where(night <= ends, night, np.nan)


def wait_after(tables: TimingTables, crop: str, c_to_n: float | None, *, dead: bool) -> float:
    """Days from the end of a cover to the next crop.

    Parameters
    ----------
    tables : rows ``wait_after``: a cover's own go before those of every crop, which are by what
        the remains hold
    crop : key of the cover
    c_to_n : carbon to nitrogen of its remains [-], above 0; None where not known
    dead : killed by the winter, and not dug in green
    """
    if dead:
        return tables.days(crop, "wait_after", condition="dead")
    if (crop, "wait_after", "") in tables.facts or c_to_n is None:
        return tables.days(crop, "wait_after")
    positive(c_to_n=c_to_n)
    condition = "low_c_to_n" if c_to_n <= _LOW_C_TO_N else ""
    condition = "high_c_to_n" if c_to_n > _HIGH_C_TO_N else condition
    return tables.days(crop, "wait_after", condition=condition)
