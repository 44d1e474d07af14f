"""The published JSON Schema takes the documents that load and refuses those out of shape."""

import copy
import json
import tomllib
from datetime import date
from pathlib import Path
from typing import Any

import jsonschema
import pytest

from bedwright.garden import garden_schema

WHOLE = Path(__file__).parent / "whole.toml"


def as_json(data: Any) -> Any:
    """TOML values as JSON has them: dates are words there."""
    return json.loads(json.dumps(data, default=date.isoformat))


@pytest.fixture(scope="module")
def validator() -> jsonschema.Draft202012Validator:
    schema = garden_schema()
    jsonschema.Draft202012Validator.check_schema(schema)
    checker = jsonschema.Draft202012Validator.FORMAT_CHECKER
    return jsonschema.Draft202012Validator(schema, format_checker=checker)


@pytest.fixture
def whole() -> dict[str, Any]:
    return as_json(tomllib.loads(WHOLE.read_text(encoding="utf-8")))


def test_the_schema_takes_the_whole_document(validator, whole):
    assert list(validator.iter_errors(whole)) == []


def test_the_schema_takes_the_smallest_document(validator):
    smallest = {"garden": {"name": "x"}, "bed": [{"id": "A1", "length": "9 ft", "width": "4 ft"}]}

    assert list(validator.iter_errors(smallest)) == []


BREAKS = [
    (("bed",), None),
    (("garden",), None),
    (("garden", "name"), None),
    (("garden", "name"), 7),
    (("garden", "units"), "imperial"),
    (("garden", "currency"), "dollars"),
    (("garden", "colour"), "red"),
    (("format",), 3),
    (("bed",), []),
    (("bed",), {}),
    (("bed", 0, "id"), None),
    (("bed", 0, "id"), ""),
    (("bed", 0, "id"), "A/1"),
    (("bed", 0, "id"), "A" * 41),
    (("bed", 0, "length"), 50),
    (("bed", 0, "kind"), "hanging"),
    (("bed", 2, "outline", 0), ["4 ft"]),
    (("bed", 2, "outline", 0), ["4 ft", 4]),
    (("bed", 0, "corner"), "12 ft"),
    (("bed", 0, "corner"), ["12 ft"]),
    (("bed", 0, "corner"), ["12 ft", 40]),
    (("bed", 0, "corner"), ["12 ft", "40 ft", "0 ft"]),
    (("soil_report", 0, "beds"), []),
    (("soil_report", 0, "beds"), "A1"),
    (("soil_report", 0, "sampled"), None),
    (("soil_report", 0, "sampled"), "last autumn"),
    (("soil_report", 0, "depth"), 6),
    (("soil_report", 0, "results", 0, "analyte"), None),
    (("soil_report", 0, "results", 0, "value"), [1]),
    (("soil_report", 0, "results", 0, "value"), True),
    (("soil_report", 0, "results", 0, "extractor"), "Olsen"),
    (("water_report", 0, "results"), []),
    (("material", 0, "analysis"), "4-4-4"),
    (("material", 0, "analysis", "n_total"), 4),
    (("material", 0, "organic"), "perhaps"),
    (("stock", 0, "price"), 62),
    (("stock", 0, "can_buy"), "maybe"),
    (("history", 0, "year"), "last"),
    (("history", 0, "year"), 25),
    (("history", 0, "applied", 0, "on"), None),
    (("want", 0, "beds"), []),
    (("want", 0, "compost"), "1 in"),
    (("want", 1, "compost", "most"), 1),
    (("want", 1, "days_to_first_pick"), 0),
    (("want", 1, "days_to_first_pick"), "45 days"),
    (("want", 0, "first_pick"), "in July"),
    (("climate", "soil_temperature"), ["52 F"] * 11),
    (("climate", "soil_temperature"), ["52 F"] * 13),
    (("climate", "air_temperature"), "52 F"),
    (("climate", "air_temperature", 3), 52),
    (("climate", "rain"), "1 in"),
    (("watering", "method"), None),
    (("watering", "method"), "sprinkler"),
    (("watering", "wetted_share"), 0.6),
    (("weather", "file"), 5),
    (("weather", "units"), "imperial"),
    (("weather", "reading"), {"on": "2026-04-03"}),
    (("weather", "monthly", "t_max"), None),
    (("weather", "monthly", "t_max"), ["52 F"] * 11),
    (("weather", "monthly", "wet_days", 0), -1),
    (("weather", "monthly", "radiation", 0), 18.5),
    (("weather", "monthly", "years"), 5),
    (("want", 0, "turn"), "winter"),
    (("want", 0, "pick_weeks"), 0),
    (("want", 0, "days_to_maturity"), "72 days"),
    (("heap",), {"id": "behind the shed"}),
    (("heap", 0, "id"), None),
    (("heap", 0, "system"), "pit"),
    (("heap", 0, "turned"), "2026-09-24"),
    (("heap", 0, "readings", 0, "on"), None),
    (("heap", 0, "readings", 0, "temperature"), 136),
    (("heap", 0, "feedstocks", 0, "on_hand"), None),
    (("heap", 0, "feedstocks", 0, "origin"), "the road"),
    (("compost_report", 0, "id"), None),
    (("compost_report", 0, "ec"), 4.2),
    (("compost_report", 0, "ph"), 14),
    (("compost_report", 0, "c_to_n"), 0),
    (("compost_report", 0, "respiration"), -1),
    (("limits", "most_materials"), 0),
    (("limits", "most_materials"), 13),
    (("limits", "tolerance"), 0.1),
    (("limits", "risk_accepted"), 2),
]


@pytest.mark.parametrize(("path", "value"), BREAKS, ids=lambda each: str(each)[:45])
def test_the_schema_refuses_a_document_with_one_part_out_of_shape(validator, whole, path, value):
    broken = copy.deepcopy(whole)
    part = broken
    for each in path[:-1]:
        part = part[each]
    if value is None:
        del part[path[-1]]
    else:
        part[path[-1]] = value

    assert not validator.is_valid(broken)


def defaults(node: Any, path: tuple[str, ...] = ()):
    if isinstance(node, dict):
        if "default" in node and node["default"] is not None:
            yield path, node
        for key, each in node.items():
            yield from defaults(each, (*path, key))


def test_every_default_that_the_schema_states_is_one_that_it_takes():
    schema = garden_schema()
    found = list(defaults(schema))

    assert len(found) >= 10
    for path, node in found:
        whole_node = {"$defs": schema["$defs"], **node}
        assert jsonschema.Draft202012Validator(whole_node).is_valid(node["default"]), path


def test_the_schema_says_which_draft_and_format_it_is():
    schema = garden_schema()

    assert schema["$schema"] == "https://json-schema.org/draft/2020-12/schema"
    assert schema["title"] == "bedwright garden document, format 2"
