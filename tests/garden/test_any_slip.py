"""Whatever single value of a document is replaced by whatever else, it loads or says its faults."""

import tomllib
from datetime import date, datetime, time
from pathlib import Path
from typing import Any

import pytest
import tomlkit

from bedwright.garden import Document, GardenError
from bedwright.garden.load import load_text
from bedwright.reference import Library

FOLDER = Path(__file__).parent
WHOLE = (FOLDER / "whole.toml").read_text(encoding="utf-8")
ODD = [0, -1, 10**18, 2.5, float("nan"), float("inf"), True, "", "x", "-1 ft", "1e300 lb", "5 %",
       "\0", "é" * 600, date(2040, 1, 1), datetime(2026, 1, 1, 8), time(8), [], [[]], [1, "x"], {},
       {"x": 1}, [{}]]  # fmt: skip


def paths(value: Any, path: tuple[str | int, ...] = ()):
    if path:
        yield path
    if isinstance(value, dict | list):
        for key, each in value.items() if isinstance(value, dict) else enumerate(value):
            yield from paths(each, (*path, key))


PATHS = sorted(paths(tomllib.loads(WHOLE)), key=str)


def replaced(path: tuple[str | int, ...], odd: Any) -> str:
    data = tomllib.loads(WHOLE)
    part = data
    for each in path[:-1]:
        part = part[each]
    part[path[-1]] = odd
    return tomlkit.dumps(data)


def some(position: int) -> list[Any]:
    """One of the odd values, another for each position; the full test takes them all."""
    return [ODD[position % len(ODD)]]


@pytest.mark.parametrize(
    ("path", "values"),
    [pytest.param(path, some(position), id=str(path)) for position, path in enumerate(PATHS)]
    + [pytest.param(path, ODD, id=f"{path} all", marks=pytest.mark.full) for path in PATHS],
)
def test_an_odd_value_is_read_or_refused_but_never_a_crash(
    path, values: list[Any], library: Library, as_of: date
):
    outcomes: list[object] = []
    for odd in values:
        try:
            found = load_text(replaced(path, odd), "garden.toml", FOLDER, library, as_of)
        except GardenError as error:
            assert error.faults
            outcomes.append(error)
        else:
            outcomes.append(found)

    assert len(outcomes) == len(values)
    assert all(isinstance(each, Document | GardenError) for each in outcomes)
