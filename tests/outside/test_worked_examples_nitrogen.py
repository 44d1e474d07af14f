"""Published examples of nitrogen in manure, water, soil and cover crops."""

from __future__ import annotations

import pytest
from published import example, library, shown, si, table_row

from bedwright.feeding.arithmetic import product_for_nutrient
from bedwright.soil.conversion import mass_in_furrow_slices, mass_in_layer
from bedwright.soil.nitrogen import (
    carry_over_credit,
    cover_crop_available_n,
    four_week_available_share,
    irrigation_credit,
    manure_available_n,
    nitrate_n_of_nitrate,
    organic_matter_credit,
)

FOOT = si("12 in", "depth")


def _per_ton(value: float) -> float:
    return si(f"{value} lb/ton", "mass_per_mass")


def _manure(total: float, ammonium: float, nitrate: float, kept: float, released: float):
    return manure_available_n(
        _per_ton(total), _per_ton(ammonium), _per_ton(nitrate), kept, released
    )


def test_t2_available_nitrogen_of_a_manure_spread_on_the_surface():
    kept = table_row("parameters", parameter="manure_ammonium_surface_factor").typical()
    manure = _manure(21, 8, 0, kept, 0.25)
    example("T2").agrees(shown(manure.value, "lb/ton"), shown(manure.from_organic, "lb/ton"))


def test_t2b_tons_of_manure_for_each_nutrient():
    tons = []
    for need, per_ton in ((160, 8.53), (50, 18), (75, 26)):
        content = 100 * _per_ton(per_ton)
        rate = product_for_nutrient(si(f"{need} lb/ac", "mass_per_area"), content)
        tons.append(shown(rate, "ton/ac"))
    example("T2b").agrees(*tons)


def test_t3_nitrate_in_an_acre_foot_of_water():
    nitrogen = nitrate_n_of_nitrate(45)
    credit = irrigation_credit(round(nitrogen), 304.8)
    example("T3").agrees(nitrogen, shown(credit, "lb/ac"))


def test_t4_nitrate_nitrogen_in_two_feet_of_water():
    example("T4").agrees(shown(irrigation_credit(20, 24 * 25.4), "lb/ac"))


def _cow_manure() -> list[float]:
    spread = si("50 lb/ac", "mass_per_area")  # 10 ton/ac of 5 lb organic N per ton
    shares = {
        row["year"]: row.typical()
        for row in library().rows("decay_series")
        if row["series"] == "cornell_cattle_wet"
    }
    return [shown(carry_over_credit(spread, shares[year]), "lb/ac") for year in "123"]


def test_t26_cow_manure_gives_in_three_years():
    example("T26").agrees(*_cow_manure())


def test_t26b_the_three_dressings_add_up():
    example("T26b").agrees(sum(_cow_manure()))


def test_t32_cover_crops_by_their_nitrogen():
    example("T32").agrees(*(shown(cover_crop_available_n(n), "lb/ton") for n in (3.5, 1.5, 2.5)))


def test_t33_four_week_nitrogen_by_the_ratio_of_carbon():
    carbon = 40.0  # percent, as the table assumes
    example("T33").agrees(
        *(four_week_available_share(carbon / ratio) for ratio in (13, 20, 80, 10, 4))
    )


def test_t37_ten_ppm_nitrate_nitrogen_in_a_foot():
    example("T37").agrees(shown(mass_in_layer(10, 1300, FOOT), "lb/ac"))


def test_t37b_nitrate_nitrogen_in_a_foot_by_the_furrow_slice():
    example("T37b").agrees(
        *(shown(mass_in_furrow_slices(ppm, FOOT), "lb/ac") for ppm in (10, 20, 30))
    )


def test_n16_broiler_litter_over_three_years():
    shares = [
        row.typical()
        for row in library().rows("decay_series")
        if row["series"] == "cornell_poultry"
    ]
    first = _manure(52.9 + 16 + 0.1, 16, 0.1, 0.66, shares[0])
    later = (carry_over_credit(_per_ton(52.9), share) for share in shares[1:])
    example("N16").agrees(shown(first.value, "lb/ton"), *(shown(each, "lb/ton") for each in later))


def _organic_matter(percent: float) -> float:
    release = table_row("parameters", parameter="om_n_release", use="yes").typical()
    ceiling = table_row("parameters", parameter="om_rule_ceiling").typical()
    per_percent = si(f"{release} lb/1000 ft2", "mass_per_area")
    return shown(organic_matter_credit(percent, per_percent, ceiling), "lb/1000 ft2")


def test_n21_five_percent_organic_matter_is_a_season_of_nitrogen():
    example("N21").agrees(_organic_matter(5))
    assert _organic_matter(12) == pytest.approx(_organic_matter(5))


def test_n21b_one_percent_organic_matter_leaves_most_to_be_given():
    example("N21b").agrees(_organic_matter(1), 2 - _organic_matter(1))
