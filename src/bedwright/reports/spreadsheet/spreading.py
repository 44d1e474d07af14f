"""What is spread on each bed as a sheet: one row for each material of each round."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from bedwright.language import named
from bedwright.planning.prescription import Line, Prescription
from bedwright.planning.work.bed_days import Grown
from bedwright.planning.work.model import Task, Work
from bedwright.reports.spreading_text import amount_words, into_words, near_stems
from bedwright.reports.spreadsheet.model import Cell, Column, Measures, Sheet, number, unit_word
from bedwright.reports.spreadsheet.tasks import task_states
from bedwright.reports.words import NUTRIENTS
from bedwright.reports.words_spreadsheet import COLUMNS, SHEET_TITLES, SHEETS_TOLD, SPREADSHEET
from bedwright.season import SeasonPlan
from bedwright.units import UnitSystem, show

_PARTS_OF_SEASON = frozenset({"n_preplant", "n_later"})  # both are in the season's nitrogen
_ROUNDS = {"spread": "before", "side_dress": "dressing"}


def spreading_sheet(plan: SeasonPlan, work: Work, units: Measures) -> Sheet:
    """What is spread, bed by bed, on the days on which the work lays it."""
    masses = [units.mass] if units.mass == "kg" else [units.mass, "kg"]
    columns = (
        Column(COLUMNS["bed"]), Column(COLUMNS["crop"]), Column(COLUMNS["material"]),
        Column(COLUMNS["round"]), Column(COLUMNS["day"], "day"), Column(COLUMNS["latest"], "day"),
        Column(COLUMNS["weighed"]),
        *(Column(COLUMNS["amount"].format(unit=unit_word(each)), "number") for each in masses),
        Column(COLUMNS["rate"].format(unit=unit_word(units.rate)), "number"),
        Column(COLUMNS["measure"]), Column(COLUMNS["how"]), Column(COLUMNS["why"]),
        Column(COLUMNS["cautions"]), Column(COLUMNS["state"]),
    )  # fmt: skip
    states = task_states(work)
    rows = [row for each in plan.grown for row in _rows(plan, each, work, states, units, masses)]
    return Sheet(SHEET_TITLES["spreading"], SHEETS_TOLD["spreading"], columns, tuple(rows))


def _rows(
    plan: SeasonPlan,
    grown: Grown,
    work: Work,
    states: Mapping[str, str],
    units: Measures,
    masses: list[str],
) -> Iterator[tuple[Cell, ...]]:
    system = plan.document.garden.garden.units
    prescribed = grown.prescription
    days = {each.task: each.day for each in work.assigned}
    for line in prescribed.lines:
        for task, mass_kg, later in _rounds(grown, line, work):
            into = (
                near_stems(system, grown.layout) if later else into_words(line, prescribed, system)
            )
            said = amount_words(line, mass_kg, system, into)
            nth = "" if task is None else task.id.rpartition("/")[2]
            yield (
                grown.bed,
                named(prescribed.crop.name).lower(),
                said.material,
                SPREADSHEET["dressing" if later else "before"].format(number=nth).strip(),
                None if task is None else days.get(task.id),
                None if task is None else task.latest,
                said.mass,
                *(units.of(mass_kg, each) for each in masses),
                units.of(mass_kg / prescribed.evidence.area.value, units.rate),
                said.measure,
                f"{said.into[:1].upper()}{said.into[1:]}",
                brings(prescribed, line, system) or None,
                said.cautions or None,
                SPREADSHEET["not_dated"] if task is None else states[task.id],
            )


def _rounds(grown: Grown, line: Line, work: Work) -> Iterator[tuple[Task | None, float, bool]]:
    """The rounds in which a line is spread: the task, the mass [kg], whether it is after planting.

    The task is None where the planting has no day.
    """
    for kind, whole in (("spread", line.preplant), ("side_dress", line.later)):
        if whole.value <= 0:
            continue
        begin = f"{grown.bed}/{grown.crop}/{kind}/"
        found = [
            (task, number(each.amount.value))
            for task in work.tasks
            if task.id.startswith(begin)
            for each in task.bring
            if each.kind == "material" and each.key == line.material.key and each.amount is not None
        ]
        if not found:
            yield None, whole.value, kind == "side_dress"
        for task, mass in found:
            yield task, mass, kind == "side_dress"


def brings(plan: Prescription, line: Line, system: UnitSystem) -> str:
    """What a line brings of what the bed was found to need, per area; empty where nothing of it."""
    at = plan.blend.keys.index(line.material.key)
    area = plan.evidence.area.value
    told = []
    for each in plan.demands:
        if each.kind == "limit" or each.key in _PARTS_OF_SEASON:
            continue
        brought = (
            line.preplant.value * float(each.preplant[at])
            + line.later.value * float(each.later[at])
        ) / area
        if brought <= 0:
            continue
        name = NUTRIENTS[each.key]
        amount = show(brought, "mass_per_area", system, digits=2)
        told.append(
            name if each.kind == "wish"
            else SPREADSHEET["brings"].format(nutrient=name, amount=amount)
        )  # fmt: skip
    return "; ".join(told)
