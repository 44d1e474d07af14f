"""The garden's weather as planting is judged by it: days, soil, length of day, seasons, freezes."""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass
from datetime import date
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from bedwright.climate.day_length import (
    day_length,
    declination_fao56,
    extraterrestrial_radiation_fao56,
    radiation_from_range_fao56,
)
from bedwright.climate.freeze_odds import FreezeOdds
from bedwright.climate.record import DailyRecord, FloatArray, IntArray
from bedwright.climate.record_strength import record_strength
from bedwright.climate.season_days import SeasonStart
from bedwright.climate.season_outline import SeasonOutline, season_outline, turning_dates
from bedwright.climate.soil_temperature import (
    Ground,
    damping_depth_swat,
    soil_temperature_swat,
)
from bedwright.crops.windows import Weather
from bedwright.garden import Document
from bedwright.planning.findings import Finding, finding
from bedwright.planning.weather_freezes import freezes, outline_rules
from bedwright.planning.weather_years import Years, years_of
from bedwright.reference import Library
from bedwright.reference.library import texture_key

_YEAR = 365
_SPIN_UP = 120  # days: by then a shallow soil has forgotten its start (0.8 to the 120th)
_FREEZE_C = 0.0


@dataclass(frozen=True, eq=False)
class GardenWeather:
    """Years of days with what planting asks of them.

    A season starts at ``start``, in midwinter by the record itself; ``firsts`` are the seasons'
    first days [index], ``turn`` the day of midsummer [days from a season's start]. ``spring`` and
    ``autumn`` are the odds of the last and first freeze, in days from midsummer, ``summer``, as
    wide as the gardener's own nights leave them; ``site_doubt_k`` is half the band of these nights'
    offset [K]. ``outline`` is the year in short, its freeze dates by these odds, the season between
    and the trends by the nights at the middle of that offset.
    """

    record: DailyRecord
    days: Weather
    start: SeasonStart
    firsts: IntArray
    turn: int
    summer: SeasonStart
    spring: FreezeOdds
    autumn: FreezeOdds
    findings: tuple[Finding, ...]
    outline: SeasonOutline
    site_doubt_k: float = 0.0

    def season_of(self, day: date) -> date:
        """The first day of the season in which a date lies."""
        start = date(day.year, self.start.month, self.start.day)
        return start if start <= day else start.replace(year=day.year - 1)

    def by_season(self, series: FloatArray, days: IntArray | None = None) -> FloatArray:
        """A daily series of the record by season (seasons, days), NaN beyond the record's ends.

        ``days`` from a season's start, None for all of its 365.
        """
        at = self.firsts[:, None] + (np.arange(_YEAR) if days is None else days)
        inside = (at >= 0) & (at < series.size)
        return np.where(inside, series[np.where(inside, at, 0)], np.nan)


def garden_weather(document: Document, library: Library) -> GardenWeather | None:
    """The garden's weather; None where the document says nothing of it, or too little for a year.

    Raises WeatherError for a weather file that can't be used.
    """
    years = years_of(document, library)
    return None if years is None else _prepared(years, document, library)


def _prepared(years: Years, document: Document, library: Library) -> GardenWeather | None:
    record = years.record
    day_of_year = _day_of_year(record.dates())
    mean = (record.t_max_c + record.t_min_c) / 2
    turning = turning_dates(record)
    if turning is None:
        return None
    start, summer = turning
    turn = start.day_of(summer.month, summer.day)
    said = list(years.findings)
    soil = _soil(record, mean, document, library, said)
    light = None
    if record.latitude_deg is not None:
        zenith = library.parameter("zenith_sunrise", "deg").value
        light = day_length(record.latitude_deg, declination_fao56(day_of_year), zenith)
    first_year = int(str(record.first_day.astype("datetime64[Y]")))
    last_year = int(str(record.dates()[-1].astype("datetime64[Y]")))
    firsts = np.array(
        [
            int((np.datetime64(f"{year:04d}-{start.month:02d}-{start.day:02d}") - record.first_day)
                .astype("timedelta64[D]").astype(np.int64))
            for year in range(first_year - 1, last_year + 1)
        ]
    )  # fmt: skip
    (spring, autumn), plain = freezes(years, summer, library)
    said += _strength(plain, record, library)
    rounding: Literal["none", "whole_f"] = "whole_f" if years.whole_fahrenheit else "none"
    rules = outline_rules(library, [_FREEZE_C], rounding)
    return GardenWeather(
        record=record,
        days=Weather(record.t_max_c, record.t_min_c, soil, record.t_mean_c, light),
        start=start,
        firsts=firsts,
        turn=turn,
        summer=summer,
        spring=spring,
        autumn=autumn,
        findings=tuple(said),
        outline=season_outline(record, start, summer, rules, (spring, autumn)),
        site_doubt_k=_doubt(years),
    )


