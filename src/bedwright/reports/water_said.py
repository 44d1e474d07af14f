"""Quantities and findings of watering in the reader's words."""

from __future__ import annotations

import re
from datetime import date

from bedwright.language import named, said
from bedwright.planning.findings import Finding
from bedwright.reports.days_said import day_words, day_year_words
from bedwright.reports.fill import figure
from bedwright.reports.words_water import WATER, WATER_FINDINGS
from bedwright.units import UnitSystem, show
from bedwright.units.parse import unit_factor
from bedwright.units.show import plain
from bedwright.working import Figure

_DAY = re.compile(r"\d{4}-\d\d-\d\d")
_AS_WRITTEN = frozenset({"bed", "zone"})
_DEPTHS = frozenset({"error"})  # values in meters
_FLOWS = frozenset({"cups", "printed"})  # values in cubic meters a second
_HOUR = 60
_SEASON_M = 0.1  # no single run or rain is so deep
_TOLD = 0.005  # of a share: less rounds to nothing


def water_sentence(found: Finding, system: UnitSystem) -> str:
    """A finding as a sentence. Raises KeyError for a code without words."""
    values = {key: _value(key, each, system) for key, each in found.values.items()}
    text = WATER_FINDINGS[found.code].format(**values)
    return text[:1].upper() + text[1:]


def _value(key: str, each: object, system: UnitSystem) -> str:
    if isinstance(each, Figure):
        return share_words(each.value) if key == "share" else figure(each, system)
    if isinstance(each, float):
        if key in _DEPTHS:
            return depth_words(each, system)
        return flow_words(each, system) if key in _FLOWS else plain(each)
    text = str(each)
    if key in _AS_WRITTEN:
        return text
    if key == "crop":
        return ", ".join(named(each) for each in text.split(", "))
    return day_year_words(date.fromisoformat(text)) if _DAY.fullmatch(text) else named(text)


def depth_words(depth_m: float, system: UnitSystem) -> str:
    """A depth of water: hundredths of an inch, or tenths of a millimeter; a season's to a tenth of
    an inch, or to a millimeter."""
    fewer = depth_m >= _SEASON_M
    if system is UnitSystem.US:
        return f"{depth_m / unit_factor('in')[0]:.{1 if fewer else 2}f} {said('in', 'unit')}"
    return f"{depth_m * 1000:.{0 if fewer else 1}f} {said('mm', 'unit')}"


def flow_words(flow_m3_s: float, system: UnitSystem) -> str:
    """A flow: gallons or liters an hour."""
    unit = "gal/h" if system is UnitSystem.US else "l/h"
    return f"{plain(flow_m3_s / unit_factor(unit)[0], 3)} {said(unit, 'unit')}"


def volume_words(volume_m3: float, system: UnitSystem) -> str:
    """A season's water: gallons, or cubic meters."""
    if system is UnitSystem.US:
        return show(volume_m3, "volume", system, digits=2)
    return f"{plain(volume_m3, 2)} {said('m3', 'unit')}"


def minutes_words(minutes: float) -> str:
    """Whole minutes, as a timer is set; never less than one."""
    whole = max(1, round(minutes))
    return WATER["minute"] if whole == 1 else WATER["minutes"].format(n=whole)


def count_days(days: int) -> str:
    """A number of days."""
    return WATER["one_day"] if days == 1 else WATER["days"].format(n=days)


def count_runs(runs: int) -> str:
    """A number of runs."""
    return WATER["one_run"] if runs == 1 else WATER["runs"].format(n=runs)


def share_words(share: float) -> str:
    """A share in whole per cent."""
    if 0 < share < _TOLD:
        return WATER["under_one"]
    return f"{share * 100:.0f} %"


def clock_words(minutes: float) -> str:
    """Minutes after midnight as an hour of the day."""
    hours, rest = divmod(round(minutes), _HOUR)
    return f"{hours:02d}:{rest:02d}"


def span_of(first: date, last: date) -> str:
    """From a day to a day."""
    return f"{day_words(first)} - {day_words(last)}"
