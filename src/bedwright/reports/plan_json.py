"""The season plan as JSON: keys and values, no prose, numbers in SI and the engine's units."""

from __future__ import annotations

from typing import Any

import numpy as np
from numpy.typing import NDArray

from bedwright.planning.heap import HeapPlan
from bedwright.planning.nutrients import Need
from bedwright.planning.prescription import Line, Prescription
from bedwright.planning.side_dressing import Dressing
from bedwright.planning.supply import NitrogenCourse
from bedwright.reports.dates_json import dates_dict
from bedwright.reports.figures_json import (
    day_or_null,
    figure_dict,
    figure_or_null,
    finding_dict,
    number_or_null,
    rounded,
)
from bedwright.reports.harvest_json import harvest_dict
from bedwright.reports.layout_json import layout_dict
from bedwright.reports.purchases_json import purchases_dict
from bedwright.reports.rotation_json import years_dict
from bedwright.reports.summer_json import summer_dict
from bedwright.reports.turnover_json import turnover_dict
from bedwright.reports.water_json import water_dict
from bedwright.reports.work_json import work_dict
from bedwright.season import PLAN_FORMAT, BedPlan, SeasonPlan

Array = NDArray[np.float64]


def plan_dict(plan: SeasonPlan) -> dict[str, Any]:
    """The plan as plain data; the same plan gives the same data, byte for byte."""
    place = plan.document.garden.garden
    return {
        "format": PLAN_FORMAT,
        "program": {"name": "bedwright", "version": plan.version},
        "as_of": plan.as_of.isoformat(),
        "garden": {"name": place.name, "units": place.units.value, "currency": place.currency},
        "tables": plan.tables,
        "repeatable": plan.years is None or plan.years.repeatable,
        "beds": [_bed(each) for each in plan.beds],
        "second_crops": [_bed(each) for each in plan.second],
        "layouts": [layout_dict(each) for each in plan.layouts],
        "years": None if plan.years is None else years_dict(plan.years),
        "water": None if plan.water is None else water_dict(plan.water),
        "summer": None if plan.summer is None else summer_dict(plan.summer),
        "turnover": [turnover_dict(each) for each in plan.turnover],
        "work": None if plan.work is None else work_dict(plan.work),
        "harvest": None if plan.harvest is None else harvest_dict(plan.harvest),
        "purchases": None if plan.purchases is None else purchases_dict(plan.purchases),
        "beds_without_a_crop": list(plan.unplanned),
        "findings": [finding_dict(each) for each in plan.findings],
        "mixes": [
            {
                "name": each.stated.name,
                "mass_kg": rounded(each.mixed.mass_kg),
                "analysis": [rounded(x) for x in each.mixed.analysis],
                "summed_labels": [rounded(x) for x in each.mixed.summed_labels],
                "first_season": [number_or_null(x) for x in each.mixed.first_season],
            }
            for each in plan.mixes
        ],
        "totals": [
            {
                "material": each.key,
                "needed_kg": rounded(each.needed_kg),
                "on_hand_kg": each.on_hand_kg,
                "bought": [
                    {
                        "count": rounded(bought.count),
                        "package_kg": rounded(bought.package_kg),
                        "price": rounded(bought.price),
                        "loose": bought.loose,
                    }
                    for bought in each.bought
                ],
            }
            for each in plan.totals
        ],
        "heaps": [_heap(each) for each in plan.heaps],
        "compost_reports": [
            {
                "report": each.report.id,
                "judged": [
                    {"property": x.property, "value": figure_dict(x.figure), "verdict": x.verdict}
                    for x in each.judged
                ],
                "findings": [finding_dict(x) for x in each.findings],
            }
            for each in plan.composts
        ],
        "weather": [] if plan.dates is None else [finding_dict(x) for x in plan.dates.findings],
        "shared": {
            "money": rounded(plan.shared.money),
            "gap": number_or_null(plan.shared.gap),
            "phosphate_kg": rounded(plan.shared.phosphorus_kg),
            "materials_carried": plan.shared.carried,
            "recipe_groups": [[bed.bed.id for bed in group.beds] for group in plan.shared.groups],
            "missing_kg": {key: rounded(mass) for key, mass in plan.shared.missing.items()},
            "findings": [finding_dict(each) for each in plan.shared.findings],
        },
    }


