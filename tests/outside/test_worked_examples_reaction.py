"""Published examples of lime and sulfur."""

from __future__ import annotations

from published import example, library, shown, si

from bedwright.soil.acidify import sulfur_by_texture, sulfur_to_dissolve_lime
from bedwright.soil.lime import (
    effective_neutralizing_value,
    fineness_factor,
    lime_cochrane,
    lime_exchangeable_aluminum,
    lime_from_table,
    lime_mehlich_buffer,
    lime_product,
)
from bedwright.units import to_si


def test_p1_lime_by_the_mehlich_buffer():
    example("P1").agrees(shown(lime_mehlich_buffer(5.0, 6.3, 6.0, 0).value, "ton/ac"))


def test_p1b_acidity_and_share_of_the_mehlich_buffer():
    lime = lime_mehlich_buffer(5.0, 6.3, 6.0, 0)
    example("P1b").agrees(lime.acidity, lime.share_to_target)


def _sikora() -> float:
    return lime_from_table("sikora_oregon", 6.0, 5.0, 5.6, library().rows("lime_buffer"))


def test_p2_lime_by_the_sikora_buffer():
    example("P2").agrees(shown(_sikora(), "ton/ac"))


def test_p2b_the_same_lime_on_100_square_feet():
    example("P2b").agrees(shown(_sikora(), "lb/100 ft2"))


def test_p3_a_weaker_lime_takes_more():
    lime = lime_product(si("5 lb/100 ft2", "mass_per_area"), 70)
    example("P3").agrees(shown(lime, "lb/100 ft2"))


def test_p4_fineness_of_four_sieve_classes():
    """The classes run from fine to coarse, as the example prints them."""
    rows = [row for row in library().rows("lime_fineness") if row["scheme"] == "australasia"]
    efficiencies = tuple(100 * (row.number("efficiency") or 0.0) for row in reversed(rows))
    example("P4").agrees(fineness_factor((78.8, 10, 2.4, 7.8), efficiencies))


def test_p5_effective_value_of_a_moist_lime():
    example("P5").agrees(effective_neutralizing_value(95, 85, 13))


def test_p6_strong_and_weak_liming_materials():
    example("P6").agrees(*(shown(lime_product(1, cce), "-") * 100 for cce in (150, 50)))


def test_p7_lime_against_exchangeable_aluminum():
    example("P7").agrees(shown(lime_exchangeable_aluminum(1, 1000, 0.1), "kg/ha"))


def test_p8_free_lime_swallows_sulfur_before_the_ph_moves():
    depth = si("8 in", "depth")
    density = si("2000000 lb/ac", "mass_per_area") / depth
    example("P8").agrees(shown(sulfur_to_dissolve_lime(1, density, depth), "ton/ac"))


def _tennessee(texture_group: str) -> float:
    rows = [
        row
        for row in library().rows("sulfur_rates")
        if row["scheme"] == "tennessee_per_tenth" and row["texture_group"] == texture_group
    ]
    assert len(rows) == 1
    tenths = (6.5 - 5.5) / 0.1
    return shown(to_si(rows[0].typical(), rows[0]["unit"], "mass_per_area") * tenths, "lb/1000 ft2")


def test_p9_sulfur_for_blueberry_on_silt_loam():
    example("P9").agrees(_tennessee("medium"))
    figure = sulfur_by_texture(library(), "medium", 6.5, 5.5)
    example("P9").agrees(shown(figure.value, "lb/1000 ft2"))


def test_p9b_sulfur_for_blueberry_on_clay_and_sand():
    example("P9b").agrees(_tennessee("fine"), _tennessee("coarse"))


def test_n6_effective_neutralizing_material_by_the_ton():
    percent = 100 * si("400 lb/ton", "mass_per_mass")
    lime = lime_product(si("1600 lb/ac", "mass_per_area"), percent)
    example("N6").agrees(shown(lime, "ton/ac"))


def test_n7_lime_of_another_neutralizing_value():
    example("N7").agrees(lime_product(0.9, 80))


def test_n11_lime_against_acidity_beyond_what_is_tolerated():
    example("N11").agrees(*(lime_cochrane(acidity, 10, 20) for acidity in (2, 4, 6)))
