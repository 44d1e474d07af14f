"""A day's weather for evapotranspiration, what may be missing from it, and what that costs."""

from __future__ import annotations

from dataclasses import dataclass
from enum import IntFlag

import numpy as np
from numpy.typing import ArrayLike, NDArray

from bedwright.water.arrays import FloatArray


class Substitute(IntFlag):
    """What was not measured on a day; HARGREAVES says that none of the three was."""

    NONE = 0
    HUMIDITY = 1
    WIND = 2
    RADIATION = 4
    HARGREAVES = 8


@dataclass(frozen=True)
class SubstituteErrors:
    """How far a day's figure errs (root mean square) where a measurement is replaced [m/d]."""

    humidity_m: float
    wind_m: float
    radiation_m: float
    hargreaves_m: float

    def of(self, used: NDArray[np.int8]) -> FloatArray:
        """For each day's substitutes, errors added as independent ones [m/d]."""
        square = np.zeros(used.shape)
        if not used.any():
            return square
        for flag, error in (
            (Substitute.HUMIDITY, self.humidity_m),
            (Substitute.WIND, self.wind_m),
            (Substitute.RADIATION, self.radiation_m),
        ):
            square += ((used & flag) != 0) * error**2
        return np.where(used & Substitute.HARGREAVES, self.hargreaves_m, np.sqrt(square))


@dataclass(frozen=True, eq=False)
class Weather:
    """Days of one place, or of several side by side; all fields of shapes that broadcast.

    ``t_max_c``, ``t_min_c`` [C]; ``extraterrestrial_mj_m2`` radiation above the air and
    ``radiation_guess_mj_m2`` that guessed from the range of temperature, both of the climate room
    [MJ/m2/d]; ``elevation_m`` [m]; measured, None or NaN where not: ``radiation_mj_m2``,
    ``dew_point_c``, ``humidity_max_percent``, ``humidity_min_percent``, ``wind_m_s`` at
    ``wind_height_m``. ``dew_below_minimum_c`` what the dew point is taken below the minimum where
    humidity is not measured: 0 in moist regions, 2 to 3 in arid ones (FAO-56 p. 58).
    """

    t_max_c: FloatArray
    t_min_c: FloatArray
    extraterrestrial_mj_m2: FloatArray
    radiation_guess_mj_m2: FloatArray
    elevation_m: ArrayLike
    dew_below_minimum_c: float
    radiation_mj_m2: FloatArray | None = None
    dew_point_c: FloatArray | None = None
    humidity_max_percent: FloatArray | None = None
    humidity_min_percent: FloatArray | None = None
    wind_m_s: FloatArray | None = None
    wind_height_m: float = 2.0
