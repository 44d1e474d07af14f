"""Two season plans of a garden compared: what the one costs, brings and says beside the other."""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Iterable, Mapping
from datetime import date

from bedwright.planning.layout.crop_facts import timing_tables
from bedwright.planning.prescription import Line
from bedwright.planning.work.bed_days import BedDays, Grown, bed_days
from bedwright.reports.differences.findings import bed_findings, garden_findings, only_in
from bedwright.reports.differences.model import (
    Amount,
    BedDifferences,
    Day,
    Dropped,
    Moved,
    PlanDifferences,
    What,
)
from bedwright.season import SeasonPlan

_Days = Mapping[str, tuple[str, BedDays | None]]


def plan_differences(before: SeasonPlan, after: SeasonPlan) -> PlanDifferences:
    """What changes from one plan of a garden to another.

    Both are whole plans, of one garden by two documents or on two days. A bed that one of them
    lacks is compared with nothing. Numbers that differ by half a per cent or less count as the
    same; a finding counts as the same where it says the same of the same thing, whatever its
    numbers and days.
    """
    beds = dict.fromkeys(each.id for plan in (before, after) for each in plan.document.garden.bed)
    days = [_days_of(plan) for plan in (before, after)]
    compared = (_bed(before, after, bed, days[0], days[1]) for bed in beds)
    garden = [garden_findings(plan) for plan in (before, after)]
    return PlanDifferences(
        _garden(before, after),
        _harvest(before, after),
        tuple(each for each in compared if each.any),
        only_in(garden[1], garden[0]),
        only_in(garden[0], garden[1]),
        _dropped(after, before),
        _dropped(before, after),
    )


def _garden(before: SeasonPlan, after: SeasonPlan) -> tuple[Amount, ...]:
    rows: list[tuple[What, str]] = [
        ("money", "money"), ("unpriced", "-"), ("water_cost", "money"), ("hours", "h"),
        ("fullest_week", "h"), ("left_out", "-"), ("harvest", "kg"), ("water", "m3"),
        ("phosphate", "kg"), ("salts", "kg"), ("materials", "-"), ("clashes", "-"),
    ]  # fmt: skip
    one, other = _totals(before), _totals(after)
    return tuple(Amount(what, unit, one[what], other[what]) for what, unit in rows)


def _totals(plan: SeasonPlan) -> dict[What, float | None]:
    bought, work, harvest, water = plan.purchases, plan.work, plan.harvest, plan.water
    return {
        "money": plan.shared.money if bought is None else bought.cost,
        "unpriced": None if bought is None else len(bought.unpriced),
        "water_cost": None if water is None else water.cost,
        "hours": None if work is None else math.fsum(each.hours.value for each in work.tasks),
        "fullest_week": None
        if work is None
        else max((each.hours for each in work.weeks), default=0.0),
        "left_out": None if work is None else len(work.left_out),
        "harvest": None
        if harvest is None
        else math.fsum(each.mass.typical for each in harvest.crops),
        "water": None if water is None else water.gross_m3,
        "phosphate": plan.shared.phosphorus_kg,
        "salts": _salts(line for each in plan.plantings for line in each.prescription.lines),
        "materials": plan.shared.carried,
        "clashes": sum(bool(each.prescription.blend.clash) for each in plan.plantings),
    }


def _salts(lines: Iterable[Line]) -> float:
    """Salts in what is spread [kg, as sodium nitrate]; materials of unknown salts left out."""
    return math.fsum(
        (each.preplant.value + each.later.value) * each.supply.salts.value
        for each in lines
        if each.supply.salts is not None
    )


def _dropped(plan: SeasonPlan, other: SeasonPlan) -> tuple[Dropped, ...]:
    """The tasks that a plan leaves out and the other one does not, or has not at all."""
    if plan.work is None or other.work is None:
        return ()
    known = {each.task for each in other.work.left_out}
    found: Counter[tuple[str, str, str]] = Counter()
    for each in plan.work.left_out:
        if each.task not in known:
            task = plan.work.task(each.task)
            crop = "" if task.crop is None else plan.library.crop(task.crop)["name"]
            found[task.bed or "", crop, task.kind] += 1
    return tuple(Dropped(*what, times) for what, times in found.items())


