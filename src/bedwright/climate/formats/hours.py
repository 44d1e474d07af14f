"""Readings several times a day reduced to days."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from bedwright.climate.record import FloatArray, IntArray

_MINUTES = 1440


@dataclass(frozen=True, eq=False)
class Reduced:
    """One value per day for one element; days with too few readings left out and counted."""

    days: IntArray
    values: FloatArray
    too_few: int


def readings_per_day(days: IntArray, minutes: IntArray) -> int:
    """How many readings a whole day has, by the commonest step between them.

    Parameters
    ----------
    days : the day of each reading [day number]
    minutes : its time of day [min]
    """
    moments = np.unique(days * _MINUTES + minutes)
    steps = np.diff(moments)
    if not len(steps):
        return 1
    step = int(np.bincount(steps[steps <= _MINUTES]).argmax()) if np.any(steps <= _MINUTES) else 0
    return max(round(_MINUTES / step), 1) if step else 1


def reduced(
    days: IntArray, values: FloatArray, how: str, readings: int, least_share: float
) -> Reduced:
    """The highest, lowest, mean or sum of each day's readings.

    Parameters
    ----------
    days : the day of each reading [day number]
    values : the readings [any unit], NaN where missing
    how : "max", "min", "mean" or "sum"; a sum needs every reading of the day
    readings : how many readings a whole day has, 1 and up
    least_share : the share of them that a highest, lowest or mean needs, 0 to 1
    """
    known = ~np.isnan(values)
    days, values = days[known], values[known]
    if not len(days):
        return Reduced(days, values, 0)
    order = np.argsort(days, kind="stable")
    days, values = days[order], values[order]
    starts = np.flatnonzero(np.concatenate(([True], days[1:] != days[:-1])))
    counts = np.diff(np.concatenate((starts, [len(days)])))
    if how == "max":
        made = np.maximum.reduceat(values, starts)
    elif how == "min":
        made = np.minimum.reduceat(values, starts)
    else:
        made = np.add.reduceat(values, starts)
        made = made / counts if how == "mean" else made
    least = readings if how == "sum" else np.ceil(readings * least_share)
    enough = counts >= least
    return Reduced(days[starts][enough], made[enough], int(np.sum(~enough)))