def _bed(plan: BedPlan) -> dict[str, Any]:
    bed = plan.prescription
    mixed = bed.blend
    return {
        "bed": bed.bed.id,
        "part": bed.part,
        "area": figure_dict(bed.evidence.area),
        "crop": bed.crop.key,
        "yield_goal": figure_dict(bed.crop.goal),
        "set_out": bed.season.isoformat(),
        "soil_report": bed.evidence.report.id if bed.evidence.report is not None else None,
        "spread": [_line(each, bed) for each in bed.lines],
        "readings": [
            {
                "analyte": each.measurement.analyte,
                "extractant": each.measurement.extractant,
                "value": rounded(each.value),
                "unit": each.unit,
                "class": each.word,
                "supply": each.supply,
                "table": each.table_id,
                "test_group": each.test_group,
                "breakpoints": [[at.word, at.lower, at.upper] for at in each.breakpoints],
                "source": each.row.source.source_id,
                "doubts": list(each.doubts),
                "other_tables": [list(other) for other in each.others],
            }
            for each in bed.read.values()
        ],
        "nitrogen": {
            "crop_need": figure_dict(bed.nitrogen.crop_need),
            "credits": [figure_dict(each) for each in bed.nitrogen.credits],
            "to_supply": figure_dict(bed.nitrogen.to_supply),
            "ceiling": figure_dict(bed.nitrogen.ceiling),
            "preplant_share": figure_dict(bed.nitrogen.preplant_share),
            "side_dressings": bed.nitrogen.side_dressings,
        },
        "needs": [_need(each) for each in bed.needs],
        "lime": figure_or_null(bed.reaction.lime),
        "sulfur": figure_or_null(bed.reaction.sulfur),
        "salt": {
            "ec_e": figure_or_null(bed.salt.ec_e),
            "yield_left": figure_or_null(bed.salt.yield_left),
            "ceiling": figure_or_null(bed.salt.ceiling),
            "gypsum": figure_or_null(bed.salt.gypsum),
        },
        "blend": {
            "supplied_kg_m2": {key: rounded(value) for key, value in mixed.supplied.items()},
            "binding": list(mixed.binding),
            "prices": {key: rounded(value) for key, value in mixed.prices.items()},
            "clash": list(mixed.clash),
            "shortfall_kg_m2": {key: rounded(v) for key, v in (mixed.shortfall or {}).items()},
            "cost": rounded(mixed.cost * bed.evidence.area.value),
        },
        "not_to_add": [
            {"material": each.material.key, "reason": each.code} for each in bed.strikes
        ],
        "rules_of_thumb": [
            {"rule": each.code, "range": figure_dict(each.rule), "ours": figure_or_null(each.ours),
             "verdict": each.verdict, "why": each.why}
            for each in plan.habits
        ],
        "label_rates": [
            {"material": each.material.key, "amount": figure_dict(each.amount), "per": each.per,
             "assumes": each.assumes, "ours_kg": rounded(each.ours)}
            for each in plan.labels
        ],
        "missing_tests": [{"test": test, "decides": decides} for test, decides in plan.missing],
        "nitrogen_by_week": _course(plan.nitrogen),
        "dates": None if plan.dates is None else dates_dict(plan.dates),
        "raw_manure": None if plan.manure is None else {
            "days": figure_dict(plan.manure.interval),
            "first_pick": day_or_null(plan.manure.first_pick),
            "forbidden_from": day_or_null(plan.manure.forbidden_from),
        },
        "findings": [finding_dict(each) for each in plan.findings],
    }  # fmt: skip


def _course(course: NitrogenCourse) -> dict[str, Any]:
    """The weeks [kg/m2]; rows low, typical, high. Empty where no temperature is stated."""

    def rows(cases: Array) -> list[list[float]]:
        return [[rounded(float(x)) for x in row] for row in np.atleast_2d(cases)]

    def dressing(each: Dressing) -> dict[str, Any]:
        masses = {key: rounded(mass) for key, mass in each.materials}
        return {"on": each.on.isoformat(), "materials_kg": masses}

    rest = course.rest
    return {
        "spread": course.spread.isoformat(),
        "set_out": course.set_out.isoformat(),
        "last_harvest": course.last_harvest.isoformat(),
        "weeks": [each.isoformat() for each in course.starts],
        "soil_k": [rounded(float(x)) for x in course.temperature],
        "uptake": [rounded(float(x)) for x in course.uptake],
        "available": rows(course.available),
        "in_soil": rows(course.in_soil),
        "short": rows(course.short),
        "leached": [] if course.season is None else rows(course.season.leached),
        "shortages": [
            {"supply": each.case, "week": each.week, "on": each.on.isoformat(),
             "missing_kg_m2": rounded(each.total)}
            for each in course.shortages
        ],
        "side_dressings": [dressing(each) for each in course.dressings],
        "one_more": None if course.extra is None else dressing(course.extra),
        "rest": None if rest is None else {
            "needed_days": rounded(rest.needed),
            "rule_weeks": figure_dict(rest.habit),
            "verdict": rest.verdict,
        },
    }  # fmt: skip


def _heap(plan: HeapPlan) -> dict[str, Any]:
    mixed = plan.recipe
    return {
        "heap": plan.heap.id,
        "masses_kg": {} if mixed is None else
        {key: rounded(float(mass)) for key, mass in zip(plan.keys, mixed.masses, strict=True)},
        "water_kg": None if mixed is None else rounded(mixed.water),
        "c_to_n": None if mixed is None or mixed.c_to_n is None else rounded(mixed.c_to_n),
        "moisture": None if mixed is None or mixed.moisture is None else rounded(mixed.moisture),
        "heat": None if plan.heat is None else plan.heat.verdict,
        "findings": [finding_dict(each) for each in plan.findings],
    }  # fmt: skip


def _line(line: Line, plan: Prescription) -> dict[str, Any]:
    return {
        "material": line.material.key,
        "name": line.material.name,
        "before_planting": figure_dict(line.preplant),
        "later": figure_dict(line.later),
        "side_dressings": max(plan.nitrogen.side_dressings, 1) if line.later.value > 0 else 0,
        "measure": line.material.measure,
        "bulk_density": figure_or_null(line.supply.bulk_density),
        "cautions": [each.code for each in line.material.cautions],
        "organic": {
            "status": line.material.organic_status,
            "section": line.material.organic_section,
        },
        "n_season": figure_or_null(line.supply.n_season),
        "price_stated": line.offer.price_stated,
    }  # fmt: skip


def _need(need: Need) -> dict[str, Any]:
    return {
        "nutrient": need.nutrient,
        "amount": figure_dict(need.amount),
        "ceiling": figure_or_null(need.ceiling),
        "why": need.why,
    }
