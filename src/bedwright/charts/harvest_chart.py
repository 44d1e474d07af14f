"""The expected harvest by week drawn: one small drawing a crop, against what the stall wants."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date, timedelta
from typing import Any

from bedwright.charts import theme
from bedwright.charts.measure import Words, day_words, nice_top, rounded
from bedwright.charts.sheet import Curve, Sheet
from bedwright.charts.sizes import HEAVY, PLAIN, SMALL, TEXT, TITLE
from bedwright.charts.theme import OCHRE, Spec
from bedwright.face import wrapped
from bedwright.language import named
from bedwright.language import said as named_unit
from bedwright.planning.harvest.model import Balance, CropHarvest, HarvestPlan, HarvestWeek
from bedwright.units import UnitSystem, show, unit_factor

_GAP = 28  # px between drawings
_AXIS = 46  # px that the numbers up the side take
_TWO_COLUMNS = 560  # px from which on two drawings stand beside each other
_MOST_SPANS = 2  # told in a title; more are counted
_WEEK = timedelta(days=7)
_COLUMNS = ("crop", "week", "low", "typical", "high", "wanted", "unit", "balance")


def harvest_chart(
    plan: HarvestPlan,
    garden: str,
    system: UnitSystem,
    words: Words,
    *,
    width: int = 640,
    height: int = 96,
) -> Spec | None:
    """What is fit to sell of each crop by week, its range, and what the stall wants.

    Parameters
    ----------
    plan : the expected harvest
    garden : its name
    system : the reader's units
    words : ``HARVEST_CHARTS`` with ``CHART_WORDS``
    width : of the whole [px]; under 560 the drawings stand one under the other
    height : of each drawing without its words [px]

    None where no crop has a week. The drawings share their days, each has a scale of its own.
    """
    crops = [each for each in plan.crops if each.weeks]
    if not crops:
        return None
    first = min(each.weeks[0].monday for each in crops)
    last = max(each.weeks[-1].monday for each in crops) + _WEEK
    columns = 2 if width >= _TWO_COLUMNS and len(crops) > 1 else 1
    each_width = (width - _GAP * (columns - 1)) // columns - _AXIS
    unit = "lb" if system is UnitSystem.US else "kg"
    per_unit, unit = unit_factor(unit)[0], named_unit(unit, "unit")
    drawings: list[Spec] = []
    datasets: dict[str, list[dict[str, Any]]] = {}
    rows: list[dict[str, Any]] = []
    said: list[str] = []
    for at, crop in enumerate(crops, 1):
        sheet = _drawn(crop, f"crop_{at}", (first, last), per_unit, words, (each_width, height))
        drawing = sheet.spec()
        said.append(_sentence(crop, system, words))
        drawing["title"] = {
            "text": wrapped(said[-1], each_width, TEXT, bold=True),
            "fontSize": TEXT, "lineHeight": TEXT * 1.25, "offset": 8,
        }  # fmt: skip
        drawings.append(drawing)
        datasets |= sheet.datasets
        rows += [_row(crop, week, per_unit, unit, words) for week in crop.weeks]
    title = words["title"].format(garden=garden)
    body: Spec = {
        "datasets": {"table": rows, **datasets},
        "usermeta": {
            "columns": [{"field": each, "heading": words[f"heading_{each}"]} for each in _COLUMNS]
        },
        "columns": columns,
        "concat": drawings,
        "align": "each",
        "bounds": "full",
    }
    below = words["below"].format(unit=unit)
    return theme.themed(
        body,
        wrapped(title, width - _AXIS, TITLE, bold=True),
        ". ".join([title, *said]) + ".",
        below=wrapped(below, width - _AXIS, TEXT),
        gap=18,
    )


def _drawn(
    crop: CropHarvest, name: str, days: tuple[date, date], per_unit: float, words: Words,
    size: tuple[int, int],
) -> Sheet:  # fmt: skip
    weeks = _without_holes(crop.weeks)
    mondays = [monday for monday, _ in weeks]

    def curve(called: str, masses: Sequence[float]) -> Curve:
        ys = [each / per_unit for each in masses]
        return Curve(called, (*mondays, mondays[-1] + _WEEK), (*ys, ys[-1]), step=True)

    def of(end: str) -> list[float]:
        return [0.0 if week is None else getattr(week.to_sell, end) for _, week in weeks]

    low, typical, high = (curve(end, of(end)) for end in ("low", "typical", "high"))
    wanted = [0.0 if week is None else week.wanted or 0.0 for _, week in weeks]
    top = nice_top(max((*high.ys, *(each / per_unit for each in wanted)), default=1.0) * 1.08)
    sheet = Sheet(name, *size, days, (0.0, top))
    sheet.months(words)
    sheet.heights(3)
    sheet.band("range", low, high)
    if any(wanted):
        asked = curve("wanted", wanted)
        short = [
            typical.ys[at] * per_unit if week is not None and week.balance == "gap" else wanted[at]
            for at, (_, week) in enumerate(weeks)
        ]
        sheet.hatching("gap", curve("short", short), asked, color=OCHRE)
        sheet.line(asked, weight=PLAIN, dash="dash", color=OCHRE)
        sheet.line(typical, weight=HEAVY)
        sheet.label(asked, words["wanted"], color=OCHRE, size=SMALL, wish=0.9)
    else:
        sheet.line(typical, weight=HEAVY)
    return sheet


def _without_holes(weeks: Sequence[HarvestWeek]) -> list[tuple[date, HarvestWeek | None]]:
    """The weeks from the first to the last, None where nothing is told of one."""
    known = {each.monday: each for each in weeks}
    found: list[tuple[date, HarvestWeek | None]] = []
    monday = weeks[0].monday
    while monday <= weeks[-1].monday:
        found.append((monday, known.get(monday)))
        monday += _WEEK
    return found


def _sentence(crop: CropHarvest, system: UnitSystem, words: Words) -> str:
    """What a drawing shows, as its title."""
    told = [
        words[f"title_{balance}"].format(when=_when(crop, balance, words))
        for balance in ("gap", "glut")
        if crop.spans(balance)
    ]
    name = named(crop.name)
    if told:
        return words["title_crop"].format(crop=name, told="; ".join(told))
    mass = show(crop.mass.typical, "mass", system, digits=2)
    enough = any(each.wanted for each in crop.weeks)
    return words["title_enough" if enough else "title_mass"].format(crop=name, mass=mass)


def _when(crop: CropHarvest, balance: Balance, words: Words) -> str:
    spans = crop.spans(balance)
    if len(spans) > _MOST_SPANS:
        count = sum(each.balance == balance for each in crop.weeks)
        return words["in_weeks"].format(count=count)
    return words["and"].join(
        words["span"].format(first=day_words(first, words), last=day_words(last, words))
        for first, last in spans
    )


def _row(
    crop: CropHarvest, week: HarvestWeek, per_unit: float, unit: str, words: Words
) -> dict[str, Any]:
    return {
        "crop": named(crop.name),
        "week": week.monday.isoformat(),
        "low": rounded(week.to_sell.low / per_unit, 3),
        "typical": rounded(week.to_sell.typical / per_unit, 3),
        "high": rounded(week.to_sell.high / per_unit, 3),
        "wanted": None if week.wanted is None else rounded(week.wanted / per_unit, 3),
        "unit": unit,
        "balance": words[week.balance] if week.balance else "",
    }
