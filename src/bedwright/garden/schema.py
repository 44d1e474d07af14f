"""The JSON Schema of the garden document."""

from __future__ import annotations

from typing import Any

from bedwright.garden.model import FORMAT, Garden


def garden_schema() -> dict[str, Any]:
    """The schema (draft 2020-12) that a garden document in TOML or JSON must satisfy."""
    schema = _in_words(Garden.model_json_schema(mode="validation"))
    schema["$schema"] = "https://json-schema.org/draft/2020-12/schema"
    schema["title"] = f"bedwright garden document, format {FORMAT}"
    return schema


def _in_words(schema: dict[str, Any]) -> dict[str, Any]:
    """The schema with its defaults as a document would write them, not as they are held."""
    for part in schema["$defs"].values():
        for each in part.get("properties", {}).values():
            if isinstance(each.get("default"), dict) and "text" in each["default"]:
                each["default"] = each["default"]["text"]
    limits = schema["$defs"]["Limits"]["properties"]
    limits["risk_accepted"]["default"] = f"{limits['risk_accepted']['default']} years of 10"
    schema["properties"]["limits"]["default"] = {}
    return schema
