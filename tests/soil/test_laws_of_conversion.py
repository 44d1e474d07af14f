"""Laws of forms, of laboratory units and of bags: what goes there and back is the same."""

from __future__ import annotations

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from bedwright.feeding import arithmetic as bags
from bedwright.feeding import heap, volumes
from bedwright.soil import conversion
from bedwright.soil.forms import Amount, Form, FormError, form_factor

CATIONS = ("calcium", "magnesium", "potassium", "sodium")
PAIRS = [("N", "NO3"), ("P", "P2O5"), ("K", "K2O"), ("Ca", "CaO"), ("Mg", "MgO"), ("S", "SO4")]
ELEMENT = {form: pair[0] for pair in PAIRS for form in pair}
amounts = st.floats(1e-6, 1e4)
shares = st.floats(0.01, 100)


@pytest.mark.parametrize(("element", "compound"), PAIRS)
@given(mass=amounts)
def test_a_form_turned_over_and_back_is_the_same(element: str, compound: str, mass: float):
    there = conversion.in_form(mass, element, compound)
    assert there > mass
    assert conversion.in_form(there, compound, element) == pytest.approx(mass)


@given(st.sampled_from(list(Form)), st.sampled_from(list(Form)), amounts, amounts)
def test_amounts_of_unlike_forms_are_never_added_or_compared(
    one: Form, other: Form, first: float, second: float
):
    assume(one != other)
    for mix in (Amount.__add__, Amount.__sub__, Amount.__lt__):
        with pytest.raises(FormError):
            mix(Amount(first, one), Amount(second, other))


@given(amounts, amounts)
def test_phosphorus_is_added_to_phosphate_only_after_it_is_turned_over(p: float, p2o5: float):
    with pytest.raises(TypeError):
        Amount(p, Form.P) + Amount(p2o5, Form.P2O5)
    total = Amount(p, Form.P).to(Form.P2O5) + Amount(p2o5, Form.P2O5)
    assert total.kg_m2 == pytest.approx(p * 2.2914 + p2o5, rel=1e-4)


@given(st.sampled_from(sorted(ELEMENT)), st.sampled_from(sorted(ELEMENT)))
def test_one_element_is_never_turned_into_another(given_form: str, wanted: str):
    assume(ELEMENT[given_form] != ELEMENT[wanted])
    with pytest.raises(FormError):
        form_factor(given_form, wanted)


def test_a_form_that_is_not_known_is_refused():
    with pytest.raises(ValueError, match="P2O6"):
        form_factor("P2O6", "P")


@pytest.mark.parametrize("cation", CATIONS)
@given(charge=amounts)
def test_charge_and_concentration_are_each_others_way_back(cation: str, charge: float):
    concentration = conversion.concentration_from_charge(cation, charge)
    assert conversion.charge_from_concentration(cation, concentration) == pytest.approx(charge)


@pytest.mark.parametrize(
    "function",
    [
        conversion.concentration_from_charge,
        conversion.charge_from_concentration,
        conversion.charge_in_water,
    ],
)
def test_a_cation_that_is_not_counted_is_refused(function):
    with pytest.raises(ValueError, match="aluminum"):
        function("aluminum", 1.0)


@given(amounts, st.floats(0.01, 2))
def test_the_furrow_slice_is_undone(concentration: float, depth: float):
    mass = conversion.mass_in_furrow_slices(concentration, depth)
    assert conversion.concentration_from_area_mass(mass, depth) == pytest.approx(concentration)


@given(amounts, st.floats(200, 2000), st.floats(0.01, 1), st.floats(1.01, 3))
def test_a_deeper_or_denser_layer_holds_more(c: float, density: float, depth: float, times: float):
    mass = conversion.mass_in_layer(c, density, depth)
    assert conversion.mass_in_layer(c, density, depth * times) == pytest.approx(mass * times)
    assert conversion.mass_in_layer(c, density * times, depth) == pytest.approx(mass * times)


@given(amounts, st.floats(0, 50), st.floats(0.1, 50))
def test_a_liter_of_peaty_soil_holds_less(concentration: float, humus: float, more: float):
    assert conversion.olsen_per_litre(concentration, humus + more) < conversion.olsen_per_litre(
        concentration, humus
    )


