"""What a pound of each material brings to a soil of this pH."""

import pytest

from bedwright.feeding.materials import material, supply
from bedwright.reference import Library, OwnFact, OwnMaterial

LIBRARY = Library()
KEYS = [row["material"] for row in LIBRARY.rows("materials")]
ACID, NEUTRAL, ALKALINE = 5.0, 7.0, 8.0


def brings(key: str, ph: float | None, library: Library = LIBRARY):
    return supply(library, material(library, key), ph)


def test_the_shelf_holds_at_least_45_materials():
    assert len(KEYS) >= 45
    assert len(set(KEYS)) == len(KEYS)


@pytest.mark.parametrize("ph", [ACID, NEUTRAL, ALKALINE, None])
@pytest.mark.parametrize("key", KEYS)
def test_every_material_brings_no_more_in_a_season_than_its_bag_holds(key: str, ph: float | None):
    found = brings(key, ph)

    for total, season in (
        (found.n_total, found.n_season),
        (found.p2o5_total, found.p2o5_season),
        (found.k2o_total, found.k2o_season),
    ):
        assert 0 <= total.value <= 1
        if season is not None:
            assert season.least <= season.value <= season.most <= total.value * (1 + 1e-9)
    assert sum(found.other(name) for name in found.others) <= 1
    assert found.salts is None or found.salts.value >= 0
    assert found.bulk_density is None or 50 < found.bulk_density.value < 3000
    assert found.max_rate is None or found.max_rate.value > 0


@pytest.mark.parametrize("key", ["rock_phosphate_hard", "rock_phosphate_soft", "bone_meal_steamed"])
def test_the_more_alkaline_the_soil_the_less_of_a_rock_dissolves(key: str):
    shares = [
        brings(key, ph).p2o5_season.value / brings(key, ph).p2o5_total.value
        for ph in (ACID, NEUTRAL, ALKALINE)
    ]

    assert shares[0] > shares[1] > shares[2]
    assert shares[2] <= 0.05


def test_rock_phosphate_feeds_nothing_on_alkaline_soil():
    assert brings("rock_phosphate_hard", ALKALINE).p2o5_season.value == 0


def test_greensand_does_not_count_as_if_its_potash_were_soluble():
    sand, salt = brings("greensand", ALKALINE), brings("potassium_sulfate", ALKALINE)

    assert sand.k2o_season.value <= 0.01 * sand.k2o_total.value
    assert salt.k2o_season.value == pytest.approx(salt.k2o_total.value)


@pytest.mark.parametrize("key", ["rock_phosphate_hard", "bone_meal_steamed"])
def test_without_a_ph_phosphates_are_counted_as_on_alkaline_soil(key: str):
    assert brings(key, None).p2o5_season.value == brings(key, ALKALINE).p2o5_season.value


@pytest.mark.parametrize(
    ("ph", "like"), [(6.49, ACID), (6.5, NEUTRAL), (7.29, NEUTRAL), (7.3, ALKALINE)]
)
def test_the_steps_of_the_ph_stand_where_the_table_puts_them(ph: float, like: float):
    assert brings("bone_meal_steamed", ph).p2o5_season == (
        brings("bone_meal_steamed", like).p2o5_season
    )


@pytest.mark.parametrize("key", ["blood_meal", "feather_meal", "soybean_meal", "alfalfa_meal"])
def test_a_meals_nitrogen_comes_as_a_range_that_its_release_gives(key: str):
    found = brings(key, NEUTRAL)

    assert found.n_season.least < found.n_season.most
    assert found.n_season.value < found.n_total.value
    assert found.n_season.sources


def test_blood_meal_gives_two_thirds_of_its_nitrogen():
    # 12.5 % N, of which 0.66 (0.60 to 0.75) comes free in the first season.
    found = brings("blood_meal", NEUTRAL).n_season

    assert (found.least, found.value, found.most) == pytest.approx((0.075, 0.0825, 0.09375))


def test_urea_gives_all_its_nitrogen_and_sours_the_soil():
    found = brings("urea", NEUTRAL)

    assert found.n_season.value == pytest.approx(0.46)
    assert found.reaction.value < 0


def test_lime_sweetens_and_gypsum_does_not():
    assert brings("calcitic_lime", ACID).reaction.value > 0.8
    assert brings("gypsum", ACID).reaction.value == 0


def test_a_salt_index_of_74_counts_as_so_much_nitrate_of_soda():
    assert brings("urea", NEUTRAL).salts.value == pytest.approx(0.744)


def test_a_bag_of_the_gardeners_own_outranks_the_table():
    own = LIBRARY.with_own(
        (OwnFact("my_meal", "n_total", 0.07, "kg/kg", "line 9"),),
        (OwnMaterial("my_meal", "feather_meal", "My meal"),),
    )

    found = brings("my_meal", NEUTRAL, own)

    assert found.n_total.value == 0.07
    assert material(own, "my_meal").name == "My meal"
    share = brings("feather_meal", NEUTRAL).n_season.value / (
        brings("feather_meal", NEUTRAL).n_total.value
    )
    assert found.n_season.value == pytest.approx(0.07 * share)


def test_a_cup_that_the_gardener_weighed_outranks_the_table():
    own = LIBRARY.with_own(
        (OwnFact("gypsum", "bulk_density", 1234.0, "kg/m3", "line 3"),),
        (OwnMaterial("gypsum", "gypsum"),),
    )

    assert brings("gypsum", NEUTRAL, own).bulk_density.value == 1234.0
    assert brings("gypsum", NEUTRAL).bulk_density.value != 1234.0


@pytest.mark.parametrize("key", ["borax", "soluble_borate", "zinc_sulfate", "copper_sulfate"])
def test_what_poisons_by_the_spoonful_goes_by_the_scale(key: str):
    assert material(LIBRARY, key).measure == "weight_only"


def test_every_material_carries_a_source_and_an_organic_status():
    for key in KEYS:
        item = material(LIBRARY, key)
        assert item.source.source_id in LIBRARY.sources
        assert item.organic_status in {"allowed", "restricted", "prohibited", "check"}


def test_a_material_that_nobody_sells_is_not_found():
    with pytest.raises(LookupError, match="moon_dust"):
        material(LIBRARY, "moon_dust")
