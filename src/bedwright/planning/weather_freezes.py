"""The garden's freezes and its year in short, with the doubt that its own thermometer leaves."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from typing import Literal

import numpy as np

from bedwright.climate.freeze_odds import FreezeDays, FreezeOdds, freeze_days, freeze_odds
from bedwright.climate.record import DailyRecord, FloatArray, by_season
from bedwright.climate.season_days import SeasonStart, counted_days
from bedwright.climate.season_outline import OutlineRules
from bedwright.climate.site_offset import garden_minima
from bedwright.planning.weather_years import Years
from bedwright.reference import Library

_FREEZE_C = 0.0
_DRAWS, _SEED = 40, 1  # gardens drawn about a stated offset
_Odds = tuple[FreezeOdds, FreezeOdds]


def freezes(years: Years, start: SeasonStart, library: Library) -> tuple[_Odds, FreezeOdds]:
    """The odds of the last and the first freeze, and those of the last without the site's doubt.

    Where the gardener's own nights tell how far garden and station differ from night to night,
    many gardens are drawn within what they leave open and pooled: the dates spread wider, and
    the number of seasons stays that of the record.
    """
    plain = _days(years.record.t_min_c, years, start, library)
    single = freeze_odds(plain, "last"), freeze_odds(plain, "first")
    offset = years.offset
    if offset is None or np.isnan(offset.sd_c) or years.station_min_c is None:
        return single, single[0]
    drawn = garden_minima(years.station_min_c, offset, draws=_DRAWS, seed=_SEED)
    pooled = _pooled(
        [_days(np.minimum(each, years.record.t_max_c), years, start, library) for each in drawn]
    )
    last = _as_many(freeze_odds(pooled, "last"), single[0])
    first = _as_many(freeze_odds(pooled, "first"), single[1])
    return (last, first), single[0]


def outline_rules(
    library: Library, freeze_c: Sequence[float], rounding: Literal["none", "whole_f"] = "none"
) -> OutlineRules:
    """How a year is told, by the tables, for freeze thresholds [C]."""

    def number(key: str, unit: str) -> float:
        return library.parameter(key, unit).value

    return OutlineRules(
        freeze_c=tuple(freeze_c),
        missing_allowed=round(number("freeze_missing_days", "day")),
        heat_c=number("heat_entry_temperature", "C"),
        days=round(number("heat_entry_days", "day")),
        window=round(number("heat_entry_window", "day")),
        significance=number("trend_significance", "-"),
        seasons_least=round(number("seasons_least", "1")),
        rounding=rounding,
    )


def _days(minima: FloatArray, years: Years, start: SeasonStart, library: Library) -> FreezeDays:
    record: DailyRecord = years.record
    seasons, laid = by_season(record, minima, start.month, start.day)
    return freeze_days(
        counted_days(laid, seasons, start),
        np.array([_FREEZE_C]),
        missing_allowed=round(library.parameter("freeze_missing_days", "day").value),
        rounding="whole_f" if years.whole_fahrenheit else "none",
    )


def _pooled(drawn: list[FreezeDays]) -> FreezeDays:
    last, first, last_known, first_known = (
        np.concatenate([getattr(each, name) for each in drawn], axis=-1)
        for name in ("last", "first", "last_known", "first_known")
    )
    return FreezeDays(drawn[0].thresholds_c, last, first, last_known, first_known)


def _as_many(pooled: FreezeOdds, single: FreezeOdds) -> FreezeOdds:
    """Pooled odds that know of no more seasons than the record has."""
    return replace(
        pooled, seasons=single.seasons, freeze_seasons=single.seasons * pooled.freeze_share
    )