@given(amounts, shares)
def test_the_product_holds_the_nutrient_it_was_chosen_for(nutrient: float, content: float):
    product = bags.product_for_nutrient(nutrient, content)
    assert product >= nutrient * (1 - 1e-12)
    assert bags.nutrient_in_product(product, content) == pytest.approx(nutrient)


def test_a_product_without_the_nutrient_is_refused():
    with pytest.raises(ValueError, match="content"):
        bags.product_for_nutrient(1.0, 0.0)


@given(amounts, amounts)
def test_volumes_rates_and_depths_go_back(area: float, depth: float):
    volume = volumes.volume_for_depth(area, depth)
    assert volumes.depth_of_volume(volume, area) == pytest.approx(depth)
    assert volumes.area_of_volume(volume, depth) == pytest.approx(area)
    assert bags.rate_of_amount(bags.amount_for_area(depth, area), area) == pytest.approx(depth)


@given(amounts, st.floats(50, 2000), st.floats(1.01, 3))
def test_a_lighter_material_takes_more_cups(mass: float, density: float, times: float):
    cups = volumes.cups_of(mass, density)
    assert volumes.cups_of(mass, density * times) == pytest.approx(cups / times)
    cup = 0.0002365882365  # m3: NIST Handbook 44, appendix C
    assert volumes.mass_of_volume(cups * cup, density) == pytest.approx(mass)


@given(amounts, st.floats(100, 2000), st.floats(0, 100))
def test_a_liquid_holds_its_percent_by_mass(volume: float, density: float, content: float):
    held = bags.nutrient_in_liquid(volume, density, content)
    mass = volumes.mass_of_volume(volume, density)
    assert held == pytest.approx(bags.nutrient_in_product(mass, content))


@given(st.floats(0.1, 100), st.floats(0, 99))
def test_drying_gives_the_moisture_that_was_put_in(mass: float, moisture: float):
    dry = heap.dry_matter(mass, moisture)
    assert heap.moisture_of_sample(mass, dry) == pytest.approx(moisture, abs=1e-6)


@given(st.floats(0.1, 100), st.floats(0, 90), st.floats(0, 90))
def test_watering_reaches_the_goal_and_never_takes_water_away(
    mass: float, moisture: float, goal: float
):
    water = heap.water_needed(mass, moisture, goal)
    if goal <= moisture:
        assert water == 0
    else:
        assert heap.moisture_of_mixture((mass, water), (moisture, 100.0)) == pytest.approx(goal)


@given(st.floats(0.1, 100), st.floats(0, 100), st.floats(0, 100), st.floats(0.01, 0.99))
def test_a_second_material_brings_the_mixture_to_its_goal(
    mass: float, wet: float, dry: float, place: float
):
    assume(abs(wet - dry) > 0.1)
    goal = wet + (dry - wet) * place
    other = heap.mass_to_reach_moisture(mass, wet, dry, goal)
    assert heap.moisture_of_mixture((mass, other), (wet, dry)) == pytest.approx(goal)


@pytest.mark.parametrize("goal", [90.0, 20.0, 35.0])
def test_a_goal_outside_the_two_materials_is_refused(goal: float):
    with pytest.raises(ValueError, match="goal"):
        heap.mass_to_reach_moisture(10, 77, 35, goal)


def test_a_mixture_that_is_moist_enough_asks_for_nothing():
    assert heap.mass_to_reach_moisture(10, 60, 35, 60) == 0


@given(
    st.lists(
        st.tuples(st.floats(0.1, 100), st.floats(1, 60), st.floats(0.1, 15)),
        min_size=1,
        max_size=6,
    )
)
def test_the_ratio_of_a_mixture_lies_between_those_of_its_parts(parts):
    masses, carbons, nitrogens = zip(*parts, strict=True)
    ratio = heap.carbon_to_nitrogen_of_mixture(masses, carbons, nitrogens)
    ratios = [carbon / nitrogen for _, carbon, nitrogen in parts]
    assert min(ratios) * (1 - 1e-9) <= ratio <= max(ratios) * (1 + 1e-9)


def test_a_mixture_without_nitrogen_has_no_ratio():
    with pytest.raises(ValueError, match="nitrogen"):
        heap.carbon_to_nitrogen_of_mixture((1.0,), (40.0,), (0.0,))
