"""The JSON Schema of one planting's layout."""

from __future__ import annotations

from typing import Any

from bedwright.reports.schema_parts import (
    NUMBER,
    NUMBER_OR_NULL,
    TEXT,
    TEXT_OR_NULL,
    listed,
    or_null,
    table,
)

_WHOLE: dict[str, Any] = {"type": "integer"}
_WHOLE_OR_NULL: dict[str, Any] = {"type": ["integer", "null"]}
_TRUTH: dict[str, Any] = {"type": "boolean"}
_NUMBERS = listed(NUMBER_OR_NULL)
_AMOUNT = table(
    value=NUMBER_OR_NULL, low=NUMBER_OR_NULL, high=NUMBER_OR_NULL, unit=TEXT, origin=TEXT,
    sources=listed(TEXT),
)  # fmt: skip
_AMOUNT_OR_NULL = or_null(_AMOUNT)
_FINDING = table(
    code=TEXT, weight={"enum": ["act", "caution", "doubt", "assumed", "note"]},
    values={"type": "object",
            "additionalProperties": {"anyOf": [_AMOUNT_OR_NULL, TEXT, NUMBER]}},
    sources=listed(TEXT),
)  # fmt: skip


def layout_schema() -> dict[str, Any]:
    """What :func:`bedwright.reports.layout_json.layout_dict` gives."""
    row = table(
        crop=TEXT, offset_m=NUMBER, spans_m=listed(listed(NUMBER)), places=_WHOLE, tall=_TRUTH,
        light_mol_m2_d=or_null(_NUMBERS), sun_h=or_null(_NUMBERS), along_m=or_null(_NUMBERS),
        light_along_mol_m2_d=or_null(_NUMBERS),
    )  # fmt: skip
    count = table(
        crop=TEXT, rows=_WHOLE, row_length_m=NUMBER, places=_WHOLE, plants=_AMOUNT_OR_NULL,
        to_raise=_AMOUNT_OR_NULL, seeds=_AMOUNT_OR_NULL, seed_mass=_AMOUNT_OR_NULL,
    )  # fmt: skip
    trellis = table(
        kind=TEXT, crop=TEXT, length_m=NUMBER, posts=_WHOLE, post_apart_m=NUMBER_OR_NULL,
        panels=_WHOLE_OR_NULL, top=_AMOUNT_OR_NULL, clearance=_AMOUNT_OR_NULL,
        post_length=_AMOUNT_OR_NULL, post_depth=_AMOUNT_OR_NULL, panel_length=_AMOUNT_OR_NULL,
        panel_height=_AMOUNT_OR_NULL, line=_AMOUNT_OR_NULL, mass=_AMOUNT_OR_NULL,
        findings=listed(_FINDING),
    )  # fmt: skip
    judged = table(
        position=TEXT, low_mol_m2_d=NUMBER_OR_NULL, short_mol_m2_d=NUMBER_OR_NULL,
        beside_short_mol_m2_d=NUMBER_OR_NULL, ground_mol_m2_d=NUMBER_OR_NULL,
    )  # fmt: skip
    evidence = table(
        finding=TEXT, condition=TEXT, lower=NUMBER_OR_NULL, upper=NUMBER_OR_NULL, source=TEXT
    )
    return table(
        bed=TEXT, crop=TEXT, companion=TEXT_OR_NULL, set_out=TEXT_OR_NULL, bearing_deg=NUMBER,
        companion_days=or_null(table(sow_under_cover=TEXT_OR_NULL, start=TEXT_OR_NULL,
                                     first_pick=TEXT_OR_NULL, end=TEXT_OR_NULL)),
        width_m=NUMBER, length_m=NUMBER, rows=listed(row), month_along=_WHOLE_OR_NULL,
        open_light_mol_m2_d=or_null(_NUMBERS), open_sun_h=or_null(_NUMBERS),
        counts=listed(count), grid_plants=_WHOLE_OR_NULL, trellises=listed(trellis),
        side=or_null(table(position=TEXT, why=TEXT, compared=listed(judged))),
        pair=or_null(table(verdict=TEXT, findings=listed(_FINDING), evidence=listed(evidence))),
        drip=table(lines=_WHOLE, length_m=NUMBER, each_row=_TRUTH),
        paths=listed(table(beside=TEXT, left=_TRUTH, width_m=NUMBER)),
        findings=listed(_FINDING),
    )  # fmt: skip
