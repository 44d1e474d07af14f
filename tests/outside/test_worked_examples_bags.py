"""Published arithmetic of bags, cups, heaps and mixtures."""

from __future__ import annotations

import pytest
from published import example, shown, si

from bedwright.feeding.arithmetic import (
    amount_for_area,
    nutrient_in_product,
    product_for_nutrient,
)
from bedwright.feeding.heap import (
    carbon_to_nitrogen_of_mixture,
    dry_matter,
    mass_to_reach_moisture,
    moisture_of_mixture,
    moisture_of_sample,
)
from bedwright.feeding.volumes import (
    area_of_volume,
    cups_of,
    depth_of_volume,
    mass_of_volume,
    volume_for_depth,
)
from bedwright.soil.forms import form_factor

PER_1000 = "lb/1000 ft2"


def _product(nutrient: str, content: float, unit: str) -> float:
    kind = "mass_per_area" if "/" in nutrient else "mass"
    return shown(product_for_nutrient(si(nutrient, kind), content), unit)


def test_t1_three_pounds_of_nitrogen_are_twelve_and_a_half_of_a_24_percent_blend():
    example("T1").agrees(_product("3 lb/1000 ft2", 24, PER_1000))


def test_t18_nitrogen_of_the_phosphate_bag_comes_off_the_nitrogen_bag():
    phosphate = product_for_nutrient(si("1 lb", "mass"), 55)
    nitrogen = nutrient_in_product(phosphate, 11)
    rest = si("3 lb", "mass") - nitrogen
    example("T18").agrees(
        shown(phosphate, "lb"), shown(nitrogen, "lb"), shown(product_for_nutrient(rest, 21), "lb")
    )


def test_t18b_amounts_shrink_with_the_bed():
    area = si("625 ft2", "area")
    phosphate = product_for_nutrient(si("1 lb/1000 ft2", "mass_per_area"), 55)
    sulfate = product_for_nutrient(si("2.8 lb/1000 ft2", "mass_per_area"), 21)
    example("T18b").agrees(
        shown(amount_for_area(phosphate, area), "lb"), shown(amount_for_area(sulfate, area), "lb")
    )


def test_t19_three_pounds_of_nitrogen_from_ammonium_sulfate():
    example("T19").agrees(_product("3 lb/1000 ft2", 21, PER_1000))


def test_t19b_the_same_on_a_lawn_of_5000_square_feet():
    rate = product_for_nutrient(si("3 lb/1000 ft2", "mass_per_area"), 21)
    example("T19b").agrees(shown(amount_for_area(rate, si("5000 ft2", "area")), "lb"))


def test_t20_phosphate_first_and_the_nitrogen_it_brings():
    product = product_for_nutrient(si("1.75 lb", "mass"), 22)
    example("T20").agrees(shown(product, "lb"), shown(nutrient_in_product(product, 21), "lb"))


def test_t20b_the_rest_of_the_nitrogen():
    example("T20b").agrees(_product("1.8 lb", 32, "lb"))


def test_t20c_the_rest_of_the_potash():
    brought = nutrient_in_product(si("8 lb", "mass"), 4) + nutrient_in_product(
        si("5.6 lb", "mass"), 4
    )
    example("T20c").agrees(shown(product_for_nutrient(si("3.5 lb", "mass") - brought, 60), "lb"))


def test_t22_a_pound_of_nitrogen_from_a_12_percent_meal():
    example("T22").agrees(_product("1 lb", 12, "lb"))


def test_t23_the_weaker_bag_takes_twice_as_much():
    example("T23").agrees(*(_product("2.5 lb/1000 ft2", n, PER_1000) for n in (10, 5)))


def test_t23b_the_weaker_bag_brings_twice_the_phosphate():
    example("T23b").agrees(
        *(
            shown(nutrient_in_product(si(bag, "mass_per_area"), 10), PER_1000)
            for bag in ("25 lb/1000 ft2", "50 lb/1000 ft2")
        )
    )


def test_t24_two_pounds_of_phosphate_from_a_20_percent_product():
    example("T24").agrees(_product("2 lb", 20, "lb"))


RATES = (100, 200, 400, 500, 600, 700, 800, 1000, 2000)


def test_t25_rates_per_acre_on_100_square_feet():
    area = si("100 ft2", "area")
    example("T25").agrees(
        *(
            shown(amount_for_area(si(f"{rate} lb/ac", "mass_per_area"), area), "lb")
            for rate in RATES
        )
    )


def test_t25b_rates_per_acre_on_1000_square_feet_in_ounces():
    area = si("1000 ft2", "area")
    example("T25b").agrees(
        *(
            shown(amount_for_area(si(f"{rate} lb/ac", "mass_per_area"), area), "oz")
            for rate in RATES
        )
    )


def test_t28_a_gap_per_acre_on_six_rows():
    area = 6 * si("90 ft", "length") * si("4 ft", "length")
    potassium = amount_for_area(si("60 lb/ac", "mass_per_area"), area)
    example("T28").agrees(
        shown(area, "ft2"),
        shown(potassium, "lb"),
        shown(potassium * form_factor("K", "K2O"), "lb"),
    )


