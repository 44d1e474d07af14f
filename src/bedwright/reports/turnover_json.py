"""What stands in the beds that are needed, as plain data, with the schema that it satisfies."""

from __future__ import annotations

from typing import Any

from bedwright.planning.turnover.model import Left, Next, Residue, Turnover, Way
from bedwright.reports.figures_json import day_or_null, figure_dict, figure_or_null, finding_dict
from bedwright.reports.schema_parts import FIGURE, TEXT, TEXT_OR_NULL, listed, or_null, table

_FINDINGS = listed({"$ref": "#/$defs/finding"})


def turnover_dict(each: Turnover) -> dict[str, Any]:
    """A standing crop: what is left, what it leaves, its ways out, the crop it makes room for."""
    return {
        "standing": each.at,
        "bed": each.bed,
        "part": each.part,
        "crop": each.crop,
        "name": each.name,
        "healthy": each.healthy,
        "next": _next(each.next),
        "left": _left(each.left),
        "money_a_week": figure_or_null(each.money),
        "residue": None if each.residue is None else _residue(each.residue),
        "ways": [_way(one) for one in each.ways],
        "refused": [_way(one) for one in each.refused],
        "findings": [finding_dict(one) for one in each.findings],
    }


def turnover_schema() -> dict[str, Any]:
    """The schema of :func:`turnover_dict` within that of the plan."""
    kinds = ["sell", "house", "move", "feed", "dig_in", "leave_on_top", "compost", "burn_or_bin"]
    way = table(kind={"enum": kinds}, stock=TEXT, start=TEXT_OR_NULL, by=TEXT_OR_NULL,
                reasons=_FINDINGS)  # fmt: skip
    figure = or_null(FIGURE)
    return table(
        standing={"type": "integer"}, bed=TEXT, part={"type": ["integer", "null"]}, crop=TEXT,
        name=TEXT, healthy={"type": "boolean"},
        next=table(crop=TEXT, name=TEXT, second={"type": "boolean"}, start=TEXT_OR_NULL,
                   clear=TEXT_OR_NULL, last=TEXT_OR_NULL, a_week_late=figure, money=figure),
        left=table(per_week=figure, at_once=figure, first=TEXT_OR_NULL, last=TEXT_OR_NULL,
                   total=figure, hold=figure),
        money_a_week=figure,
        residue=or_null(table(dry=FIGURE, c_to_n=FIGURE, nitrogen_in_a_month=FIGURE,
                              nitrogen_as_a_whole=FIGURE, wait=FIGURE)),
        ways=listed(way), refused=listed(way), findings=_FINDINGS,
    )  # fmt: skip


def _next(each: Next) -> dict[str, Any]:
    return {
        "crop": each.crop,
        "name": each.name,
        "second": each.second,
        "start": day_or_null(each.start),
        "clear": day_or_null(each.clear),
        "last": day_or_null(each.last),
        "a_week_late": figure_or_null(each.a_week_late),
        "money": figure_or_null(each.money),
    }


def _left(each: Left) -> dict[str, Any]:
    return {
        "per_week": figure_or_null(each.per_week),
        "at_once": figure_or_null(each.at_once),
        "first": day_or_null(each.first),
        "last": day_or_null(each.last),
        "total": figure_or_null(each.total),
        "hold": figure_or_null(each.hold),
    }


def _residue(each: Residue) -> dict[str, Any]:
    return {
        "dry": figure_dict(each.dry),
        "c_to_n": figure_dict(each.c_to_n),
        "nitrogen_in_a_month": figure_dict(each.in_a_month),
        "nitrogen_as_a_whole": figure_dict(each.as_a_whole),
        "wait": figure_dict(each.wait),
    }


def _way(each: Way) -> dict[str, Any]:
    return {
        "kind": each.kind,
        "stock": each.stock,
        "start": day_or_null(each.start),
        "by": day_or_null(each.by),
        "reasons": [finding_dict(one) for one in each.reasons],
    }
