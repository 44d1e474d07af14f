"""The JSON Schema of the season plan."""

from __future__ import annotations

from typing import Any

from bedwright.reports.dates_json import dates_schema
from bedwright.season import PLAN_FORMAT

_TEXT: dict[str, Any] = {"type": "string"}
_NUMBER: dict[str, Any] = {"type": "number"}
_FIGURE: dict[str, Any] = {"$ref": "#/$defs/figure"}
_FIGURE_OR_NULL: dict[str, Any] = {"anyOf": [_FIGURE, {"type": "null"}]}
_TEXT_OR_NULL: dict[str, Any] = {"type": ["string", "null"]}
_NUMBER_OR_NULL: dict[str, Any] = {"type": ["number", "null"]}


def _object(**properties: dict[str, Any]) -> dict[str, Any]:
    return {
        "type": "object",
        "properties": properties,
        "required": list(properties),
        "additionalProperties": False,
    }


def _list(items: dict[str, Any]) -> dict[str, Any]:
    return {"type": "array", "items": items}


def _numbers() -> dict[str, Any]:
    return {"type": "object", "additionalProperties": _NUMBER}


def plan_schema() -> dict[str, Any]:
    """The schema (draft 2020-12) that every plan satisfies."""
    schema = _object(
        format={"const": PLAN_FORMAT},
        program=_object(name=_TEXT, version=_TEXT),
        as_of={"type": "string", "format": "date"},
        garden=_object(name=_TEXT, units=_TEXT, currency=_TEXT),
        tables={"type": "object", "additionalProperties": _TEXT},
        repeatable={"type": "boolean"},
        beds=_list({"$ref": "#/$defs/bed"}),
        beds_without_a_crop=_list(_TEXT),
        mixes=_list(_object(name=_TEXT, mass_kg=_NUMBER, analysis=_list(_NUMBER),
                            summed_labels=_list(_NUMBER), first_season=_list(_NUMBER_OR_NULL))),
        totals=_list(_object(material=_TEXT, needed_kg=_NUMBER, on_hand_kg=_NUMBER_OR_NULL,
                             bought=_list(_object(count=_NUMBER, package_kg=_NUMBER,
                                                  price=_NUMBER, loose={"type": "boolean"})))),
        heaps=_list(_object(heap=_TEXT, masses_kg=_numbers(), water_kg=_NUMBER_OR_NULL,
                            c_to_n=_NUMBER_OR_NULL, moisture=_NUMBER_OR_NULL, heat=_TEXT_OR_NULL,
                            findings=_list({"$ref": "#/$defs/finding"}))),
        compost_reports=_list(_object(
            report=_TEXT, judged=_list(_object(property=_TEXT, value=_FIGURE, verdict=_TEXT)),
            findings=_list({"$ref": "#/$defs/finding"}))),
        weather=_list({"$ref": "#/$defs/finding"}),
        shared=_object(money=_NUMBER, gap=_NUMBER_OR_NULL, phosphate_kg=_NUMBER,
                       materials_carried={"type": "integer"}, recipe_groups=_list(_list(_TEXT)),
                       missing_kg=_numbers(), findings=_list({"$ref": "#/$defs/finding"})),
    )  # fmt: skip
    schema["$schema"] = "https://json-schema.org/draft/2020-12/schema"
    schema["title"] = f"bedwright season plan, format {PLAN_FORMAT}"
    schema["$defs"] = {"figure": _figure(), "bed": _bed(), "finding": _finding()}
    return schema


def _figure() -> dict[str, Any]:
    figure = _object(
        name=_TEXT, value=_NUMBER, unit=_TEXT,
        origin={"enum": ["stated", "measured", "table", "assumed", "computed"]},
    )  # fmt: skip
    figure["properties"] |= {
        "range": {"type": "array", "items": _NUMBER, "minItems": 2, "maxItems": 2},
        "note": _TEXT,
        "formula": _TEXT,
        "sources": _list(_object(id=_TEXT, place=_TEXT, note=_TEXT)),
        "steps": _list(_object(name=_TEXT, value=_NUMBER, unit=_TEXT)),
        "inputs": _list(_FIGURE),
    }
    return figure


