"""The soil's temperature in each week of a season, from the months that the gardener states."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, timedelta

import numpy as np
from numpy.typing import NDArray

from bedwright.garden.model_climate import Climate
from bedwright.planning.findings import Finding, finding
from bedwright.reference import Library

_DAYS = 365.25
_MONTH_DAYS = (31, 28.25, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31)


@dataclass(frozen=True)
class Warmth:
    """Temperature of the soil in each week [K], (weeks,), and what was assumed for it."""

    kelvin: NDArray[np.float64]
    findings: tuple[Finding, ...]


def soil_warmth(climate: Climate, starts: tuple[date, ...], library: Library) -> Warmth:
    """The soil's temperature in the middle of each week that begins on one of ``starts``.

    A month's mean stands for its middle; between two middles a straight line is taken, over
    the turn of the year as well.
    """
    said: list[Finding] = []
    if climate.soil_temperature is not None:
        months = np.array([each.si for each in climate.soil_temperature])
    elif climate.air_temperature is not None:
        over = library.parameter("soil_over_air", "C")
        months = np.array([each.si for each in climate.air_temperature]) + over.value
        said.append(
            finding("soil_temperature_from_air", "assumed", over=over, sources=over.sources)
        )
    else:
        raise ValueError("the climate states no temperature")
    middles = np.cumsum(_MONTH_DAYS) - np.array(_MONTH_DAYS) / 2
    days = np.array([(start + timedelta(days=3)).timetuple().tm_yday - 0.5 for start in starts])
    kelvin = np.interp(days, middles, months, period=_DAYS)
    return Warmth(np.asarray(kelvin), tuple(said))
