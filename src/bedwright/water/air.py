"""The air over a reference surface: pressure, vapor, wind brought to 2 m (FAO-56 chapter 3)."""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike

from bedwright.guards import not_negative, positive, within
from bedwright.water.arrays import FloatArray, floats
from bedwright.working import Source, formula

_FAO = "fao_56"
_PLAIN = ("ratio", "-")
_LENGTH = ("length", "m")
_COLDEST_C, _WARMEST_C = -60.0, 70.0
_COEFFICIENTS = (0.0005, 0.0013)  # fao_56 equation 16: 0.000662 to 0.001200 per C


@formula(
    "pressure = 101.3 x ((293 - 0.0065 x height) / 293) ^ 5.26; kPa",
    result=_PLAIN,
    sources=(Source(_FAO, "equation 7", ""),),
    example={"elevation_m": "1800 m"},
    elevation_m=_LENGTH,
)
def air_pressure_fao56(elevation_m: ArrayLike) -> FloatArray:
    """Pressure of the air [kPa].

    Parameters
    ----------
    elevation_m : above the sea [m], -500 to 6000

    Raises ValueError for an input outside its range.
    """
    within(-500, 6000, elevation_m=elevation_m)
    at_sea, warmth, lapse, power = 101.3, 293.0, 0.0065, 5.26  # fao_56 equation 7
    high = floats(elevation_m)
    return np.asarray(at_sea * ((warmth - lapse * high) / warmth) ** power)


@formula(
    "psychrometric constant = 0.000665 x pressure; kPa per C",
    result=_PLAIN,
    sources=(Source(_FAO, "equation 8", ""),),
    example={"pressure_kpa": "81.8"},
    pressure_kpa=_PLAIN,
)
def psychrometric_constant(pressure_kpa: ArrayLike) -> FloatArray:
    """Psychrometric constant of the air [kPa/C].

    Parameters
    ----------
    pressure_kpa : of the air [kPa], above 0

    Raises ValueError for an input outside its range.
    """
    positive(pressure_kpa=pressure_kpa)
    return np.asarray(0.665e-3 * floats(pressure_kpa))  # fao_56 equation 8


@formula(
    "0.6108 x exp(17.27 T / (T + 237.3)); kPa",
    result=_PLAIN,
    sources=(Source(_FAO, "equation 11", "equation 14 with the dew point for T"),),
    example={"air_c": "24.5"},
    air_c=_PLAIN,
)
def saturation_vapor_pressure(air_c: ArrayLike) -> FloatArray:
    """Pressure of vapor that saturates the air [kPa]; at the dew point, the vapor's own pressure.

    Parameters
    ----------
    air_c : of the air [C], -60 to 70; an unknown (NaN) stays unknown

    Raises ValueError for an input outside its range.
    """
    air = _warmth(air_c)
    return np.asarray(0.6108 * np.exp(17.27 * air / (air + 237.3)))  # fao_56 equation 11


@formula(
    "4098 x saturation vapor pressure / (T + 237.3)^2; kPa per C",
    result=_PLAIN,
    sources=(Source(_FAO, "equation 13", ""),),
    example={"air_c": "16.9"},
    air_c=_PLAIN,
)
def vapor_pressure_slope(air_c: ArrayLike) -> FloatArray:
    """Slope of the saturation vapor pressure over temperature [kPa/C].

    Parameters
    ----------
    air_c : of the air [C], -60 to 70; an unknown (NaN) stays unknown

    Raises ValueError for an input outside its range.
    """
    air = _warmth(air_c)
    return np.asarray(4098 * saturation_vapor_pressure(air) / (air + 237.3) ** 2)


@formula(
    "mean of the saturation vapor pressures at the day's maximum and minimum; kPa",
    result=_PLAIN,
    sources=(Source(_FAO, "equation 12, example 3", "never that of the mean temperature"),),
    example={"t_max_c": "24.5", "t_min_c": "15"},
    t_max_c=_PLAIN,
    t_min_c=_PLAIN,
)
def mean_saturation_vapor_pressure(t_max_c: ArrayLike, t_min_c: ArrayLike) -> FloatArray:
    """Saturation vapor pressure of a day [kPa].

    Parameters
    ----------
    t_max_c, t_min_c : of the air [C], -60 to 70; an unknown (NaN) stays unknown

    Raises ValueError for an input outside its range.
    """
    both = saturation_vapor_pressure(t_max_c) + saturation_vapor_pressure(t_min_c)
    return np.asarray(both / 2)


@formula(
    "half of saturation at the minimum x greatest humidity + saturation at the maximum x least "
    "humidity; kPa",
    result=_PLAIN,
    sources=(Source(_FAO, "equation 17, example 5", ""),),
    example={
        "t_max_c": "25",
        "t_min_c": "18",
        "humidity_max_percent": "82",
        "humidity_min_percent": "54",
    },
    t_max_c=_PLAIN,
    t_min_c=_PLAIN,
    humidity_max_percent=_PLAIN,
    humidity_min_percent=_PLAIN,
)
def vapor_pressure_of_humidities(
    t_max_c: ArrayLike,
    t_min_c: ArrayLike,
    humidity_max_percent: ArrayLike,
    humidity_min_percent: ArrayLike,
) -> FloatArray:
    """The day's vapor pressure by its greatest and least humidity [kPa].

    Parameters
    ----------
    t_max_c, t_min_c : of the air [C], -60 to 70
    humidity_max_percent, humidity_min_percent : relative, of the air [%], 0 to 100

    Raises ValueError for an input outside its range. An unknown (NaN) stays unknown.
    """
    moist, dry = _humidity(humidity_max_percent), _humidity(humidity_min_percent)
    cool, warm = saturation_vapor_pressure(t_min_c), saturation_vapor_pressure(t_max_c)
    return np.asarray((cool * moist + warm * dry) / 200)


