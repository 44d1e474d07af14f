"""The expected harvest as a sheet: one row for each crop and week."""

from __future__ import annotations

from bedwright.language import named
from bedwright.planning.harvest.model import BY_WEIGHT, CropHarvest, HarvestPlan, HarvestWeek
from bedwright.reports.harvest_text import told_words
from bedwright.reports.harvest_text import unit_word as sale_word
from bedwright.reports.spreadsheet.model import Cell, Column, Measures, Sheet, number, unit_word
from bedwright.reports.words_harvest import HARVEST
from bedwright.reports.words_spreadsheet import COLUMNS, SHEET_TITLES, SHEETS_TOLD, SPREADSHEET
from bedwright.units import UnitSystem, show


def harvest_sheet(plan: HarvestPlan, units: Measures, system: UnitSystem) -> Sheet:
    """What is fit to sell of each crop in each week, in its unit of sale and as a mass.

    A crop without weeks has one row, which says why.
    """
    masses = ("sale", "picked", "wished", "over")
    columns = (
        Column(COLUMNS["crop"]), Column(COLUMNS["beds"]), Column(COLUMNS["week"]),
        Column(COLUMNS["week_of"], "day"), Column(COLUMNS["sold_by"]),
        *(Column(COLUMNS[each], "number") for each in ("low", "typical", "high", "wish")),
        Column(COLUMNS["balance"]),
        *(Column(COLUMNS[each].format(unit=unit_word(units.mass)), "number") for each in masses),
        Column(COLUMNS["note"]),
    )  # fmt: skip
    rows = [row for crop in plan.crops for row in _rows(crop, units, system)]
    return Sheet(SHEET_TITLES["harvest"], SHEETS_TOLD["harvest"], columns, tuple(rows))


def _rows(crop: CropHarvest, units: Measures, system: UnitSystem) -> list[tuple[Cell, ...]]:
    name = named(crop.name).lower()
    beds = ", ".join(dict.fromkeys(each.bed for each in crop.plantings)) or None
    note = told_words(crop)
    if not crop.plantings:
        note = SPREADSHEET["not_grown"]
    elif all(each.mass is None for each in crop.plantings):
        note = SPREADSHEET["not_picked"]
    elif any(each.mass is not None and not each.pickings for each in crop.plantings):
        note = f"{note} {SPREADSHEET['not_dated_harvest']}"
    if crop.left.typical > 0:
        left = show(crop.left.typical, "mass", system, digits=2)
        note = f"{note} {SPREADSHEET['left_over'].format(mass=left)}"
    sold_by = SPREADSHEET["by_weight"].format(unit=unit_word(units.mass))
    if not _weighed(crop):
        sold_by = sale_word(crop.unit)
    if not crop.weeks:
        picked = units.of(crop.mass.typical, units.mass) if crop.mass.typical else None
        return [(name, beds, None, None, sold_by, *[None] * 6, picked, None, None, note)]
    return [(name, beds, *_week(crop, each, units, sold_by), note) for each in crop.weeks]


def _weighed(crop: CropHarvest) -> bool:
    return crop.unit == BY_WEIGHT or crop.unit_mass is None


def _week(crop: CropHarvest, week: HarvestWeek, units: Measures, sold_by: str) -> tuple[Cell, ...]:
    def mass(value: float | None) -> float | None:
        return units.of(value, units.mass)

    sale, wanted = week.to_sell, mass(week.wanted)
    ends: tuple[float | None, ...] = (mass(sale.low), mass(sale.typical), mass(sale.high))
    if week.pieces is not None:
        ends = tuple(
            number(each) for each in (week.pieces.low, week.pieces.typical, week.pieces.high)
        )
    wish = wanted
    if not _weighed(crop) and week.wanted is not None and crop.unit_mass is not None:
        wish = number(week.wanted / crop.unit_mass.value)
    year, nth, _ = week.monday.isocalendar()
    return (
        f"{year}-W{nth:02d}",
        week.monday,
        sold_by,
        *ends,
        wish,
        HARVEST[week.balance] if week.balance else None,
        mass(sale.typical),
        mass(week.picked.typical),
        wanted,
        None if week.wanted is None else mass(sale.typical - week.wanted),
    )
