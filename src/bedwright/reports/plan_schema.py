"""The JSON Schema of the season plan."""

from __future__ import annotations

from typing import Any

from bedwright.reports.dates_json import dates_schema
from bedwright.reports.harvest_json import harvest_schema
from bedwright.reports.layout_schema import layout_schema
from bedwright.reports.purchases_json import purchases_schema
from bedwright.reports.rotation_json import rotation_schema
from bedwright.reports.schema_parts import (
    FIGURE,
    NUMBER,
    NUMBER_OR_NULL,
    TEXT,
    TEXT_OR_NULL,
    figure_schema,
    finding_schema,
    listed,
    or_null,
    table,
)
from bedwright.reports.summer_json import summer_schema
from bedwright.reports.turnover_json import turnover_schema
from bedwright.reports.water_schema import water_schema
from bedwright.reports.work_json import work_schema
from bedwright.season import PLAN_FORMAT

_FIGURE = FIGURE
_FIGURE_OR_NULL: dict[str, Any] = or_null(_FIGURE)


def _years() -> dict[str, Any]:
    """The years ahead within a plan: their schema without what only a whole document has."""
    whole = rotation_schema()
    return {key: each for key, each in whole.items() if key not in ("$schema", "title", "$defs")}


def _numbers() -> dict[str, Any]:
    return {"type": "object", "additionalProperties": NUMBER}


def plan_schema() -> dict[str, Any]:
    """The schema (draft 2020-12) that every plan satisfies."""
    schema = table(
        format={"const": PLAN_FORMAT},
        program=table(name=TEXT, version=TEXT),
        as_of={"type": "string", "format": "date"},
        garden=table(name=TEXT, units=TEXT, currency=TEXT),
        tables={"type": "object", "additionalProperties": TEXT},
        repeatable={"type": "boolean"},
        beds=listed({"$ref": "#/$defs/bed"}),
        second_crops=listed({"$ref": "#/$defs/bed"}),
        layouts=listed(layout_schema()),
        years=or_null(_years()),
        water=or_null(water_schema()),
        summer=or_null(summer_schema()),
        turnover=listed(turnover_schema()),
        work=or_null(work_schema()),
        harvest=or_null(harvest_schema()),
        purchases=or_null(purchases_schema()),
        beds_without_a_crop=listed(TEXT),
        findings=listed({"$ref": "#/$defs/finding"}),
        mixes=listed(table(name=TEXT, mass_kg=NUMBER, analysis=listed(NUMBER),
                            summed_labels=listed(NUMBER), first_season=listed(NUMBER_OR_NULL))),
        totals=listed(table(material=TEXT, needed_kg=NUMBER, on_hand_kg=NUMBER_OR_NULL,
                             bought=listed(table(count=NUMBER, package_kg=NUMBER,
                                                  price=NUMBER, loose={"type": "boolean"})))),
        heaps=listed(table(heap=TEXT, masses_kg=_numbers(), water_kg=NUMBER_OR_NULL,
                            c_to_n=NUMBER_OR_NULL, moisture=NUMBER_OR_NULL, heat=TEXT_OR_NULL,
                            findings=listed({"$ref": "#/$defs/finding"}))),
        compost_reports=listed(table(
            report=TEXT, judged=listed(table(property=TEXT, value=_FIGURE, verdict=TEXT)),
            findings=listed({"$ref": "#/$defs/finding"}))),
        weather=listed({"$ref": "#/$defs/finding"}),
        shared=table(money=NUMBER, gap=NUMBER_OR_NULL, phosphate_kg=NUMBER,
                       materials_carried={"type": "integer"}, recipe_groups=listed(listed(TEXT)),
                       missing_kg=_numbers(), findings=listed({"$ref": "#/$defs/finding"})),
    )  # fmt: skip
    schema["$schema"] = "https://json-schema.org/draft/2020-12/schema"
    schema["title"] = f"bedwright season plan, format {PLAN_FORMAT}"
    schema["$defs"] = {"figure": figure_schema(), "bed": _bed(), "finding": finding_schema()}
    return schema


