"""Dates of what the year's weather alone does not decide: overwintered crops, perennials, covers,
and clear plastic in the hottest weeks."""

from __future__ import annotations

from datetime import date

import numpy as np

from bedwright.crops.covers import killed_on
from bedwright.planning.assignment.dates import APART, Timer
from bedwright.planning.assignment.model import Candidate, Slot
from bedwright.planning.timing_choice import Planting
from bedwright.planning.timing_model import TURNS
from bedwright.planning.weather import GardenWeather

_YEAR = 365  # days
# UC Statewide IPM Program, Pest Notes 74145, Soil Solarization for Gardens and Landscapes: clear
# plastic for four to six weeks in the hot part of the year; six are taken.
PLASTIC_DAYS = 42
# The same: where summer days stay below 80 F it does too little.
_PLASTIC_LEAST_C = 26.7
_WINTER_COVER_DAYS = 30  # of growth before the cold stops it: common practice
_CUT_BEFORE_SPRING = 21  # days that a winter cover is ended before the last freeze: judgement
_MOST_WINTERS = 0.5  # killed in as many, a cover is planned to be dead in spring: judgement


def long_slots(candidate: Candidate, timer: Timer) -> tuple[Slot, ...]:
    """The times for a crop that is not set out, picked and cleared within one summer.

    Overwintered crops go in at the first freeze of fall (common practice); perennials at the last
    freeze of spring. Winter covers stand from a month before the first freeze until three weeks
    before the last, or until the cold that kills them in most winters; summer covers are sown in
    soil that is warm enough, at the accepted risk of frost. Empty where nothing is to be had, and
    but for summer covers where the place knows no freeze.
    """
    weather = timer.weather
    assert weather is not None
    if candidate.life == "plastic":
        return _plastic(weather)
    last, first = _freezes(weather)
    if candidate.life == "cover":
        return _covers(candidate, timer, None if last is None else first)
    if last is None or first is None:
        return ()
    if candidate.life == "overwintered":
        return _overwintered(candidate, timer, first)
    return (Slot(TURNS[0], last, _YEAR, _YEAR, (_YEAR, _YEAR), True),)


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


def _covers(candidate: Candidate, timer: Timer, first: int | None) -> tuple[Slot, ...]:
    season = _word(candidate.key, "cover_season", timer)
    found = []
    if season in ("summer", "both"):
        found += _summer(candidate, timer)
    if season in ("winter", "both") and first is not None:
        found += _winter(candidate, timer, first, best=season == "winter")
    return tuple(found)


def _summer(candidate: Candidate, timer: Timer) -> list[Slot]:
    """In soil warm enough to sow it and to the end of its days, at the accepted risk of frost."""
    weather, planting = timer.weather, timer.planting(candidate)
    assert weather is not None
    stands = round(planting.days_to_harvest)
    days = np.arange(0, _YEAR, planting.step_days)
    warm = planting.summary(days).soil_warm >= planting.limits.soil
    ends = warm[np.searchsorted(days, days + stands) % days.size]
    frost = np.array([_nights(planting, weather, int(day), stands)[1] for day in days])
    good = days[warm & ends & (frost <= planting.limits.kill)]
    if not good.size:
        return []
    first, last = int(good[0]), int(good[-1])
    starts = [first]
    for start in (int(good[np.argmin(np.abs(good - weather.turn))]), last):
        if all(abs(start - other) >= APART for other in starts):
            starts.append(start)
    return [
        Slot(
            TURNS[0] if start < weather.turn else TURNS[1],
            start,
            stands,
            stands,
            (stands, stands),
            start == first,
        )
        for start in starts
    ]


def _nights(
    planting: Planting, weather: GardenWeather, start: int, days: float
) -> tuple[float, float]:
    """The mean day of its life on which cold kills a cover, NaN for none; and in what share of the
    years of the record that is within its days."""
    night = weather.days.t_min_c
    sown = (weather.firsts + start).astype(np.float64)
    whole = sown[(sown >= 0) & (sown + days < night.size)]
    dies = killed_on(night, planting.crop.kill_c[1], whole, whole + days) - whole
    died = dies[~np.isnan(dies)]
    if not died.size:
        return np.nan, 0.0
    return float(died.mean()), died.size / whole.size


def _winter(candidate: Candidate, timer: Timer, first: int, *, best: bool) -> list[Slot]:
    """From a month before the first freeze until spring, or until the cold of most winters."""
    weather = timer.weather
    assert weather is not None
    last, _ = _freezes(weather)
    assert last is not None
    start = max(first - _WINTER_COVER_DAYS, 0)
    stands = float(last + _YEAR - _CUT_BEFORE_SPRING - start)
    day, share = _nights(timer.planting(candidate), weather, start, stands)
    dead = share >= _MOST_WINTERS
    if dead:
        stands = day
    return [Slot(TURNS[1], start, stands, stands, (stands, stands), best, killed=share, dead=dead)]


def _plastic(weather: GardenWeather) -> tuple[Slot, ...]:
    """The six weeks of the usual year with the warmest days."""
    usual = np.nanmean(weather.by_season(weather.days.t_max_c), axis=0)
    spans = np.lib.stride_tricks.sliding_window_view(usual, PLASTIC_DAYS).mean(axis=-1)
    start = int(np.argmax(spans))
    if not spans[start] >= _PLASTIC_LEAST_C:
        return ()
    turn = TURNS[0] if start < weather.turn else TURNS[1]
    return (Slot(turn, start, PLASTIC_DAYS, PLASTIC_DAYS, (PLASTIC_DAYS, PLASTIC_DAYS), True),)


def _word(crop: str, property_: str, timer: Timer) -> str:
    row = timer.tables.words.get((crop, property_))
    return "" if row is None else row["word"]
