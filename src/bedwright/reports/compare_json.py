"""Comparisons, the years and one's own figures as plain data, with the schema they satisfy."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from typing import Any

from bedwright.planning.compare.model import Compared, Shown
from bedwright.planning.compare.own_figures import OwnFigure
from bedwright.planning.compare.years import CropYears, Group
from bedwright.reports.figures_json import figure_dict, finding_dict, rounded
from bedwright.reports.schema_parts import (
    FIGURE,
    NUMBER,
    NUMBER_OR_NULL,
    TEXT,
    figure_schema,
    finding_schema,
    listed,
    or_null,
    table,
)

COMPARE_FORMAT = 1
_DAY = {"type": "string", "format": "date"}
_WHOLE = {"type": "integer"}
_WHOLE_OR_NULL = {"type": ["integer", "null"]}


def compare_dict(
    found: Sequence[Compared], years: Sequence[CropYears], own: Sequence[OwnFigure], as_of: date
) -> dict[str, Any]:
    """Everything that ``bedwright compare`` tells; yields are kg/m2, times h, shares 0 to 1."""
    return {
        "format": COMPARE_FORMAT,
        "as_of": as_of.isoformat(),
        "comparisons": [_compared(each) for each in found],
        "years": [_years(each) for each in years],
        "own_figures": [_own(each) for each in own],
    }


def _compared(each: Compared) -> dict[str, Any]:
    stated = each.stated
    more: dict[str, Any] = {}
    if stated.factors:
        more = {"factors": [list(one) for one in stated.factors], "halves": stated.halves}
    if stated.beds:
        more = {"times": stated.times_each}
    return {
        "id": stated.id,
        "question": stated.question,
        "crop": each.crop,
        "ways": stated.every_way,
        "measured": stated.measured,
        "unit": stated.unit,
        "seed": stated.seed,
        "drawn": stated.laid is None,
        "confidence": rounded(stated.confidence.si),
        "spread": rounded(each.spread),
        "spread_stated": each.spread_stated,
        "plots": [
            {
                "block": plot.block, "place": plot.place, "bed": plot.bed, "strip": plot.strip,
                "strips": plot.strips, "way": plot.way, "area_m2": rounded(plot.area_m2),
            }
            for plot in each.plots
        ],
        "power": [
            {
                "blocks": one.blocks,
                "difference": None if one.difference is None else rounded(one.difference),
                "least_p": rounded(one.least_p),
            }
            for one in each.power
        ],
        "results": [
            {
                "block": one.block, "way": one.way, "on": one.on.isoformat(),
                "value": rounded(one.value),
            }
            for one in each.readings
        ],
        "evened": each.evened,
        "analysis": None if each.shown is None else _shown(each.shown),
        "clear": each.clear,
        "findings": [finding_dict(one) for one in each.findings],
        **more,
    }  # fmt: skip


def _shown(found: Shown) -> dict[str, Any]:
    pairs, blocks, drawn = found.paired, found.in_blocks, found.randomised
    return {
        "blocks": list(found.blocks),
        "values": [[rounded(each) for each in row] for row in found.values],
        "means": [rounded(each) for each in found.means],
        "paired": None if pairs is None else {
            "mean": rounded(pairs.mean), "standard_error": rounded(pairs.standard_error),
            "t": rounded(pairs.t), "degrees_of_freedom": pairs.degrees_of_freedom,
            "p": rounded(pairs.p), "interval": [rounded(end) for end in pairs.interval],
            "least": rounded(pairs.least),
        },
        "in_blocks": None if blocks is None else {
            "f": rounded(blocks.f), "degrees_of_freedom": blocks.degrees_of_freedom,
            "p": rounded(blocks.p), "error": rounded(blocks.error),
            "least": rounded(blocks.least),
        },
        "randomised": None if drawn is None else {
            "p": rounded(drawn.p), "exact": drawn.exact, "arrangements": drawn.arrangements,
        },
        **_of_other_designs(found),
    }  # fmt: skip


def _of_other_designs(found: Shown) -> dict[str, Any]:
    """The analysis of beds without blocks, or of factors; nothing for ways in blocks."""
    beds, factors = found.in_beds, found.of_factors
    more: dict[str, Any] = {}
    if beds is not None:
        more["in_beds"] = {
            "counts": list(beds.counts), "f": rounded(beds.f), "p": rounded(beds.p),
            "degrees_of_freedom": beds.degrees_of_freedom, "error": rounded(beds.error),
            "least": [[rounded(float(each)) for each in row] for row in beds.least],
            "difference": None if beds.difference is None else rounded(beds.difference),
            "standard_error": None if beds.standard_error is None else rounded(beds.standard_error),
            "t": None if beds.t is None else rounded(beds.t),
            "interval": None if beds.interval is None else [rounded(e) for e in beds.interval],
        }  # fmt: skip
    if factors is not None:
        more["of_factors"] = {
            "degrees_of_freedom": factors.degrees_of_freedom, "error": rounded(factors.error),
            "f_blocks": rounded(factors.f_blocks), "p_blocks": rounded(factors.p_blocks),
            "confounded": factors.confounded, "exact": factors.exact,
            "arrangements": factors.arrangements,
            "effects": [
                {
                    "factors": list(each.factors), "effect": rounded(each.effect),
                    "standard_error": rounded(each.standard_error), "f": rounded(each.f),
                    "p": rounded(each.p), "p_drawn": rounded(each.p_drawn),
                    "interval": [rounded(end) for end in each.interval],
                }
                for each in factors.effects
            ],
        }  # fmt: skip
    if more:
        more["by_way"] = [[rounded(value) for value in row] for row in found.by_way]
    return more


def _years(crop: CropYears) -> dict[str, Any]:
    return {
        "crop": crop.crop,
        "name": crop.name,
        "harvests": [
            {
                "bed": each.bed, "year": each.year, "cultivar": each.cultivar,
                "kg_m2": rounded(each.kg_m2), "materials": sorted(each.materials),
                "started": None if each.started is None else each.started.isoformat(),
            }
            for each in crop.harvests
        ],
        "by_year": [_group(each) for each in crop.by_year],
        "splits": [
            {
                "by": each.by, "key": each.key, "with": _group(each.having),
                "without": _group(each.lacking), "difference": rounded(each.difference),
                "within": None if each.within is None else rounded(each.within),
                "common_years": list(each.common_years), "together": list(each.together),
            }
            for each in crop.splits
        ],
    }  # fmt: skip


def _group(each: Group) -> dict[str, Any]:
    return {
        "key": each.key, "harvests": each.harvests, "beds": list(each.beds),
        "years": list(each.years), "mean": rounded(each.mean), "low": rounded(each.low),
        "high": rounded(each.high),
    }  # fmt: skip


def _own(each: OwnFigure) -> dict[str, Any]:
    return {
        "kind": each.kind, "key": each.key, "per": each.per or None, "count": each.count,
        "weight": rounded(each.weight), "origin": each.origin, "value": figure_dict(each.value),
        "own": figure_dict(each.own),
        "table": None if each.table is None else figure_dict(each.table),
    }  # fmt: skip


def compare_schema() -> dict[str, Any]:
    """The JSON Schema of what ``bedwright compare --format json`` prints."""
    plot = table(
        block=_WHOLE, place=_WHOLE, bed=TEXT, strip=_WHOLE_OR_NULL, strips=_WHOLE, way=TEXT,
        area_m2=NUMBER,
    )  # fmt: skip
    paired = table(
        mean=NUMBER, standard_error=NUMBER, t=NUMBER, degrees_of_freedom=_WHOLE, p=NUMBER,
        interval=listed(NUMBER), least=NUMBER,
    )  # fmt: skip
    blocks = table(f=NUMBER, degrees_of_freedom=_WHOLE, p=NUMBER, error=NUMBER, least=NUMBER)
    analysis = table(
        blocks=listed(_WHOLE), values=listed(listed(NUMBER)), means=listed(NUMBER),
        paired=or_null(paired), in_blocks=or_null(blocks),
        randomised=or_null(table(p=NUMBER, exact={"type": "boolean"}, arrangements=_WHOLE)),
    )  # fmt: skip
    analysis["properties"] |= _other_designs_schema()
    one = table(
        id=TEXT, question=TEXT, crop=TEXT, ways=listed(TEXT), measured=TEXT, unit=TEXT,
        seed=_WHOLE_OR_NULL, drawn={"type": "boolean"}, confidence=NUMBER, spread=NUMBER,
        spread_stated={"type": "boolean"}, plots=listed(plot),
        power=listed(table(blocks=_WHOLE, difference=NUMBER_OR_NULL, least_p=NUMBER)),
        results=listed(table(block=_WHOLE, way=TEXT, on=_DAY, value=NUMBER)),
        evened={"type": "boolean"}, analysis=or_null(analysis), clear={"type": "boolean"},
        findings=listed({"$ref": "#/$defs/finding"}),
    )  # fmt: skip
    one["properties"] |= {
        "factors": listed(listed(TEXT)), "halves": {"type": "boolean"}, "times": listed(_WHOLE),
    }  # fmt: skip
    group = table(
        key=TEXT, harvests=_WHOLE, beds=listed(TEXT), years=listed(_WHOLE), mean=NUMBER,
        low=NUMBER, high=NUMBER,
    )  # fmt: skip
    harvest = table(
        bed=TEXT, year=_WHOLE, cultivar=TEXT, kg_m2=NUMBER, materials=listed(TEXT),
        started=or_null(_DAY),
    )  # fmt: skip
    split = {
        "by": {"enum": ["material", "cultivar", "start"]}, "key": TEXT, "with": group,
        "without": group, "difference": NUMBER, "within": NUMBER_OR_NULL,
        "common_years": listed(_WHOLE), "together": listed(TEXT),
    }  # fmt: skip
    crop = table(
        crop=TEXT, name=TEXT, harvests=listed(harvest), by_year=listed(group),
        splits=listed(table(**split)),
    )  # fmt: skip
    own = table(
        kind={"enum": ["yield", "labor", "germination"]}, key=TEXT,
        per={"type": ["string", "null"]}, count=_WHOLE, weight=NUMBER,
        origin={"enum": ["table", "mixed", "own"]}, value=FIGURE, own=FIGURE,
        table=or_null(FIGURE),
    )  # fmt: skip
    whole = table(
        format={"const": COMPARE_FORMAT}, as_of=_DAY, comparisons=listed(one), years=listed(crop),
        own_figures=listed(own),
    )  # fmt: skip
    return {
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        "title": "Comparisons of a garden",
        **whole,
        "$defs": {"figure": figure_schema(), "finding": finding_schema()},
    }


def _other_designs_schema() -> dict[str, Any]:
    """What an analysis has beside: of beds without blocks, or of factors."""
    interval = listed(NUMBER)
    beds = table(
        counts=listed(_WHOLE), f=NUMBER, p=NUMBER, degrees_of_freedom=_WHOLE, error=NUMBER,
        least=listed(listed(NUMBER)), difference=NUMBER_OR_NULL, standard_error=NUMBER_OR_NULL,
        t=NUMBER_OR_NULL, interval=or_null(interval),
    )  # fmt: skip
    effect = table(
        factors=listed(_WHOLE), effect=NUMBER, standard_error=NUMBER, f=NUMBER, p=NUMBER,
        p_drawn=NUMBER, interval=interval,
    )  # fmt: skip
    factors = table(
        degrees_of_freedom=_WHOLE, error=NUMBER, f_blocks=NUMBER, p_blocks=NUMBER,
        confounded={"type": "boolean"}, exact={"type": "boolean"}, arrangements=_WHOLE,
        effects=listed(effect),
    )  # fmt: skip
    return {"in_beds": beds, "of_factors": factors, "by_way": listed(listed(NUMBER))}
