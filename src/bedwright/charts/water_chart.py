"""Water at a bed's roots through a season: between full and dry, with runs and rain."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date, timedelta
from typing import Any

import numpy as np

from bedwright.charts import theme
from bedwright.charts.measure import nice_top, rounded
from bedwright.charts.sheet import Curve, Sheet
from bedwright.charts.sizes import HEAVY, PLAIN, TEXT, THIN, TITLE
from bedwright.charts.theme import Spec
from bedwright.face import wrapped
from bedwright.language import named
from bedwright.planning.watering.stand import Stand
from bedwright.planning.watering.years import StandYears
from bedwright.units import UnitSystem
from bedwright.units.parse import unit_factor

_RAINS = 3  # told in figures: the biggest of the season
_TOLD_RAIN_M = 0.008
_SHOWN_M = 0.0005  # less makes no stick
_FIELDS = ("water", "full", "dry", "run", "rain_day")


def water_chart(
    stand: Stand,
    years: StandYears,
    system: UnitSystem,
    words: Mapping[str, str],
    *,
    width: int = 640,
    height: int = 320,
) -> Spec:
    """The balance of a planting in the middling year of the record.

    Parameters
    ----------
    stand, years : the planting and its balance through the years
    system : the reader's units
    words : ``WATER_CHARTS`` with ``CHART_WORDS``
    width, height : of the drawing [px]
    """
    unit = "in" if system is UnitSystem.US else "mm"
    days = tuple(stand.start + timedelta(days=each) for each in range(stand.days))
    found = _days(stand, years, 1 / unit_factor(unit)[0])
    top = nice_top(max(float(each.max()) for each in found.values()) * 1.15)
    sheet = Sheet("", width, height, (days[0], days[-1]), (0.0, top))
    sheet.months(words)
    sheet.heights()

    def curve(name: str) -> Curve:
        return Curve(name, days, tuple(float(each) for each in found[name]))

    def sticks(name: str, weight: float, color: str) -> list[int]:
        at = [day for day in range(len(days)) if found[name][day] > _SHOWN_M / unit_factor(unit)[0]]
        if at:
            depths = [float(found[name][each]) for each in at]
            sheet.sticks(name, [days[each] for each in at], depths, weight=weight, color=color)
        return at

    full, dry, water = curve("full"), curve("dry"), curve("water")
    sheet.line(full, dash="dash")
    sheet.line(dry, dash="dot", weight=HEAVY, color=theme.OCHRE)
    sheet.line(water, color=theme.WATER, weight=PLAIN)
    runs = sticks("run", THIN, theme.WATER)
    sticks("rain_day", HEAVY, theme.INK)
    sheet.label(full, words["full"], wish=0.75)
    sheet.label(dry, words["dry"], color=theme.OCHRE, bold=True, over=False, wish=0.6)
    sheet.label(water, words["water"], color=theme.WATER, bold=True, wish=0.85)
    rain = found["rain_day"]
    for at in sorted(int(each) for each in np.argsort(-rain, kind="stable")[:_RAINS]):
        if rain[at] * unit_factor(unit)[0] >= _TOLD_RAIN_M:
            told = words["rain"].format(depth=f"{rain[at]:.2g} {words[f'short_{unit}']}")
            sheet.note(days[at], float(rain[at]), told)
    if runs:
        middle = runs[len(runs) * 3 // 5]
        sheet.note(days[middle], float(found["run"].max()), words["runs"], color=theme.WATER)
    body = sheet.spec()
    columns, rows = _table(days, found, words)
    body["datasets"] = {"table": rows, **sheet.datasets}
    body["usermeta"] = {"columns": columns}
    given = {"bed": stand.bed, "crop": named(stand.name).lower(), "unit": words[f"unit_{unit}"]}
    title, below = words["title"].format(**given), words["below"].format(**given)
    return theme.themed(body, wrapped(title, width, TITLE, bold=True), f"{title}. {below}",
                        below=wrapped(below, width, TEXT), gap=14)  # fmt: skip


def _days(stand: Stand, years: StandYears, scale: float) -> dict[str, np.ndarray]:
    """The days of the middling year, each (days,), in the reader's unit."""
    year = years.middling_year
    shape = years.even.depletion_m.shape
    full = np.broadcast_to(years.days.available_m, shape)[:, year]
    return {
        "water": (full - years.even.depletion_m[:, year]) * scale,
        "full": full * scale,
        "dry": full * (1 - stand.depletion_share) * scale,
        "run": years.even.irrigation_m[:, year] * scale,
        "rain_day": np.broadcast_to(years.days.rain_m, shape)[:, year] * scale,
    }


def _table(
    days: tuple[date, ...], found: Mapping[str, np.ndarray], words: Mapping[str, str]
) -> tuple[list[dict[str, str]], list[dict[str, Any]]]:
    """One row a day: what the roots have, full, the dry line, the run, the rain."""
    columns = [{"field": "at", "heading": words["heading_x"]}]
    columns += [{"field": each, "heading": words[f"heading_{each}"]} for each in _FIELDS]
    rows = [
        {"at": day.isoformat(), **{each: rounded(float(found[each][at])) for each in _FIELDS}}
        for at, day in enumerate(days)
    ]
    return columns, rows
