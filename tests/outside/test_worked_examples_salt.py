"""Published examples of salt and sodium."""

from __future__ import annotations

import pytest
from published import example, library, shown, si

from bedwright.soil.conversion import charge_in_water
from bedwright.soil.salinity import leaching_requirement, relative_yield, salt_rise
from bedwright.soil.sodium import (
    exchangeable_sodium_percentage,
    gypsum_for_soluble_sodium,
    gypsum_requirement,
    sodium_adsorption_ratio,
)


def _ali() -> float:
    return shown(gypsum_requirement(35, 15, 22, 1491, 0.40), "t/ha")


def test_p10_gypsum_for_a_sodic_soil():
    example("P10").agrees(_ali())


def test_p10b_gypsum_with_a_quarter_more():
    example("P10b").agrees(1.25 * _ali())


def test_p10c_gypsum_by_another_form_of_the_same_chemistry():
    example("P10c").agrees(shown(gypsum_requirement(35, 15, 22, 1490, 0.40), "t/ha"))


def test_p10d_gypsum_for_a_milliequivalent_in_an_acre_foot():
    depth = si("1 ft", "depth")
    density = si("4000000 lb/ac", "mass_per_area") / depth
    example("P10d").agrees(shown(gypsum_requirement(10, 0, 10, density, depth), "ton/ac"))


def test_p11_leaching_for_avocado():
    leaching = leaching_requirement(0.6, 0.4)
    example("P11").agrees(leaching.value, 40 * leaching.water_per_use)


def test_p5rise_an_inch_of_salty_compost():
    area = si("100 ft2", "area")
    rises = []
    for ec in (2, 4, 8, 10):
        salts = 71 * ec * 640 * 5 * 1e-6 / area  # kg/m2: 71 kg dry, extract 1:5
        rises.append(salt_rise(salts, 1300, 0.15, 40).value)
    example("P5rise").agrees(*rises)


def test_hb60_the_two_limits_of_a_sodic_soil_agree():
    example("HB60").agrees(exchangeable_sodium_percentage(13))


def test_p16_yields_by_threshold_and_slope():
    yields = []
    for crop, ec_e in (("tomato", 4), ("bean_snap", 3), ("squash_summer", 4), ("strawberry", 2)):
        threshold = library().fact("crop_facts", crop, "ec_e_threshold", "dS/m")
        slope = library().fact("crop_facts", crop, "ec_e_slope", "%/(dS/m)")
        assert threshold is not None and slope is not None, crop
        yields.append(relative_yield(ec_e, threshold.value, slope.value))
    example("P16").agrees(*yields)


def test_p18_the_misprinted_adsorption_ratio_is_not_reproduced():
    ions = {"sodium": 1000.0, "calcium": 200.0, "magnesium": 100.0}
    ratio = sodium_adsorption_ratio(
        **{key: charge_in_water(key, each) for key, each in ions.items()}
    )
    example("P18").is_wrong(ratio)
    assert ratio == pytest.approx(14.4, abs=0.05)


def test_p19_leaching_for_maize():
    example("P19").agrees(*(leaching_requirement(1.2, ec_e).value for ec_e in (1.7, 2.5)))


def _gypsum() -> float:
    return gypsum_for_soluble_sodium(40, 18, 8, 40)


def test_n18_gypsum_by_the_saturation_extract():
    example("N18").agrees(shown(_gypsum(), "t/ha"))


def test_n18b_the_same_gypsum_on_100_square_feet():
    example("N18b").agrees(shown(_gypsum(), "lb/100 ft2"))


def test_n18x_neither_the_coarse_factor_nor_the_short_form_is_followed():
    example("N18x").is_wrong(shown(_gypsum(), "ton/ac"), shown(_gypsum(), "t/ha"))
    assert shown(_gypsum(), "ton/ac") == pytest.approx(1.20, abs=0.005)
