"""Length of the day by a stated definition, hours of sunrise and sunset, and the sun's radiation.

Three definitions of the day differ by a quarter of an hour: the sun's center on the horizon
(FAO-56), the upper edge seen through the air (almanacs), and light that a plant still notices.
They are zenith angles in ``parameters.csv``: ``zenith_center``, ``zenith_sunrise``,
``zenith_low_light``.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from bedwright.climate.solar import DateArray, FloatArray, Numbers, SunSeries, sun_path
from bedwright.guards import not_negative, within
from bedwright.working import Source, formula

_ANGLE = ("angle", "deg")
_PLAIN = ("ratio", "-")
_HOURS = ("time", "h")
_FAO = "fao_56"
_DAYS_PER_YEAR = 365  # fao_56: J runs from 1 to 365 or 366
_ROUNDS = 3  # of the search for sunrise: each shrinks the error a hundredfold
_DAY_MS = 86_400_000


@dataclass(frozen=True)
class SunTimes:
    """Hours after midnight of the stated clock; ``rise_h`` and ``set_h`` are NaN where the sun
    does not cross, ``length_h`` is then 0 or 24.
    """

    rise_h: FloatArray
    transit_h: FloatArray
    set_h: FloatArray
    length_h: FloatArray


@formula(
    "declination = 0.409 sin(2 pi day of year / 365 - 1.39)",
    result=_ANGLE,
    sources=(Source(_FAO, "equation 24", ""),),
    example={"day_of_year": "246"},
    day_of_year=_PLAIN,
)
def declination_fao56(day_of_year: Numbers) -> FloatArray:
    """The sun's declination by FAO-56 [deg], up to 1.3 degrees too low, in October.

    For lengths of the day that matter (onion bulbing) take that of
    :func:`bedwright.climate.solar.sun_path`.

    Parameters
    ----------
    day_of_year : 1 to 366

    Raises ValueError for a day outside the year.
    """
    swing, shift = 0.409, 1.39  # rad, fao_56 equation 24
    return np.asarray(np.degrees(swing * np.sin(_year_angle(day_of_year) - shift)))


@formula(
    "cos(half day) = (cos(zenith) - sin(latitude) sin(declination)) / (cos(latitude) "
    "cos(declination)); length = half day x 2 / 15 degrees per hour",
    result=_HOURS,
    sources=(
        Source(_FAO, "equations 25 and 34", "for the sun's center on the horizon"),
        Source("keisling_1982", "p. 758", "any zenith"),
    ),
    example={
        "latitude_deg": "33.4 deg",
        "declination_deg": "20.7705 deg",
        "zenith_deg": "91.54 deg",
    },
    latitude_deg=_ANGLE,
    declination_deg=_ANGLE,
    zenith_deg=("parameter", "zenith_sunrise deg"),
)
def day_length(latitude_deg: Numbers, declination_deg: Numbers, zenith_deg: Numbers) -> FloatArray:
    """Hours for which the sun stands above the zenith angle that defines the day [h], 0 to 24.

    Parameters
    ----------
    latitude_deg : north positive [deg], -90 to 90
    declination_deg : of the sun [deg], -24 to 24
    zenith_deg : of the sun at the ends of the day [deg], 80 to 110: 90 center on the horizon,
        90.833 sunrise and sunset of almanacs, 91.540 low light

    Raises ValueError for an input outside its range.
    """
    return np.asarray(2 * _half_day(latitude_deg, declination_deg, zenith_deg) * 12 / np.pi)


@formula(
    "1 + 0.033 cos(2 pi day of year / 365)",
    result=_PLAIN,
    sources=(Source(_FAO, "equation 23, example 8", ""),),
    example={"day_of_year": "246"},
    day_of_year=_PLAIN,
)
def sun_nearness(day_of_year: Numbers) -> FloatArray:
    """Inverse relative distance of the sun, squared [-].

    Parameters
    ----------
    day_of_year : 1 to 366

    Raises ValueError for a day outside the year.
    """
    return np.asarray(1 + 0.033 * np.cos(_year_angle(day_of_year)))


@formula(
    "radiation = 24 x 60 / pi x 0.0820 x dr x (ws sin(latitude) sin(declination) + cos(latitude) "
    "cos(declination) sin(ws)), dr = 1 + 0.033 cos(2 pi day / 365), cos(ws) = -tan(latitude) "
    "tan(declination); MJ/m2 in a day",
    result=_PLAIN,
    sources=(Source(_FAO, "equations 21, 23, 24, 25", ""),),
    example={"latitude_deg": "20 deg", "day_of_year": "246"},
    latitude_deg=_ANGLE,
    day_of_year=_PLAIN,
)
def extraterrestrial_radiation_fao56(latitude_deg: Numbers, day_of_year: Numbers) -> FloatArray:
    """Radiation on level ground if there were no air [MJ/m2/d].

    Parameters
    ----------
    latitude_deg : north positive [deg], -90 to 90
    day_of_year : 1 to 366

    Raises ValueError for an input outside its range.
    """
    solar_constant = 0.0820  # MJ/m2/min, fao_56 equation 21
    declination = np.radians(declination_fao56(day_of_year))
    half = _half_day(latitude_deg, np.degrees(declination), 90.0)
    latitude = np.radians(np.asarray(latitude_deg, dtype=np.float64))
    height = half * np.sin(latitude) * np.sin(declination)
    height = height + np.cos(latitude) * np.cos(declination) * np.sin(half)
    return np.asarray(
        24 * 60 / np.pi * solar_constant * sun_nearness(day_of_year) * np.maximum(height, 0.0)
    )


@formula(
    "radiation = (0.25 + 0.50 sunshine hours / day length) x extraterrestrial radiation; MJ/m2/d",
    result=_PLAIN,
    sources=(Source(_FAO, "equation 35, example 10", ""),),
    example={"sunshine_h": "7.1 h", "day_length_h": "10.9 h", "extraterrestrial_mj_m2": "25.1"},
    sunshine_h=_HOURS,
    day_length_h=_HOURS,
    extraterrestrial_mj_m2=_PLAIN,
)
def radiation_from_sunshine_fao56(
    sunshine_h: Numbers, day_length_h: Numbers, extraterrestrial_mj_m2: Numbers
) -> FloatArray:
    """Radiation on level ground from hours of bright sunshine [MJ/m2/d].

    Parameters
    ----------
    sunshine_h : hours of bright sunshine [h], 0 to the length of the day
    day_length_h : by the sun's center on the horizon [h], above 0, at most 24
    extraterrestrial_mj_m2 : [MJ/m2/d], 0 to 50

    Raises ValueError for an input outside its range.
    """
    within(0, 50, extraterrestrial_mj_m2=extraterrestrial_mj_m2)
    within(0, 24, day_length_h=day_length_h, sunshine_h=sunshine_h)
    shining = np.asarray(sunshine_h) / np.asarray(day_length_h)
    within(0, 1, share_of_the_day=shining)
    cloudy, clear = 0.25, 0.50  # fao_56 equation 35
    return np.asarray((cloudy + clear * shining) * np.asarray(extraterrestrial_mj_m2))


@formula(
    "radiation = coefficient x sqrt(maximum - minimum) x extraterrestrial radiation; MJ/m2/d",
    result=_PLAIN,
    sources=(Source(_FAO, "equation 50", "coefficient 0.16 inland, 0.19 at a coast"),),
    example={"t_range_c": "20", "extraterrestrial_mj_m2": "40", "coefficient": "0.16"},
    t_range_c=_PLAIN,
    extraterrestrial_mj_m2=_PLAIN,
    coefficient=_PLAIN,
)
def radiation_from_range_fao56(
    t_range_c: Numbers, extraterrestrial_mj_m2: Numbers, coefficient: Numbers
) -> FloatArray:
    """Radiation guessed from the day's range of temperature, where none is measured [MJ/m2/d].

    Parameters
    ----------
    t_range_c : maximum less minimum [K], 0 and up
    extraterrestrial_mj_m2 : [MJ/m2/d], 0 to 50
    coefficient : [K^-0.5], 0.1 to 0.25

    Raises ValueError for an input outside its range. NaN stays NaN in ``t_range_c``.
    """
    within(0, 50, extraterrestrial_mj_m2=extraterrestrial_mj_m2)
    within(0.1, 0.25, coefficient=coefficient)
    spread = np.asarray(t_range_c, dtype=np.float64)
    not_negative(t_range_c=spread[~np.isnan(spread)])
    return np.asarray(np.asarray(coefficient) * np.sqrt(spread) * extraterrestrial_mj_m2)


def sun_times(
    dates: DateArray | np.datetime64,
    latitude_deg: Numbers,
    longitude_deg: Numbers,
    series: SunSeries,
    *,
    zenith_deg: float,
    utc_offset_h: Numbers = 0.0,
) -> SunTimes:
    """Sunrise, noon and sunset of calendar days, with the sun's own declination of that hour.

    Parameters
    ----------
    dates : calendar days of the clock [D], 1900 to 2100
    latitude_deg, longitude_deg : north and east positive [deg], -90 to 90 and -180 to 180
    series : of :func:`bedwright.climate.solar.sun_series`
    zenith_deg : that defines the day [deg], 80 to 110
    utc_offset_h : of the clock, east positive [h], -12 to 14

    Raises ValueError for an input outside its range.
    """
    within(-180, 180, longitude_deg=longitude_deg)
    within(-12, 14, utc_offset_h=utc_offset_h)
    day, east, offset = np.broadcast_arrays(
        np.asarray(dates).astype("datetime64[D]").astype("datetime64[ms]"),
        np.asarray(longitude_deg, dtype=np.float64),
        np.asarray(utc_offset_h, dtype=np.float64),
    )

    def at(hour: FloatArray) -> tuple[FloatArray, FloatArray]:
        """Hour of the sun's transit and half the day's length [h], by the path at an hour."""
        moment = np.where(np.isfinite(hour), hour, 12.0) - offset
        path = sun_path(day + np.asarray(moment / 24 * _DAY_MS).astype("timedelta64[ms]"), series)
        transit = 12 + offset - east / 15 - path.equation_of_time_min / 60
        half = _half_day(latitude_deg, path.declination_deg, zenith_deg) * 12 / np.pi
        return transit, half

    noon = np.full(np.broadcast_shapes(day.shape, np.shape(latitude_deg)), 12.0)
    noon, half = at(noon)
    noon, half = at(noon)
    rise, set_ = noon - half, noon + half
    for _ in range(_ROUNDS):
        transit, half_day = at(rise)
        rise = transit - half_day
        transit, half_day = at(set_)
        set_ = transit + half_day
    crosses = (half > 0) & (half < 12)
    return SunTimes(
        rise_h=np.where(crosses, rise, np.nan),
        transit_h=noon,
        set_h=np.where(crosses, set_, np.nan),
        length_h=np.where(crosses, set_ - rise, 2 * half),
    )


def _year_angle(day_of_year: Numbers) -> NDArray[np.float64]:
    within(1, 366, day_of_year=day_of_year)
    return np.asarray(2 * np.pi * np.asarray(day_of_year, dtype=np.float64) / _DAYS_PER_YEAR)


def _half_day(latitude_deg: Numbers, declination_deg: Numbers, zenith_deg: Numbers) -> FloatArray:
    """Hour angle of the sun at the end of the day [rad], 0 to pi."""
    within(-90, 90, latitude_deg=latitude_deg)
    within(-24, 24, declination_deg=declination_deg)
    within(80, 110, zenith_deg=zenith_deg)
    latitude = np.radians(np.asarray(latitude_deg, dtype=np.float64))
    declination = np.radians(np.asarray(declination_deg, dtype=np.float64))
    wanted = np.cos(np.radians(zenith_deg)) - np.sin(latitude) * np.sin(declination)
    reach = np.maximum(np.cos(latitude) * np.cos(declination), np.finfo(np.float64).tiny)
    return np.asarray(np.arccos(np.clip(wanted / reach, -1.0, 1.0)))