def _harvest(before: SeasonPlan, after: SeasonPlan) -> tuple[Amount, ...]:
    """The crops whose harvest changes."""
    names: dict[str, str] = {}
    masses: list[dict[str, float]] = []
    for plan in (before, after):
        crops = () if plan.harvest is None else plan.harvest.crops
        names |= {each.crop: each.name for each in crops}
        masses.append({each.crop: each.mass.typical for each in crops})
    found = (
        Amount("harvest", "kg", masses[0].get(crop), masses[1].get(crop), name)
        for crop, name in names.items()
    )
    return tuple(each for each in found if each.changed)


def _bed(
    before: SeasonPlan, after: SeasonPlan, bed: str, one: _Days, other: _Days
) -> BedDifferences:
    found = [bed_findings(plan, bed) for plan in (before, after)]
    return BedDifferences(
        bed,
        (_crops(before, bed), _crops(after, bed)),
        _amounts(before, after, bed),
        _moved(one, other, bed),
        only_in(found[1], found[0]),
        only_in(found[0], found[1]),
    )


def _crops(plan: SeasonPlan, bed: str) -> tuple[str, ...]:
    return tuple(
        each.prescription.crop.name for each in plan.plantings if each.prescription.bed.id == bed
    )


def _amounts(before: SeasonPlan, after: SeasonPlan, bed: str) -> tuple[Amount, ...]:
    spread = [_spread(plan, bed) for plan in (before, after)]
    made = [
        Amount("spread", "kg", spread[0].get(name), spread[1].get(name), name)
        for name in dict.fromkeys((*spread[0], *spread[1]))
    ]
    one, other = _of_bed(before, bed), _of_bed(after, bed)
    rows: list[tuple[What, str]] = [
        ("hours", "h"), ("harvest", "kg"), ("water", "m3"), ("salt_in_soil", "dS/m"),
        ("yield_left", "%"),
    ]  # fmt: skip
    made += [Amount(what, unit, one[what], other[what]) for what, unit in rows]
    return tuple(each for each in made if each.changed)


def _spread(plan: SeasonPlan, bed: str) -> dict[str, float]:
    """What a bed gets of each material by its name [kg]."""
    found: dict[str, float] = {}
    for each in plan.plantings:
        if each.prescription.bed.id == bed:
            for line in each.prescription.lines:
                mass = line.preplant.value + line.later.value
                found[line.material.name] = found.get(line.material.name, 0.0) + mass
    return found


def _of_bed(plan: SeasonPlan, bed: str) -> dict[What, float | None]:
    work, water = plan.work, plan.water
    hours = [] if work is None else [each.hours.value for each in work.tasks if each.bed == bed]
    masses = [
        each.mass.value
        for crop in (() if plan.harvest is None else plan.harvest.crops)
        for each in crop.plantings
        if each.bed == bed and each.mass is not None
    ]
    stands = [] if water is None else [e.gross_m3 for e in water.stands if e.stand.bed == bed]
    salt = [] if water is None else [each for each in water.salt if each.bed == bed]
    left = [each.yield_with for each in salt if each.yield_with is not None]
    return {
        "hours": math.fsum(hours) if hours else None,
        "harvest": math.fsum(masses) if masses else None,
        "water": math.fsum(stands) if stands else None,
        "salt_in_soil": max((float(e.with_leaching[-1]) for e in salt if e.with_leaching.size),
                            default=None),
        "yield_left": min(left, default=None),
    }  # fmt: skip


def _days_of(plan: SeasonPlan) -> dict[str, tuple[str, BedDays | None]]:
    """The days of each planting by its bed and turn, as its sheet and its tasks tell them."""
    tables = timing_tables(plan.library)
    return {
        _place(each): (each.prescription.crop.name, bed_days(each, tables, plan.library))
        for each in plan.grown
    }


def _place(grown: Grown) -> str:
    return f"{grown.bed}/{grown.prescription.nth + 1}"


def _moved(one: _Days, other: _Days, bed: str) -> tuple[Moved, ...]:
    found = []
    for at in (1, 2):
        place = f"{bed}/{at}"
        known = other.get(place) or one.get(place)
        if known is None:
            continue
        before, after = _dates(one.get(place)), _dates(other.get(place))
        found += [
            Moved(what, known[0], before[what], after[what])
            for what in before
            if before[what] != after[what]
        ]
    return tuple(found)


def _dates(planting: tuple[str, BedDays | None] | None) -> dict[Day, date | None]:
    days = None if planting is None else planting[1]
    if days is None:
        return {"plant": None, "spread": None, "first_pick": None, "last_pick": None}
    return {
        "plant": days.start,
        "spread": days.turns[0][0] if days.turns else None,
        "first_pick": days.first_pick,
        "last_pick": days.last_pick,
    }
