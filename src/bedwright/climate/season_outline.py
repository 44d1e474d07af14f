"""A place's year in short: last and first freeze, the season between them, and when heat comes."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

import numpy as np

from bedwright.climate.freeze_free_season import freeze_free_seasons, length_with_chance_of_longer
from bedwright.climate.freeze_odds import (
    FreezeDays,
    FreezeOdds,
    day_with_chance_of_earlier_freeze,
    day_with_chance_of_later_freeze,
    freeze_days,
    freeze_odds,
)
from bedwright.climate.freeze_trend import Trend, trend
from bedwright.climate.heat_odds import day_with_chance_that_heat_has_come, heat_days
from bedwright.climate.rank_dates import rank_date_later
from bedwright.climate.record import DailyRecord, FloatArray, IntArray, by_season
from bedwright.climate.season_days import BoolArray, SeasonStart, counted_days
from bedwright.climate.soil_temperature import annual_wave

_EARLY, _MIDDLE, _LATE = 0.1, 0.5, 0.9
_YEAR = 365


@dataclass(frozen=True)
class OutlineRules:
    """How the year is told: freeze thresholds [C], when a season counts, what heat is.

    ``missing_allowed`` missing days leave a season out. The heat is there on a day when ``days``
    of the last ``window`` had a maximum of ``heat_c`` [C] or more. ``significance`` [-] and
    ``seasons_least`` are those of a trend's test.
    """

    freeze_c: tuple[float, ...]
    missing_allowed: int
    heat_c: float
    days: int
    window: int
    significance: float
    seasons_least: int
    rounding: Literal["none", "whole_f"] = "none"


@dataclass(frozen=True)
class Dates:
    """When something comes, over the seasons: month and day by which it has come in one season of
    ten, in half of them, and in nine of ten; None where the record can't tell or where it does not
    come in so many. ``seasons`` were told, in ``share`` of them it came at all.
    """

    early: tuple[int, int] | None
    middle: tuple[int, int] | None
    late: tuple[int, int] | None
    seasons: int
    share: float


@dataclass(frozen=True)
class FreezeSeason:
    """Last freeze of spring, first of fall and the days between, at one threshold [C].

    ``lengths`` [days] that the season exceeds in nine of ten, half and one of ten; NaN where so
    many seasons are not ended by a freeze. The trends are those of the dates and of the length.
    """

    threshold_c: float
    last: Dates
    first: Dates
    lengths: tuple[float, float, float]
    last_trend: Trend
    first_trend: Trend
    length_trend: Trend


@dataclass(frozen=True)
class SeasonOutline:
    """The year in short. ``heat_comes`` and ``heat_goes`` are of maxima of ``heat_c`` or more."""

    freezes: tuple[FreezeSeason, ...]
    heat_c: float
    heat_comes: Dates
    heat_goes: Dates


def turning_dates(record: DailyRecord) -> tuple[SeasonStart, SeasonStart] | None:
    """Midwinter and midsummer of a record by the yearly wave of its means; None under a year."""
    dates = record.dates()
    begin = dates.astype("datetime64[Y]").astype("datetime64[D]")
    day_of_year = (dates - begin).astype(np.float64) + 1
    mean = (record.t_max_c + record.t_min_c) / 2
    if np.sum(~np.isnan(mean)) < _YEAR:
        return None
    warmest = annual_wave(day_of_year, mean).warmest_day
    winter, summer = (
        SeasonStart(*SeasonStart(1, 1).month_day(each - 1))
        for each in (warmest + _YEAR / 2, warmest)
    )
    return winter, summer


def season_outline(
    record: DailyRecord,
    winter: SeasonStart,
    summer: SeasonStart,
    rules: OutlineRules,
    odds: tuple[FreezeOdds, FreezeOdds] | None = None,
) -> SeasonOutline:
    """A record's year in short.

    Parameters
    ----------
    record : after its checks, of a year or more
    winter, summer : the coldest and the warmest date of the year, where seasons are cut for heat
        and for freezes
    rules : how it is told
    odds : of the last and the first freeze at the thresholds of the rules, in days from
        ``summer``, where more is known of them than the record alone tells

    Freezes by the climate agencies' method (normal dates beside seasons without), heat by ranks.
    """
    years, minima = by_season(record, record.t_min_c, summer.month, summer.day)
    days = freeze_days(
        counted_days(minima, years, summer),
        np.array(rules.freeze_c),
        missing_allowed=rules.missing_allowed,
        rounding=rules.rounding,
    )
    heat_years, maxima = by_season(record, record.t_max_c, winter.month, winter.day)
    heat = heat_days(
        counted_days(maxima, heat_years, winter),
        rules.heat_c,
        days=rules.days,
        window=rules.window,
        missing_allowed=rules.missing_allowed,
    )
    comes = day_with_chance_that_heat_has_come(heat, np.array([_EARLY, _MIDDLE, _LATE]))
    goes = rank_date_later(
        heat.last, heat.last_known.astype(float), np.array([_LATE, _MIDDLE, _EARLY])
    )
    return SeasonOutline(
        freezes=_freezes(days, years, summer, rules, odds),
        heat_c=rules.heat_c,
        heat_comes=_dates(comes, heat.first, heat.first_known, winter),
        heat_goes=_dates(goes, heat.last, heat.last_known, winter),
    )


def _freezes(
    days: FreezeDays,
    years: IntArray,
    start: SeasonStart,
    rules: OutlineRules,
    odds: tuple[FreezeOdds, FreezeOdds] | None,
) -> tuple[FreezeSeason, ...]:
    chances = np.array([_EARLY, _MIDDLE, _LATE])
    latest, earliest = odds or (freeze_odds(days, "last"), freeze_odds(days, "first"))
    last = day_with_chance_of_later_freeze(latest, chances[::-1])
    first = day_with_chance_of_earlier_freeze(earliest, chances)
    lengths = length = None
    if len(years) > 1:
        between = freeze_free_seasons(days, start.lengths(years))
        lengths = length_with_chance_of_longer(between, chances[::-1])
        length = between.length

    def moved(values: FloatArray, at: IntArray) -> Trend:
        return trend(at, values, significance=rules.significance, seasons_least=rules.seasons_least)

    nothing = np.full((len(days.thresholds_c), max(len(years) - 1, 0)), np.nan)
    length = nothing if length is None else length
    return tuple(
        FreezeSeason(
            threshold_c=float(threshold),
            last=_dates(last[row], days.last[row], days.last_known[row], start),
            first=_dates(first[row], days.first[row], days.first_known[row], start),
            lengths=(np.nan, np.nan, np.nan)
            if lengths is None
            else (float(lengths[row, 0]), float(lengths[row, 1]), float(lengths[row, 2])),
            last_trend=moved(days.last[row], years),
            first_trend=moved(days.first[row], years),
            length_trend=moved(length[row], years[:-1]),
        )
        for row, threshold in enumerate(days.thresholds_c)
    )


def _dates(found: FloatArray, days: FloatArray, known: BoolArray, start: SeasonStart) -> Dates:
    early, middle, late = (
        None if np.isnan(each) else start.month_day(float(each)) for each in found
    )
    told = int(known.sum())
    came = int((~np.isnan(days[known])).sum())
    return Dates(early, middle, late, told, came / told if told else float("nan"))
