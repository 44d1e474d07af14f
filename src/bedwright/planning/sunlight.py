"""The sun over the garden, month by month: where it stands, how much it brings, how hot it is."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from bedwright.climate.annual_cycle import MONTH_DAYS
from bedwright.climate.day_length import (
    extraterrestrial_radiation_fao56,
    radiation_from_range_fao56,
    radiation_from_sunshine_fao56,
)
from bedwright.climate.record import DailyRecord
from bedwright.climate.solar import sun_position, sun_series
from bedwright.garden import Document
from bedwright.light.daily import LightSupply, SunMoments, light_supply
from bedwright.planning.findings import Finding, finding
from bedwright.planning.weather_years import years_of
from bedwright.reference import Library
from bedwright.water.evapotranspiration import et0_hargreaves_1985
from bedwright.working import Figure

FloatArray = NDArray[np.float64]

MONTHS = 12
_ZERO_CELSIUS_K = 273.15
# The sun's path differs by less than half a degree from year to year: one year stands for all.
_YEAR, _DAYS_OF_MONTH = 2027, (5, 15, 25)
_MM = 1000.0
_STEP_MIN = 20  # light.daily: hours of sun come out true to the tenth


@dataclass(frozen=True, eq=False)
class Sunlight:
    """The light over open ground at the garden, and how warm its days are.

    ``supply`` has twelve periods, January first. ``radiation_mj_m2`` (12,) is that of a mean day;
    ``t_max_c`` (12,) the mean of the days' highs, None where nothing tells it. ``origin`` says
    where the radiation comes from: stated, record, range (of the temperatures) or clear_sky.
    """

    latitude_deg: float
    supply: LightSupply
    radiation_mj_m2: FloatArray
    t_max_c: FloatArray | None
    origin: str
    findings: tuple[Finding, ...]


def sunlight(document: Document, library: Library) -> Sunlight | None:
    """The sun over a garden; None where the document does not state its latitude.

    Radiation is what the weather states or its record measures; else it is read off the spread of
    the temperatures; else that of a clear sky, which is an upper bound and said to be one.
    Raises WeatherError for a weather file that can't be used.
    """
    place = document.garden.garden
    if place.latitude is None:
        return None
    latitude = float(np.degrees(place.latitude.si))
    days = np.array(
        [f"{_YEAR}-{month:02d}-{day:02d}" for month in range(1, 13) for day in _DAYS_OF_MONTH],
        dtype="datetime64[D]",
    )
    of_year = (days - np.datetime64(f"{_YEAR}-01-01")).astype(np.float64) + 1
    above = extraterrestrial_radiation_fao56(latitude, of_year)
    month = np.repeat(np.arange(MONTHS), len(_DAYS_OF_MONTH))
    mean_above = above.reshape(MONTHS, -1).mean(axis=1)
    weather = _months(document, library)
    radiation, origin = _radiation(weather, library, mean_above)
    # a month's radiation, spread over its days as that above the air is
    share = np.divide(radiation, mean_above, out=np.zeros(MONTHS), where=mean_above > 0)
    par, about_air = _par_share(weather, library, mean_above)
    photons = par * library.parameter("photons_per_joule", "-").value
    supply = light_supply(
        _moments(days, latitude, library),
        np.minimum(share, 1.0)[month] * above,
        above,
        month,
        mol_per_mj=photons,
        split="day" if origin == "clear_sky" else "month",
    )
    said = {
        "range": (finding("light_by_temperature_range", "assumed"),),
        "clear_sky": (finding("light_of_clear_sky", "assumed"),),
    }
    t_max = None if weather is None or np.isnan(weather.t_max_c).any() else weather.t_max_c
    findings = (*said.get(origin, ()), *about_air)
    return Sunlight(latitude, supply, radiation, t_max, origin, findings)


def _moments(days: NDArray[np.datetime64], latitude: float, library: Library) -> SunMoments:
    """The sun through the days by its own time: longitude turns nothing about a shadow."""
    a_day = np.arange(_STEP_MIN // 2, 24 * 60, _STEP_MIN)
    times = (days.astype("datetime64[m]")[:, None] + a_day.astype("timedelta64[m]")).ravel()
    series = sun_series(library.rows("sun_terms"), library.rows("delta_t"))
    sun = sun_position(times, latitude, 0.0, series)
    return SunMoments(
        sun.elevation_deg,
        sun.azimuth_deg,
        np.repeat(np.arange(days.size), a_day.size),
        _STEP_MIN / 60,
        latitude,
    )


@dataclass(frozen=True, eq=False)
class _Months:
    """The mean day of each month (12,), NaN where not known: highs and lows [C], rain [m], and
    radiation [MJ/m2], None where not told; ``told`` says by what."""

    t_max_c: FloatArray
    t_min_c: FloatArray
    spread_k: FloatArray
    rain_m: FloatArray
    radiation_mj_m2: FloatArray | None
    told: str


def _months(document: Document, library: Library) -> _Months | None:
    """The garden's weather month by month; None where the document has none."""
    weather = document.garden.weather
    if weather is None:
        return None
    if weather.monthly is not None:
        monthly = weather.monthly
        high, low = (
            np.array([each.si for each in months]) - _ZERO_CELSIUS_K
            for months in (monthly.t_max, monthly.t_min)
        )
        rain = np.full(MONTHS, np.nan)
        if monthly.rain is not None:
            rain = np.array([each.si for each in monthly.rain]) / MONTH_DAYS
        radiation = None if monthly.radiation is None else np.array(monthly.radiation)
        return _Months(high, low, high - low, rain, radiation, "stated")
    years = years_of(document, library)
    if years is None:
        return None
    record = years.record
    rain = np.full(MONTHS, np.nan)
    if record.rain_mm is not None:
        rain = _means(record, record.rain_mm) / _MM
    measured = None if record.radiation_mj_m2 is None else _means(record, record.radiation_mj_m2)
    return _Months(
        _means(record, record.t_max_c),
        _means(record, record.t_min_c),
        _means(record, record.t_max_c - record.t_min_c),
        rain,
        measured,
        "record",
    )


