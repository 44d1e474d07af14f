"""Cold that a resting plant counts, warmth that a growing one counts, and hours of heat.

All take hourly temperatures (..., hours), as :mod:`bedwright.climate.hourly` makes them. A missing
hour is NaN and makes the day's or season's sum NaN: it is not counted as zero.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from bedwright.guards import positive, within
from bedwright.reference import Row
from bedwright.working import Source, formula

FloatArray = NDArray[np.float64]
Numbers = float | FloatArray

_PLAIN = ("ratio", "-")
_LEAST_SPREAD = 1e-9  # K, too small to matter and large enough to divide by: judgement
_CHILLR = Source("chillr_077", "", "")
_COLDEST, _HOTTEST = -90.0, 70.0  # C, more than any air has had: judgement
_ZERO_CELSIUS = 273.15  # K, bipm_si_2019 table 4


@dataclass(frozen=True)
class DynamicConstants:
    """Constants of the dynamic model of chill: activation energies and rates of making and
    breaking the intermediate, the slope of its fixing, and the temperature of that slope [K].
    """

    e0: float
    e1: float
    a0: float
    a1: float
    slope: float
    fixing_k: float


@formula(
    "1 for an hour from 0 to 7.2 C, else 0",
    result=_PLAIN,
    sources=(_CHILLR,),
    example={"hourly_c": "5"},
    hourly_c=_PLAIN,
)
def chill_hours(hourly_c: Numbers) -> FloatArray:
    """Chill hours that each hour counts: 1 from 0 to 7.2 C, else 0.

    Parameters
    ----------
    hourly_c : temperature [C], -90 to 70; NaN stays NaN

    Raises ValueError for a temperature that no air has.
    """
    low, high = 0.0, 7.2  # C, chillr_077
    hours = _air(hourly_c)
    return np.where(np.isnan(hours), np.nan, (hours >= low) & (hours <= high))


@formula(
    "0 up to 1.4 C, 0.5 up to 2.4, 1 up to 9.1, 0.5 up to 12.4, 0 up to 15.9, -0.5 up to 18, -1 "
    "above",
    result=_PLAIN,
    sources=(_CHILLR,),
    example={"hourly_c": "10"},
    hourly_c=_PLAIN,
)
def chill_units_utah(hourly_c: Numbers) -> FloatArray:
    """Units of the Utah model that each hour counts, -1 to 1.

    Parameters
    ----------
    hourly_c : temperature [C], -90 to 70; NaN stays NaN

    Raises ValueError for a temperature that no air has.
    """
    limits = np.array([1.4, 2.4, 9.1, 12.4, 15.9, 18.0])  # C, chillr_077
    units = np.array([0.0, 0.5, 1.0, 0.5, 0.0, -0.5, -1.0])
    hours = _air(hourly_c)
    return np.where(np.isnan(hours), np.nan, units[np.searchsorted(limits, hours, side="left")])


def dynamic_constants(rows: Sequence[Row]) -> DynamicConstants:
    """The constants of the dynamic model from ``parameters.csv``. Raises LookupError if absent."""
    found = {row["parameter"]: row.typical() for row in rows if row.used}
    names = [f"chill_dynamic_{each}" for each in ("e0", "e1", "a0", "a1", "slope", "fixing")]
    absent = [name for name in names if name not in found]
    if absent:
        raise LookupError(f"parameters.csv holds no {', '.join(absent)}")
    return DynamicConstants(*(found[name] for name in names))


def chill_portions(hourly_c: Numbers, constants: DynamicConstants) -> FloatArray:
    """Chill portions of the dynamic model, fixed up to each hour (..., hours).

    Parameters
    ----------
    hourly_c : temperature of consecutive hours [C], (..., hours), -90 to 70; from a missing
        hour on the sum is not known and is NaN
    constants : of :func:`dynamic_constants`

    An intermediate is made in cold and broken by warmth; each time it reaches 1 a share that
    grows with warmth above 4 C is fixed as a portion for good. Raises ValueError for a
    temperature that no air has.
    """
    kelvin = _air(hourly_c) + _ZERO_CELSIUS
    bound = constants.a0 / constants.a1 * np.exp((constants.e1 - constants.e0) / kelvin)
    kept = np.exp(-constants.a1 * np.exp(-constants.e1 / kelvin))
    steep = constants.slope * constants.fixing_k * (kelvin - constants.fixing_k) / kelvin
    fixed_share = 1 / (1 + np.exp(-steep))
    portions = np.empty_like(kelvin)
    intermediate = np.zeros(kelvin.shape[:-1])
    total = np.zeros(kelvin.shape[:-1])
    for hour in range(kelvin.shape[-1]):
        level = bound[..., hour]
        intermediate = level - (level - intermediate) * kept[..., hour]
        fixed = np.where(intermediate >= 1, intermediate * fixed_share[..., hour], 0.0)
        total = total + fixed + 0.0 * intermediate
        intermediate = intermediate - fixed
        portions[..., hour] = total
    return portions


def hours_above(hourly_c: Numbers, limit_c: Numbers, *, steps_per_hour: int = 1) -> FloatArray:
    """Hours of the last axis that are warmer than a limit [h]; NaN where one is missing.

    Counted on curves of :mod:`bedwright.climate.hourly` they are 20 to 45 % too many (Winters,
    California, 2008: 41 hours over 35 C measured, 50 to 59 counted).

    Parameters
    ----------
    hourly_c : temperatures [C], (..., steps)
    limit_c : [C], of the shape of the leading axes or one number
    steps_per_hour : of the last axis, 1 and up

    Raises ValueError for an input outside its range.
    """
    positive(steps_per_hour=steps_per_hour)
    hours = _air(hourly_c)
    counted = np.sum(hours > np.asarray(limit_c)[..., None], axis=-1) / steps_per_hour
    return np.where(np.isnan(hours).any(axis=-1), np.nan, counted)


@formula(
    "hours = 24 / pi x acos((limit - mean) / half range), 0 to 24",
    result=("time", "h"),
    sources=(Source("computed", "", "share of a 24-hour sine above a limit"),),
    example={"t_max_c": "38", "t_min_c": "12", "limit_c": "35"},
    t_max_c=_PLAIN,
    t_min_c=_PLAIN,
    limit_c=_PLAIN,
)
def hours_above_sine(t_max_c: Numbers, t_min_c: Numbers, limit_c: Numbers) -> FloatArray:
    """Hours above a limit under a sine through the day's extremes [h]; more than are measured.

    Parameters
    ----------
    t_max_c, t_min_c : extremes of the day [C], maximum not below minimum; NaN stays NaN
    limit_c : [C]

    Raises ValueError where a maximum lies below its minimum.
    """
    high, low = _air(t_max_c), _air(t_min_c)
    spread = np.asarray(high - low)
    within(0, _HOTTEST - _COLDEST, t_max_less_t_min=spread[~np.isnan(spread)])
    half = np.maximum(spread / 2, _LEAST_SPREAD)
    place = np.clip((np.asarray(limit_c) - (high + low) / 2) / half, -1.0, 1.0)
    return np.asarray(24 / np.pi * np.arccos(place))


@formula(
    "from 4 to 25 C: 10.5 (1 + cos(pi + pi (T - 4) / 21)); from 25 to 36 C: 21 (1 + cos(pi / 2 + "
    "pi (T - 25) / 22)); else 0",
    result=_PLAIN,
    sources=(Source("chillr_077", "", "after Anderson et al. 1986"),),
    example={"hourly_c": "20"},
    hourly_c=_PLAIN,
)
def growing_degree_hours(hourly_c: Numbers) -> FloatArray:
    """Growing degree hours that each hour counts [K h], 0 to 21.

    Parameters
    ----------
    hourly_c : temperature [C], -90 to 70; NaN stays NaN

    Raises ValueError for a temperature that no air has.
    """
    base, best, ceiling = 4.0, 25.0, 36.0  # C, chillr_077
    hours = _air(hourly_c)
    rising = (best - base) / 2 * (1 + np.cos(np.pi + np.pi * (hours - base) / (best - base)))
    falling = 1 + np.cos(np.pi / 2 + np.pi / 2 * (hours - best) / (ceiling - best))
    counted = np.where(hours <= best, rising, (best - base) * falling)
    return np.where((hours < base) | (hours > ceiling), 0.0, counted)


def _air(values_c: Numbers) -> FloatArray:
    values = np.asarray(values_c, dtype=np.float64)
    within(_COLDEST, _HOTTEST, temperature_c=values[~np.isnan(values)])
    return values
