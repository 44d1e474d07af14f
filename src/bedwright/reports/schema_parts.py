"""Pieces of JSON Schema that the schemas of plan and dates are made of."""

from __future__ import annotations

from typing import Any

TEXT: dict[str, Any] = {"type": "string"}
NUMBER: dict[str, Any] = {"type": "number"}
TEXT_OR_NULL: dict[str, Any] = {"type": ["string", "null"]}
FIGURE: dict[str, Any] = {"$ref": "#/$defs/figure"}
NUMBER_OR_NULL: dict[str, Any] = {"type": ["number", "null"]}


def table(**properties: dict[str, Any]) -> dict[str, Any]:
    """An object that has these properties, all of them and no others."""
    return {
        "type": "object",
        "properties": properties,
        "required": list(properties),
        "additionalProperties": False,
    }


def listed(items: dict[str, Any]) -> dict[str, Any]:
    """A list of one kind of items."""
    return {"type": "array", "items": items}


def or_null(schema: dict[str, Any]) -> dict[str, Any]:
    """That, or nothing."""
    return {"anyOf": [schema, {"type": "null"}]}


def figure_schema() -> dict[str, Any]:
    """A figure with its working."""
    figure = table(
        name=TEXT, value=NUMBER, unit=TEXT,
        origin={"enum": ["stated", "measured", "table", "assumed", "computed"]},
    )  # fmt: skip
    figure["properties"] |= {
        "range": {"type": "array", "items": NUMBER, "minItems": 2, "maxItems": 2},
        "note": TEXT,
        "formula": TEXT,
        "sources": listed(table(id=TEXT, place=TEXT, note=TEXT)),
        "steps": listed(table(name=TEXT, value=NUMBER, unit=TEXT)),
        "inputs": listed(FIGURE),
    }
    return figure


def finding_schema() -> dict[str, Any]:
    """A finding: its code, weight, values and sources."""
    return table(
        code=TEXT,
        weight={"enum": ["act", "caution", "doubt", "assumed", "note"]},
        values={"type": "object", "additionalProperties": {"anyOf": [FIGURE, TEXT, NUMBER]}},
        sources=listed(TEXT),
    )
