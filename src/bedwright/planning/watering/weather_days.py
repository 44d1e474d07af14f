"""The garden's days for watering: reference evapotranspiration and rain, usual and as read."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from itertools import pairwise

import numpy as np

from bedwright.climate.day_length import (
    extraterrestrial_radiation_fao56,
    radiation_from_range_fao56,
)
from bedwright.climate.record import DailyRecord, FloatArray, IntArray
from bedwright.garden.model_water import Gauge
from bedwright.planning.findings import Finding, finding
from bedwright.reference import Library
from bedwright.water.air import saturation_vapor_pressure
from bedwright.water.evapotranspiration import (
    et0_hargreaves_1985,
    reference_evapotranspiration,
)
from bedwright.water.watering import counted_rain
from bedwright.water.weather import Substitute, SubstituteErrors, Weather

_MM = 1000.0
_READ_TOGETHER = 14  # days: rain read no further apart leaves no rain unread between
_ZERO_CELSIUS_K = 273.15
_USUAL_WIND_M_S = 2.0  # fao_56 p. 63: taken where wind is not measured


@dataclass(frozen=True, eq=False)
class WaterWeather:
    """Days of the record: ``et0_m`` and ``rain_m`` that counts [m], NaN where not known.

    ``wind_m_s`` and ``humidity_min_percent`` as the crop's coefficients want them, of every day.
    ``error_m`` is how far a day's ET0 may err for what was not measured [m]. ``dry`` tells a dry
    place. ``real`` tells that the record's dates are days that have been.
    """

    record: DailyRecord
    latitude_deg: float
    et0_m: FloatArray
    rain_m: FloatArray
    wind_m_s: FloatArray
    humidity_min_percent: FloatArray
    error_m: float
    dry: bool
    real: bool
    findings: tuple[Finding, ...]

    def seasons(self, start: date, days: int) -> IntArray:
        """Places in the record of a season's days, (days, years), of years without a gap.

        ``start`` stands for its month and day. Raises ValueError where no year is whole.
        """
        first = self.record.first_day.astype("datetime64[Y]").astype(int) + 1970
        last = self.record.dates()[-1].astype("datetime64[Y]").astype(int) + 1970
        starts = []
        for year in range(first, last + 1):
            month_day = (start.month, start.day)
            day = np.datetime64(date(year, *(month_day if month_day != (2, 29) else (2, 28))), "D")
            at = int((day - self.record.first_day).astype(np.int64))
            if at >= 0 and at + days <= self.record.days:
                span = slice(at, at + days)
                if np.isfinite(self.et0_m[span]).all() and np.isfinite(self.rain_m[span]).all():
                    starts.append(at)
        if not starts:
            raise ValueError(f"no year of the record has all {days} days from {start:%m-%d} on")
        return np.asarray(np.arange(days)[:, None] + np.array(starts, dtype=np.int64)[None, :])


@dataclass(frozen=True, eq=False)
class SeasonDays:
    """Days of one planting in the year that is planned: usual ones, corrected by readings.

    Each (days,): ``et0_m``, ``rain_m`` [m], ``t_max_c``, ``t_min_c``; ``read`` tells which days a
    gauge or a thermometer corrected.
    """

    et0_m: FloatArray
    rain_m: FloatArray
    t_max_c: FloatArray
    t_min_c: FloatArray
    read: tuple[date, ...]


def water_weather(
    record: DailyRecord, elevation_m: float | None, library: Library
) -> WaterWeather | None:
    """Reference evapotranspiration and rain of a record; None without latitude or rain.

    Parameters
    ----------
    record : the garden's
    elevation_m : of the garden [m]; the station's, or sea level with a finding, where not stated
    """
    if record.latitude_deg is None or record.rain_mm is None:
        return None
    said: list[Finding] = []
    height = elevation_m if elevation_m is not None else record.elevation_m
    if height is None:
        said.append(finding("water_elevation_assumed", "assumed"))
        height = 0.0
    day = record.dates()
    of_year = (day - day.astype("datetime64[Y]").astype("datetime64[D]")).astype(np.float64) + 1
    outside = extraterrestrial_radiation_fao56(record.latitude_deg, of_year)
    spread = np.maximum(record.t_max_c - record.t_min_c, 0.0)
    inland = library.parameter("radiation_range_inland", "1").value
    low = np.minimum(record.t_min_c, record.t_max_c)
    rough = et0_hargreaves_1985(record.t_max_c, low, outside)
    rain = record.rain_mm / _MM
    dry_below = library.parameter("dry_rain_share", "fraction").value
    dry = bool(np.nanmean(rain) < dry_below * np.nanmean(rough))
    dew = library.parameter(f"dew_below_minimum_{'arid' if dry else 'humid'}", "K").value
    made = reference_evapotranspiration(
        Weather(
            record.t_max_c, low, outside,
            radiation_from_range_fao56(spread, outside, inland), height, dew,
            radiation_mj_m2=record.radiation_mj_m2,
            humidity_max_percent=record.humidity_max_percent,
            humidity_min_percent=record.humidity_min_percent,
            wind_m_s=record.wind_m_s,
        ),
        _errors(library),
    )  # fmt: skip
    error = float(np.nanmean(made.error_m))
    said += _substitutes(made.used, error)
    moist = record.humidity_min_percent
    guessed = 100 * saturation_vapor_pressure(low - dew) / saturation_vapor_pressure(record.t_max_c)
    least = guessed if moist is None else np.where(np.isnan(moist), guessed, moist)
    wind = record.wind_m_s
    usual = np.full(record.days, _USUAL_WIND_M_S)
    return WaterWeather(
        record=record,
        latitude_deg=record.latitude_deg,
        et0_m=made.et0_m,
        rain_m=np.where(np.isfinite(made.et0_m + rain), _counted(rain, made.et0_m), np.nan),
        wind_m_s=usual if wind is None else np.where(np.isnan(wind), usual, wind),
        humidity_min_percent=np.clip(least, 1.0, 100.0),
        error_m=error,
        dry=dry,
        real=record.made_by != "generator",
        findings=tuple(said),
    )


def _counted(rain: FloatArray, et0: FloatArray) -> FloatArray:
    return np.asarray(counted_rain(np.nan_to_num(rain), np.nan_to_num(et0)))


def _errors(library: Library) -> SubstituteErrors:
    humidity, wind, sun, hargreaves = (
        library.parameter(f"et0_error_{name}", "mm").value / _MM
        for name in ("no_humidity", "no_wind", "no_radiation", "hargreaves")
    )
    return SubstituteErrors(humidity, wind, sun, hargreaves)


def _substitutes(used: np.ndarray, error_m: float) -> list[Finding]:
    """What stood in for measurements on most days, and what that may cost."""
    if np.mean((used & Substitute.HARGREAVES) != 0) > 0.5:
        return [finding("water_et0_by_hargreaves", "doubt", error=error_m)]
    missing = [
        word
        for flag, word in (
            (Substitute.HUMIDITY, "humidity"),
            (Substitute.WIND, "wind"),
            (Substitute.RADIATION, "sunshine"),
        )
        if np.mean((used & flag) != 0) > 0.5
    ]
    if not missing:
        return []
    return [finding("water_et0_guessed", "doubt", missing=" and ".join(missing), error=error_m)]


def season_days(
    weather: WaterWeather, start: date, days: int, gauges: Sequence[Gauge]
) -> SeasonDays:
    """The days of one season: those of the record where it has them, else usual ones as read.

    Parameters
    ----------
    weather : of the record
    start : the season's first day
    days : how many
    gauges : readings of gauge and thermometer, in any order

    A thermometer's reading changes a day's ET0 as it changes Hargreaves' estimate. Days between
    two readings of rain no more than 14 days apart count as dry.
    """
    places = weather.seasons(start, days)
    record = weather.record
    et0, rain, high, low = (
        series[places].mean(axis=1)
        for series in (weather.et0_m, weather.rain_m, record.t_max_c, record.t_min_c)
    )
    if weather.real:
        at = int((np.datetime64(start, "D") - record.first_day).astype(np.int64)) + np.arange(days)
        there = (at >= 0) & (at < record.days)
        for series, into in ((weather.et0_m, et0), (weather.rain_m, rain),
                             (record.t_max_c, high), (record.t_min_c, low)):  # fmt: skip
            known = series[np.where(there, at, 0)]
            use = there & np.isfinite(known)
            into[use] = known[use]
    wet = sorted(each.on for each in gauges if each.rain is not None)
    for one, next_one in pairwise(wet):
        if (next_one - one).days <= _READ_TOGETHER:
            first, last = ((each - start).days for each in (one, next_one))
            rain[max(first, 0) : max(last, 0)] = 0.0
    read = []
    for each in gauges:
        day = (each.on - start).days
        if not 0 <= day < days:
            continue
        read.append(each.on)
        if each.t_max is not None or each.t_min is not None:
            before = high[day], low[day]
            if each.t_max is not None:
                high[day] = each.t_max.si - _ZERO_CELSIUS_K
            if each.t_min is not None:
                low[day] = each.t_min.si - _ZERO_CELSIUS_K
            et0[day] *= warmth_ratio(weather, each.on, (high[day], low[day]), before)
        if each.rain is not None:
            rain[day] = float(_counted(np.array(each.rain.si), np.array(et0[day])))
    return SeasonDays(et0, rain, high, low, tuple(read))


def warmth_ratio(
    weather: WaterWeather, on: date, now: tuple[float, float], usual: tuple[float, float]
) -> float:
    """How a day's ET0 changes with its extremes [-], by Hargreaves' estimate.

    Parameters
    ----------
    weather : of the garden
    on : the day
    now, usual : maximum and minimum of the day, and usual ones [C]
    """
    of_year = (on - date(on.year, 1, 1)).days + 1
    above = extraterrestrial_radiation_fao56(weather.latitude_deg, float(of_year))
    values = [
        float(et0_hargreaves_1985(each[0], min(each[1], each[0]), above)) for each in (now, usual)
    ]
    return values[0] / values[1] if values[1] > 0 else 1.0
