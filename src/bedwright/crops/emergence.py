"""When seed comes up: the rate of a soil temperature, added up until it makes one."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from bedwright.crops.stages import day_reached, running_total
from bedwright.guards import positive
from bedwright.working import Source, formula

FloatArray = NDArray[np.float64]
_WARM_K = 30.0  # K above a base, beyond which emergence goes no faster: judgement


@dataclass(frozen=True)
class EmergenceTable:
    """Days to emerge at soil temperatures [C, rising], with the rate 1/days at each.

    A temperature at which none came up has the rate 0. Below the coldest row the line through the
    two coldest goes on down to nothing; above the warmest row the rate stays.
    """

    soil_c: tuple[float, ...]
    rate: tuple[float, ...]

    @staticmethod
    def of(days_at: Mapping[float, float], none_at: tuple[float, ...] = ()) -> EmergenceTable:
        """A table from days by temperature [C], and the temperatures at which none emerged.

        Raises ValueError with fewer than two temperatures, or days that are not above 0.
        """
        if len(days_at) < 2:
            raise ValueError("days to emerge are needed at two temperatures or more")
        positive(days=np.array(list(days_at.values())))
        rates = {t: 1 / days for t, days in days_at.items()} | dict.fromkeys(none_at, 0.0)
        coldest, next_ = sorted(days_at)[:2]
        slope = (rates[next_] - rates[coldest]) / (next_ - coldest)
        if slope > 0 and not any(t < coldest for t in none_at):
            rates[coldest - rates[coldest] / slope] = 0.0
        order = sorted(rates)
        return EmergenceTable(tuple(order), tuple(rates[t] for t in order))

    @staticmethod
    def of_heat(base_c: float, heat: float) -> EmergenceTable:
        """A table from the heat that emergence takes above a base [C, degC d].

        Raises ValueError where the heat is not above 0.
        """
        positive(heat=heat)
        return EmergenceTable((base_c, base_c + _WARM_K), (0.0, _WARM_K / heat))

    def rates(self, soil_c: FloatArray) -> FloatArray:
        """The share of the way to emergence made in a day at soil temperatures [C] [1/day]."""
        held = np.interp(np.nan_to_num(soil_c), self.soil_c, self.rate)
        return np.where(np.isnan(soil_c), np.nan, held)


@formula(
    "1 / (share of the time at the first temperature / days there + rest / days at the second)",
    result=("ratio", "d"),
    sources=(
        Source("harrington_minges_1954", "days to emergence", ""),
        Source("computed", "", "rates are added, not days"),
    ),
    example={"days_first": "14", "days_second": "6", "share_first": "50 %"},
    days_first=("ratio", "-"),
    days_second=("ratio", "-"),
    share_first=("ratio", "-"),
)
def emergence_days_mixed(
    days_first: ArrayLike, days_second: ArrayLike, share_first: ArrayLike
) -> FloatArray:
    """Days to emerge in a soil that is at one temperature part of the day, at another the rest.

    Parameters
    ----------
    days_first, days_second : days to emerge at either temperature [days], above 0
    share_first : of the time at the first temperature [-], 0 to 1

    Raises ValueError for an input outside its range.
    """
    positive(days_first=days_first, days_second=days_second)
    share = np.asarray(share_first, dtype=np.float64)
    if np.any((share < 0) | (share > 1)):
        raise ValueError("share_first must lie from 0 to 1")
    rate = share / np.asarray(days_first) + (1 - share) / np.asarray(days_second)
    return np.asarray(1 / rate)


def emergence_day(table: EmergenceTable, soil_c: FloatArray, sown: ArrayLike) -> FloatArray:
    """The day on which seed sown on a day comes up [index], NaN where it does not in the record.

    Parameters
    ----------
    table : of the crop
    soil_c : daily mean at the depth of the seed [C], (days,)
    sown : days of sowing [index], any shape
    """
    return day_reached(running_total(table.rates(soil_c)), sown, 1.0)


def soil_ready(soil_c: FloatArray, starts: ArrayLike, least_c: float, days: int) -> FloatArray:
    """Whether each of the last days before a date was warm enough: 1 or 0, NaN if not known.

    Parameters
    ----------
    soil_c : daily mean [C], (days,)
    starts : dates [index], any shape
    least_c : the least mean [C]; NaN where the crop's is not known: then NaN
    days : how many days before the date must have been so warm, 1 or more
    """
    positive(days=days)
    first = np.asarray(starts, dtype=np.float64)
    cold = running_total(np.where(np.isnan(soil_c), 0.0, soil_c < least_c))
    gaps = running_total(np.isnan(soil_c))
    inside = ~np.isnan(first) & (first >= days) & (first < soil_c.size + 1)
    at = np.where(inside, first, days).astype(np.int64)
    at = np.minimum(at, soil_c.size)
    before = np.maximum(at - days, 0)
    known = inside & (gaps[at] == gaps[before]) & ~np.isnan(least_c)
    return np.where(known, (cold[at] == cold[before]).astype(np.float64), np.nan)
