"""Charts of planting dates: odds of frost, days of good fruit set by date, and the soil."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date, timedelta

import numpy as np

from bedwright.charts.curve_chart import Saying, Series, Threshold, curve_chart
from bedwright.charts.measure import Words
from bedwright.charts.sheet import Upright
from bedwright.charts.theme import Spec
from bedwright.climate.freeze_bands import chance_band
from bedwright.climate.freeze_odds import FreezeOdds
from bedwright.climate.record import FloatArray
from bedwright.planning.timing_model import GardenDates, WantDates
from bedwright.planning.weather import GardenWeather
from bedwright.units import UnitSystem

_YEAR = 365
_STEP = 2  # days between the points of a curve
_SURE = 0.005  # nearer to 0 or 1 than that a chance is not drawn on
_BAND, _DRAWS, _SEED = 0.8, 1000, 1  # 10 to 90 %, as every band of the charts
_MOST_LEVELS = 5  # more lines with words do not fit the side
_LOW, _HIGH = 10, 90  # %
_HALF = 0.5


def frost_chart(
    dates: GardenDates, name: str, year: int, system: UnitSystem, words: Words
) -> Spec | None:
    """Odds that it still freezes in spring and has frozen in fall, by date, with their bands.

    Parameters
    ----------
    dates : of the garden
    name : of the garden
    year : whose spring is drawn
    system : units of the reader
    words : ``DATES_CHARTS`` with ``CHART_WORDS``

    None where there is no weather, or too few freezes to know their dates.
    """
    weather = dates.weather
    if weather is None:
        return None
    midsummer = date(year, weather.summer.month, weather.summer.day)
    before = midsummer.replace(year=year - 1)
    series = [
        each
        for each in (
            _odds(weather.spring, before, words["frost_spring"]),
            _odds(weather.autumn, midsummer, words["frost_autumn"]),
        )
        if each is not None
    ]
    if not series:
        return None
    risk = 100 * dates.risk
    years = f"{risk / 10:.0f}"
    saying = Saying(
        words["frost_title"].format(garden=name),
        words["frost_below"].format(threshold="32 F" if system is UnitSystem.US else "0 C")
        + " "
        + words["frost_range"].format(seasons=f"{weather.spring.seasons[0]:.0f}")
        + (f" {words['frost_site']}" if weather.site_doubt_k > 0 else ""),
        words["frost_x"],
        words["frost_y"],
    )
    accepted = Threshold(risk, words["accepted_level"].format(risk=years), tint="ochre")
    return curve_chart(series, saying, words, thresholds=[accepted] if risk else [], top=100.0)


def _odds(odds: FreezeOdds, start: date, name: str) -> Series | None:
    """A curve over the dates on which the chance is neither 0 nor 1."""
    days = np.arange(0.0, _YEAR, _STEP)
    band = chance_band(odds, days, level=_BAND, draws=_DRAWS, seed=_SEED)
    chance = band.estimate[0]
    with np.errstate(invalid="ignore"):
        open_ = np.flatnonzero((chance > _SURE) & (chance < 1 - _SURE))
    if open_.size < 2:
        return None
    run = slice(max(int(open_[0]) - 2, 0), int(open_[-1]) + 3)
    mean, low, high = (_per_cent(each[0][run]) for each in (band.estimate, band.low, band.high))
    dates = tuple(start + timedelta(days=int(each)) for each in days[run])
    # a steep curve has room for its name beside its middle only
    middle = int(np.argmin(np.abs(np.array(mean) - 100 * _HALF)))
    named_at = dates[middle], mean[middle]
    return Series(name, dates, mean, low, high, tint="water", named_at=named_at)


def _per_cent(chances: FloatArray) -> tuple[float, ...]:
    return tuple(100 * float(each) for each in np.clip(chances, 0.0, 1.0))


def set_chart(want: WantDates, words: Words) -> Spec | None:
    """Days of good fruit set by date of planting, with the best date and the gardener's own.

    None for a crop that is not grown for its fruit.
    """
    curve = want.curve
    if curve is None or not any(curve.high):
        return None
    some = np.flatnonzero(np.array(curve.high) > 0)
    run = slice(max(int(some[0]) - 2, 0), int(some[-1]) + 3)
    days = curve.dates[run]
    years = [turn.best.chosen.years for turn in want.turns if turn.best is not None]
    years += [want.stated.chosen.years] if want.stated is not None else []
    saying = Saying(
        words["set_title"].format(crop=want.name, starting=words[f"starting_{want.start}"]),
        words["set_below"].format(years=max(years, default=0)),
        words["set_x"],
        words["set_y"],
    )
    marks = [
        ("best_here", turn.best.chosen.on)
        for turn in want.turns
        if turn.best is not None and not turn.goes_on
    ][:1]
    marks += [("own_here", want.stated.chosen.on)] if want.stated is not None else []
    uprights = [
        Upright(on, words[key].format(day=_day(on, words)), dash="dash" if key[0] == "o" else "")
        for key, on in marks
        if days[0] <= on <= days[-1]
    ]
    series = Series(words["set_curve"], days, curve.mean[run], curve.low[run], curve.high[run])
    return curve_chart([series], saying, words, uprights=uprights)


def soil_chart(
    weather: GardenWeather,
    wants: Sequence[WantDates],
    year: int,
    system: UnitSystem,
    words: Words,
) -> Spec | None:
    """The soil's temperature over the year, and what each crop wants before it is planted.

    Parameters
    ----------
    weather : of the garden
    wants : whose needs are drawn as lines, the five warmest of them
    year : in which the season that is drawn starts
    system : units of the reader
    words : ``DATES_CHARTS`` with ``CHART_WORDS``

    None where the soil's temperature is not known over the year.
    """
    start = date(year, weather.start.month, weather.start.day)
    ahead = (start.replace(day=1) + timedelta(days=32)).replace(day=1) - start  # to a whole month
    days = ahead.days + np.arange(0, _YEAR, _STEP)
    laid = weather.by_season(weather.days.soil_c, days)
    if np.isnan(laid).all(axis=0).any():
        return None
    us = system is UnitSystem.US

    def shown(celsius: FloatArray) -> tuple[float, ...]:
        return tuple(float(each) for each in (celsius * 9 / 5 + 32 if us else celsius))

    unit = "F" if us else "C"
    low, high = np.nanpercentile(laid, [_LOW, _HIGH], axis=0)
    series = Series(
        words["soil_curve"],
        tuple(start + timedelta(days=int(each)) for each in days),
        shown(np.nanmean(laid, axis=0)),
        shown(low),
        shown(high),
    )
    levels: dict[float, list[str]] = {}
    for want in wants:
        if not np.isnan(want.soil_needed_c):
            names = levels.setdefault(round(want.soil_needed_c, 1), [])
            if want.name not in names:
                names.append(want.name)
    thresholds = [
        Threshold(shown(np.array([celsius]))[0], _list(levels[celsius]), tint="ochre")
        for celsius in sorted(levels, reverse=True)[:_MOST_LEVELS]
    ]
    saying = Saying(
        words["soil_title"],
        words["soil_below"].format(years=int((~np.isnan(laid)).sum(axis=0).max()), unit=unit),
        words["soil_x"],
        words["soil_y"].format(unit=unit),
    )
    return curve_chart(
        [series],
        saying,
        words,
        thresholds=thresholds,
        bottom=float(np.floor(min(series.low) / 10) * 10),
    )


def _list(names: Sequence[str]) -> str:
    """Names of crops, few of them."""
    return ", ".join(names[:3]) + (" ..." if len(names) > 3 else "")


def _day(on: date, words: Words) -> str:
    return words["day"].format(month=words[f"month_short_{on.month}"], day=on.day)
