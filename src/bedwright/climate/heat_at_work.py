"""The heat of a working day by the hour: wet bulb globe temperature, and the adjusted air.

Under a clear sky, from the day's extremes: the careful side. Two published ways are kept side by
side. The wet bulb globe temperature (WBGT) counts sun, humidity and wind; the schedule by air
temperature is entered with what it adds for sun and humidity. The heat index is neither: it knows
no sun and in dry heat reads below the air.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from bedwright.climate.day_length import (
    day_length,
    declination_fao56,
    extraterrestrial_radiation_fao56,
    radiation_from_sunshine_fao56,
)
from bedwright.climate.hourly import temperature_linvill_1990
from bedwright.climate.human_heat import (
    GlobeHeat,
    humidity_from_minimum,
    humidity_of_same_vapor,
    wbgt_liljegren_2008,
)
from bedwright.guards import not_negative, within
from bedwright.reference import Row

FloatArray = NDArray[np.float64]

HOURS = 24
_LONGEST_DAY, _SHORTEST_DAY = 23.0, 5.0  # h: what the curve of the hours can follow
_SUNRISE_DEG = 90.833  # zenith of almanacs, fao_56 takes 90
_JOULES = 1e6 / 3600  # W/m2 of one MJ/m2 in an hour: computed


@dataclass(frozen=True)
class DayOfHeat:
    """The weather of a day to work in.

    ``t_max_c``, ``t_min_c`` [C]; ``humidity_percent`` at the day's high [%], None where not known;
    ``wind_m_s`` at 2 m [m/s]; ``latitude_deg`` north positive [deg]; ``day_of_year`` 1 to 366;
    ``pressure_kpa`` of the air [kPa].

    Raises ValueError for a number outside its range or a maximum below the minimum.
    """

    t_max_c: float
    t_min_c: float
    latitude_deg: float
    day_of_year: float
    wind_m_s: float
    humidity_percent: float | None = None
    pressure_kpa: float = 101.325

    def __post_init__(self) -> None:
        within(-20, 60, t_max_c=self.t_max_c, t_min_c=self.t_min_c)
        within(-66, 66, latitude_deg=self.latitude_deg)
        not_negative(wind_m_s=self.wind_m_s)
        if self.humidity_percent is not None:
            within(1, 100, humidity_percent=self.humidity_percent)
        if self.t_max_c < self.t_min_c:
            raise ValueError(f"the maximum {self.t_max_c:g} C is below the minimum")


@dataclass(frozen=True, eq=False)
class HoursOfHeat:
    """The middle of each hour of a day by the sun's time, which stands highest at 12 (24,).

    ``adjusted_c`` is the air temperature with which the schedule by air is entered [C], NaN where
    the air is moister than the schedule tells of.
    """

    hour_h: FloatArray
    air_c: FloatArray
    humidity_percent: FloatArray
    radiation_w_m2: FloatArray
    heat: GlobeHeat
    adjusted_c: FloatArray


def heat_through_day(day: DayOfHeat, rows: Sequence[Row]) -> HoursOfHeat:
    """The heat of each hour in full sun.

    Parameters
    ----------
    day : its weather
    rows : of ``heat_at_work.csv``

    A clear sky is taken. Where humidity is not known the minimum stands for the dew point, which
    is too moist in dry places.
    """
    hours = np.arange(HOURS, dtype=np.float64) + 0.5
    declination = float(declination_fao56(day.day_of_year))
    long_h = float(day_length(day.latitude_deg, declination, _SUNRISE_DEG))
    long_h = min(max(long_h, _SHORTEST_DAY), _LONGEST_DAY)
    rise, set_ = 12 - long_h / 2, 12 + long_h / 2
    since = np.where(hours < rise, hours + HOURS, hours)
    air = temperature_linvill_1990(since, day.t_max_c, day.t_min_c, day.t_min_c, rise, set_)
    if day.humidity_percent is None:
        humid = humidity_from_minimum(air, day.t_min_c)
    else:
        same = humidity_of_same_vapor(air, day.t_max_c, day.humidity_percent)
        humid = np.maximum(same, 1.0)
    height = _sine_of_height(hours, day.latitude_deg, declination)
    above = float(extraterrestrial_radiation_fao56(day.latitude_deg, day.day_of_year))
    clear = float(radiation_from_sunshine_fao56(12.0, 12.0, above))
    up = np.maximum(height, 0.0)
    sun = clear * _JOULES * up / max(float(up.sum()), np.finfo(np.float64).tiny)
    heat = wbgt_liljegren_2008(
        air,
        humid,
        sun,
        day.wind_m_s,
        np.degrees(np.arccos(np.clip(height, -1.0, 1.0))),
        pressure_kpa=day.pressure_kpa,
    )
    adjusted = np.array(
        [
            adjusted_air_niosh_2016(t, h, "full_sun" if lit > 0 else "shade", rows)
            for t, h, lit in zip(air, humid, sun, strict=True)
        ]
    )
    return HoursOfHeat(hours, air, humid, sun, heat, adjusted)


def adjusted_air_niosh_2016(
    air_c: float, humidity_percent: float, sky: str, rows: Sequence[Row]
) -> float:
    """The air temperature with which the schedule of ``work_rest.csv`` is entered [C].

    Parameters
    ----------
    air_c : in the shade [C], -40 to 60; never a heat index
    humidity_percent : relative [%], 0 to 100; a line between the printed steps, below the first
        as there
    sky : ``full_sun``, ``part_cloud`` or ``shade``
    rows : of ``heat_at_work.csv``

    NaN where the air is moister than the last printed step. Raises ValueError for another sky.
    """
    within(-40, 60, air_c=air_c)
    within(0, 100, humidity_percent=humidity_percent)
    skies = {row["condition"]: row.typical() for row in rows if row["property"] == "sky"}
    if sky not in skies:
        raise ValueError(f"sky is {sky!r}; it must be one of {', '.join(sorted(skies))}")
    steps = sorted(
        (float(row["condition"]), row.typical()) for row in rows if row["property"] == "humidity"
    )
    at, added = zip(*steps, strict=True)
    if humidity_percent > at[-1]:
        return float("nan")
    moist = float(np.interp(humidity_percent, at, added))
    return air_c + (skies[sky] + moist) * 5 / 9


def _sine_of_height(hours: FloatArray, latitude_deg: float, declination_deg: float) -> FloatArray:
    place, sun = np.radians(latitude_deg), np.radians(declination_deg)
    turn = np.radians(15 * (hours - 12))
    return np.asarray(np.sin(place) * np.sin(sun) + np.cos(place) * np.cos(sun) * np.cos(turn))
