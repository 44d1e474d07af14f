"""Degree days from daily extremes: averages, triangles and sines, with upper cut-offs.

The warmth above the lower limit in a day is its mean over a curve drawn through the extremes.
``AVERAGE`` takes the mean first and clips it; ``AVERAGE_CLIPPED`` clips the extremes first: the
two readings of one printed formula that McMaster and Wilhelm (1997) tell apart. Double methods
draw the afternoon down to the next day's minimum.

An upper limit cuts in one of three ways: ``HORIZONTAL`` (warmth above it counts as much as the
limit), ``INTERMEDIATE`` (what is above is taken off once more), ``VERTICAL`` (hours above do not
count at all). A horizontal cut suits the timing of crops; heat that harms is counted apart.
"""

from __future__ import annotations

from collections.abc import Callable
from enum import StrEnum
from typing import Any

import numpy as np
from numpy.typing import NDArray

from bedwright.working import Source, formula

FloatArray = NDArray[np.float64]
Numbers = float | FloatArray

_PLAIN = ("ratio", "-")
_LEAST_SPREAD = 1e-9  # K, too small to matter and large enough to divide by: judgement
_ZALOM = Source("zalom_1983", "Table 7", "single triangle and sine, horizontal cut-off")
_MCMASTER = Source("mcmaster_wilhelm_1997", "Table 1", "the two readings")
_EXAMPLE = {"t_max_c": "30", "t_min_c": "10", "lower_c": "12"}
_INPUTS = {"t_max_c": _PLAIN, "t_min_c": _PLAIN, "lower_c": _PLAIN}


class Method(StrEnum):
    """How a day's warmth is drawn from its extremes."""

    AVERAGE = "average"
    AVERAGE_CLIPPED = "average_clipped"
    TRIANGLE = "triangle"
    DOUBLE_TRIANGLE = "double_triangle"
    SINE = "sine"
    DOUBLE_SINE = "double_sine"


class CutOff(StrEnum):
    """What warmth above the upper limit is worth."""

    HORIZONTAL = "horizontal"
    INTERMEDIATE = "intermediate"
    VERTICAL = "vertical"


_DOUBLE = {Method.DOUBLE_TRIANGLE: Method.TRIANGLE, Method.DOUBLE_SINE: Method.SINE}


@formula(
    "degree days = (maximum + minimum) / 2 - lower limit, not below 0",
    result=_PLAIN,
    sources=(_MCMASTER,),
    example=_EXAMPLE,
    **_INPUTS,
)
def degree_days_average(t_max_c: Numbers, t_min_c: Numbers, lower_c: Numbers) -> FloatArray:
    """Degree days of a day by its mean, clipped after averaging [K d].

    Parameters
    ----------
    t_max_c, t_min_c : extremes of the day [C], maximum not below minimum; NaN stays NaN
    lower_c : lower limit [C]

    Raises ValueError where a maximum lies below its minimum.
    """
    high, low = _extremes(t_max_c, t_min_c)
    return np.asarray(np.maximum((high + low) / 2 - lower_c, 0.0))


@formula(
    "degree days = (maximum + minimum) / 2 - lower limit, each extreme first raised to the limit",
    result=_PLAIN,
    sources=(_MCMASTER,),
    example=_EXAMPLE,
    **_INPUTS,
)
def degree_days_average_clipped(t_max_c: Numbers, t_min_c: Numbers, lower_c: Numbers) -> FloatArray:
    """Degree days of a day by its mean, the extremes clipped before averaging [K d].

    Parameters
    ----------
    t_max_c, t_min_c : extremes of the day [C], maximum not below minimum; NaN stays NaN
    lower_c : lower limit [C]

    Raises ValueError where a maximum lies below its minimum.
    """
    high, low = _extremes(t_max_c, t_min_c)
    return np.asarray((np.maximum(high, lower_c) + np.maximum(low, lower_c)) / 2 - lower_c)


