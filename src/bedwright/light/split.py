"""Which part of the sun's radiation comes from the sky, and how a day's radiation is spread.

Clearness is radiation on level ground over that above the air. The correlations are for an hour,
a day and a month's mean; they are not one another's: in a month clear and gray days are mixed.
"""

from __future__ import annotations

import numpy as np

from bedwright.guards import within
from bedwright.light.scene import FloatArray, Numbers
from bedwright.working import Source, formula

_ANGLE = ("angle", "deg")
_PLAIN = ("ratio", "-")
_ERBS = "erbs_1982"
_WINTER_DEG = 81.4  # erbs_1982: sunset hour angle that parts winter from the other seasons
_MONTH_LOW, _MONTH_HIGH = 0.3, 0.8  # erbs_1982: range of the monthly correlation
_MEAN_SUN_DEG = 60.0  # collares_pereira_rabl_1979


@formula(
    "up to 0.22: 1 - 0.09 k; up to 0.80: 0.9511 - 0.1604 k + 4.388 k^2 - 16.638 k^3 + 12.336 k^4; "
    "above: 0.165",
    result=_PLAIN,
    sources=(Source(_ERBS, "equation 1", "as carried by pvlib"),),
    example={"clearness": "0.5"},
    clearness=_PLAIN,
)
def diffuse_share_hour_erbs(clearness: Numbers) -> FloatArray:
    """Share of an hour's radiation that comes from the sky [-].

    Parameters
    ----------
    clearness : of the hour [-], 0 to 1

    Raises ValueError for an input outside its range.
    """
    within(0, 1, clearness=clearness)
    k = np.asarray(clearness, dtype=np.float64)
    gray = 1 - 0.09 * k
    mixed = 0.9511 - 0.1604 * k + 4.388 * k**2 - 16.638 * k**3 + 12.336 * k**4
    return np.asarray(np.where(k <= 0.22, gray, np.where(k <= 0.8, mixed, 0.165)))


@formula(
    "sunset hour angle up to 81.4 degrees: 1 - 0.2727 k + 2.4495 k^2 - 11.9514 k^3 + 9.3879 k^4, "
    "from k = 0.715 on 0.143; above: 1 + 0.2832 k - 2.5557 k^2 + 0.8448 k^3, from 0.722 on 0.175",
    result=_PLAIN,
    sources=(Source(_ERBS, "daily correlation", "as carried by public code"),),
    example={"clearness": "0.7", "sunset_deg": "105 deg"},
    clearness=_PLAIN,
    sunset_deg=_ANGLE,
)
def diffuse_share_day_erbs(clearness: Numbers, sunset_deg: Numbers) -> FloatArray:
    """Share of one day's radiation that comes from the sky [-].

    Parameters
    ----------
    clearness : of the day [-], 0 to 1
    sunset_deg : hour angle of sunset, half the day's length at 15 degrees an hour [deg], 0 to 180

    Raises ValueError for an input outside its range.
    """
    within(0, 1, clearness=clearness)
    within(0, 180, sunset_deg=sunset_deg)
    k = np.asarray(clearness, dtype=np.float64)
    winter = 1 - 0.2727 * k + 2.4495 * k**2 - 11.9514 * k**3 + 9.3879 * k**4
    other = 1 + 0.2832 * k - 2.5557 * k**2 + 0.8448 * k**3
    winter, other = np.where(k < 0.715, winter, 0.143), np.where(k < 0.722, other, 0.175)
    return np.asarray(np.where(np.asarray(sunset_deg) <= _WINTER_DEG, winter, other))


@formula(
    "sunset hour angle up to 81.4 degrees: 1.391 - 3.560 k + 4.189 k^2 - 2.137 k^3; above: 1.311 "
    "- 3.022 k + 3.427 k^2 - 1.821 k^3; k from 0.3 to 0.8, below on a straight line to 1 at 0",
    result=_PLAIN,
    sources=(
        Source(_ERBS, "monthly correlation", "as carried by public code"),
        Source("judgement", "", "the line below 0.3: a month without any beam is all sky"),
    ),
    example={"clearness": "0.6", "sunset_deg": "105 deg"},
    clearness=_PLAIN,
    sunset_deg=_ANGLE,
)
def diffuse_share_month_erbs(clearness: Numbers, sunset_deg: Numbers) -> FloatArray:
    """Share of a month's mean radiation that comes from the sky [-].

    Parameters
    ----------
    clearness : of the month's mean day [-], 0 to 1; above 0.8 as at 0.8
    sunset_deg : hour angle of sunset in mid-month [deg], 0 to 180

    Raises ValueError for an input outside its range.
    """
    within(0, 1, clearness=clearness)
    within(0, 180, sunset_deg=sunset_deg)
    given = np.asarray(clearness, dtype=np.float64)
    k = np.clip(given, _MONTH_LOW, _MONTH_HIGH)
    winter = 1.391 - 3.560 * k + 4.189 * k**2 - 2.137 * k**3
    other = 1.311 - 3.022 * k + 3.427 * k**2 - 1.821 * k**3
    share = np.where(np.asarray(sunset_deg) <= _WINTER_DEG, winter, other)
    return np.asarray(np.where(given < _MONTH_LOW, 1 - (1 - share) * given / _MONTH_LOW, share))


