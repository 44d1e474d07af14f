"""Laws of lime and sulfur: a longer way asks for more, none is asked for at the goal."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from bedwright.reference import Library
from bedwright.soil import acidify, lime

LIBRARY = Library()
ROWS = LIBRARY.rows("lime_buffer")
GROUPS = ("coarse", "medium", "fine")
_TARGETS = {
    "sikora_oregon": (5.6, 7.2),
    "mehlich_queensland": (5.5, 6.5),
    "penn_state_acidity": (6.0, 7.0),
}
_READINGS = {  # where every target has a row
    "sikora_oregon": (4.8, 6.9),
    "mehlich_queensland": (4.5, 6.0),
    "penn_state_acidity": (2.0, 25.7),
}
near = 1 + 1e-9


@given(st.floats(3, 6.4), st.floats(4, 6.6), st.floats(3, 6.6), st.floats(0.0, 0.6))
def test_mehlich_lime_rises_with_acidity_and_with_the_target(
    ph: float, buffer_ph: float, target: float, further: float
):
    need = lime.lime_mehlich_buffer(ph, buffer_ph, target, 0).value
    assert need >= 0
    assert lime.lime_mehlich_buffer(ph, max(4, buffer_ph - further), target, 0).value >= need
    assert lime.lime_mehlich_buffer(ph, buffer_ph, min(6.6, target + further), 0).value >= need
    assert (
        lime.lime_mehlich_buffer(min(6.5, ph + further), buffer_ph, target, 0).value <= need * near
    )


@given(st.floats(4, 6.6), st.floats(0, 1), st.floats(0, 1))
def test_a_credit_is_taken_off_but_never_below_nothing(
    buffer_ph: float, credit: float, more: float
):
    need = lime.lime_mehlich_buffer(5.0, buffer_ph, 6.5, credit).value
    assert 0 <= lime.lime_mehlich_buffer(5.0, buffer_ph, 6.5, credit + more).value <= need


@pytest.mark.parametrize("method", sorted(_TARGETS))
@given(data=st.data())
def test_table_lime_rises_with_the_target_and_with_the_acidity(method: str, data: st.DataObject):
    targets = sorted(data.draw(st.tuples(*[st.floats(*_TARGETS[method])] * 2)))
    readings = sorted(data.draw(st.tuples(*[st.floats(*_READINGS[method])] * 2)))
    sourer, milder = readings if method != "penn_state_acidity" else readings[::-1]
    need = lime.lime_from_table(method, milder, 4.0, targets[0], ROWS)
    assert need >= 0
    assert lime.lime_from_table(method, milder, 4.0, targets[1], ROWS) >= need / near
    assert lime.lime_from_table(method, sourer, 4.0, targets[0], ROWS) >= need / near
    assert lime.lime_from_table(method, sourer, targets[0], targets[0], ROWS) == 0


@pytest.mark.parametrize("method", sorted(_TARGETS))
def test_a_table_gives_back_each_of_its_rows(method: str):
    for row in (each for each in ROWS if each["method"] == method):
        reading, target, rate = (row.number(key) for key in ("reading", "target_ph", "rate"))
        assert reading is not None and target is not None and rate is not None
        found = lime.lime_from_table(method, reading, 4.0, target, ROWS)
        assert found == pytest.approx(row.in_kind(rate, "mass_per_area")), row.line


@pytest.mark.parametrize(
    ("method", "reading", "target"),
    [
        ("sikora_oregon", 4.0, 6.0),
        ("penn_state_acidity", 40.0, 6.5),
        ("sikora_oregon", 6.0, 7.9),
        ("a_method_without_rows", 6.0, 6.5),
    ],
)
def test_a_table_is_not_carried_on_where_more_would_be_needed(
    method: str, reading: float, target: float
):
    with pytest.raises(ValueError, match=r"table"):
        lime.lime_from_table(method, reading, 4.0, target, ROWS)


def test_a_buffer_milder_than_the_table_asks_for_no_lime():
    assert lime.lime_from_table("sikora_oregon", 7.4, 5.0, 6.0, ROWS) == 0


@pytest.mark.parametrize("group", GROUPS)
@given(ph=st.floats(4, 7), further=st.floats(0, 1))
def test_texture_lime_rises_with_the_way_to_go(group: str, ph: float, further: float):
    need = lime.lime_by_texture(LIBRARY, group, ph, 6.5)
    sourer = lime.lime_by_texture(LIBRARY, group, ph - further, 6.5)
    assert 0 <= need.least <= need.value <= need.most
    assert sourer.value >= need.value / near and sourer.most >= need.most / near
    assert lime.lime_by_texture(LIBRARY, group, 6.5 + further, 6.5).most == 0


@given(st.floats(4, 6.4))
def test_heavier_soil_takes_more_lime(ph: float):
    needs = [lime.lime_by_texture(LIBRARY, group, ph, 6.5).value for group in GROUPS]
    assert needs == sorted(needs) and needs[0] > 0


def test_an_unknown_texture_is_refused():
    with pytest.raises(LookupError, match="peat"):
        lime.lime_by_texture(LIBRARY, "peat", 5.0, 6.5)
    with pytest.raises(LookupError, match="peat"):
        acidify.sulfur_by_texture(LIBRARY, "peat", 7.5, 6.5)


@given(st.lists(st.floats(0, 25), min_size=4, max_size=4))
def test_finer_lime_is_worth_more_and_never_more_than_all(shares: list[float]):
    coarse, fine = (0.0, 20.0, 60.0, 100.0), (20.0, 60.0, 100.0, 100.0)
    low, high = (lime.fineness_factor(tuple(shares), each) for each in (coarse, fine))
    assert 0 <= low <= high <= sum(shares) * near


def test_sieve_shares_above_the_whole_are_refused():
    with pytest.raises(ValueError, match="sieve"):
        lime.fineness_factor((60.0, 50.0), (100.0, 60.0))


@given(st.floats(1, 180), st.floats(0, 100), st.floats(0, 99), st.floats(0.01, 1))
def test_wet_lime_is_worth_less(value: float, fineness: float, moisture: float, more: float):
    dry = lime.effective_neutralizing_value(value, fineness, moisture)
    assert (
        0
        <= lime.effective_neutralizing_value(value, fineness, moisture + more)
        <= dry
        <= value * near
    )


@given(st.floats(0, 5), st.floats(1, 200), st.floats(1.01, 3))
def test_a_weaker_product_takes_more(need: float, value: float, times: float):
    product = lime.lime_product(need, value)
    assert lime.lime_product(need, value * times) * times == pytest.approx(product)
    assert product * value / 100 == pytest.approx(need)


@given(st.floats(0, 20), st.floats(0, 5), st.floats(1, 40), st.floats(0, 100), st.floats(0, 20))
def test_acidity_lime_rises_with_acidity_and_falls_with_tolerance(
    acidity: float, more: float, cec: float, tolerated: float, further: float
):
    need = lime.lime_cochrane(acidity, cec, tolerated)
    assert need >= 0
    assert lime.lime_cochrane(acidity + more, cec, tolerated) >= need
    assert lime.lime_cochrane(acidity, cec, min(100, tolerated + further)) <= need
    if acidity <= tolerated * cec / 100:
        assert need == 0


@given(st.floats(0, 10), st.floats(500, 1800), st.floats(0.05, 0.5))
def test_aluminum_lime_is_in_proportion(aluminum: float, density: float, depth: float):
    need = lime.lime_exchangeable_aluminum(aluminum, density, depth)
    assert lime.lime_exchangeable_aluminum(aluminum, density, 2 * depth) == pytest.approx(2 * need)
    assert lime.lime_exchangeable_aluminum(2 * aluminum, density, depth) == pytest.approx(2 * need)


@given(st.floats(0, 50), st.floats(500, 1800), st.floats(0.05, 0.5))
def test_free_lime_swallows_a_third_of_its_mass_in_sulfur(lime_share, density, depth):
    sulfur = acidify.sulfur_to_dissolve_lime(lime_share, density, depth)
    carbonate = lime_share / 100 * density * depth
    assert sulfur == pytest.approx(0.3203 * carbonate, rel=1e-3)
    assert acidify.gypsum_from_sulfur(sulfur) == pytest.approx(5.370 * sulfur, rel=1e-3)


@pytest.mark.parametrize("group", (*GROUPS, "any"))
@given(ph=st.floats(6, 9), target=st.floats(5.5, 8), further=st.floats(0, 1))
def test_texture_sulfur_rises_with_the_way_to_go(
    group: str, ph: float, target: float, further: float
):
    need = acidify.sulfur_by_texture(LIBRARY, group, ph, target)
    more = acidify.sulfur_by_texture(LIBRARY, group, ph + further, target)
    assert need.value >= 0 and more.value >= need.value
    assert need.least <= need.value <= need.most
    if ph <= target:
        assert need.value == 0


@pytest.mark.parametrize("group", GROUPS)
def test_texture_sulfur_rests_on_a_scheme_that_was_read(group: str):
    figure = acidify.sulfur_by_texture(LIBRARY, group, 7.5, 6.5)
    assert LIBRARY.sources[figure.sources[0].source_id].kind != "marker"
    row = next(
        row
        for row in LIBRARY.rows("sulfur_rates")
        if row["scheme"] == "extension_per_unit" and row["texture_group"] == group
    )
    assert figure.value == pytest.approx(row.in_kind(row.typical(), "mass_per_area"))
