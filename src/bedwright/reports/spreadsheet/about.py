"""The first sheet: whose plan it is, as of which day, what is in the file, what to know."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

from bedwright.planning.purchases.model import Purchases
from bedwright.planning.work.model import Work
from bedwright.reports.fill import sentence
from bedwright.reports.harvest_text import harvest_sentence
from bedwright.reports.purchases_text import item_words, purchases_sentence
from bedwright.reports.spreadsheet.model import Cell, Column, Measures, Sheet, number, unit_word
from bedwright.reports.words_spreadsheet import COLUMNS, SHEET_TITLES, SPREADSHEET
from bedwright.reports.work_said import work_sentence
from bedwright.season import SeasonPlan
from bedwright.units import UnitSystem

_Row = tuple[Cell, Cell, Cell, Cell]


def about_sheet(
    plan: SeasonPlan, work: Work, purchases: Purchases, units: Measures, sheets: Sequence[Sheet]
) -> Sheet:
    """What stands before the other ``sheets``."""
    columns = tuple(Column(COLUMNS[each]) for each in ("part", "what", "value", "told"))
    rows = [
        *_garden(plan),
        *(
            (SPREADSHEET["sheet"], each.title, float(len(each.rows)), f"{each.about}")
            for each in sheets
        ),
        *_sums(plan, work, purchases, units),
        *((SPREADSHEET["know"], None, None, each) for each in _known(plan, work, purchases)),
        *(
            (SPREADSHEET["table"], name, revision, SPREADSHEET["revision"])
            for name, revision in plan.tables.items()
        ),
    ]
    return Sheet(SHEET_TITLES["about"], "", columns, tuple(rows))


def _garden(plan: SeasonPlan) -> Iterator[_Row]:
    place = plan.document.garden.garden
    system = "units_us" if place.units is UnitSystem.US else "units_metric"
    part = SPREADSHEET["garden"]
    yield part, SPREADSHEET["name"], place.name, None
    if place.note:
        yield part, SPREADSHEET["what_it_is"], None, place.note
    yield part, SPREADSHEET["as_of"], plan.as_of, None
    yield part, SPREADSHEET["made_by"], f"bedwright {plan.version}", None
    yield part, SPREADSHEET["units"], SPREADSHEET[system], None
    yield part, SPREADSHEET["money"], place.currency, None


def _sums(plan: SeasonPlan, work: Work, purchases: Purchases, units: Measures) -> Iterator[_Row]:
    part, currency = SPREADSHEET["sums"], plan.document.garden.garden.currency
    planned = {each.task for each in work.assigned if not each.done}
    hours = math.fsum(each.hours.value for each in work.tasks if each.id in planned)
    yield part, SPREADSHEET["sum_hours"], number(hours), None
    unpriced = ", ".join(item_words(each) for each in purchases.unpriced)
    told = SPREADSHEET["sum_unpriced"].format(items=unpriced) if unpriced else None
    cost = SPREADSHEET["sum_cost"].format(currency=currency)
    yield part, cost, number(purchases.cost), told
    spread = math.fsum(
        line.preplant.value + line.later.value
        for each in plan.grown
        for line in each.prescription.lines
    )
    said = SPREADSHEET["sum_spread"].format(unit=unit_word(units.mass))
    yield part, said, units.of(spread, units.mass), None
    picked = math.fsum(each.mass.typical for each in plan.harvest.crops) if plan.harvest else 0.0
    said = SPREADSHEET["sum_picked"].format(unit=unit_word(units.mass))
    yield part, said, units.of(picked, units.mass), None


def _known(plan: SeasonPlan, work: Work, purchases: Purchases) -> Iterator[str]:
    """What the plan as a whole has to say, once each."""
    system = plan.document.garden.garden.units
    harvest = () if plan.harvest is None else plan.harvest.findings
    dates = () if plan.dates is None else plan.dates.findings
    told = [
        SPREADSHEET["labels"],
        SPREADSHEET["no_formulas"],
        *(sentence(each, system) for each in (*plan.findings, *plan.shared.findings, *dates)),
        *(purchases_sentence(each, system) for each in purchases.findings),
        *(work_sentence(each, system) for each in work.findings),
        *(harvest_sentence(each, system) for each in harvest),
    ]
    yield from dict.fromkeys(told)
