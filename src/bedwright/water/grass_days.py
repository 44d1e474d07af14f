"""Penman-Monteith's reference evapotranspiration of many days in few passes, without checks.

Used by :mod:`bedwright.water.evapotranspiration`, which checks; equation numbers are those of
FAO-56.
"""

from __future__ import annotations

from functools import lru_cache

import numpy as np

from bedwright.water.air import air_pressure_fao56, psychrometric_constant
from bedwright.water.arrays import FloatArray
from bedwright.water.radiation import STEFAN_BOLTZMANN_MJ_DAY, ZERO_CELSIUS_K, clear_sky_share

_M_PER_MJ = 0.408e-3  # fao_56 equation 20: 0.408 mm of water evaporates with 1 MJ/m2
_ZERO_OF_VAPOR_C = 237.3  # fao_56 equation 11, and the two below from it
_VAPOR_FALL = -17.27 * _ZERO_OF_VAPOR_C
_VAPOR_SCALE = 0.6108 * np.exp(17.27)
_GLOW = STEFAN_BOLTZMANN_MJ_DAY / 2 * _M_PER_MJ


def of_height(elevation: FloatArray) -> tuple[FloatArray | float, FloatArray | float]:
    """Share of radiation that a clear sky lets through, and psychrometric constant [kPa/C]."""
    if elevation.ndim == 0:
        return _of_one_height(float(elevation))
    constant = psychrometric_constant(air_pressure_fao56(elevation))
    return clear_sky_share(elevation), constant


@lru_cache(maxsize=64)  # a garden asks for one height again and again
def _of_one_height(elevation_m: float) -> tuple[float, float]:
    constant = psychrometric_constant(air_pressure_fao56(elevation_m))
    return float(clear_sky_share(elevation_m)), float(constant)


def et0_of_days(
    warm: FloatArray,
    cool: FloatArray,
    vapor: FloatArray,
    wind: FloatArray,
    sun: FloatArray,
    clear: FloatArray,
    constant: FloatArray | float,
) -> FloatArray:
    """Equations 6, 11 to 13, 38 and 39 in one go [m/d]; the same as the single formulas.

    ``vapor`` pressure [kPa], ``wind`` at 2 m [m/s], ``sun`` on level ground and under a ``clear``
    sky [MJ/m2/d], psychrometric ``constant`` [kPa/C]; any shapes that broadcast.

    17.27 T / (T + 237.3) is written 17.27 - 17.27 x 237.3 / (T + 237.3), and the constants of
    the slope are taken into the psychrometric constant. The warmest, the coolest and the mean of
    the day stand side by side, so that one call serves all.
    """
    air = np.empty((3, *np.broadcast_shapes(warm.shape, cool.shape)))
    np.add(warm, _ZERO_OF_VAPOR_C, out=air[0])
    np.add(cool, _ZERO_OF_VAPOR_C, out=air[1])
    mean = air[2]
    np.add(air[0], air[1], out=mean)
    mean *= 0.5
    pressure = _VAPOR_FALL / air
    np.exp(pressure, out=pressure)
    slope = pressure[2]
    slope /= mean * mean
    deficit = pressure[0]
    deficit += pressure[1]
    deficit *= _VAPOR_SCALE / 2
    deficit = deficit - vapor
    mean += 273 - _ZERO_OF_VAPOR_C
    deficit /= mean
    glow = air[:2]
    glow += ZERO_CELSIUS_K - _ZERO_OF_VAPOR_C
    glow *= glow
    glow *= glow
    lost = glow[0]
    lost += glow[1]
    dryness = np.sqrt(vapor)
    dryness *= -0.14 * _GLOW
    dryness += 0.34 * _GLOW
    lost = lost * dryness
    share = sun / clear
    np.minimum(share, 1.0, out=share)
    share *= 1.35
    share -= 0.35
    heat = (0.77 * _M_PER_MJ) * sun - lost * share
    scaled = constant / (_VAPOR_SCALE * 4098)
    drying = deficit * (wind * (0.9 * scaled))
    drag = wind * (0.34 * scaled) + scaled
    return np.asarray((heat * slope + drying) / (slope + drag))


def saturation(air: FloatArray) -> FloatArray:
    """Equation 11 without checks [kPa]."""
    power = _VAPOR_FALL / (air + _ZERO_OF_VAPOR_C)
    np.exp(power, out=power)
    power *= _VAPOR_SCALE
    return power
