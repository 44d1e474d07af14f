"""Mulch, wind, and what is not advised, in the reader's words."""

from __future__ import annotations

from bedwright.planning.summer.model import Mulch, Summer, Wind
from bedwright.reports.days_said import day_words
from bedwright.reports.fill import figure
from bedwright.reports.summer_said import month_words, per_cent
from bedwright.reports.words_summer import SUMMER
from bedwright.units import UnitSystem, show
from bedwright.units.show import plain

_MILE_H = 0.44704  # m/s: by definition of the mile
_SWING_DEPTH_M = 0.05  # of the two swings, by their rows in summer_measures.csv
_TOLD_DAYS = 0.5  # fewer days a month than this are not worth a word


def ground_lines(mulch: Mulch, wind: Wind, system: UnitSystem) -> list[str]:
    """Mulch with its cautions, and the wind's limits."""
    thick = {
        "thickness": figure(mulch.thickness, system),
        "thickest": figure(mulch.thickest_useful, system),
    }
    if mulch.from_day is None:
        lines = [SUMMER["mulch_undated"].format(**thick)]
    else:
        lines = [SUMMER["mulch"].format(day=day_words(mulch.from_day), **thick)]
    if mulch.stated:
        lines.append(SUMMER["mulch_stated"].format(beds=", ".join(mulch.stated)))
    loam, sand = (per_cent(each.value) for each in mulch.evaporation_saved)
    bare, covered = (figure(each, system) for each in (mulch.swing_bare, mulch.swing_mulched))
    depth = show(_SWING_DEPTH_M, "depth", system, digits=1)
    lines.append(
        SUMMER["mulch_gain"].format(loam=loam, sand=sand, bare=bare, covered=covered, depth=depth)
    )
    lines.append(SUMMER["mulch_care"])
    lines.append(SUMMER["wind_set_out"].format(limit=_speed(wind.set_out.value, system)))
    lines.append(
        SUMMER["wind_hang"].format(
            hang=_speed(wind.hang.value, system), down=_speed(wind.take_down.value, system)
        )
    )
    if wind.windy_days is not None:
        windy = [
            SUMMER["wind_month"].format(month=month_words(at + 1), days=plain(days, 2))
            for at, days in enumerate(wind.windy_days)
            if days >= _TOLD_DAYS
        ]
        lines.append(
            SUMMER["wind_days"].format(months=", ".join(windy))
            if windy
            else SUMMER["wind_days_none"]
        )
    return lines


def evidence_lines(summer: Summer, system: UnitSystem) -> list[str]:
    """What is not advised for want of evidence."""
    return [SUMMER["misting"].format(cooling=figure(summer.misting, system)), SUMMER["film"]]


def _speed(m_s: float, system: UnitSystem) -> str:
    """A wind's speed."""
    if system is UnitSystem.US:
        return SUMMER["speed_us"].format(value=round(m_s / _MILE_H))
    return SUMMER["speed_metric"].format(value=plain(m_s, 2))
