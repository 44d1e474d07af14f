"""When a bulb swells: enough leaf first, then days as long as its type asks for."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from bedwright.crops.stages import day_reached, next_day

FloatArray = NDArray[np.float64]


@dataclass(frozen=True)
class BulbingRule:
    """What a bulb waits for.

    ``day_length_h`` [h]: days from which it swells; ``longest_h`` [h]: set out in days as long as
    that it swells while it is small, NaN where nothing is known of it. ``leaf_heat`` and
    ``bulb_heat`` [degC d], above the crop's base: from planting before anything swells, and from
    the swelling to the harvest. ``ripening_days``: at the end, in which the day no longer counts.
    """

    day_length_h: float
    leaf_heat: float
    bulb_heat: float
    ripening_days: float = 0.0
    longest_h: float = np.nan


def bulb_harvest(
    rule: BulbingRule,
    day_length_h: FloatArray,
    heat: FloatArray,
    starts: FloatArray,
    leafed: Callable[[float], FloatArray],
) -> FloatArray:
    """The day on which bulbs are ready [index], NaN where they never are or stay small.

    Both thresholds, leaf and day, must be passed before a bulb swells (Lancaster and others 1996);
    where days become too short again before it is grown it stops (Steer 1980). One that begins only
    when the days grow shorter stays small (our judgement): it counts as none.

    Parameters
    ----------
    rule : of the crop
    day_length_h : hours from sunrise to sunset [h], (days,)
    heat : running total above the crop's base [degC d], (days + 1,)
    starts : days of planting [index], any shape; NaN gives NaN
    leafed : the day on which so much heat [degC d] has come since planting [index], as ``starts``
    """
    days = day_length_h.size
    long = day_length_h >= rule.day_length_h
    at = np.where(np.isnan(starts), 0, starts).astype(np.int64)
    leaf = leafed(rule.leaf_heat)
    from_day = np.where(np.isnan(leaf), days, leaf).astype(np.int64)
    swells = next_day(long)[from_day].astype(np.float64)
    begins = np.where(swells < days, swells, days - 1).astype(np.int64)
    shorter = np.append(np.diff(day_length_h) < 0, True)[begins]
    ready = day_reached(heat, np.where(swells < days, swells, np.nan), rule.bulb_heat)
    too_short = next_day(~long)[begins]
    with np.errstate(invalid="ignore"):
        grown = ready - rule.ripening_days <= too_short
        small = day_length_h[at] >= rule.longest_h
    return np.where(grown & ~small & ~shorter & ~np.isnan(starts), ready, np.nan)
