"""Published readings of soil tests, by the shipped tables."""

from __future__ import annotations

import pytest
from published import class_word, example, library, reading, shown, si, table_row

from bedwright.soil.lime import lime_from_table
from bedwright.soil.sodium import exchangeable_sodium_percentage


def test_t40_the_same_soil_asks_for_phosphate_under_lettuce_only():
    example("T40").says(
        reading("phosphorus", "olsen", 18, "lettuce", "cool_season").word,
        reading("phosphorus", "olsen", 18, "corn", "warm_season").word,
        reading("phosphorus", "olsen", 18, "warm_season", "warm_season").word,
    )


def _rate(group: str, supply: str) -> tuple[float, float]:
    row = table_row(
        "nutrient_rates", nutrient="p2o5", extractant="olsen", test_group=group, supply=supply
    )
    assert row["unit"] == "kg/ha"
    low, high = row.number("low"), row.number("high")
    return (row.typical(), row.typical()) if low is None or high is None else (low, high)


def test_n1_phosphate_for_beans_falls_with_the_test():
    """The table keeps three Ontario columns in one class, so the printed rate lies in its range."""
    printed = [float(each) for each in example("N1").printed]
    for olsen, rate in zip((7, 12, 16, 65), printed, strict=True):
        supply = reading("phosphorus", "olsen", olsen, "bean", "warm_season").supply
        low, high = _rate("bean", supply)
        assert low <= rate <= high, f"Olsen {olsen}"
    assert (
        "zinc"
        in table_row("nutrient_rates", table_id="ontario_bean_p", supply="very_high").source.note
    )


def test_n2_phosphate_for_maize_lies_in_the_range_of_its_class():
    supply = reading("phosphorus", "olsen", 11, "corn", "warm_season").supply
    low, high = _rate("corn", supply)
    assert low <= float(example("N2").published) <= high


def test_n2b_the_rate_in_pounds_per_acre():
    example("N2b").agrees(shown(si("50 kg/ha", "mass_per_area"), "lb/ac"))


def _lime(acidity: float, ph: float = 5.0) -> list[float]:
    rows = library().rows("lime_buffer")
    return [
        shown(lime_from_table("penn_state_acidity", acidity, ph, target, rows), "lb/1000 ft2")
        for target in (7.0, 6.5, 6.0)
    ]


def test_n10_lime_for_an_acidity_of_six_and_a_half():
    example("N10").agrees(*_lime(6.5))


def test_n10b_lime_for_an_acidity_of_two_point_six():
    example("N10b").agrees(*_lime(2.6))


def test_n10c_no_lime_at_the_goal():
    example("N10c").agrees(lime_from_table(
        "penn_state_acidity", 6.5, 6.5, 6.5, library().rows("lime_buffer")
    ))  # fmt: skip


def test_n19_the_garden_is_saline_and_sodic():
    example("N19").says(
        class_word("salinity_classes", 8.1, scheme="handbook_60", property="ec_e"),
        class_word("salinity_classes", 23.1, scheme="handbook_60", property="sar"),
    )


def test_n19b_exchangeable_sodium_of_the_garden():
    esp = exchangeable_sodium_percentage(23.1)
    example("N19b").agrees(esp)
    assert class_word("salinity_classes", esp, scheme="handbook_60", property="esp") == "sodic"


def test_n22_pepper_answers_below_twenty_and_hardly_above_forty():
    readings = [reading("phosphorus", "olsen", each, "pepper", "warm_season") for each in (45, 18)]
    example("N22").says(*(each.word for each in readings))
    row = table_row("nutrient_rates", table_id="uc_pepper_none", test_group="pepper")
    assert (row["supply"], row.typical()) == (readings[0].supply, 0)


def test_n22b_the_ceiling_of_phosphate_for_pepper():
    row = table_row("nutrient_rates", table_id="uc_pepper_cap", test_group="pepper")
    assert row["unit"] == "lb/ac"
    example("N22b").agrees(row.number("high"))


def test_n23_a_tomato_soil_report():
    words = [
        reading(analyte, extractant, value, "tomato", "warm_season").word
        for analyte, extractant, value in (
            ("phosphorus", "olsen", 20),
            ("potassium", "ammonium_acetate", 200),
            ("zinc", "dtpa", 0.4),
        )
    ]
    ec = class_word("salinity_classes", 2.5, scheme="uc_tomato", property="ec_e")
    example("N23").says(*words, ec)


def test_n24_salt_before_planting():
    scheme = {"scheme": "yavapai_preplant_leaching", "property": "ec_e_preplant_leaching"}
    example("N24").says(
        class_word("salinity_classes", 12, **scheme), class_word("salinity_classes", 22, **scheme)
    )


def test_a_value_is_never_read_with_another_methods_table():
    with pytest.raises(LookupError, match="olsen"):
        reading("phosphorus", "saturated_paste", 20, "tomato", "warm_season")
