"""A wrong input is refused by its name, and the range of a worked figure holds its value."""

from __future__ import annotations

import math

import pytest
from formulas import formulas, inputs, number, numeric
from hypothesis import given, settings
from hypothesis import strategies as st

from bedwright.working import Figure, info_of, work

NAMES = sorted(formulas())
MAY_BE_NEGATIVE = {("ec_e_of_extract", "intercept"), ("soil_test_change", "surplus_p")}
EACH_NUMBER = [(name, key) for name in NAMES for key in numeric(info_of(formulas()[name]))]
INSIDE_ITS_TABLE = {"lime_from_table": {"target_ph": 6.2, "reading": 6.05}}
LISTS = [
    ("fineness_factor", "shares"), ("fineness_factor", "efficiencies"),
    ("moisture_of_mixture", "masses"), ("moisture_of_mixture", "moistures"),
    ("carbon_to_nitrogen_of_mixture", "masses"), ("carbon_to_nitrogen_of_mixture", "carbons"),
    ("carbon_to_nitrogen_of_mixture", "nitrogens"),
]  # fmt: skip


@pytest.mark.parametrize(("name", "key"), EACH_NUMBER)
def test_what_is_not_a_number_is_refused_by_name(name: str, key: str):
    with pytest.raises(ValueError, match=rf"\b{key}\b"):
        formulas()[name](**inputs(name) | {key: math.nan})


@pytest.mark.parametrize(
    ("name", "key"), [each for each in EACH_NUMBER if each not in MAY_BE_NEGATIVE]
)
@given(size=st.floats(1e-6, 1e6))
@settings(max_examples=15)
def test_a_negative_input_is_refused_by_name(name: str, key: str, size: float):
    with pytest.raises(ValueError, match=rf"\b{key}\b"):
        formulas()[name](**inputs(name) | {key: -size})


@pytest.mark.parametrize(("name", "key"), LISTS)
@pytest.mark.parametrize("wrong", [math.nan, -1.0])
def test_a_wrong_entry_of_a_list_is_refused_by_name(name: str, key: str, wrong: float):
    entries = (*inputs(name)[key][:-1], wrong)
    with pytest.raises(ValueError, match=rf"\b{key}\b"):
        formulas()[name](**inputs(name) | {key: entries})


@pytest.mark.parametrize(("name", "key"), LISTS)
def test_lists_of_unlike_length_are_refused(name: str, key: str):
    with pytest.raises(ValueError, match=r"one efficiency|entries"):
        formulas()[name](**inputs(name) | {key: inputs(name)[key][:-1]})


@pytest.mark.parametrize("name", NAMES)
@given(data=st.data())
@settings(max_examples=20)
def test_the_range_of_a_worked_figure_holds_all_that_lies_between(name: str, data: st.DataObject):
    info, given_inputs = info_of(formulas()[name]), inputs(name) | INSIDE_ITS_TABLE.get(name, {})
    keys = [key for key in numeric(info) if given_inputs[key] != 0][:8]
    spreads = {key: data.draw(st.floats(0, 0.02), label=key) for key in keys}
    inside = {key: data.draw(st.floats(-1, 1), label=f"{key} inside") for key in keys}
    figures = {
        key: Figure(key, value, info.inputs[key][1], "measured").ranged(
            *sorted((value * (1 - spreads.get(key, 0)), value * (1 + spreads.get(key, 0))))
        )
        for key, value in given_inputs.items()
        if key in numeric(info)
    }
    fixed = {key: value for key, value in given_inputs.items() if key not in figures}
    worked = work(formulas()[name], settings=fixed, **figures)
    moved = {key: given_inputs[key] * (1 + spreads[key] * inside[key]) for key in keys}
    slack = 1e-9 * max(1.0, abs(worked.value))
    assert worked.least <= worked.value <= worked.most
    between = number(formulas()[name](**given_inputs | moved))
    assert worked.least - slack <= between <= worked.most + slack
    assert worked.formula == name and worked.unit == info.result[1]
    assert {each.name for each in worked.inputs} == set(figures)