def _bed() -> dict[str, Any]:
    line = _object(
        material=_TEXT, name=_TEXT, before_planting=_FIGURE, later=_FIGURE,
        side_dressings={"type": "integer"}, measure=_TEXT, bulk_density=_FIGURE_OR_NULL,
        cautions=_list(_TEXT), organic=_object(status=_TEXT, section=_TEXT),
        n_season=_FIGURE_OR_NULL, price_stated={"type": "boolean"},
    )  # fmt: skip
    reading = _object(
        analyte=_TEXT, extractant=_TEXT, value=_NUMBER, unit=_TEXT, supply=_TEXT, table=_TEXT,
        test_group=_TEXT, breakpoints=_list({"type": "array"}), source=_TEXT, doubts=_list(_TEXT),
        other_tables=_list(_list(_TEXT)), **{"class": _TEXT},
    )  # fmt: skip
    return _object(
        bed=_TEXT, area=_FIGURE, crop=_TEXT, yield_goal=_FIGURE, set_out=_TEXT,
        soil_report={"type": ["string", "null"]}, spread=_list(line), readings=_list(reading),
        nitrogen=_object(crop_need=_FIGURE, credits=_list(_FIGURE), to_supply=_FIGURE,
                         ceiling=_FIGURE, preplant_share=_FIGURE,
                         side_dressings={"type": "integer"}),
        needs=_list(_object(nutrient=_TEXT, amount=_FIGURE, ceiling=_FIGURE_OR_NULL, why=_TEXT)),
        lime=_FIGURE_OR_NULL, sulfur=_FIGURE_OR_NULL,
        salt=_object(ec_e=_FIGURE_OR_NULL, yield_left=_FIGURE_OR_NULL, ceiling=_FIGURE_OR_NULL,
                     gypsum=_FIGURE_OR_NULL),
        blend=_object(supplied_kg_m2=_numbers(), binding=_list(_TEXT), prices=_numbers(),
                      clash=_list(_TEXT), shortfall_kg_m2=_numbers(), cost=_NUMBER),
        not_to_add=_list(_object(material=_TEXT, reason=_TEXT)),
        rules_of_thumb=_list(_object(rule=_TEXT, range=_FIGURE, ours=_FIGURE_OR_NULL,
                                     verdict={"enum": ["agrees", "less", "more"]}, why=_TEXT)),
        label_rates=_list(_object(material=_TEXT, amount=_FIGURE, per=_TEXT, assumes=_TEXT,
                                  ours_kg=_NUMBER)),
        missing_tests=_list(_object(test=_TEXT, decides=_TEXT)),
        nitrogen_by_week=_course(),
        dates=dates_schema(),
        raw_manure={"anyOf": [_object(days=_FIGURE, first_pick=_TEXT_OR_NULL,
                                      forbidden_from=_TEXT_OR_NULL), {"type": "null"}]},
        findings=_list({"$ref": "#/$defs/finding"}),
    )  # fmt: skip


def _course() -> dict[str, Any]:
    dressing = _object(on=_TEXT, materials_kg=_numbers())
    rest = _object(
        needed_days=_NUMBER, rule_weeks=_FIGURE, verdict={"enum": ["agrees", "less", "more"]}
    )
    return _object(
        spread=_TEXT, set_out=_TEXT, last_harvest=_TEXT, weeks=_list(_TEXT), soil_k=_list(_NUMBER),
        uptake=_list(_NUMBER), available=_list(_list(_NUMBER)), in_soil=_list(_list(_NUMBER)),
        short=_list(_list(_NUMBER)),
        shortages=_list(_object(supply=_TEXT, week={"type": "integer"}, on=_TEXT,
                                missing_kg_m2=_NUMBER)),
        side_dressings=_list(dressing), one_more={"anyOf": [dressing, {"type": "null"}]},
        rest={"anyOf": [rest, {"type": "null"}]},
    )  # fmt: skip


def _finding() -> dict[str, Any]:
    return _object(
        code=_TEXT,
        weight={"enum": ["act", "caution", "doubt", "assumed", "note"]},
        values={"type": "object", "additionalProperties": {"anyOf": [_FIGURE, _TEXT, _NUMBER]}},
        sources=_list(_TEXT),
    )