@formula(
    "share in an hour = pi / 24 (a + b cos w)(cos w - cos s) / (sin s - s cos s), a = 0.409 + "
    "0.5016 sin(s - 60), b = 0.6609 - 0.4767 sin(s - 60); w hour angle, s that of sunset",
    result=_PLAIN,
    sources=(Source("collares_pereira_rabl_1979", "", "as carried by public code"),),
    example={"hour_angle_deg": "7.5 deg", "sunset_deg": "90 deg"},
    hour_angle_deg=_ANGLE,
    sunset_deg=_ANGLE,
)
def hourly_share_of_day(hour_angle_deg: Numbers, sunset_deg: Numbers) -> FloatArray:
    """Share of a day's radiation in the hour about an hour angle [-], 0 at night.

    Parameters
    ----------
    hour_angle_deg : in the middle of the hour, 0 at noon [deg], -180 to 180
    sunset_deg : hour angle of sunset [deg], above 0, at most 180

    Raises ValueError for an input outside its range.
    """
    w, s = np.radians(hour_angle_deg), np.radians(sunset_deg)
    sky = hourly_share_of_sky(hour_angle_deg, sunset_deg)
    return np.asarray(sky * np.maximum(day_shape(np.cos(w), s), 0.0))


@formula(
    "share in an hour = pi / 24 (cos w - cos s) / (sin s - s cos s); w hour angle, s that of "
    "sunset",
    result=_PLAIN,
    sources=(Source("liu_jordan_1960", "", "as carried by public code"),),
    example={"hour_angle_deg": "7.5 deg", "sunset_deg": "90 deg"},
    hour_angle_deg=_ANGLE,
    sunset_deg=_ANGLE,
)
def hourly_share_of_sky(hour_angle_deg: Numbers, sunset_deg: Numbers) -> FloatArray:
    """Share of a day's light from the sky in the hour about an hour angle [-], 0 at night.

    Parameters
    ----------
    hour_angle_deg : in the middle of the hour, 0 at noon [deg], -180 to 180
    sunset_deg : hour angle of sunset [deg], above 0, at most 180

    Raises ValueError for an input outside its range.
    """
    within(-180, 180, hour_angle_deg=hour_angle_deg)
    within(1e-3, 180, sunset_deg=sunset_deg)
    w, s = np.radians(hour_angle_deg), np.radians(sunset_deg)
    above = np.maximum(np.cos(w) - np.cos(s), 0.0)
    return np.asarray(np.pi / 24 * above / (np.sin(s) - s * np.cos(s)))


@formula(
    "radiation = (0.75 + 0.00002 x height above the sea in m) x radiation above the air",
    result=_PLAIN,
    sources=(Source("fao_56", "equation 37", "without readings of a cloudless station"),),
    example={"extraterrestrial_mj_m2": "41.09", "altitude_m": "100 m"},
    extraterrestrial_mj_m2=_PLAIN,
    altitude_m=("length", "m"),
)
def clear_sky_radiation_fao56(extraterrestrial_mj_m2: Numbers, altitude_m: Numbers) -> FloatArray:
    """Radiation of a day without clouds on level ground [MJ/m2/d].

    Parameters
    ----------
    extraterrestrial_mj_m2 : of the day above the air [MJ/m2/d], 0 to 50
    altitude_m : of the place above the sea [m], -450 to 5000

    Raises ValueError for an input outside its range.
    """
    within(0, 50, extraterrestrial_mj_m2=extraterrestrial_mj_m2)
    within(-450, 5000, altitude_m=altitude_m)
    at_sea, per_m = 0.75, 2e-5  # fao_56 equation 37
    clear = at_sea + per_m * np.asarray(altitude_m, dtype=np.float64)
    return np.asarray(clear * np.asarray(extraterrestrial_mj_m2))


def day_shape(cos_hour_angle: Numbers, sunset_rad: Numbers) -> FloatArray:
    """How much more of a day's radiation than of its sky light falls in an hour [-].

    ``cos_hour_angle`` -1 to 1, ``sunset_rad`` 0 to pi; collares_pereira_rabl_1979.
    """
    turn = np.sin(np.asarray(sunset_rad) - np.radians(_MEAN_SUN_DEG))
    level, swing = 0.409 + 0.5016 * turn, 0.6609 - 0.4767 * turn
    return np.asarray(level + swing * np.asarray(cos_hour_angle))
