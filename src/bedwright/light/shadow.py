"""Shadows by hand: how long, how far across a row, how far off to keep the noon sun."""

from __future__ import annotations

import numpy as np

from bedwright.guards import not_negative, positive, within
from bedwright.light.scene import FloatArray, Numbers
from bedwright.working import Source, formula

_ANGLE = ("angle", "deg")
_LENGTH = ("length", "m")
_PLAIN = ("ratio", "-")
_GEOMETRY = (Source("computed", "plane geometry"),)


@formula(
    "length = height / tan(elevation)",
    result=_LENGTH,
    sources=_GEOMETRY,
    example={"height_m": "6 ft", "elevation_deg": "33.1 deg"},
    height_m=_LENGTH,
    elevation_deg=_ANGLE,
)
def shadow_length(height_m: Numbers, elevation_deg: Numbers) -> FloatArray:
    """Length of a shadow on level ground [m].

    Parameters
    ----------
    height_m : of what casts it [m], 0 and up
    elevation_deg : of the sun [deg], above 0, at most 90

    Raises ValueError for an input outside its range.
    """
    not_negative(height_m=height_m)
    positive(elevation_deg=elevation_deg)
    within(0, 90, elevation_deg=elevation_deg)
    return np.asarray(np.asarray(height_m) / np.tan(np.radians(elevation_deg)))


@formula(
    "reach = height / tan(elevation) x |sin(azimuth - row azimuth)|",
    result=_LENGTH,
    sources=_GEOMETRY,
    example={
        "height_m": "1.8 m",
        "elevation_deg": "35.88 deg",
        "azimuth_deg": "119.23 deg",
        "row_azimuth_deg": "0 deg",
    },
    height_m=_LENGTH,
    elevation_deg=_ANGLE,
    azimuth_deg=_ANGLE,
    row_azimuth_deg=_ANGLE,
)
def shadow_across_row(
    height_m: Numbers, elevation_deg: Numbers, azimuth_deg: Numbers, row_azimuth_deg: Numbers
) -> FloatArray:
    """How far a long row's shadow reaches to its side, square to the row [m].

    Parameters
    ----------
    height_m : of the row [m], 0 and up
    elevation_deg : of the sun [deg], above 0, at most 90
    azimuth_deg, row_azimuth_deg : of sun and row from north over east [deg], -360 to 720

    Raises ValueError for an input outside its range.
    """
    within(-360, 720, azimuth_deg=azimuth_deg, row_azimuth_deg=row_azimuth_deg)
    turn = np.radians(np.asarray(azimuth_deg) - np.asarray(row_azimuth_deg))
    return np.asarray(shadow_length(height_m, elevation_deg) * np.abs(np.sin(turn)))


@formula(
    "elevation = 90 degrees - |latitude - declination|",
    result=_ANGLE,
    sources=_GEOMETRY,
    example={"latitude_deg": "33.45 deg", "declination_deg": "-23.45 deg"},
    latitude_deg=_ANGLE,
    declination_deg=_ANGLE,
)
def noon_elevation(latitude_deg: Numbers, declination_deg: Numbers) -> FloatArray:
    """Height of the sun at its noon [deg]; below 0 where it does not rise.

    Parameters
    ----------
    latitude_deg : north positive [deg], -90 to 90
    declination_deg : of the sun [deg], -24 to 24

    Raises ValueError for an input outside its range.
    """
    within(-90, 90, latitude_deg=latitude_deg)
    within(-24, 24, declination_deg=declination_deg)
    return np.asarray(90.0 - np.abs(np.asarray(latitude_deg) - np.asarray(declination_deg)))


@formula(
    "share = (1 + distance / sqrt(distance^2 + height^2)) / 2",
    result=_PLAIN,
    sources=(Source("computed", "integral of an even sky over the part that is seen"),),
    example={"distance_m": "0.6 m", "height_m": "1.8 m"},
    distance_m=_LENGTH,
    height_m=_LENGTH,
)
def sky_share_beside_wall(distance_m: Numbers, height_m: Numbers) -> FloatArray:
    """Share of an even sky's light left on level ground beside a long closed wall [-], 0.5 to 1.

    Parameters
    ----------
    distance_m : from the wall [m], 0 and up
    height_m : of the wall above the point [m], 0 and up; not both 0

    Raises ValueError for an input outside its range.
    """
    not_negative(distance_m=distance_m, height_m=height_m)
    slant = np.hypot(distance_m, height_m)
    positive(slant_m=slant)
    return np.asarray((1 + np.asarray(distance_m) / slant) / 2)
