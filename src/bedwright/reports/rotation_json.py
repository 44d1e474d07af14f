"""The years ahead as plain data: keys and values, no prose, with the schema that they satisfy."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date
from typing import Any

from bedwright.planning.assignment.model import Candidate, Decision, Unit
from bedwright.planning.assignment.result import (
    ClashTold,
    Content,
    Instead,
    Placement,
    Rest,
    WishMet,
    YearsAhead,
)
from bedwright.reports.figures_json import figure_dict, finding_dict
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

ROTATION_FORMAT = 1
_DIGITS = 9
_FINDINGS: dict[str, Any] = listed({"$ref": "#/$defs/finding"})


class NoPlan(ValueError):
    """What was given is no plan of years."""


def years_dict(ahead: YearsAhead) -> dict[str, Any]:
    """The years ahead; the same plan gives the same data, byte for byte."""
    return {
        "format": ROTATION_FORMAT,
        "as_of": ahead.as_of.isoformat(),
        "years": list(ahead.years),
        "weights": {name: _round(value) for name, value in ahead.weights.model_dump().items()},
        "repeatable": ahead.repeatable,
        "objective": _round(ahead.objective),
        "bound": _round(ahead.bound),
        "gap": _round(ahead.gap),
        "near": None
        if ahead.near_gain is None or ahead.near_cost is None
        else {"gain": _round(ahead.near_gain), "cost": _round(ahead.near_cost)},
        "placements": [_placement(each) for each in ahead.placements],
        "rests": [_rest(each) for each in ahead.rests],
        "wishes": [_wish(each) for each in ahead.wishes],
        "clashes": [_clash(each) for each in ahead.clashes],
        "instead": [_instead(each) for each in ahead.instead],
        "changes": [
            {**_unit(each.unit), "year": each.year, "before": each.before, "after": each.after}
            for each in ahead.changes
        ],
        "findings": [finding_dict(each) for each in ahead.findings],
    }


def standing_of(data: Any) -> tuple[Decision, ...]:
    """The placements of a plan that was written before, to be kept by the next.

    Raises NoPlan where the data is none, or of another format.
    """
    if not isinstance(data, Mapping) or data.get("format") != ROTATION_FORMAT:
        raise NoPlan(f"this is no plan of years of format {ROTATION_FORMAT}")
    try:
        return tuple(
            Decision(
                str(each["bed"]),
                None if each["part"] is None else int(each["part"]),
                str(each["id"]),
                int(each["year"]),
                each["turn"],
                None if each["on"] is None else date.fromisoformat(each["on"]),
            )
            for each in data["placements"]
        )
    except KeyError as missing:
        raise NoPlan(f"this is no plan of years: its placements lack {missing}") from None
    except (TypeError, ValueError) as error:
        raise NoPlan(f"this is no plan of years: {error} in its placements") from None


def _round(number: float) -> float:
    return float(f"{number:.{_DIGITS}g}")


def _or_none(number: float | None) -> float | None:
    return None if number is None else _round(number)


def _day(on: date | None) -> str | None:
    return None if on is None else on.isoformat()


def _unit(unit: Unit) -> dict[str, Any]:
    return {"bed": unit.bed, "part": unit.part}


def _crop(crop: Candidate) -> dict[str, Any]:
    return {"id": crop.id, "crop": crop.key, "name": crop.name}


def _barred(groups: tuple[tuple[str, tuple[str, ...]], ...]) -> list[dict[str, Any]]:
    return [{"rule": code, "crops": list(crops)} for code, crops in groups]


def _placement(each: Placement) -> dict[str, Any]:
    return {
        **_unit(each.unit),
        **_crop(each.crop),
        "family": each.crop.family,
        "life": each.crop.life,
        "year": each.year,
        "turn": each.turn,
        "holds": [each.start.isoformat(), each.free_from.isoformat()],
        "on": _day(each.on),
        "first_harvest": _day(each.first_harvest),
        "last_harvest": _day(each.last_harvest),
        "settled": each.settled,
        "reasons": [finding_dict(x) for x in each.reasons],
        "barred": _barred(each.barred),
        "expected": None if each.expected is None else figure_dict(each.expected),
        "income": _or_none(each.income),
        "income_a_week": _or_none(each.income_a_week),
        "yield_left": _or_none(each.yield_left),
        "saleable": _or_none(each.saleable),
    }


def _rest(each: Rest) -> dict[str, Any]:
    return {
        **_unit(each.unit),
        "year": each.year,
        "reasons": [finding_dict(x) for x in each.reasons],
        "barred": _barred(each.barred),
    }


def _wish(each: WishMet) -> dict[str, Any]:
    return {
        "wish": each.at,
        **_crop(each.crop),
        "year": each.year,
        "measure": each.measure,
        "must": each.must,
        "wanted": _round(each.wanted),
        "given": _round(each.given),
        "short": _round(each.short),
        "short_beds": _round(each.short_beds),
        "weeks": each.weeks,
        "over": _round(each.over),
        "weeks_over": [on.isoformat() for on in each.weeks_over],
        "weeks_short": [on.isoformat() for on in each.weeks_short],
        "weeks_out": [on.isoformat() for on in each.weeks_out],
        "open_beds": list(each.open_beds),
        "barred": dict(each.barred),
    }


def _clash(each: ClashTold) -> dict[str, Any]:
    return {
        "family": each.family,
        "years": list(each.years),
        "wanted_beds": _round(each.wanted),
        "free": list(each.free),
        "years_away": each.away,
        "must": each.must,
        "ground": None if each.ground is None else finding_dict(each.ground),
        "members": [
            {"kind": x.kind, "at": x.at, **_crop(x.crop), "years": list(x.years),
             "beds": _round(x.beds), "on": list(x.on), "parts": list(x.parts),
             "possible": _round(x.possible), "worth": _or_none(x.worth)}
            for x in each.members
        ],
    }  # fmt: skip


def _instead(each: Instead) -> dict[str, Any]:
    return {
        **_unit(each.unit),
        "content": [_content(x) for x in each.content],
        "cost": _round(each.cost),
        "cost_beds": _round(each.cost_beds),
    }


def _content(each: Content) -> dict[str, Any]:
    return {**_crop(each.crop), "year": each.year, "on": _day(each.on)}


def rotation_schema() -> dict[str, Any]:
    """The schema (draft 2020-12) that every plan of years satisfies."""
    whole: dict[str, Any] = {"type": "integer"}
    part: dict[str, Any] = {"type": ["integer", "null"]}
    truth: dict[str, Any] = {"type": "boolean"}
    crop = {"id": TEXT, "crop": TEXT, "name": TEXT}
    unit = {"bed": TEXT, "part": part}
    kind = {"enum": ["wish", "want", "pin", "decision"]}
    barred = listed(table(rule=TEXT, crops=listed(TEXT)))
    numbers = {"type": "object", "additionalProperties": NUMBER}
    schema = table(
        format={"const": ROTATION_FORMAT},
        as_of={"type": "string", "format": "date"},
        years=listed(whole),
        weights=numbers,
        repeatable=truth,
        objective=NUMBER, bound=NUMBER, gap=NUMBER,
        near=or_null(table(gain=NUMBER, cost=NUMBER)),
        placements=listed(table(
            **unit, **crop, family=TEXT,
            life={"enum": ["annual", "overwintered", "perennial", "cover", "plastic"]},
            year=whole, turn=TEXT_OR_NULL, holds=listed(TEXT), on=TEXT_OR_NULL,
            first_harvest=TEXT_OR_NULL, last_harvest=TEXT_OR_NULL, settled=or_null(kind),
            reasons=_FINDINGS, barred=barred, expected=or_null(FIGURE),
            income=NUMBER_OR_NULL, income_a_week=NUMBER_OR_NULL, yield_left=NUMBER_OR_NULL,
            saleable=NUMBER_OR_NULL)),
        rests=listed(table(**unit, year=whole, reasons=_FINDINGS, barred=barred)),
        wishes=listed(table(
            wish=whole, **crop, year=whole, measure={"enum": ["beds", "area", "a_week"]},
            must=truth, wanted=NUMBER, given=NUMBER, short=NUMBER, short_beds=NUMBER, weeks=whole,
            over=NUMBER, weeks_over=listed(TEXT), weeks_short=listed(TEXT), weeks_out=listed(TEXT),
            open_beds=listed(TEXT), barred=numbers)),
        clashes=listed(table(
            family=TEXT_OR_NULL, years=listed(whole), wanted_beds=NUMBER, free=listed(TEXT),
            years_away=whole, must=truth, ground=or_null({"$ref": "#/$defs/finding"}),
            members=listed(table(kind=kind, at=whole, **crop, years=listed(whole), beds=NUMBER,
                                 on=listed(TEXT), parts=listed(whole), possible=NUMBER,
                                 worth=NUMBER_OR_NULL)))),
        instead=listed(table(
            **unit, content=listed(table(**crop, year=whole, on=TEXT_OR_NULL)), cost=NUMBER,
            cost_beds=NUMBER)),
        changes=listed(table(**unit, year=whole, before=TEXT_OR_NULL, after=TEXT_OR_NULL)),
        findings=_FINDINGS,
    )  # fmt: skip
    schema["$schema"] = "https://json-schema.org/draft/2020-12/schema"
    schema["title"] = f"bedwright years ahead, format {ROTATION_FORMAT}"
    schema["$defs"] = {"figure": figure_schema(), "finding": finding_schema()}
    return schema
