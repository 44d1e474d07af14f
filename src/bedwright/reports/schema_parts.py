"""Pieces of JSON Schema that the schemas of plan and dates are made of."""

from __future__ import annotations

from typing import Any

TEXT: dict[str, Any] = {"type": "string"}
NUMBER: dict[str, Any] = {"type": "number"}
TEXT_OR_NULL: dict[str, Any] = {"type": ["string", "null"]}
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