def _bed() -> dict[str, Any]:
    line = table(
        material=TEXT, name=TEXT, before_planting=_FIGURE, later=_FIGURE,
        side_dressings={"type": "integer"}, measure=TEXT, bulk_density=_FIGURE_OR_NULL,
        cautions=listed(TEXT), organic=table(status=TEXT, section=TEXT),
        n_season=_FIGURE_OR_NULL, price_stated={"type": "boolean"},
    )  # fmt: skip
    reading = table(
        analyte=TEXT, extractant=TEXT, value=NUMBER, unit=TEXT, supply=TEXT, table=TEXT,
        test_group=TEXT, breakpoints=listed({"type": "array"}), source=TEXT, doubts=listed(TEXT),
        other_tables=listed(listed(TEXT)), **{"class": TEXT},
    )  # fmt: skip
    return table(
        bed=TEXT, part={"type": ["integer", "null"]}, area=_FIGURE, crop=TEXT,
        yield_goal=_FIGURE, set_out=TEXT,
        soil_report={"type": ["string", "null"]}, spread=listed(line), readings=listed(reading),
        nitrogen=table(crop_need=_FIGURE, credits=listed(_FIGURE), to_supply=_FIGURE,
                         ceiling=_FIGURE, preplant_share=_FIGURE,
                         side_dressings={"type": "integer"}),
        needs=listed(table(nutrient=TEXT, amount=_FIGURE, ceiling=_FIGURE_OR_NULL, why=TEXT)),
        lime=_FIGURE_OR_NULL, sulfur=_FIGURE_OR_NULL,
        salt=table(ec_e=_FIGURE_OR_NULL, yield_left=_FIGURE_OR_NULL, ceiling=_FIGURE_OR_NULL,
                     gypsum=_FIGURE_OR_NULL),
        blend=table(supplied_kg_m2=_numbers(), binding=listed(TEXT), prices=_numbers(),
                      clash=listed(TEXT), shortfall_kg_m2=_numbers(), cost=NUMBER),
        not_to_add=listed(table(material=TEXT, reason=TEXT)),
        rules_of_thumb=listed(table(rule=TEXT, range=_FIGURE, ours=_FIGURE_OR_NULL,
                                     verdict={"enum": ["agrees", "less", "more"]}, why=TEXT)),
        label_rates=listed(table(material=TEXT, amount=_FIGURE, per=TEXT, assumes=TEXT,
                                  ours_kg=NUMBER)),
        missing_tests=listed(table(test=TEXT, decides=TEXT)),
        nitrogen_by_week=_course(),
        dates=dates_schema(),
        raw_manure={"anyOf": [table(days=_FIGURE, first_pick=TEXT_OR_NULL,
                                      forbidden_from=TEXT_OR_NULL), {"type": "null"}]},
        findings=listed({"$ref": "#/$defs/finding"}),
    )  # fmt: skip


def _course() -> dict[str, Any]:
    dressing = table(on=TEXT, materials_kg=_numbers())
    rest = table(
        needed_days=NUMBER, rule_weeks=_FIGURE, verdict={"enum": ["agrees", "less", "more"]}
    )
    return table(
        spread=TEXT, set_out=TEXT, last_harvest=TEXT, weeks=listed(TEXT), soil_k=listed(NUMBER),
        uptake=listed(NUMBER), available=listed(listed(NUMBER)), in_soil=listed(listed(NUMBER)),
        short=listed(listed(NUMBER)), leached=listed(listed(NUMBER)),
        shortages=listed(table(supply=TEXT, week={"type": "integer"}, on=TEXT,
                                missing_kg_m2=NUMBER)),
        side_dressings=listed(dressing), one_more={"anyOf": [dressing, {"type": "null"}]},
        rest={"anyOf": [rest, {"type": "null"}]},
    )  # fmt: skip
