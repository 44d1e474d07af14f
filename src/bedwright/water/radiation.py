"""Radiation that a reference surface keeps: clear sky, shortwave, longwave, heat into the soil.

Radiation above the air comes from the climate room (FAO-56 equations 21 to 35, 50); the hour's
share of it, which only hourly evapotranspiration asks for, is here.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike

from bedwright.guards import not_negative, positive, within
from bedwright.water.arrays import FloatArray, floats
from bedwright.working import Source, formula

_FAO = "fao_56"
_PLAIN = ("ratio", "-")
_ANGLE = ("angle", "deg")
STEFAN_BOLTZMANN_MJ_DAY = 4.903e-9  # fao_56 equation 39, MJ K^-4 m^-2 d^-1
ZERO_CELSIUS_K = 273.16  # fao_56 equation 39, as printed


@formula(
    "clear sky = (0.75 + 0.00002 x height) x radiation above the air; MJ/m2",
    result=_PLAIN,
    sources=(Source(_FAO, "equation 37", ""),),
    example={"extraterrestrial_mj_m2": "41.09", "elevation_m": "100 m"},
    extraterrestrial_mj_m2=_PLAIN,
    elevation_m=("length", "m"),
)
def clear_sky_radiation(extraterrestrial_mj_m2: ArrayLike, elevation_m: ArrayLike) -> FloatArray:
    """Radiation on level ground under a clear sky, of a day or an hour [MJ/m2].

    Parameters
    ----------
    extraterrestrial_mj_m2 : radiation above the air in the same time [MJ/m2], 0 and up
    elevation_m : above the sea [m], -500 to 6000

    Raises ValueError for an input outside its range.
    """
    not_negative(extraterrestrial_mj_m2=extraterrestrial_mj_m2)
    return np.asarray(clear_sky_share(elevation_m) * floats(extraterrestrial_mj_m2))


def clear_sky_share(elevation_m: ArrayLike) -> FloatArray:
    """Share of the radiation above the air that comes through a clear sky [-].

    Parameters
    ----------
    elevation_m : above the sea [m], -500 to 6000

    Raises ValueError for an input outside its range.
    """
    within(-500, 6000, elevation_m=elevation_m)
    return np.asarray(0.75 + 2e-5 * floats(elevation_m))  # fao_56 equation 37


@formula(
    "net shortwave = (1 - reflected share) x radiation; MJ/m2",
    result=_PLAIN,
    sources=(Source(_FAO, "equation 38", "the reference grass reflects 0.23"),),
    example={"radiation_mj_m2": "22.07", "reflected_share": "0.23"},
    radiation_mj_m2=_PLAIN,
    reflected_share=_PLAIN,
)
def net_shortwave(radiation_mj_m2: ArrayLike, reflected_share: ArrayLike = 0.23) -> FloatArray:
    """Radiation of the sun that the surface keeps [MJ/m2].

    Parameters
    ----------
    radiation_mj_m2 : on level ground [MJ/m2], 0 and up
    reflected_share : albedo [-], 0 to 1

    Raises ValueError for an input outside its range.
    """
    not_negative(radiation_mj_m2=radiation_mj_m2)
    within(0, 1, reflected_share=reflected_share)
    kept = 1 - floats(reflected_share)
    return np.asarray(kept * floats(radiation_mj_m2))


@formula(
    "net longwave = 4.903e-9 x mean of both temperatures in K to the 4th power x (0.34 - 0.14 "
    "sqrt(vapor pressure)) x (1.35 x share of clear sky - 0.35); MJ/m2/d",
    result=_PLAIN,
    sources=(Source(_FAO, "equation 39, example 11", ""),),
    example={
        "t_max_c": "25.1",
        "t_min_c": "19.1",
        "vapor_kpa": "2.1",
        "clear_sky_share": "0.77",
    },
    t_max_c=_PLAIN,
    t_min_c=_PLAIN,
    vapor_kpa=_PLAIN,
    clear_sky_share=_PLAIN,
)
def net_longwave(
    t_max_c: ArrayLike, t_min_c: ArrayLike, vapor_kpa: ArrayLike, clear_sky_share: ArrayLike
) -> FloatArray:
    """Heat that the surface loses to the sky in a day [MJ/m2/d].

    Parameters
    ----------
    t_max_c, t_min_c : of the air [C], -60 to 70; for an hour both its mean, the result over 24
    vapor_kpa : pressure of the air's vapor [kPa], 0 to 10
    clear_sky_share : radiation over that of a clear sky [-], taken as 1 where above

    Raises ValueError for an input outside its range.
    """
    within(-60, 70, t_max_c=t_max_c, t_min_c=t_min_c)
    within(0, 10, vapor_kpa=vapor_kpa)
    not_negative(clear_sky_share=clear_sky_share)
    warm = floats(t_max_c) + ZERO_CELSIUS_K
    cool = floats(t_min_c) + ZERO_CELSIUS_K
    clear = np.minimum(clear_sky_share, 1.0)
    heat = STEFAN_BOLTZMANN_MJ_DAY * ((warm * warm) ** 2 + (cool * cool) ** 2) / 2
    return np.asarray(heat * (0.34 - 0.14 * np.sqrt(vapor_kpa)) * (1.35 * clear - 0.35))


@formula(
    "heat into the soil = 0.07 x (mean of next month - mean of last month); MJ/m2/d",
    result=_PLAIN,
    sources=(Source(_FAO, "equation 43, example 13", "0.14 x (this month - last), equation 44"),),
    example={"next_month_c": "18.8", "last_month_c": "14.1"},
    next_month_c=_PLAIN,
    last_month_c=_PLAIN,
)
def monthly_soil_heat(next_month_c: ArrayLike, last_month_c: ArrayLike) -> FloatArray:
    """Heat that goes into the soil in a day of a month [MJ/m2/d]; over single days it is next to 0.

    Parameters
    ----------
    next_month_c, last_month_c : mean temperature of the months after and before [C], -60 to 70

    Raises ValueError for an input outside its range.
    """
    within(-60, 70, next_month_c=next_month_c, last_month_c=last_month_c)
    risen = floats(next_month_c) - floats(last_month_c)
    return np.asarray(0.07 * risen)  # fao_56 equation 43


@formula(
    "hour angle = 15 deg x (clock + (longitude - zone's longitude) / 15 + Sc - 12), longitudes "
    "east; Sc = 0.1645 sin(2b) - 0.1255 cos(b) - 0.025 sin(b), b = 2 pi (day - 81) / 364",
    result=_ANGLE,
    sources=(Source(_FAO, "equations 31 to 33, example 19", ""),),
    example={
        "clock_h": "14.5 h",
        "longitude_deg": "-16.25 deg",
        "zone_longitude_deg": "-15 deg",
        "day_of_year": "274",
    },
    clock_h=("time", "h"),
    longitude_deg=_ANGLE,
    zone_longitude_deg=_ANGLE,
    day_of_year=_PLAIN,
)
def sun_hour_angle(
    clock_h: ArrayLike,
    longitude_deg: ArrayLike,
    zone_longitude_deg: ArrayLike,
    day_of_year: ArrayLike,
) -> FloatArray:
    """How far the sun has turned past noon, at a moment of the zone's clock [deg].

    Parameters
    ----------
    clock_h : standard time, the middle of the spell [h], 0 to 24
    longitude_deg, zone_longitude_deg : of the place and of its zone's middle, east [deg]
    day_of_year : 1 to 366

    Raises ValueError for an input outside its range.
    """
    within(0, 24, clock_h=clock_h)
    within(-180, 180, longitude_deg=longitude_deg, zone_longitude_deg=zone_longitude_deg)
    within(1, 366, day_of_year=day_of_year)
    turn = 2 * np.pi * (floats(day_of_year) - 81) / 364
    season_h = 0.1645 * np.sin(2 * turn) - 0.1255 * np.cos(turn) - 0.025 * np.sin(turn)
    east = floats(longitude_deg) - floats(zone_longitude_deg)
    # 0.06667, the 15th part of a degree's hour, as printed
    return np.asarray(15 * (floats(clock_h) + 0.06667 * east + season_h - 12))


@formula(
    "12 x 60 / pi x 0.0820 x nearness x ((w2 - w1) sin(latitude) sin(declination) + cos(latitude) "
    "cos(declination) (sin w2 - sin w1)), w1 and w2 the hour angles at the ends; MJ/m2",
    result=_PLAIN,
    sources=(Source(_FAO, "equations 28 to 30, example 19", ""),),
    example={
        "latitude_deg": "16.2167 deg",
        "declination_deg": "-4.313 deg",
        "hour_angle_deg": "39.084 deg",
        "nearness": "1.0001",
        "hours": "1 h",
    },
    latitude_deg=_ANGLE,
    declination_deg=_ANGLE,
    hour_angle_deg=_ANGLE,
    nearness=_PLAIN,
    hours=("time", "h"),
)
def hourly_extraterrestrial_radiation(
    latitude_deg: ArrayLike,
    declination_deg: ArrayLike,
    hour_angle_deg: ArrayLike,
    nearness: ArrayLike,
    hours: ArrayLike = 1.0,
) -> FloatArray:
    """Radiation above the air in a spell of an hour or so [MJ/m2], 0 where the sun is down.

    Parameters
    ----------
    latitude_deg : north positive [deg], -90 to 90
    declination_deg : of the sun, by the climate room [deg], -24 to 24
    hour_angle_deg : of :func:`sun_hour_angle` for the middle of the spell [deg]
    nearness : inverse relative distance of the sun, squared, by the climate room [-]
    hours : length of the spell [h], above 0

    Raises ValueError for an input outside its range.
    """
    within(-90, 90, latitude_deg=latitude_deg)
    within(-24, 24, declination_deg=declination_deg)
    positive(hours=hours, nearness=nearness)
    north, high = np.radians(latitude_deg), np.radians(declination_deg)
    half = np.pi / 24 * floats(hours)
    middle = np.radians(hour_angle_deg)
    level = np.cos(north) * np.cos(high)
    sunset = np.arccos(np.clip(-np.tan(north) * np.tan(high), -1.0, 1.0))
    first, last = (np.clip(each, -sunset, sunset) for each in (middle - half, middle + half))
    height = (last - first) * np.sin(north) * np.sin(high) + level * (np.sin(last) - np.sin(first))
    per_hour = 12 * 60 / np.pi * 0.0820  # fao_56 equation 28
    return np.asarray(per_hour * floats(nearness) * np.maximum(height, 0.0))
