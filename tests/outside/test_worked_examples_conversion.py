"""Published conversions of what laboratories print."""

from __future__ import annotations

import pytest
from published import example, shown, si

from bedwright.soil.conversion import (
    charge_from_concentration,
    concentration_from_area_mass,
    concentration_from_charge,
    in_form,
    mass_in_furrow_slices,
    olsen_per_litre,
)
from bedwright.soil.forms import form_factor
from bedwright.soil.nitrogen import nitrate_n_of_nitrate

SLICE = si("20 in", "depth") / 3


def _per_acre(ppm: float) -> float:
    return shown(mass_in_furrow_slices(ppm, SLICE), "lb/ac")


def test_t5_four_milliequivalents_of_calcium():
    example("T5").agrees(concentration_from_charge("calcium", 4))


def test_t6_calcium_in_the_furrow_slice():
    example("T6").agrees(_per_acre(2400))


def test_t7_phosphorus_per_acre_back_to_ppm():
    example("T7").agrees(concentration_from_area_mass(si("100 lb/ac", "mass_per_area"), SLICE))


def test_t8_potassium_from_milliequivalents():
    example("T8").agrees(concentration_from_charge("potassium", 0.98))


def test_t8b_the_same_potassium_per_acre():
    example("T8b").agrees(_per_acre(concentration_from_charge("potassium", 0.98)))


def test_t9_calcium_to_charge_and_magnesium_from_charge():
    example("T9").agrees(
        charge_from_concentration("calcium", 1600), concentration_from_charge("magnesium", 3.81)
    )


def test_t10_potassium_per_acre_and_as_charge():
    example("T10").agrees(_per_acre(400), charge_from_concentration("potassium", 400))


def test_t29_a_handbook_of_conversions():
    example("T29").agrees(
        _per_acre(50),
        shown(si("10 ppm", "mass_per_mass"), "lb/ton"),
        shown(si("1 %", "mass_per_mass"), "lb/ton"),
        shown(si("0.01 %", "fraction"), "ppm"),
    )


def test_s2bmeq_ppm_in_a_milliequivalent():
    cations = ("calcium", "magnesium", "potassium", "sodium")
    example("S2bmeq").agrees(*(concentration_from_charge(each, 1) for each in cations))


def test_s3bp_phosphorus_and_phosphate():
    example("S3bP").agrees(form_factor("P", "P2O5"), form_factor("P2O5", "P"))


def test_s1k_potash_lime_and_magnesia():
    example("S1K").agrees(in_form(1, "K", "K2O"), in_form(1, "Ca", "CaO"), in_form(1, "Mg", "MgO"))


def test_s25no3_nitrogen_in_nitrate():
    example("S25NO3").agrees(nitrate_n_of_nitrate(1))


def test_s1x_phosphorus_is_not_counted_with_the_misprinted_factor():
    example("S1x").is_wrong(form_factor("P", "P2O5"))
    assert form_factor("P", "P2O5") == pytest.approx(2.2914, abs=1e-4)


def test_s1ac_an_acre_is_not_43500_square_feet():
    acre = shown(si("1 ac", "area"), "ft2")
    example("S1ac").is_wrong(acre)
    assert acre == pytest.approx(43560)


def test_s19kg_a_pound_per_acre_in_kilograms_per_hectare():
    example("S19kg").agrees(shown(si("1 lb/ac", "mass_per_area"), "kg/ha"))


def test_n14_olsen_phosphorus_per_liter():
    example("N14").agrees(olsen_per_litre(20, 3))