def _day_of_year(dates: NDArray[np.datetime64]) -> FloatArray:
    begin = dates.astype("datetime64[Y]").astype("datetime64[D]")
    return np.asarray((dates - begin).astype(np.float64) + 1)


def _doubt(years: Years) -> float:
    """Half the band of the garden's offset from its station [K]; 0 where none is known."""
    offset = years.offset
    if offset is None or np.isnan(offset.high_c):
        return 0.0
    return (offset.high_c - offset.low_c) / 2


def _strength(odds: FreezeOdds, record: DailyRecord, library: Library) -> list[Finding]:
    """What a record is too weak for; invented years are as many as was asked for."""
    if record.made_by == "generator":
        return []
    limits = {
        name: round(library.parameter(key, "1").value)
        for name, key in (
            ("seasons_enough", "seasons_enough"),
            ("seasons_least", "seasons_least"),
            ("events_least", "freeze_seasons_least"),
        )
    }
    (found,) = record_strength(odds, **limits)
    said = []
    if found.code == "short":
        said.append(finding("weather_short", "doubt", seasons=found.seasons))
    elif found.code == "too_short":
        said.append(finding("weather_too_short", "caution", seasons=found.seasons))
    elif found.code == "few_events":
        said.append(finding("weather_few_freezes", "note", seasons=found.seasons,
                            freezes=found.with_event))  # fmt: skip
    elif found.code == "no_events":
        said.append(finding("weather_no_freeze", "note", seasons=found.seasons))
    # the seasons at either end of a record are seldom whole, and no gap
    if found.left_out > 2:
        said.append(finding("weather_gappy", "doubt", left_out=float(found.left_out)))
    return said


def _soil(
    record: DailyRecord,
    mean: FloatArray,
    document: Document,
    library: Library,
    said: list[Finding],
) -> FloatArray:
    """Daily mean of bare soil at the depth of planting [C], by the sun and the air."""
    sun = record.radiation_mj_m2
    if sun is None and record.latitude_deg is not None:
        spread = record.t_max_c - record.t_min_c
        outside = extraterrestrial_radiation_fao56(
            record.latitude_deg, _day_of_year(record.dates())
        )
        inland = library.parameter("radiation_range_inland", "1").value
        sun = radiation_from_range_fao56(np.maximum(spread, 0.0), outside, inland)
        said.append(finding("soil_by_guessed_sun", "assumed"))
    elif sun is None:
        said.append(finding("soil_by_air_alone", "assumed"))
        over = library.parameter("soil_over_air", "C").value
        return _weekly(mean) + over
    else:
        said.append(finding("soil_by_model", "assumed"))
    depth = library.parameter("planting_soil_depth", "m").value
    profile = library.parameter("soil_profile_depth", "m").value
    water = library.parameter("soil_profile_water", "m").value
    damping = damping_depth_swat(_bulk_density(document, library), water, profile).value
    albedo = library.parameter("bare_soil_albedo", "fraction").value
    ground = Ground(damping, 0.0, albedo)
    return _by_years(record.t_max_c, record.t_min_c, sun, depth, ground, float(np.nanmean(mean)))


def _weekly(values: FloatArray) -> FloatArray:
    """Means of a week that ends on each day; the first days and gaps are unknown."""
    if values.size < 7:
        return np.full(values.shape, np.nan)
    weeks = np.lib.stride_tricks.sliding_window_view(values, 7).mean(axis=-1)
    return np.concatenate([np.full(6, np.nan), weeks])


def _by_years(
    high: FloatArray,
    low: FloatArray,
    sun: FloatArray,
    depth: float,
    ground: Ground,
    mean: float,
) -> FloatArray:
    """The soil of all years side by side, each begun some months ahead of its days."""
    lanes = -(-high.size // _YEAR)
    at = np.arange(lanes)[:, None] * _YEAR + np.arange(-_SPIN_UP, _YEAR)[None, :]
    there = (at >= 0) & (at < high.size)

    def laid(values: FloatArray) -> FloatArray:
        return np.where(there, values[np.where(there, at, 0)], np.nan)

    soil = soil_temperature_swat(
        laid(high), laid(low), laid(sun), depth, ground=ground, annual_mean_c=mean
    )
    return np.asarray(soil[:, _SPIN_UP:].reshape(-1)[: high.size])


def _bulk_density(document: Document, library: Library) -> float:
    """Of the commonest texture that the beds state [g/cm3]; of loam where they state none."""
    stated = Counter(texture_key(bed.texture) for bed in document.garden.bed if bed.texture)
    texture = stated.most_common(1)[0][0] if stated else "loam"
    row = next(
        row
        for row in library.rows("textures")
        if row["texture"] == texture and row["property"] == "bulk_density" and row.used
    )
    return row.typical()