@formula(
    "degree days = (maximum - lower limit)^2 / (2 (maximum - minimum)) where the limit lies "
    "between the extremes; mean - limit where it lies below; 0 where it lies above",
    result=_PLAIN,
    sources=(_ZALOM,),
    example=_EXAMPLE,
    **_INPUTS,
)
def degree_days_triangle(t_max_c: Numbers, t_min_c: Numbers, lower_c: Numbers) -> FloatArray:
    """Degree days of a day under a triangle through its extremes [K d].

    Parameters
    ----------
    t_max_c, t_min_c : extremes of the day [C], maximum not below minimum; NaN stays NaN
    lower_c : lower limit [C]

    Raises ValueError where a maximum lies below its minimum.
    """
    high, low = _extremes(t_max_c, t_min_c)
    between = np.maximum(high - lower_c, 0.0) ** 2 / (2 * _spread(high, low))
    return np.asarray(np.where(low >= lower_c, (high + low) / 2 - lower_c, between))


@formula(
    "degree days = ((mean - lower limit) (pi / 2 - theta) + half range x cos theta) / pi, "
    "theta = asin((lower limit - mean) / half range), where the limit lies between the extremes; "
    "mean - limit where it lies below; 0 where it lies above",
    result=_PLAIN,
    sources=(_ZALOM,),
    example=_EXAMPLE,
    **_INPUTS,
)
def degree_days_sine(t_max_c: Numbers, t_min_c: Numbers, lower_c: Numbers) -> FloatArray:
    """Degree days of a day under a sine through its extremes [K d].

    Parameters
    ----------
    t_max_c, t_min_c : extremes of the day [C], maximum not below minimum; NaN stays NaN
    lower_c : lower limit [C]

    Raises ValueError where a maximum lies below its minimum.
    """
    high, low = _extremes(t_max_c, t_min_c)
    mean, half = (high + low) / 2, _spread(high, low) / 2
    theta = np.arcsin(np.clip((lower_c - mean) / half, -1.0, 1.0))
    between = ((mean - lower_c) * (np.pi / 2 - theta) + half * np.cos(theta)) / np.pi
    above = np.where(low >= lower_c, mean - lower_c, np.maximum(between, 0.0))
    return np.asarray(np.where(high <= lower_c, high * 0.0, above))


def degree_days(
    t_max_c: Numbers,
    t_min_c: Numbers,
    *,
    lower_c: Numbers,
    upper_c: Numbers | None = None,
    method: Method | str = Method.SINE,
    cut_off: CutOff | str = CutOff.HORIZONTAL,
    t_min_next_c: Numbers | None = None,
) -> FloatArray:
    """Degree days of each day [K d], in the shape of the extremes: (days,), (years, days), ...

    Parameters
    ----------
    t_max_c, t_min_c : extremes of each day [C], maximum not below minimum; a missing day is NaN
        and stays NaN
    lower_c : lower limit [C]
    upper_c : upper limit [C], above the lower one; none without
    method : one of :class:`Method`
    cut_off : one of :class:`CutOff`, for the upper limit; the averages know only the horizontal
    t_min_next_c : minimum of the next day [C], for the double methods: :func:`next_minimum`

    Raises ValueError for an unknown method or cut-off, extremes or limits in the wrong order, a
    double method without the next minimum, an average with a cut-off that it does not know.
    """
    way, cut = Method(method), CutOff(cut_off)
    high, low = _extremes(t_max_c, t_min_c)
    if upper_c is not None and not np.all(np.asarray(upper_c) > np.asarray(lower_c)):
        raise ValueError(f"upper_c is {upper_c}; it must be more than lower_c, {lower_c}")
    if way in _DOUBLE:
        if t_min_next_c is None:
            raise ValueError(f"{way} needs t_min_next_c, the minimum of the next day")
        after = np.asarray(t_min_next_c, dtype=np.float64)
        # a night may be warmer than the day after it was: its half day then has no spread
        halves = (_single(high, each, lower_c, upper_c, _DOUBLE[way], cut) for each in (low, after))
        return np.asarray(sum(halves) / 2)
    return _single(high, low, lower_c, upper_c, way, cut)