def _radiation(
    weather: _Months | None, library: Library, above: FloatArray
) -> tuple[FloatArray, str]:
    """Radiation of each month's mean day [MJ/m2], and where from."""
    if weather is not None and weather.radiation_mj_m2 is not None:
        if weather.told == "stated":
            return weather.radiation_mj_m2, "stated"
        if not np.isnan(weather.radiation_mj_m2).any():
            return np.minimum(weather.radiation_mj_m2, above), "record"
    if weather is None or np.isnan(weather.spread_k).any():
        return radiation_from_sunshine_fao56(12.0, 12.0, above), "clear_sky"
    return _by_range(weather.spread_k, above, library), "range"


def _par_share(
    weather: _Months | None, library: Library, above: FloatArray
) -> tuple[float, tuple[Finding, ...]]:
    """Share of the sun's energy that plants use as light [-], by how dry the place is.

    Moist air takes infrared out of the sun's radiation, so that a larger share of what is left
    is light. A place is dry where its rain is small beside reference evapotranspiration, which is
    worked by temperature alone.
    """
    moist = library.parameter("par_share_of_radiation", "fraction")
    dry = library.parameter("par_share_of_radiation_dry", "fraction")
    unknown = finding(
        "light_share_air_unknown", "assumed", share=moist.value, dry=dry.value,
        sources=(*moist.sources, *dry.sources),
    )  # fmt: skip
    if weather is None:
        return moist.value, (unknown,)
    low = np.minimum(weather.t_min_c, weather.t_max_c)
    rain, et0 = weather.rain_m, et0_hargreaves_1985(weather.t_max_c, low, above)
    if np.isnan(rain + et0).any():
        return moist.value, (unknown,)
    year_rain, year_et0 = (float((each * MONTH_DAYS).sum()) for each in (rain, et0))
    if year_rain >= library.parameter("dry_rain_share", "fraction").value * year_et0:
        return moist.value, ()
    said = finding(
        "light_share_dry_air", "note", share=dry.value, moist=moist.value,
        rain=Figure("rain", year_rain, "m", "computed"),
        et0=Figure("et0", year_et0, "m", "computed"),
        sources=(*moist.sources, *dry.sources),
    )  # fmt: skip
    return dry.value, (said,)


def _by_range(spread: FloatArray, above: FloatArray, library: Library) -> FloatArray:
    inland = library.parameter("radiation_range_inland", "1").value
    return np.asarray(radiation_from_range_fao56(np.maximum(spread, 0.0), above, inland))


def _means(record: DailyRecord, values: FloatArray) -> FloatArray:
    """Means of each month's days over the years (12,); NaN for a month without any."""
    months = record.dates().astype("datetime64[M]").astype(np.int64) % MONTHS
    there = ~np.isnan(values)
    count = np.bincount(months[there], minlength=MONTHS)
    total = np.bincount(months[there], weights=values[there], minlength=MONTHS)
    return np.asarray(np.divide(total, count, out=np.full(MONTHS, np.nan), where=count > 0))
