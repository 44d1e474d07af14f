"""Dates of what the year's weather alone does not decide: overwintered crops, perennials, covers,
and clear plastic in the hottest weeks."""

from __future__ import annotations

from datetime import date

import numpy as np

from bedwright.planning.assignment.dates import Timer
from bedwright.planning.assignment.model import Candidate, Slot
from bedwright.planning.timing_model import TURNS
from bedwright.planning.weather import GardenWeather

_YEAR = 365  # days
_HALF_YEAR = 182
# UC Statewide IPM Program, Pest Notes 74145, Soil Solarization for Gardens and Landscapes: clear
# plastic for four to six weeks in the hot part of the year; six are taken.
PLASTIC_DAYS = 42
# The same: where summer days stay below 80 F it does too little.
_PLASTIC_LEAST_C = 26.7
# Common practice where a source gives a cover crop's season and no days.
_SUMMER_COVER_DAYS = 60
_WINTER_COVER_DAYS = 30  # of growth before the cold stops it
_CUT_BEFORE_SPRING = 21  # days that a winter cover is ended before the last freeze: judgement


def long_slots(candidate: Candidate, timer: Timer) -> tuple[Slot, ...]:
    """The times for a crop that is not set out, picked and cleared within one summer.

    Overwintered crops go in at the first freeze of fall (common practice); perennials at the last
    freeze of spring. Winter covers stand from a month before the first freeze until three weeks
    before the last; summer covers begin at the last freeze and end by the first. Empty where the
    place knows no freeze, or where nothing is to be had there.
    """
    weather = timer.weather
    assert weather is not None
    if candidate.life == "plastic":
        return _plastic(weather)
    last, first = _freezes(weather)
    if last is None or first is None:
        return ()
    if candidate.life == "overwintered":
        return _overwintered(candidate, timer, first)
    if candidate.life == "perennial":
        return (Slot(TURNS[0], last, _YEAR, _YEAR, (_YEAR, _YEAR), True),)
    return _covers(candidate, timer, last, first)


def _freezes(weather: GardenWeather) -> tuple[int | None, int | None]:
    """Usual last freeze of spring and first of fall, as days from a season's start."""
    if not weather.outline.freezes:
        return None, None
    season = weather.outline.freezes[0]
    return _offset(weather, season.last.middle), _offset(weather, season.first.middle)


def _offset(weather: GardenWeather, day: tuple[int, int] | None) -> int | None:
    if day is None:
        return None
    start = date(2001, weather.start.month, weather.start.day)  # no leap year
    return int((date(2001, *day) - start).days) % _YEAR


def _overwintered(candidate: Candidate, timer: Timer, first_freeze: int) -> tuple[Slot, ...]:
    planting = timer.planting(candidate)
    dates = planting.summary(np.array([first_freeze]))
    if np.isnan(dates.first_harvest.mean[0]):
        return ()
    low, high = float(dates.first_harvest.low[0]), float(dates.first_harvest.high[0])
    harvest, last = float(dates.first_harvest.mean[0]), float(dates.last_harvest.mean[0])
    return (Slot(TURNS[1], first_freeze, harvest, last, (low, high), True),)


def _covers(candidate: Candidate, timer: Timer, last: int, first: int) -> tuple[Slot, ...]:
    season = _word(candidate.key, "cover_season", timer)
    days = timer.days_to_harvest(candidate)
    found = []
    if season in ("summer", "both"):
        stands = days or _SUMMER_COVER_DAYS
        latest = first - stands
        starts = dict.fromkeys((last, max(last, min(_HALF_YEAR, latest)), max(last, latest)))
        found += [
            Slot(
                TURNS[0] if at < timer.weather.turn else TURNS[1],  # type: ignore[union-attr]
                at,
                stands,
                stands,
                (stands, stands),
                at == last,
            )
            for at in starts
            if latest >= last
        ]
    if season in ("winter", "both"):
        start = max(first - (_WINTER_COVER_DAYS), 0)
        stands = last + _YEAR - _CUT_BEFORE_SPRING - start
        found.append(Slot(TURNS[1], start, stands, stands, (stands, stands), season == "winter"))
    return tuple(found)


def _plastic(weather: GardenWeather) -> tuple[Slot, ...]:
    """The six weeks of the usual year with the warmest days."""
    high = weather.days.t_max_c
    at = weather.firsts[:, None] + np.arange(_YEAR)[None, :]
    inside = (at >= 0) & (at < high.size)
    laid = np.where(inside, high[np.where(inside, at, 0)], np.nan)
    usual = np.nanmean(laid, axis=0)
    spans = np.lib.stride_tricks.sliding_window_view(usual, PLASTIC_DAYS).mean(axis=-1)
    start = int(np.argmax(spans))
    if not spans[start] >= _PLASTIC_LEAST_C:
        return ()
    turn = TURNS[0] if start < weather.turn else TURNS[1]
    return (Slot(turn, start, PLASTIC_DAYS, PLASTIC_DAYS, (PLASTIC_DAYS, PLASTIC_DAYS), True),)


def _word(crop: str, property_: str, timer: Timer) -> str:
    row = timer.tables.words.get((crop, property_))
    return "" if row is None else row["word"]