def next_minimum(t_min_c: Numbers) -> FloatArray:
    """Each day's next minimum [C] along the last axis; of the last day it is not known: NaN."""
    low = np.asarray(t_min_c, dtype=np.float64)
    return np.concatenate([low[..., 1:], np.full_like(low[..., :1], np.nan)], axis=-1)


def heat_units_reduced_ceiling(
    t_max_c: Numbers, *, base_c: Numbers, ceiling_c: Numbers
) -> FloatArray:
    """Heat units of the maximum alone, a maximum above the ceiling mirrored down from it [K d].

    Parameters
    ----------
    t_max_c : maximum of the day [C]; NaN stays NaN
    base_c : base [C]
    ceiling_c : from which more heat counts less [C], above the base

    For cucumber 15.5 and 32 C (Perry and Wehner 1996). Raises ValueError for limits in the wrong
    order.
    """
    if not np.all(np.asarray(ceiling_c) > np.asarray(base_c)):
        raise ValueError(f"ceiling_c is {ceiling_c}; it must be more than base_c, {base_c}")
    high = np.asarray(t_max_c, dtype=np.float64)
    felt = np.where(high > ceiling_c, 2 * np.asarray(ceiling_c) - high, high)
    return np.asarray(np.maximum(felt - base_c, 0.0))


def _single(
    high: FloatArray,
    low: FloatArray,
    lower_c: Numbers,
    upper_c: Numbers | None,
    method: Method,
    cut_off: CutOff,
) -> FloatArray:
    low = np.minimum(low, high)
    lower = np.asarray(lower_c, dtype=np.float64)
    above: dict[Method, Callable[[Any, Any, Any], FloatArray]] = {
        Method.AVERAGE: degree_days_average,
        Method.AVERAGE_CLIPPED: degree_days_average_clipped,
        Method.TRIANGLE: degree_days_triangle,
        Method.SINE: degree_days_sine,
    }
    if upper_c is None:
        return above[method](high, low, lower)
    upper = np.asarray(upper_c, dtype=np.float64)
    if method in (Method.AVERAGE, Method.AVERAGE_CLIPPED) and cut_off is not CutOff.HORIZONTAL:
        raise ValueError(f"{method} knows only the horizontal cut-off, not {cut_off}")
    if method is Method.AVERAGE_CLIPPED:
        return above[method](np.minimum(high, upper), np.minimum(low, upper), lower)
    under, over = above[method](high, low, lower), above[method](high, low, upper)
    if cut_off is CutOff.HORIZONTAL:
        return under - over
    if cut_off is CutOff.INTERMEDIATE:
        return under - 2 * over
    return np.asarray(under - over - (upper - lower) * _share_above(high, low, upper, method))


def _share_above(
    high: FloatArray, low: FloatArray, limit: FloatArray, method: Method
) -> FloatArray:
    """Share of the day above a limit, under a triangle or a sine."""
    spread = _spread(high, low)
    if method is Method.TRIANGLE:
        share = (high - limit) / spread
    else:
        half = spread / 2
        share = 0.5 - np.arcsin(np.clip((limit - (high + low) / 2) / half, -1.0, 1.0)) / np.pi
    share = np.where(low >= limit, 1.0, np.where(high <= limit, 0.0, share))
    return np.asarray(np.clip(share, 0.0, 1.0) + 0.0 * (high + low))


def _extremes(t_max_c: Numbers, t_min_c: Numbers) -> tuple[FloatArray, FloatArray]:
    high, low = np.asarray(t_max_c, dtype=np.float64), np.asarray(t_min_c, dtype=np.float64)
    below = low - high
    if np.any(below > 0):
        raise ValueError(f"t_max_c lies {np.nanmax(below):g} below t_min_c; it must not")
    return high, low


def _spread(high: FloatArray, low: FloatArray) -> FloatArray:
    """Maximum less minimum, a day without a range given one that is too small to matter."""
    return np.maximum(high - low, _LEAST_SPREAD)
