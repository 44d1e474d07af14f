"""The expected harvest as plain data, with the schema that it satisfies."""

from __future__ import annotations

from typing import Any

from bedwright.planning.harvest.model import CropHarvest, HarvestPlan, HarvestWeek, Range
from bedwright.reports.figures_json import (
    figure_dict,
    figure_or_null,
    finding_dict,
    number_or_null,
    rounded,
)
from bedwright.reports.schema_parts import (
    FIGURE,
    NUMBER,
    NUMBER_OR_NULL,
    TEXT,
    listed,
    or_null,
    table,
)

_DAY = {"type": "string", "format": "date"}
_RANGE: dict[str, Any] = listed(NUMBER) | {"minItems": 3, "maxItems": 3}


def harvest_dict(plan: HarvestPlan) -> dict[str, Any]:
    """Crops with their weeks; masses are kg, ranges low, typical, high."""
    return {
        "crops": [_crop(each) for each in plan.crops],
        "findings": [finding_dict(each) for each in plan.findings],
    }


def _crop(crop: CropHarvest) -> dict[str, Any]:
    return {
        "crop": crop.crop,
        "key": crop.key,
        "name": crop.name,
        "unit": crop.unit,
        "unit_mass": figure_or_null(crop.unit_mass),
        "saleable": figure_or_null(crop.saleable),
        "told_by": crop.told_by,
        "seasons": crop.seasons,
        "mass_kg": _range(crop.mass),
        "keeps": crop.keeps,
        "left_kg": _range(crop.left),
        "plantings": [
            {
                "bed": each.bed,
                "crop": each.crop,
                "by": None if each.expected is None else each.expected.by,
                "area": figure_dict(each.area),
                "mass": figure_or_null(each.mass),
                "bears": each.bears,
                "pickings": [
                    {
                        "first": p.first.isoformat(),
                        "last": p.last.isoformat(),
                        "share": rounded(p.share),
                        "early": [day.isoformat() for day in p.early],
                        "late": [day.isoformat() for day in p.late],
                    }
                    for p in each.pickings
                ],
            }
            for each in crop.plantings
        ],
        "weeks": [_week(each) for each in crop.weeks],
    }


def _week(week: HarvestWeek) -> dict[str, Any]:
    year, number, _ = week.monday.isocalendar()
    return {
        "week": f"{year}-W{number:02d}",
        "monday": week.monday.isoformat(),
        "picked_kg": _range(week.picked),
        "to_sell_kg": _range(week.to_sell),
        "pieces": None if week.pieces is None else _range(week.pieces),
        "wanted_kg": number_or_null(week.wanted),
        "balance": week.balance or None,
    }


def _range(each: Range) -> list[float]:
    return [rounded(each.low), rounded(each.typical), rounded(each.high)]


def harvest_schema() -> dict[str, Any]:
    """The schema of the harvest within a plan."""
    picking = table(first=_DAY, last=_DAY, share=NUMBER, early=listed(_DAY), late=listed(_DAY))
    planting = table(
        bed=TEXT, crop=TEXT, by={"enum": ["goal", "record", "table", None]}, area=FIGURE,
        mass=or_null(FIGURE), bears={"type": ["integer", "null"]}, pickings=listed(picking),
    )  # fmt: skip
    week = table(
        week=TEXT, monday=_DAY, picked_kg=_RANGE, to_sell_kg=_RANGE, pieces=or_null(_RANGE),
        wanted_kg=NUMBER_OR_NULL, balance={"enum": ["enough", "gap", "glut", None]},
    )  # fmt: skip
    crop = table(
        crop=TEXT, key=TEXT, name=TEXT, unit=TEXT, unit_mass=or_null(FIGURE),
        saleable=or_null(FIGURE), told_by={"enum": ["table", "goal", "record"]},
        seasons={"type": "integer"}, mass_kg=_RANGE, keeps={"type": "boolean"}, left_kg=_RANGE,
        plantings=listed(planting), weeks=listed(week),
    )  # fmt: skip
    return table(crops=listed(crop), findings=listed({"$ref": "#/$defs/finding"}))
