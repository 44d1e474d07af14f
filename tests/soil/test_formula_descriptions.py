"""Every formula says what goes in, in which unit, by what words and from which source."""

from __future__ import annotations

import inspect
import math
import re

import pytest
from formulas import NOT_NUMBERS, formulas, inputs, number

from bedwright.reference import Library
from bedwright.units.kinds import KINDS
from bedwright.working import info_of

NAMES = sorted(formulas())
# The source of these is the row of the table that the caller chooses.
SOURCE_IN_THE_TABLE = {"lime_from_table", "fineness_factor", "ec_e_of_extract"}
_ENTRY = re.compile(r"^([a-z_][a-z0-9_]*(?:, [a-z_][a-z0-9_]*)*) : (.+)$")


def _described(docstring: str) -> dict[str, str]:
    """The text of each parameter of a docstring's section of parameters."""
    head, _, rest = inspect.cleandoc(docstring).partition("Parameters\n----------\n")
    section = rest.split("\n\n")[0]
    found: dict[str, str] = {}
    names: list[str] = []
    for line in section.splitlines():
        entry = _ENTRY.match(line)
        if entry:
            names = entry.group(1).split(", ")
            found.update(dict.fromkeys(names, entry.group(2)))
        elif line.startswith("    "):
            found.update({name: f"{found[name]} {line.strip()}" for name in names})
    assert head
    return found


def test_there_are_formulas_in_every_room():
    assert {"lime_product", "in_form", "relative_yield", "cups_of"} <= set(NAMES)
    assert len(NAMES) >= 30


@pytest.mark.parametrize("name", NAMES)
def test_every_parameter_is_described_with_its_unit(name: str):
    function = formulas()[name]
    info = info_of(function)
    described = _described(function.__doc__ or "")
    parameters = list(inspect.signature(function).parameters)
    assert list(info.inputs) == parameters
    assert set(described) == set(parameters)
    for key, text in described.items():
        assert len(text.split()) >= 2, f"{key} is not described"
        if info.inputs[key][0] not in NOT_NUMBERS:
            assert re.search(r"\[[^\]]+\]", text), f"{key} has no unit in brackets"


@pytest.mark.parametrize("name", NAMES)
def test_the_first_line_says_the_unit_of_the_result(name: str):
    summary = inspect.cleandoc(formulas()[name].__doc__ or "").split("\n\n")[0]
    assert info_of(formulas()[name]).result[0] in KINDS
    assert re.search(r"\[[^\]]+\]|[Ss]hare of", summary)


@pytest.mark.parametrize("name", NAMES)
def test_every_formula_has_words_and_a_known_source(name: str):
    info = info_of(formulas()[name])
    assert "=" in info.words
    if name in SOURCE_IN_THE_TABLE:
        assert info.sources == ()
        return
    assert info.sources
    known = Library().sources
    for source in info.sources:
        assert source.source_id in known, source.source_id


@pytest.mark.parametrize("name", NAMES)
def test_every_example_works(name: str):
    result = number(formulas()[name](**inputs(name)))
    assert math.isfinite(result) and abs(result) < 1e6
    assert set(info_of(formulas()[name]).example) <= set(info_of(formulas()[name]).inputs)
