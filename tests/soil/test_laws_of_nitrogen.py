"""Laws of nitrogen: no credit is larger than what is there, and more is never less."""

from __future__ import annotations

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from bedwright.soil import nitrogen

contents = st.floats(0, 0.1)
shares = st.floats(0, 1)


@given(st.floats(0, 100), st.floats(0, 100), st.floats(0, 0.01), st.floats(0, 100))
def test_organic_matter_gives_more_up_to_the_ceiling(
    one: float, other: float, release: float, ceiling: float
):
    low, high = sorted((one, other))
    credit = nitrogen.organic_matter_credit(high, release, ceiling)
    assert 0 <= nitrogen.organic_matter_credit(low, release, ceiling) <= credit
    assert credit <= ceiling * release


@given(st.floats(0, 200), st.floats(0, 2000), st.floats(1, 3))
def test_the_credit_of_water_is_concentration_times_depth(ppm: float, depth: float, times: float):
    credit = nitrogen.irrigation_credit(ppm, depth)
    assert nitrogen.irrigation_credit(ppm * times, depth) == pytest.approx(credit * times)
    assert nitrogen.irrigation_credit(ppm, depth * times) == pytest.approx(credit * times)


@given(st.floats(0.001, 1000))
def test_nitrate_holds_less_than_a_quarter_nitrogen(nitrate: float):
    assert nitrogen.nitrate_n_of_nitrate(nitrate) == pytest.approx(0.2259 * nitrate, rel=1e-3)


@given(contents, shares)
def test_a_carry_over_is_never_more_than_was_spread(organic: float, share: float):
    assert 0 <= nitrogen.carry_over_credit(organic, share) <= organic


@given(st.floats(0, 10), st.floats(0, 10))
def test_richer_cover_crops_give_more_within_the_line(one: float, other: float):
    low, high = (nitrogen.cover_crop_available_n(each) for each in sorted((one, other)))
    assert 0 <= low <= high <= 35 / 2000 * (1 + 1e-9)
    assert nitrogen.cover_crop_available_n(one) <= max(one, 3.5) / 100


@given(st.floats(0, 20), st.floats(0, 20))
def test_richer_materials_give_more_of_their_nitrogen(one: float, other: float):
    low, high = (nitrogen.four_week_available_share(each) for each in sorted((one, other)))
    assert -30 <= low <= high <= 60


@given(st.tuples(contents, contents, contents), shares, shares, shares)
def test_manure_gives_no_more_than_it_holds(parts_held, kept, released, more):
    organic, ammonium, nitrate = parts_held
    total = organic + ammonium + nitrate
    manure = nitrogen.manure_available_n(total, ammonium, nitrate, kept, released)
    assert -1e-12 <= manure.value <= total + 1e-12
    parts = manure.from_ammonium + manure.from_nitrate + manure.from_organic
    assert parts == pytest.approx(manure.value)
    better = nitrogen.manure_available_n(total, ammonium, nitrate, max(kept, more), released)
    assert better.value >= manure.value


@given(contents, contents)
def test_more_ammonium_than_nitrogen_is_refused(total: float, surplus: float):
    assume(surplus > 1e-9)
    with pytest.raises(ValueError, match="total_n"):
        nitrogen.manure_available_n(total, total + surplus, 0, 1, 1)


@given(
    st.lists(st.floats(0, 0.1), min_size=3, max_size=3).map(sorted),
    st.floats(0, 10),
    st.floats(0, 10),
    st.floats(0.1, 10),
)
def test_the_season_need_stays_in_the_guideline_and_rises_with_the_yield(rates, one, other, usual):
    low, guideline, high = rates
    few, many = (
        nitrogen.season_need(guideline, low, high, goal, usual) for goal in sorted((one, other))
    )
    assert low <= few.value <= many.value <= high
    assert nitrogen.season_need(guideline, low, high, usual, usual).value == pytest.approx(
        guideline
    )


def test_a_guideline_out_of_order_is_refused():
    with pytest.raises(ValueError, match="guideline"):
        nitrogen.season_need(0.03, 0.02, 0.025, 1, 1)
