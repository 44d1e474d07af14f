"""Reference evapotranspiration of a grassed surface: Penman-Monteith, and what stands in for it.

Depths are meters of water. A day that lacks humidity, wind or radiation is worked with FAO-56's
substitutes; one that lacks all three, by Hargreaves. Each day says what was used and how far it
may err.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from typing import Any

import numpy as np
from numpy.typing import ArrayLike, NDArray

from bedwright.guards import not_negative, within
from bedwright.water.air import (
    air_pressure_fao56,
    psychrometric_constant,
    saturation_vapor_pressure,
    vapor_pressure_of_greatest_humidity,
    vapor_pressure_of_humidities,
    vapor_pressure_slope,
    wind_at_two_meters,
)
from bedwright.water.arrays import FloatArray, floats
from bedwright.water.grass_days import et0_of_days, of_height, saturation
from bedwright.water.weather import Substitute, SubstituteErrors, Weather
from bedwright.working import Source, formula

_FAO = "fao_56"
_PLAIN = ("ratio", "-")
_DEPTH = ("depth", "m")
_M_PER_MJ = 0.408e-3  # fao_56 equation 20: 0.408 mm of water evaporates with 1 MJ/m2
_USUAL_WIND = 2.0  # fao_56 p. 63, m/s where none is measured
_LEAST_WIND = 0.5  # fao_56 p. 63, m/s
_REFERENCE_HEIGHT_M = 2.0
_COLDEST_C, _WARMEST_C = -60.0, 70.0
_WIND_M_S, _SUN_MJ, _ABOVE_MJ = (0.0, 100.0), (0.0, 60.0), (0.0, 50.0)
_AIR_C = (_COLDEST_C, _WARMEST_C)
_RANGES = (_AIR_C, _AIR_C, _AIR_C, _WIND_M_S, _SUN_MJ, _ABOVE_MJ)
_DARK_MJ = 1e-6  # radiation under a clear sky below which there is no day
_CHUNK = 8192  # days whose arrays fit a core's nearer cache: judgement, measured
_SHORT = 1000  # days below which calls cost more than numbers: judgement, measured


@dataclass(frozen=True, eq=False)
class ReferenceEvapotranspiration:
    """``et0_m`` [m/d], NaN where a day's temperature is not known; ``used`` what stood in for a
    measurement (:class:`Substitute`); ``error_m`` how far the day may err for that [m/d].
    """

    et0_m: FloatArray
    used: NDArray[np.int8]
    error_m: FloatArray


@formula(
    "(0.408 slope (net radiation - soil heat) + psychrometric constant x 900 / (T + 273) x wind x "
    "vapor deficit) / (slope + psychrometric constant x (1 + 0.34 wind))",
    result=_DEPTH,
    sources=(Source(_FAO, "equation 6, examples 17 and 18", ""),),
    example={
        "t_max_c": "21.5",
        "t_min_c": "12.3",
        "vapor_kpa": "1.409",
        "wind_m_s": "2.078",
        "net_radiation_mj_m2": "13.28",
        "soil_heat_mj_m2": "0",
        "elevation_m": "100 m",
    },
    t_max_c=_PLAIN,
    t_min_c=_PLAIN,
    vapor_kpa=_PLAIN,
    wind_m_s=_PLAIN,
    net_radiation_mj_m2=_PLAIN,
    soil_heat_mj_m2=_PLAIN,
    elevation_m=("length", "m"),
)
def et0_penman_monteith_fao56(
    t_max_c: ArrayLike,
    t_min_c: ArrayLike,
    vapor_kpa: ArrayLike,
    wind_m_s: ArrayLike,
    net_radiation_mj_m2: ArrayLike,
    soil_heat_mj_m2: ArrayLike,
    elevation_m: ArrayLike,
) -> FloatArray:
    """Evapotranspiration of the reference grass in a day [m/d].

    Parameters
    ----------
    t_max_c, t_min_c : of the air [C], -60 to 70
    vapor_kpa : pressure of the air's vapor [kPa], 0 to 10
    wind_m_s : at 2 m [m/s], 0 and up
    net_radiation_mj_m2 : that the surface keeps [MJ/m2/d]
    soil_heat_mj_m2 : that goes into the soil [MJ/m2/d]; 0 over a day
    elevation_m : above the sea [m], -500 to 6000

    Raises ValueError for an input outside its range.
    """
    within(0, 10, vapor_kpa=vapor_kpa)
    not_negative(wind_m_s=wind_m_s)
    mean = (floats(t_max_c) + floats(t_min_c)) / 2
    constant = psychrometric_constant(air_pressure_fao56(elevation_m))
    slope, wind = vapor_pressure_slope(mean), floats(wind_m_s)
    full = (saturation_vapor_pressure(t_max_c) + saturation_vapor_pressure(t_min_c)) / 2
    heat = floats(net_radiation_mj_m2) - floats(soil_heat_mj_m2)
    drying = constant * 0.9 / (mean + 273) * wind * (full - floats(vapor_kpa))
    return np.asarray((_M_PER_MJ * slope * heat + drying) / (slope + constant * (1 + 0.34 * wind)))


@formula(
    "as for a day, with 37 for 900 and the hour's mean temperature and saturation vapor pressure",
    result=_DEPTH,
    sources=(Source(_FAO, "equation 53, example 19", "the form of 1998"),),
    example={
        "air_c": "38",
        "vapor_kpa": "3.445",
        "wind_m_s": "3.3",
        "net_radiation_mj_m2": "1.749",
        "soil_heat_mj_m2": "0.175",
        "elevation_m": "8 m",
    },
    air_c=_PLAIN,
    vapor_kpa=_PLAIN,
    wind_m_s=_PLAIN,
    net_radiation_mj_m2=_PLAIN,
    soil_heat_mj_m2=_PLAIN,
    elevation_m=("length", "m"),
)
def et0_hourly_penman_monteith_fao56(
    air_c: ArrayLike,
    vapor_kpa: ArrayLike,
    wind_m_s: ArrayLike,
    net_radiation_mj_m2: ArrayLike,
    soil_heat_mj_m2: ArrayLike,
    elevation_m: ArrayLike,
) -> FloatArray:
    """Evapotranspiration of the reference grass in an hour [m/h].

    Parameters
    ----------
    air_c : mean of the hour [C], -60 to 70
    vapor_kpa : pressure of the air's vapor [kPa], 0 to 10
    wind_m_s : at 2 m [m/s], 0 and up
    net_radiation_mj_m2 : that the surface keeps [MJ/m2/h]
    soil_heat_mj_m2 : that goes into the soil [MJ/m2/h]: 0.1 of the net radiation by day, 0.5 by
        night (equations 45 and 46)
    elevation_m : above the sea [m], -500 to 6000

    Raises ValueError for an input outside its range.
    """
    within(0, 10, vapor_kpa=vapor_kpa)
    not_negative(wind_m_s=wind_m_s)
    air, wind = floats(air_c), floats(wind_m_s)
    constant = psychrometric_constant(air_pressure_fao56(elevation_m))
    slope = vapor_pressure_slope(air)
    heat = floats(net_radiation_mj_m2) - floats(soil_heat_mj_m2)
    deficit = saturation_vapor_pressure(air) - floats(vapor_kpa)
    drying = constant * 0.037 / (air + 273) * wind * deficit
    return np.asarray((_M_PER_MJ * slope * heat + drying) / (slope + constant * (1 + 0.34 * wind)))


@formula(
    "0.0023 x (mean + 17.8) x sqrt(maximum - minimum) x radiation above the air as water",
    result=_DEPTH,
    sources=(
        Source(
            _FAO, "equation 52, example 20", "too low in wind over 3 m/s, too high in moist air"
        ),
    ),
    example={"t_max_c": "26.6", "t_min_c": "14.8", "extraterrestrial_mj_m2": "40.55"},
    t_max_c=_PLAIN,
    t_min_c=_PLAIN,
    extraterrestrial_mj_m2=_PLAIN,
)
def et0_hargreaves_1985(
    t_max_c: ArrayLike, t_min_c: ArrayLike, extraterrestrial_mj_m2: ArrayLike
) -> FloatArray:
    """Reference evapotranspiration by temperature alone [m/d], never below 0.

    Parameters
    ----------
    t_max_c, t_min_c : of the air [C]; an unknown (NaN) stays unknown
    extraterrestrial_mj_m2 : radiation above the air [MJ/m2/d], 0 to 50

    Raises ValueError where a minimum is above its maximum, or an input is outside its range.
    """
    within(0, 50, extraterrestrial_mj_m2=extraterrestrial_mj_m2)
    above = floats(extraterrestrial_mj_m2)
    warm, cool = floats(t_max_c), floats(t_min_c)
    spread = warm - cool
    not_negative(t_max_less_t_min_c=np.nanmin(spread, initial=0.0))
    warmth = np.maximum((warm + cool) / 2 + 17.8, 0.0)
    return np.asarray(0.0023 * _M_PER_MJ * warmth * np.sqrt(spread) * above)


def reference_evapotranspiration(
    weather: Weather, errors: SubstituteErrors
) -> ReferenceEvapotranspiration:
    """Reference evapotranspiration of many days, by the best way that each day's record allows.

    Parameters
    ----------
    weather : the days, any shapes that broadcast
    errors : what a substitute costs, from the tables

    Raises ValueError for a value that no weather has. A day without temperatures stays unknown.
    """
    if np.size(weather.t_max_c) <= _CHUNK:
        return _of_days(weather, errors)
    given = {name: each for name, each in vars(weather).items() if each is not None}
    shape = np.broadcast_shapes(*map(np.shape, given.values()))
    found = ReferenceEvapotranspiration(
        np.empty(shape), np.empty(shape, dtype=np.int8), np.empty(shape)
    )
    each_day: dict[str, Any] = {
        name: np.asarray(each)
        for name, each in given.items()
        if np.ndim(each) == len(shape) and len(each) == shape[0]
    }
    step = max(1, _CHUNK * shape[0] // math.prod(shape))
    for first in range(0, shape[0], step):  # pieces that stay in the cache
        days = slice(first, first + step)
        part = replace(weather, **{name: each[days] for name, each in each_day.items()})
        for whole, piece in zip(
            vars(found).values(), vars(_of_days(part, errors)).values(), strict=True
        ):
            whole[days] = piece
    return found


def _of_days(weather: Weather, errors: SubstituteErrors) -> ReferenceEvapotranspiration:
    """The same of days that fit the cache."""
    warm, cool = floats(weather.t_max_c), floats(weather.t_min_c)
    above, elevation = floats(weather.extraterrestrial_mj_m2), floats(weather.elevation_m)
    sound = _sound(weather)
    if not sound:
        _check_temperatures(warm, cool)
        _check(above, "extraterrestrial_mj_m2", *_ABOVE_MJ)
    sky, constant = of_height(elevation)
    clear = np.maximum(sky * above, _DARK_MJ)
    vapor, no_vapor = _vapor(weather, warm, cool, sound)
    wind, no_wind = _wind(weather, sound)
    sun, no_sun = _sun(weather, clear, sound)
    et0 = et0_of_days(warm, cool, vapor, wind, sun, clear, constant)
    used = _flags(no_vapor, no_wind, no_sun, et0.shape)
    if no_vapor is not None and no_wind is not None and no_sun is not None:
        only_warmth = used == _ALL_THREE
        et0 = np.where(only_warmth, et0_hargreaves_1985(warm, cool, above), et0)
        used[only_warmth] |= np.int8(Substitute.HARGREAVES)
    return ReferenceEvapotranspiration(et0, used, errors.of(used))


_ALL_THREE = np.int8(Substitute.HUMIDITY | Substitute.WIND | Substitute.RADIATION)
Missing = NDArray[np.bool_] | None  # None where nothing is


def _sound(weather: Weather) -> bool:
    """Whether a short record has every measurement on every day, none of which no weather has.

    The same checks as one by one, in few calls; False says only that these must be made.
    """
    measured = (
        weather.t_max_c, weather.t_min_c, weather.dew_point_c, weather.wind_m_s,
        weather.radiation_mj_m2, weather.extraterrestrial_mj_m2,
    )  # fmt: skip
    shape = np.shape(weather.t_max_c)
    if len(shape) != 1 or not 0 < shape[0] <= _SHORT:
        return False
    if any(each is None or np.shape(each) != shape for each in measured):
        return False
    rows = np.empty((len(measured), *shape))
    for row, each in zip(rows, measured, strict=True):
        row[:] = each
    least = np.minimum.reduce(rows, axis=1).tolist()
    most = np.maximum.reduce(rows, axis=1).tolist()
    in_range = all(  # an unknown (NaN) is in none; few numbers are quicker compared one by one
        low <= smallest and largest <= high
        for smallest, largest, (low, high) in zip(least, most, _RANGES, strict=True)
    )
    return in_range and bool((rows[0] >= rows[1]).all())


def _check_temperatures(warm: FloatArray, cool: FloatArray) -> None:
    """Raise ValueError where a known temperature lies outside, or a minimum above its maximum."""
    # where no minimum is above its maximum, the one's lower and the other's upper end will do
    in_order = not (warm < cool).any()
    if in_order and warm.size and warm.max() <= _WARMEST_C and cool.min() >= _COLDEST_C:
        return
    _check(warm, "t_max_c", _COLDEST_C, _WARMEST_C)
    _check(cool, "t_min_c", _COLDEST_C, _WARMEST_C)
    _check(warm - cool, "t_max_c less t_min_c", 0, _WARMEST_C - _COLDEST_C)


def _check(values: FloatArray, name: str, low: float, high: float) -> bool:
    """Whether some are unknown (NaN). Raises ValueError where a known one lies outside."""
    if values.size and low <= values.min() and values.max() <= high:
        return False
    unknown = np.isnan(values)
    within(low, high, **{name.replace(" ", "_"): values[~unknown]})
    return bool(unknown.any())


def _flags(
    no_vapor: Missing, no_wind: Missing, no_sun: Missing, shape: tuple[int, ...]
) -> NDArray[np.int8]:
    used = np.zeros(shape, dtype=np.int8)
    for missing, flag in (
        (no_vapor, Substitute.HUMIDITY),
        (no_wind, Substitute.WIND),
        (no_sun, Substitute.RADIATION),
    ):
        if missing is not None:
            used |= np.where(missing, np.int8(flag), np.int8(0))
    return used


def _vapor(
    weather: Weather, warm: FloatArray, cool: FloatArray, sound: bool
) -> tuple[FloatArray, Missing]:
    """Vapor pressure [kPa] by the best of what was measured, and where nothing was."""
    dew = None if weather.dew_point_c is None else floats(weather.dew_point_c)
    if dew is None:
        vapor = np.full(cool.shape, np.nan)
    elif sound or not _check(dew, "dew_point_c", _COLDEST_C, _WARMEST_C):
        return saturation(dew), None
    else:
        vapor = saturation(dew)
    unknown = np.isnan(vapor)
    if weather.humidity_max_percent is not None:
        moist, dry = weather.humidity_max_percent, weather.humidity_min_percent
        ways = [vapor_pressure_of_greatest_humidity(cool, moist)]
        if dry is not None:
            ways.insert(0, vapor_pressure_of_humidities(warm, cool, moist, dry))
        for way in ways:
            vapor = np.where(unknown, way, vapor)
            unknown = np.isnan(vapor)
    if not unknown.any():
        return vapor, None
    return np.where(unknown, saturation(cool - weather.dew_below_minimum_c), vapor), unknown


def _wind(weather: Weather, sound: bool) -> tuple[FloatArray, Missing]:
    """Wind at 2 m [m/s], never below 0.5, and where it was not measured."""
    if weather.wind_m_s is None:
        return np.array(_USUAL_WIND), np.array(True)
    wind = floats(weather.wind_m_s)
    some_unknown = not sound and _check(wind, "wind_m_s", *_WIND_M_S)
    if weather.wind_height_m != _REFERENCE_HEIGHT_M:
        wind = wind * wind_at_two_meters(1.0, weather.wind_height_m)
    wind = np.maximum(wind, _LEAST_WIND)
    if not some_unknown:
        return wind, None
    unknown = np.isnan(wind)
    return np.where(unknown, _USUAL_WIND, wind), unknown


def _sun(weather: Weather, clear: FloatArray, sound: bool) -> tuple[FloatArray, Missing]:
    """Radiation on level ground [MJ/m2/d], and where it was not measured."""
    if weather.radiation_mj_m2 is None:
        return np.minimum(weather.radiation_guess_mj_m2, clear), np.array(True)
    measured = floats(weather.radiation_mj_m2)
    if sound or not _check(measured, "radiation_mj_m2", *_SUN_MJ):
        return measured, None
    unknown = np.isnan(measured)
    return np.where(unknown, np.minimum(weather.radiation_guess_mj_m2, clear), measured), unknown
