"""Mulch, wind, misting and sunlit fruit: what is known of them for this garden."""

from __future__ import annotations

from datetime import date, timedelta

import numpy as np

from bedwright.climate.record import DailyRecord
from bedwright.garden import Document
from bedwright.planning.second_crops import bed_wants
from bedwright.planning.summer.cloth import measure_row
from bedwright.planning.summer.model import Mulch, Wind
from bedwright.planning.watering.mulch import stated_mulch
from bedwright.planning.weather import GardenWeather
from bedwright.reference import Library
from bedwright.reference.library import figure_of
from bedwright.units import to_si
from bedwright.working import Figure

_YEAR, _WEEK, _MONTHS = 365, 7, 12
_DAYS_OF_YEAR = 365.25


def mulch(document: Document, weather: GardenWeather, as_of: date, library: Library) -> Mulch:
    """Straw over the beds: from the day on which the soil is usually warm, next after a day.

    Parameters
    ----------
    document : the garden
    weather : its own, with the soil
    as_of : the day of planning
    library : the tables
    """

    def figure(property_: str, condition: str, unit: str) -> Figure:
        return figure_of(property_, measure_row(library, "mulch", property_, condition), unit)

    row = measure_row(library, "mulch", "soil_warm")
    zero = to_si(0.0, "degC", "temperature")
    stated = [e.bed.id for e in bed_wants(document) if stated_mulch(document, e.bed, e.want)]
    warm = to_si(row.typical(), row["unit"], "temperature") - zero
    return Mulch(
        from_day=_first_warm(weather, as_of, warm),
        stated=tuple(dict.fromkeys(stated)),
        thickness=figure("thickness", "organic", "m"),
        thickest_useful=figure("thickness_useful", "organic", "m"),
        evaporation_saved=tuple(
            figure("evaporation_saved", each, "fraction") for each in ("straw_loam", "straw_sand")
        ),
        swing_bare=figure("daily_swing_bare", "straw_loam", "K"),
        swing_mulched=figure("daily_swing_mulched", "straw_loam", "K"),
    )


def wind(record: DailyRecord, library: Library) -> Wind:
    """The wind's limits, and how often the record's daily mean alone reaches the first.

    Parameters
    ----------
    record : the garden's days
    library : the tables
    """

    def figure(property_: str, condition: str = "") -> Figure:
        return figure_of(property_, measure_row(library, "wind", property_, condition), "m/s")

    set_out = figure("set_out")
    days = None
    if record.wind_m_s is not None:
        month = record.dates().astype("datetime64[M]").astype(np.int64) % _MONTHS
        known = np.isfinite(record.wind_m_s)
        count = np.bincount(month[known], minlength=_MONTHS)
        over = np.bincount(
            month[known], weights=record.wind_m_s[known] >= set_out.value, minlength=_MONTHS
        )
        share = np.divide(over, count, out=np.zeros(_MONTHS), where=count > 0)
        days = tuple(float(each) for each in share * _DAYS_OF_YEAR / _MONTHS)
    return Wind(set_out, figure("hang_cloth"), figure("take_down", "gust"), days)


def misting(library: Library) -> Figure:
    """How much fogging cooled a covered tunnel [K]: no trial over open beds is known."""
    return figure_of("cooling", measure_row(library, "misting", "cooling", "net_tunnel"), "K")


def skin_over_air(library: Library) -> Figure:
    """How much warmer the sunlit skin of fruit is than the air [K]."""
    return figure_of("skin_over_air", measure_row(library, "sunscald", "skin_over_air", "sun"), "K")


def _first_warm(weather: GardenWeather, as_of: date, warm_c: float) -> date | None:
    """The day, next after a day, on which the mean soil of the years is warm for a week."""
    table = weather.by_season(weather.days.soil_c)
    known = np.isfinite(table)
    count = known.sum(axis=0)
    total = np.where(known, table, 0.0).sum(axis=0)
    mean = np.divide(total, count, out=np.full(_YEAR, np.nan), where=count > 0)
    with np.errstate(invalid="ignore"):
        hot = mean >= warm_c
    runs = np.convolve(hot.astype(float), np.ones(_WEEK), "valid") >= _WEEK
    if not runs.any():
        return None
    offset = int(runs.argmax())
    found = weather.season_of(as_of) + timedelta(days=offset)
    return (
        found
        if found >= as_of
        else weather.season_of(as_of + timedelta(days=_YEAR)) + timedelta(days=offset)
    )
