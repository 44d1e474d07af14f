"""The sun over the garden, month by month: where it stands, how much it brings, how hot it is."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

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

FloatArray = NDArray[np.float64]

MONTHS = 12
_ZERO_CELSIUS_K = 273.15
# The sun's path differs by less than half a degree from year to year: one year stands for all.
_YEAR, _DAYS_OF_MONTH = 2027, (5, 15, 25)
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
    radiation, t_max, origin = _radiation(document, library, latitude, mean_above)
    # a month's radiation, spread over its days as that above the air is
    share = np.divide(radiation, mean_above, out=np.zeros(MONTHS), where=mean_above > 0)
    photons = (
        library.parameter("par_share_of_radiation", "fraction").value
        * library.parameter("photons_per_joule", "-").value
    )
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
    return Sunlight(latitude, supply, radiation, t_max, origin, said.get(origin, ()))


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


def _radiation(
    document: Document, library: Library, latitude: float, above: FloatArray
) -> tuple[FloatArray, FloatArray | None, str]:
    """Radiation of each month's mean day [MJ/m2], the mean of its highs [C], where from."""
    weather = document.garden.weather
    clear = radiation_from_sunshine_fao56(12.0, 12.0, above)
    if weather is None:
        return clear, None, "clear_sky"
    if weather.monthly is not None:
        high, low = (
            np.array([each.si for each in months]) - _ZERO_CELSIUS_K
            for months in (weather.monthly.t_max, weather.monthly.t_min)
        )
        if weather.monthly.radiation is not None:
            return np.array(weather.monthly.radiation), high, "stated"
        return _by_range(high - low, above, library), high, "range"
    years = years_of(document, library)
    return (clear, None, "clear_sky") if years is None else _of_record(years.record, above, library)


def _of_record(
    record: DailyRecord, above: FloatArray, library: Library
) -> tuple[FloatArray, FloatArray | None, str]:
    highs = _means(record, record.t_max_c)
    if record.radiation_mj_m2 is not None:
        measured = _means(record, record.radiation_mj_m2)
        if not np.isnan(measured).any():
            return np.minimum(measured, above), highs, "record"
    spread = _means(record, record.t_max_c - record.t_min_c)
    if np.isnan(spread).any():
        clear = radiation_from_sunshine_fao56(12.0, 12.0, above)
        return clear, None if np.isnan(highs).any() else highs, "clear_sky"
    return _by_range(spread, above, library), highs, "range"


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