@formula(
    "saturation vapor pressure at the minimum x greatest humidity; kPa",
    result=_PLAIN,
    sources=(Source(_FAO, "equation 18", "where the least humidity is doubtful"),),
    example={"t_min_c": "18", "humidity_max_percent": "82"},
    t_min_c=_PLAIN,
    humidity_max_percent=_PLAIN,
)
def vapor_pressure_of_greatest_humidity(
    t_min_c: ArrayLike, humidity_max_percent: ArrayLike
) -> FloatArray:
    """The day's vapor pressure by its greatest humidity alone [kPa].

    Parameters
    ----------
    t_min_c : of the air [C], -60 to 70
    humidity_max_percent : relative, of the air [%], 0 to 100

    Raises ValueError for an input outside its range. An unknown (NaN) stays unknown.
    """
    moist = _humidity(humidity_max_percent)
    return np.asarray(saturation_vapor_pressure(t_min_c) * moist / 100)


@formula(
    "mean saturation vapor pressure x mean humidity; kPa",
    result=_PLAIN,
    sources=(Source(_FAO, "equation 19, example 5", "the least good way"),),
    example={"t_max_c": "25", "t_min_c": "18", "humidity_mean_percent": "68"},
    t_max_c=_PLAIN,
    t_min_c=_PLAIN,
    humidity_mean_percent=_PLAIN,
)
def vapor_pressure_of_mean_humidity(
    t_max_c: ArrayLike, t_min_c: ArrayLike, humidity_mean_percent: ArrayLike
) -> FloatArray:
    """The day's vapor pressure by its mean humidity [kPa].

    Parameters
    ----------
    t_max_c, t_min_c : of the air [C], -60 to 70
    humidity_mean_percent : relative, of the air [%], 0 to 100

    Raises ValueError for an input outside its range. An unknown (NaN) stays unknown.
    """
    moist = _humidity(humidity_mean_percent)
    return np.asarray(mean_saturation_vapor_pressure(t_max_c, t_min_c) * moist / 100)


@formula(
    "saturation at the wet bulb - coefficient x pressure x (dry bulb - wet bulb); kPa",
    result=_PLAIN,
    sources=(
        Source(_FAO, "equations 15 and 16, example 4", "0.000662 ventilated at 5 m/s, 0.000800 "
               "naturally ventilated, 0.001200 indoors"),
    ),
    example={
        "dry_c": "25.6",
        "wet_c": "19.5",
        "pressure_kpa": "87.9",
        "coefficient_per_c": "0.000662",
    },
    dry_c=_PLAIN,
    wet_c=_PLAIN,
    pressure_kpa=_PLAIN,
    coefficient_per_c=_PLAIN,
)  # fmt: skip
def vapor_pressure_of_psychrometer(
    dry_c: ArrayLike, wet_c: ArrayLike, pressure_kpa: ArrayLike, coefficient_per_c: ArrayLike
) -> FloatArray:
    """Vapor pressure by a dry and a wet thermometer [kPa].

    Parameters
    ----------
    dry_c, wet_c : thermometers [C], -60 to 70, the wet one not warmer
    pressure_kpa : of the air [kPa], above 0
    coefficient_per_c : of the instrument [1/C], 0.0005 to 0.0013

    Raises ValueError for an input outside its range.
    """
    positive(pressure_kpa=pressure_kpa)
    within(*_COEFFICIENTS, coefficient_per_c=coefficient_per_c)
    lowered = _warmth(dry_c) - _warmth(wet_c)
    not_negative(dry_less_wet_c=lowered)
    fall = floats(coefficient_per_c) * floats(pressure_kpa) * lowered
    return np.asarray(saturation_vapor_pressure(wet_c) - fall)


@formula(
    "wind at 2 m = wind x 4.87 / ln(67.8 x height - 5.42)",
    result=_PLAIN,
    sources=(Source(_FAO, "equation 47, example 14", "over a grassed surface"),),
    example={"wind_m_s": "3.2", "height_m": "10 m"},
    wind_m_s=_PLAIN,
    height_m=_LENGTH,
)
def wind_at_two_meters(wind_m_s: ArrayLike, height_m: ArrayLike) -> FloatArray:
    """Wind at 2 m over grass, from that at another height [m/s].

    Parameters
    ----------
    wind_m_s : at the height of the instrument [m/s], 0 and up; an unknown (NaN) stays unknown
    height_m : of the instrument over the ground [m], 0.5 to 100

    Raises ValueError for an input outside its range.
    """
    within(0.5, 100, height_m=height_m)
    wind = floats(wind_m_s)
    not_negative(wind_m_s=np.nanmin(wind, initial=0.0))
    return np.asarray(wind * 4.87 / np.log(67.8 * floats(height_m) - 5.42))


def _warmth(air_c: ArrayLike) -> FloatArray:
    """Temperatures as an array; raises ValueError for one that no air has. NaN passes."""
    air = floats(air_c)
    if np.any((air < _COLDEST_C) | (air > _WARMEST_C)):
        within(_COLDEST_C, _WARMEST_C, air_c=air)
    return air


def _humidity(percent: ArrayLike) -> FloatArray:
    moist = floats(percent)
    if np.any((moist < 0) | (moist > 100)):
        within(0, 100, humidity_percent=moist)
    return moist