def test_t38_borax_for_three_pounds_of_boron():
    borax = product_for_nutrient(si("3 lb/ac", "mass_per_area"), 11.3)
    example("T38").agrees(shown(borax, "lb/ac"), shown(borax, PER_1000), shown(borax, "g/100 ft2"))


def test_t39_two_ounces_of_nitrogen_are_forty_ounces_of_a_5_percent_bag():
    example("T39").agrees(_product("2 oz/100 ft2", 5, "oz/100 ft2"))


def test_t39x_forty_ounces_are_not_two_and_a_quarter_pounds():
    pounds = _product("2 oz/100 ft2", 5, "lb/100 ft2")
    example("T39x").is_wrong(pounds)
    assert pounds == pytest.approx(2.5)


def test_n3_potash_from_a_17_percent_product():
    example("N3").agrees(_product("101 kg/ha", 17, "kg/ha"))


def test_n4_the_laboratory_list_to_its_own_rounding():
    example("N4").agrees(*(_product("0.3 lb/100 ft2", n, "lb/100 ft2") for n in (46, 21, 12)))


def test_n4b_the_same_from_the_labels():
    example("N4b").agrees(*(_product("0.3 lb/100 ft2", n, "lb/100 ft2") for n in (46, 21, 12, 2.5)))


def test_n4x_the_list_takes_alfalfa_at_two_percent():
    example("N4x").is_wrong(_product("0.3 lb/100 ft2", 2.5, "lb/100 ft2"))
    assert _product("0.3 lb/100 ft2", 2.0, "lb/100 ft2") == pytest.approx(15)


def test_n12_feather_meal_for_three_pounds_of_nitrogen():
    example("N12").agrees(_product("3 lb/1000 ft2", 13, PER_1000))


def test_n13_zinc_sulfate_for_fourteen_pounds_of_zinc():
    example("N13").agrees(_product("14 lb/ac", 35, "lb/ac"))


def test_n26_ten_grams_of_nitrogen_from_three_materials():
    example("N26").agrees(*(_product("10 g/m2", n, "g/m2") for n in (12, 20, 0.6)))


def _cups(mass: str, density: str) -> float:
    return cups_of(si(mass, "mass"), si(density, "density"))


def test_n27_half_a_pound_of_bone_meal_in_cups():
    example("N27").agrees(_cups("0.5 lb", "0.96 t/m3"), _cups("0.5 lb", "0.80 t/m3"))


def test_n27b_a_pound_of_alfalfa_and_of_blood_meal_in_cups():
    example("N27b").agrees(
        _cups("1 lb", "0.35 t/m3"), _cups("1 lb", "0.25 t/m3"), _cups("1 lb", "0.61 t/m3")
    )


def _volume(area: str, depth: str) -> float:
    return volume_for_depth(si(area, "area"), si(depth, "depth"))


def test_t12_a_quarter_inch_on_2000_square_feet():
    example("T12").agrees(shown(_volume("2000 ft2", "0.25 in"), "yd3"))


def test_t13_a_cubic_yard_at_a_third_of_an_inch():
    third = si("1 in", "depth") / 3
    example("T13").agrees(shown(area_of_volume(si("1 yd3", "volume"), third), "ft2"))


def test_t14_a_cubic_yard_covers_324_square_feet_at_an_inch():
    area = si("27 ft", "length") * si("12 ft", "length")
    yard = volume_for_depth(area, si("1 in", "depth"))
    covered = area_of_volume(si("1 yd3", "volume"), si("2 in", "depth"))
    example("T14").agrees(shown(yard, "yd3"), shown(covered, "ft2"))


def test_t14x_a_cubic_yard_does_not_cover_120_square_feet_at_three_inches():
    covered = shown(area_of_volume(si("1 yd3", "volume"), si("3 in", "depth")), "ft2")
    example("T14x").is_wrong(covered)
    assert covered == pytest.approx(108)


def test_s66x_four_cubic_yards_on_1000_square_feet_are_not_two_inches():
    depth = shown(depth_of_volume(si("4 yd3", "volume"), si("1000 ft2", "area")), "in")
    example("S66x").is_wrong(depth)
    assert depth == pytest.approx(1.3, abs=0.05)


def test_s1yd_a_cubic_yard_in_feet_and_bushels():
    yard = si("1 yd3", "volume")
    example("S1yd").agrees(shown(yard, "ft3"), shown(yard, "bu"))


def test_t30_the_dry_matter_of_an_inch_of_compost():
    volume = _volume("1000 ft2", "1 in")
    mass = mass_of_volume(volume, si("1000 lb/yd3", "density"))
    example("T30").agrees(shown(volume, "yd3"), shown(dry_matter(mass, 35), "lb"))


def test_t15_the_moisture_of_a_dried_sample():
    example("T15").agrees(moisture_of_sample(si("10 g", "mass"), si("2.3 g", "mass")))


def test_t15b_leaves_bring_wet_grass_to_sixty_percent():
    leaves = mass_to_reach_moisture(10, 77, 35, 60)
    example("T15b").agrees(leaves)
    assert moisture_of_mixture((10, leaves), (77, 35)) == pytest.approx(60)


def test_t16_the_ratio_of_a_mixture_is_weighed_by_mass():
    example("T16").agrees(carbon_to_nitrogen_of_mixture((50, 10, 2), (40, 10, 25), (1, 1, 1)))
