"""Hourly temperatures from daily extremes, with the day's own sunrise and sunset.

Three published curves: a sine by day and then a logarithm (Linvill 1990), an exponential that
reaches the next minimum (Goudriaan and van Laar 1994), or an exponential that comes near it
(Parton and Logan 1981). All give back the day's maximum; the first two its minimum at sunrise and
the next one at the next sunrise. Against 6000 measured hours in Winters, California, Linvill's
curve was off by 1.5 to 1.6 C; it is too broad at the top, so hours over a heat limit come out 20
to 45 % too many.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from bedwright.guards import within
from bedwright.reference import Row
from bedwright.working import Source, formula

FloatArray = NDArray[np.float64]
Numbers = float | FloatArray

_PLAIN = ("ratio", "-")
_HOURS = ("time", "h")
_INPUTS = {
    "hour_h": _HOURS,
    "t_max_c": _PLAIN,
    "t_min_c": _PLAIN,
    "t_min_next_c": _PLAIN,
    "sunrise_h": _HOURS,
    "sunset_h": _HOURS,
}
_EXAMPLE = {
    "hour_h": "20 h",
    "t_max_c": "38",
    "t_min_c": "12",
    "t_min_next_c": "14",
    "sunrise_h": "5.5 h",
    "sunset_h": "19 h",
}
_LINVILL_LAG = 4.0  # h by which the sine is longer than the day, linvill_1990
_GOUDRIAAN_LAG, _GOUDRIAAN_DECAY = 1.5, 4.0  # h, goudriaan_van_laar_1994


@dataclass(frozen=True)
class PartonLogan:
    """Parameters of the curve of Parton and Logan (1981).

    ``max_lag_h`` of the maximum behind noon, ``min_lag_h`` of the minimum behind sunrise,
    ``night_decay`` of the exponential [-]. Documents that list them as alpha, beta, gamma mix the
    last two up.
    """

    max_lag_h: float
    min_lag_h: float
    night_decay: float


@formula(
    "by day: minimum + (maximum - minimum) sin(pi (hour - sunrise) / (day length + 4)); after "
    "sunset: T at sunset - (T at sunset - next minimum) / ln(night + 1) x ln(hours since sunset "
    "+ 1)",
    result=_PLAIN,
    sources=(Source("linvill_1990", "", "as carried by chillR"),),
    example=_EXAMPLE,
    **_INPUTS,
)
def temperature_linvill_1990(
    hour_h: Numbers,
    t_max_c: Numbers,
    t_min_c: Numbers,
    t_min_next_c: Numbers,
    sunrise_h: Numbers,
    sunset_h: Numbers,
) -> FloatArray:
    """Temperature at an hour from this day's sunrise to the next [C].

    Parameters
    ----------
    hour_h : after midnight of the day [h], sunrise to sunrise + 24; after midnight it goes on
        counting: 26 is two o'clock of the next morning
    t_max_c, t_min_c : extremes of the day [C], maximum not below minimum; NaN stays NaN
    t_min_next_c : minimum of the next day [C], not above the maximum
    sunrise_h, sunset_h : of the day [h], more than 4 h apart

    Raises ValueError for an input outside its range.
    """
    hour, high, low, after, rise, set_ = _checked(
        hour_h, t_max_c, t_min_c, t_min_next_c, sunrise_h, sunset_h
    )
    length = set_ - rise

    def by_day(at: FloatArray) -> FloatArray:
        return low + (high - low) * np.sin(np.pi * (at - rise) / (length + _LINVILL_LAG))

    dusk = by_day(set_)
    fall = np.log(np.maximum(hour - set_, 0.0) + 1) / np.log(24 - length + 1)
    return np.where(hour <= set_, by_day(hour), dusk - (dusk - after) * fall)


@formula(
    "by day: minimum + (maximum - minimum) sin(pi (hour - sunrise) / (day length + 3)), after the "
    "maximum with the next minimum; after sunset: (next minimum - T at sunset exp(-night / 4) + "
    "(T at sunset - next minimum) exp(-hours since sunset / 4)) / (1 - exp(-night / 4))",
    result=_PLAIN,
    sources=(Source("goudriaan_van_laar_1994", "", "as carried by public code"),),
    example=_EXAMPLE,
    **_INPUTS,
)
def temperature_goudriaan_van_laar_1994(
    hour_h: Numbers,
    t_max_c: Numbers,
    t_min_c: Numbers,
    t_min_next_c: Numbers,
    sunrise_h: Numbers,
    sunset_h: Numbers,
) -> FloatArray:
    """Temperature at an hour from this day's sunrise to the next [C], falling exponentially.

    Parameters
    ----------
    hour_h : after midnight of the day [h], sunrise to sunrise + 24
    t_max_c, t_min_c : extremes of the day [C], maximum not below minimum; NaN stays NaN
    t_min_next_c : minimum of the next day [C], not above the maximum
    sunrise_h, sunset_h : of the day [h], more than 4 h apart

    Raises ValueError for an input outside its range.
    """
    hour, high, low, after, rise, set_ = _checked(
        hour_h, t_max_c, t_min_c, t_min_next_c, sunrise_h, sunset_h
    )
    length = set_ - rise
    top = rise + length / 2 + _GOUDRIAAN_LAG

    def by_day(at: FloatArray) -> FloatArray:
        wave = np.sin(np.pi * (at - rise) / (length + 2 * _GOUDRIAAN_LAG))
        bottom = np.where(at <= top, low, after)
        return np.asarray(bottom + (high - bottom) * wave)

    dusk = by_day(set_)
    left = np.exp(-np.maximum(hour - set_, 0.0) / _GOUDRIAAN_DECAY)
    end = np.exp(-(24 - length) / _GOUDRIAAN_DECAY)
    night = (after - dusk * end + (dusk - after) * left) / (1 - end)
    return np.where(hour <= set_, by_day(hour), night)


def temperature_parton_logan_1981(
    hour_h: Numbers,
    t_max_c: Numbers,
    t_min_c: Numbers,
    t_min_next_c: Numbers,
    sunrise_h: Numbers,
    sunset_h: Numbers,
    parameters: PartonLogan,
) -> FloatArray:
    """Temperature at an hour from this day's minimum to the next [C], as published.

    The exponential ends a little above the next minimum and jumps down to it at the hour of the
    minimum: a share exp(-night decay) of the fall from sunset is missing.

    Parameters
    ----------
    hour_h : after midnight of the day [h], sunrise to sunrise + 24; held between this day's
        minimum (sunrise + lag) and the next
    t_max_c, t_min_c : extremes of the day [C], maximum not below minimum; NaN stays NaN
    t_min_next_c : minimum of the next day [C], not above the maximum
    sunrise_h, sunset_h : of the day [h], more than 4 h apart
    parameters : of a place, by :func:`parton_logan`

    Raises ValueError for an input outside its range.
    """
    lag = parameters.min_lag_h
    hour, high, low, after, rise, set_ = _checked(
        hour_h, t_max_c, t_min_c, t_min_next_c, sunrise_h, sunset_h
    )
    length = set_ - rise
    hour = np.clip(hour, rise + lag, rise + lag + 24)
    period = length + 2 * (parameters.max_lag_h - lag)

    def by_day(at: FloatArray) -> FloatArray:
        return low + (high - low) * np.sin(np.pi * (at - rise - lag) / period)

    dusk = by_day(set_)
    since = np.maximum(hour - set_, 0.0)
    night = after + (dusk - after) * np.exp(-parameters.night_decay * since / (24 - length + lag))
    return np.where(hour < set_, by_day(hour), night)


Curve = Callable[[Numbers, Numbers, Numbers, Numbers, Numbers, Numbers], FloatArray]


def hourly_temperatures(
    t_max_c: Numbers,
    t_min_c: Numbers,
    sunrise_h: Numbers,
    sunset_h: Numbers,
    *,
    curve: Curve = temperature_linvill_1990,
    steps_per_hour: int = 1,
) -> FloatArray:
    """Temperatures of consecutive days at whole hours (or parts of one) [C], (..., days, steps).

    Row d starts at midnight of day d; its hours before sunrise belong to the curve of the day
    before. The first morning, of which the day before is not known, takes its own day for it; the
    last evening, whose next minimum is not known, its own minimum.

    Parameters
    ----------
    t_max_c, t_min_c : extremes (..., days) [C], maximum not below minimum; a missing day is NaN
        and makes the hours NaN that need it
    sunrise_h, sunset_h : (days,) or one number [h], more than 4 h apart
    curve : one of the curves of this module
    steps_per_hour : 1 and up

    Raises ValueError for an input outside its range.
    """
    within(1, 60, steps_per_hour=steps_per_hour)
    high, low, rise, set_ = np.broadcast_arrays(
        *(np.asarray(each, dtype=np.float64) for each in (t_max_c, t_min_c, sunrise_h, sunset_h))
    )
    after = np.concatenate([low[..., 1:], low[..., -1:]], axis=-1)
    after = np.minimum(after, high)  # a day that never reaches the next minimum just stays level
    hours = np.arange(24 * steps_per_hour) / steps_per_hour
    day = [each[..., None] for each in (high, low, after, rise, set_)]
    before = [np.concatenate([each[..., :1, :], each[..., :-1, :]], axis=-2) for each in day]
    before[2][..., 0, :] = low[..., 0, None]  # the day before the first: like the first
    # between yesterday's curve and today's: each hour by the curve of the sunrise before it
    evening = np.clip(hours + 24, before[3], before[3] + 24)
    morning = np.clip(hours, day[3], day[3] + 24)
    return np.asarray(np.where(hours < day[3], curve(evening, *before), curve(morning, *day)))


def parton_logan(rows: Sequence[Row], place: str) -> PartonLogan:
    """The parameters of a place (``denver``, ``north_carolina``) from ``parameters.csv``.

    Raises LookupError for a place that the table does not hold.
    """
    found = {row["parameter"]: row.typical() for row in rows if row.used}
    names = [f"parton_logan_{place}_{each}" for each in ("max_lag", "min_lag", "decay")]
    absent = [name for name in names if name not in found]
    if absent:
        raise LookupError(f"parameters.csv holds no {', '.join(absent)}")
    return PartonLogan(*(found[name] for name in names))


def _checked(
    hour_h: Numbers,
    t_max_c: Numbers,
    t_min_c: Numbers,
    t_min_next_c: Numbers,
    sunrise_h: Numbers,
    sunset_h: Numbers,
) -> tuple[FloatArray, ...]:
    given = (hour_h, t_max_c, t_min_c, t_min_next_c, sunrise_h, sunset_h)
    hour, high, low, after, rise, set_ = (np.asarray(each, dtype=np.float64) for each in given)
    for name, below in (("t_min_c", low - high), ("t_min_next_c", after - high)):
        if np.any(below > 0):
            raise ValueError(f"t_max_c lies {np.nanmax(below):g} below {name}; it must not")
    within(_LINVILL_LAG, 24, day_length_h=set_ - rise)
    slip = 1e-9  # of the rounding of hours
    within(-slip, 24 + slip, hour_since_sunrise_h=hour - rise)
    return hour, high, low, after, rise, set_
