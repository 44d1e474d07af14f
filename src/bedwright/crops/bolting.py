"""The risk that a cool crop runs to seed: by cold when grown up, by long days, by heat."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from bedwright.crops.responses import response_trapezoid, share_between
from bedwright.crops.stages import running_total, sum_between

FloatArray = NDArray[np.float64]
_UNKNOWN = (np.nan, np.nan)


@dataclass(frozen=True)
class BoltingRule:
    """What makes a crop bolt. What is not known is NaN and makes no risk.

    ``cold_c``: base, two optima and ceiling of the cold that counts [C]; ``cold_days``: days at
    the best cold for the first and for nearly all plants; ``juvenile_days``: days after planting
    in which cold does not count. ``heat_c`` [C] and ``heat_days``: mean temperature above which
    days count, and how many for the first and for nearly all. ``day_length_h`` [h] and
    ``long_days`` likewise.
    """

    cold_c: tuple[float, float, float, float] | None = None
    cold_days: tuple[float, float] = _UNKNOWN
    juvenile_days: float = 0.0
    heat_c: float = np.nan
    heat_days: tuple[float, float] = _UNKNOWN
    day_length_h: float = np.nan
    long_days: tuple[float, float] = _UNKNOWN


def vernalizing_days(t_mean_c: FloatArray, cold_c: tuple[float, float, float, float]) -> FloatArray:
    """What each day counts toward vernalization, a day at the best cold being 1 [-].

    Parameters
    ----------
    t_mean_c : daily mean [C], (days,)
    cold_c : base, lower and upper optimum, ceiling [C]
    """
    return np.asarray(response_trapezoid(t_mean_c, *cold_c))


def bolting_risk(
    rule: BoltingRule,
    t_mean_c: FloatArray,
    day_length_h: FloatArray | None,
    starts: FloatArray,
    ends: FloatArray,
) -> FloatArray:
    """Share of plants expected to bolt before the harvest [-], 0 to 1: the worst of three causes.

    Parameters
    ----------
    rule : of the crop
    t_mean_c : daily mean of the air [C], (days,)
    day_length_h : hours from sunrise to sunset [h], (days,), or None: long days make no risk
    starts, ends : days of planting and of harvest [index], alike in shape; NaN gives NaN
    """
    risk = np.zeros(np.shape(starts))
    risk[np.isnan(starts) | np.isnan(ends)] = np.nan
    if rule.cold_c is not None:
        units = running_total(vernalizing_days(t_mean_c, rule.cold_c))
        cold = sum_between(units, starts + rule.juvenile_days, ends)
        risk = np.maximum(risk, share_between(cold, *rule.cold_days))
    if not np.isnan(rule.heat_c):
        hot = sum_between(running_total(t_mean_c > rule.heat_c), starts, ends)
        risk = np.maximum(risk, share_between(hot, *rule.heat_days))
    if day_length_h is not None and not np.isnan(rule.day_length_h):
        long = sum_between(running_total(day_length_h > rule.day_length_h), starts, ends)
        risk = np.maximum(risk, share_between(long, *rule.long_days))
    return np.asarray(risk)
