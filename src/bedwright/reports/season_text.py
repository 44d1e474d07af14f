"""A place's year in sentences: freezes, the season between them, heat, and how they have moved."""

from __future__ import annotations

import numpy as np

from bedwright.climate.freeze_trend import Trend
from bedwright.climate.season_outline import Dates, FreezeSeason, SeasonOutline
from bedwright.planning.weather import GardenWeather
from bedwright.reports.layout import wrapped
from bedwright.reports.words_charts import CHART_WORDS
from bedwright.reports.words_season import MOVED, SEASON, TESTED
from bedwright.units import UnitSystem

_WHOLE = 0.95  # from this share of the years on it need not be said that some are without
_ENDS = 3  # early, middle, late


def year_lines(weather: GardenWeather, system: UnitSystem) -> list[str]:
    """The year of a garden's weather, a sentence or two each."""
    outline = weather.outline
    (freeze,) = outline.freezes
    lines = [_freeze(freeze, system), _heat(outline, system)]
    if weather.site_doubt_k > 0:
        doubt = _degrees(weather.site_doubt_k, system)
        lines.append(SEASON["site_doubt"].format(doubt=doubt))
    if weather.record.made_by == "generator":
        lines.append(SEASON["generated"])
    else:
        lines.append(_moved(freeze))
    return [each for each in lines if each]


def outline_lines(outline: SeasonOutline, system: UnitSystem) -> list[str]:
    """The year of a station's record, as lines of its summary."""
    lines = [SEASON["table"]]
    for each in outline.freezes:
        lines.append(
            "  "
            + SEASON["at_or_below"].format(
                threshold=_temperature(each.threshold_c, system), seasons=each.last.seasons
            )
        )
        for name, told, trend in (
            ("last", _middle(each.last), each.last_trend),
            ("first", _middle(each.first), each.first_trend),
            ("length", _length(each), each.length_trend),
        ):
            lines.append("    " + SEASON[f"row_{name}"].format(told=told))
            lines.append("      " + _tested(name, trend))
    return [*lines, "", SEASON["heat_head"], *wrapped(_heat(outline, system), "  ", "  ")]


def _freeze(freeze: FreezeSeason, system: UnitSystem) -> str:
    threshold = _temperature(freeze.threshold_c, system)
    last, first = freeze.last, freeze.first
    if not last.share > 0:
        return SEASON["no_freeze"].format(threshold=threshold, seasons=last.seasons)
    said = []
    if last.middle and last.late:
        said.append(SEASON["last"].format(middle=_day(last.middle), late=_day(last.late)))
    if first.middle and first.early:
        said.append(SEASON["first"].format(middle=_day(first.middle), early=_day(first.early)))
    low, middle, _ = freeze.lengths
    if not np.isnan([low, middle]).any():
        said.append(SEASON["between"].format(middle=f"{middle:.0f}", low=f"{low:.0f}"))
    if last.share < _WHOLE:
        said.append(SEASON["some_freeze"].format(n=round(10 * last.share)))
    return SEASON["freeze"].format(threshold=threshold, clauses="; ".join(said)) if said else ""


def _heat(outline: SeasonOutline, system: UnitSystem) -> str:
    comes, goes = outline.heat_comes, outline.heat_goes
    heat = _temperature(outline.heat_c, system)
    if not comes.share > 0:
        return SEASON["no_heat"].format(heat=heat, seasons=comes.seasons)
    said = []
    if comes.middle and goes.middle:
        said.append(SEASON["comes"].format(middle=_day(comes.middle), span=_span(comes)))
        said.append(SEASON["goes"].format(middle=_day(goes.middle), span=_span(goes)))
    if comes.share < _WHOLE:
        said.append(SEASON["some_heat"].format(n=round(10 * comes.share)))
    return SEASON["heat"].format(heat=heat, clauses="; ".join(said))


def _moved(freeze: FreezeSeason) -> str:
    last, first = freeze.last_trend, freeze.first_trend
    if last.code == first.code == "no_clear_trend":
        return MOVED["neither"].format(seasons=last.seasons, last=_range(last), first=_range(first))
    said = []
    for name, trend in (("last", last), ("first", first)):
        what = MOVED[name]
        days = f"{abs(trend.per_decade):.1f}"
        said.append(
            MOVED[trend.code].format(
                what=what, seasons=trend.seasons, days=days, range=_range(trend)
            )
        )
    return " ".join(said)


def _tested(name: str, trend: Trend) -> str:
    """A trend with its test, for a table."""
    code = trend.code
    if code == "too_short":
        return TESTED[code]
    if name == "length" and code != "no_clear_trend":
        code = "longer" if code == "later" else "shorter"
    return TESTED[code].format(
        days=f"{abs(trend.per_decade):.1f}", range=_range(trend), p=f"{trend.p_value:.2g}"
    )


def _range(trend: Trend) -> str:
    """The band of days in 10 years; of a trend to earlier or shorter with the sign turned."""
    low, high = sorted((trend.low, trend.high))
    if trend.code == "earlier":
        low, high = -high, -low
    return SEASON["range"].format(low=f"{low + 0.0:.1f}", high=f"{high + 0.0:.1f}")


def _length(freeze: FreezeSeason) -> str:
    low, middle, high = freeze.lengths
    if np.isnan(middle):
        return SEASON["not_known"]
    told = SEASON["days"].format(days=f"{middle:.0f}")
    if not np.isnan([low, high]).any():
        told += f" ({low:.0f} {SEASON['to']} {high:.0f})"
    return told


def _middle(dates: Dates) -> str:
    if dates.middle is None:
        return SEASON["not_known"]
    span = _span(dates)
    return _day(dates.middle) + (f" ({span})" if span else "")


def _span(dates: Dates) -> str:
    ends = [each for each in (dates.early, dates.late) if each is not None]
    return f" {SEASON['to']} ".join(_day(each) for each in ends) if len(ends) == _ENDS - 1 else ""


def _day(month_day: tuple[int, int]) -> str:
    month, day = month_day
    return CHART_WORDS["day"].format(month=CHART_WORDS[f"month_{month}"], day=day)


def _temperature(celsius: float, system: UnitSystem) -> str:
    if system is UnitSystem.US:
        return f"{celsius * 9 / 5 + 32:.0f} F"
    return f"{celsius:.0f} C"


def _degrees(kelvin: float, system: UnitSystem) -> str:
    return f"{kelvin * 9 / 5:.1f} F" if system is UnitSystem.US else f"{kelvin:.1f} C"
