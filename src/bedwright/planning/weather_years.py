"""From what the garden document says of the weather to years of days, as they are in the garden."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from typing import Any

import numpy as np

from bedwright.climate.checks import checked
from bedwright.climate.day_length import extraterrestrial_radiation_fao56
from bedwright.climate.formats import read_weather
from bedwright.climate.generator import generate
from bedwright.climate.generator_defaults import (
    generator_defaults,
    radiation_limits,
    weather_statistics,
)
from bedwright.climate.limits import weather_limits
from bedwright.climate.monthly import stated_monthly
from bedwright.climate.record import DailyRecord, FloatArray
from bedwright.climate.site_offset import SiteOffset, site_offset
from bedwright.garden import Document
from bedwright.garden.model_weather import Monthly, Reading
from bedwright.planning.findings import Finding, finding
from bedwright.reference import Library
from bedwright.working import Figure

_ZERO_CELSIUS_K = 273.15
_MM = 1000.0


@dataclass(frozen=True, eq=False)
class Years:
    """Days of many years, the garden's own nights in them, and what is to be said of them.

    ``whole_fahrenheit`` tells that freezes are to be counted on whole degrees. ``offset`` is None
    where no reading of the garden's thermometer was given; ``station_min_c`` are the minima as the
    station has them [C], None where nothing was shifted.
    """

    record: DailyRecord
    whole_fahrenheit: bool
    offset: SiteOffset | None
    findings: tuple[Finding, ...]
    station_min_c: FloatArray | None = None


def years_of(document: Document, library: Library) -> Years | None:
    """The days behind the garden's dates; None where the document says nothing of the weather.

    Raises WeatherError for a file that can't be used.
    """
    stated = document.garden.weather
    if stated is None:
        return None
    place = document.garden.garden
    latitude = None if place.latitude is None else float(np.degrees(place.latitude.si))
    if stated.monthly is not None:
        return _invented(stated.monthly, place.name, latitude, library)
    return _of_a_station(document, stated.reading, latitude, library)


def _of_a_station(
    document: Document, readings: list[Reading], latitude: float | None, library: Library
) -> Years:
    stated = document.garden.weather
    assert stated is not None and stated.file is not None and document.weather is not None
    limits = weather_limits(library.rows("weather_limits"))
    file = read_weather(document.weather, stated.file, limits, stated.units)
    made = checked(file.record, limits)
    said: list[Finding] = []
    doubts = len(file.faults) + len(made.faults)
    if doubts:
        code = "weather_file_doubt" if doubts == 1 else "weather_file_doubts"
        said.append(finding(code, "note", count=float(doubts), file=stated.file))
    record = made.record
    if latitude is not None:
        record = replace(record, latitude_deg=latitude)
    offset = station = None
    if readings:
        offset = _offset(record, readings, library)
        said += _said_of(offset)
        if offset.nights:
            station = record.t_min_c
            low = np.minimum(record.t_min_c + offset.offset_c, record.t_max_c)
            record = record.with_elements({"t_min_c": low})
    whole = made.whole_fahrenheit and (offset is None or not offset.nights)
    return Years(record, whole, offset, tuple(said), station)


def _offset(record: DailyRecord, readings: list[Reading], library: Library) -> SiteOffset:
    """The garden's nights against the station's, in order, over the span of the readings."""
    by_day = {np.datetime64(each.on, "D"): each.minimum.si - _ZERO_CELSIUS_K for each in readings}
    span = np.arange(min(by_day), max(by_day) + 1)
    garden = np.array([by_day.get(day, np.nan) for day in span])
    at = (span - record.first_day.astype("datetime64[D]")).astype(np.int64)
    there = (at >= 0) & (at < record.days)
    station = np.where(there, record.t_min_c[np.where(there, at, 0)], np.nan)
    return site_offset(
        garden,
        station,
        level=library.parameter("odds_band_level", "-").value,
        nights_enough=round(library.parameter("site_nights_enough", "day").value),
    )


def _said_of(offset: SiteOffset) -> list[Finding]:
    if not offset.nights:
        return [finding("site_nights_none", "doubt")]
    colder = "colder" if offset.offset_c < 0 else "warmer"
    nights = float(offset.nights)
    ends = sorted((abs(offset.low_c), abs(offset.high_c)))
    known = not np.isnan(offset.low_c)
    one_sided = known and offset.low_c * offset.high_c > 0
    off = Figure(
        "site_offset",
        abs(offset.offset_c),
        "K",
        "computed",
        low=(ends[0] if one_sided else 0.0) if known else None,
        high=ends[1] if known else None,
        formula="site_offset",
    )
    if offset.code == "few":
        return [finding("site_nights_few", "doubt", colder=colder, off=off, nights=nights)]
    return [finding("site_nights", "assumed", colder=colder, off=off, nights=nights)]


def _invented(stated: Monthly, name: str, latitude: float | None, library: Library) -> Years:
    defaults = generator_defaults(library.rows("weather_generator"))
    high, low = (
        np.array([each.si for each in months]) - _ZERO_CELSIUS_K
        for months in (stated.t_max, stated.t_min)
    )
    said = [finding("weather_invented", "doubt", years=float(stated.years))]
    sun = stated.radiation
    if sun is not None and latitude is None:
        said.append(finding("radiation_without_latitude", "assumed"))
        sun = None
    monthly = stated_monthly(
        high,
        low,
        _row(stated.rain, lambda each: each.si * _MM),
        _row(stated.wet_days, float),
        _row(sun, float),
    )
    monthly = replace(
        monthly,
        t_max_sd_c=_row(stated.t_max_sd, lambda each: each.si),
        t_min_sd_c=_row(stated.t_min_sd, lambda each: each.si),
    )
    limits = None
    if sun is not None and latitude is not None:
        outside = extraterrestrial_radiation_fao56(latitude, np.arange(1.0, 366.0))
        limits = radiation_limits(outside, defaults)
    statistics = weather_statistics(monthly, defaults, latitude)
    if stated.t_max_sd is None or stated.t_min_sd is None:
        said.append(finding("weather_spread_by_rule", "assumed"))
    record = generate(
        statistics,
        stated.years,
        stated.seed,
        name=name,
        latitude_deg=latitude,
        radiation_limits_mj_m2=limits,
    )
    return Years(record, False, None, tuple(said))


def _row(values: Sequence[Any] | None, number: Callable[[Any], float]) -> FloatArray | None:
    return None if values is None else np.array([number(each) for each in values])
