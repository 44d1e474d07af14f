"""What the tables say of every crop's room, light, seed and residue."""

import pytest

from bedwright.crops.growing import STOCK, growing
from bedwright.reference import Library, OwnFact

LIBRARY = Library()
ROWS = LIBRARY.rows("crops")
CROPS = [row["crop"] for row in ROWS]
COVERS = [row["crop"] for row in ROWS if row["kind"] == "cover"]
FOOD = [crop for crop in CROPS if crop not in COVERS]
APG_FAMILIES = {
    "Aizoaceae", "Amaranthaceae", "Amaryllidaceae", "Apiaceae", "Asparagaceae", "Asteraceae",
    "Boraginaceae", "Brassicaceae", "Convolvulaceae", "Cucurbitaceae", "Fabaceae", "Lamiaceae",
    "Malvaceae", "Poaceae", "Polygonaceae", "Rosaceae", "Solanaceae",
}  # fmt: skip


def family(crop: str) -> str:
    return LIBRARY.crop(crop)["family"]


def test_there_are_fifty_crops_and_the_covers_of_hot_and_cool_seasons():
    assert len(FOOD) >= 60
    assert len(COVERS) >= 17


def test_families_are_those_of_the_angiosperm_phylogeny_group():
    assert {row["family"] for row in ROWS} == APG_FAMILIES


def test_amaranth_is_of_the_family_of_spinach_and_asparagus_not_of_that_of_onion():
    assert family("amaranth") == family("spinach") == family("beet") == "Amaranthaceae"
    assert family("asparagus") != family("onion")
    assert family("new_zealand_spinach") != family("spinach")
    assert family("buckwheat") == family("rhubarb")
    assert family("white_mustard") == family("cabbage")


@pytest.mark.parametrize(
    ("old", "family"),
    [
        ("Alliaceae", "Amaryllidaceae"),
        ("Chenopodiaceae", "Amaranthaceae"),
        ("Compositae", "Asteraceae"),
        ("Cruciferae", "Brassicaceae"),
        ("Gramineae", "Poaceae"),
        ("Labiatae", "Lamiaceae"),
        ("Leguminosae", "Fabaceae"),
        ("Umbelliferae", "Apiaceae"),
    ],
)
def test_an_old_name_of_a_family_is_known(old: str, family: str):
    names = {row["phrase"]: row["family"] for row in LIBRARY.rows("family_names")}

    assert names[old] == family


def test_the_old_lily_family_is_no_name_as_it_held_two():
    assert "liliaceae" not in {row["phrase"].lower() for row in LIBRARY.rows("family_names")}


@pytest.mark.parametrize("crop", CROPS)
def test_every_crop_is_described(crop: str):
    known = growing(LIBRARY, crop)

    assert known.height is not None and 0.1 < known.height.value <= 3
    assert known.root_depth is not None and 0.2 <= known.root_depth.value <= 2.2
    assert known.residue_c_to_n is not None and 7 <= known.residue_c_to_n.value <= 80
    for word in ("feeding", "root_class", "part", "light", "heat_class", "trellis", "life"):
        assert getattr(known, word), word
    assert known.unit_of_sale
    assert not known.residue_fit & known.residue_unfit


@pytest.mark.parametrize("crop", FOOD)
def test_every_crop_that_is_picked_has_its_room_light_residue_and_unit_of_sale(crop: str):
    known = growing(LIBRARY, crop)

    spacings = (known.spacing_in_row, known.spacing_between_rows, known.spacing_equidistant)
    assert all(each is not None and 0.02 <= each.value <= 2.5 for each in spacings[:2]), spacings
    assert known.daily_light_need is not None and 10 <= known.daily_light_need.value <= 25
    assert known.sun_hours_need is not None
    assert known.residue_share is not None and 0.004 <= known.residue_share.value <= 2
    assert known.saleable_share is not None and 0.5 < known.saleable_share.value <= 1
    assert known.row_yield is not None and known.row_yield.value > 0
    assert known.unit_of_sale in {"lb", *known.unit_mass}
    assert known.part != "cover"


@pytest.mark.parametrize("crop", COVERS)
def test_every_cover_has_its_seed_its_mass_and_its_nitrogen_and_is_sold_as_nothing(crop: str):
    known = growing(LIBRARY, crop)

    assert known.seed_rate is not None and 1e-4 < known.seed_rate.value < 0.03
    assert known.cover_dry_mass is not None and 0.2 < known.cover_dry_mass.value < 1.5
    assert known.seeds_per_gram is not None
    assert known.cover_season in {"summer", "winter", "both"}
    assert (known.part, known.unit_of_sale) == ("cover", "none")
    for nutrient in ("n_season_need", "n_removal", "p2o5_removal", "k2o_removal"):
        fact = LIBRARY.fact("crop_facts", crop, nutrient, "kg/m2" if "need" in nutrient else "-")
        assert fact is not None and fact.value == 0, nutrient


@pytest.mark.parametrize("crop", CROPS)
def test_the_root_class_follows_from_the_depth_of_the_roots(crop: str):
    known = growing(LIBRARY, crop)
    assert known.root_depth is not None

    deepest = known.root_depth.most
    expected = "shallow" if deepest <= 0.6 else "medium" if deepest <= 1 else "deep"
    assert known.root_class == expected


def test_root_classes_by_fao_56_table_22():
    classes = {crop: growing(LIBRARY, crop).root_class for crop in ("lettuce", "carrot", "tomato")}

    assert classes == {"lettuce": "shallow", "carrot": "medium", "tomato": "deep"}
    depth = growing(LIBRARY, "tomato").root_depth
    assert depth is not None and (depth.low, depth.high) == (0.7, 1.5)


def test_a_rotation_by_roots_lettuce_tomato_carrot_spinach():
    order = [growing(LIBRARY, crop) for crop in ("lettuce", "tomato", "carrot", "spinach")]

    assert [each.root_class for each in order] == ["shallow", "deep", "medium", "shallow"]
    assert [each.part for each in order] == ["leaf", "fruit", "root", "leaf"]
    assert growing(LIBRARY, "beet").part == "root"


def test_feeding_classes_by_the_nitrogen_of_crop_and_residue():
    # New England Vegetable Management Guide: broccoli 165, lettuce 75, cabbage 125 lb/ac.
    classes = {each: growing(LIBRARY, each).feeding for each in ("broccoli", "lettuce", "cabbage")}

    assert classes == {"broccoli": "heavy", "lettuce": "light", "cabbage": "medium"}
    assert growing(LIBRARY, "cowpea").feeding == "giver"


def test_planting_dates_by_frost_class():
    # Colorado State GardenNotes 720: pea before the last frost, bean at it, eggplant after.
    frost = {
        row["crop"]: row["word"]
        for row in LIBRARY.rows("crop_habits")
        if row["property"] == "frost_class" and row.used
    }

    assert frost["pea"] == "hardy"
    assert frost["bean_snap"] in {"tender", "very_tender"}
    assert frost["eggplant"] in {"tender", "very_tender"}


@pytest.mark.parametrize(
    ("crop", "per_ounce"), [("onion", 8500), ("carrot", 23000), ("celery", 72000)]
)
def test_seeds_of_a_gram_are_those_of_an_ounce_of_the_handbook(crop: str, per_ounce: float):
    # Texas Vegetable Growers' Handbook, Table 2.
    seeds = growing(LIBRARY, crop).seeds_per_gram

    assert seeds is not None
    assert seeds.value * 28.3495 == pytest.approx(per_ounce, rel=2e-3)


def test_a_hundred_feet_of_carrot_take_half_an_ounce_and_of_beet_an_ounce():
    carrot, beet = (growing(LIBRARY, each).seed_per_row for each in ("carrot", "beet"))

    assert carrot is not None and beet is not None
    assert carrot.value * 30.48 == pytest.approx(0.5 * 0.0283495, rel=1e-4)
    assert beet.value * 30.48 == pytest.approx(0.0283495, rel=1e-4)


def test_yields_that_charts_disagree_about_stand_side_by_side():
    used = growing(LIBRARY, "beet").row_yield
    others = LIBRARY.other_facts("crop_growing", "beet", "row_yield")

    assert used is not None
    assert used.value == pytest.approx(150 * 0.45359237 / 30.48)  # Kansas State MF315
    assert [row.typical() for row in others] == [10.0]  # lb on 10 ft, University of Maine


def test_a_dozen_and_a_half_heads_of_broccoli_by_the_bunch():
    bunch = growing(LIBRARY, "broccoli").unit_mass["bunch"]

    assert 14 * bunch.value / 0.45359237 == pytest.approx(18.8, abs=0.05)  # USDA SR28, 608 g


@pytest.mark.parametrize("crop", ["tomato", "potato", "eggplant", "rhubarb"])
def test_poisonous_leaves_are_kept_from_all_stock(crop: str):
    assert growing(LIBRARY, crop).residue_unfit == set(STOCK)


def test_vetch_seed_is_kept_from_poultry_and_lettuce_is_not():
    assert {"ducks", "chickens"} <= growing(LIBRARY, "hairy_vetch").residue_unfit
    assert {"ducks", "chickens"} <= growing(LIBRARY, "lettuce").residue_fit


def test_what_was_not_read_is_neither_fit_nor_unfit():
    okra = growing(LIBRARY, "okra")

    assert not okra.residue_fit and not okra.residue_unfit


def test_residues_of_measured_covers():
    # NRCS, Carbon to Nitrogen Ratios in Cropping Systems, Table 1.
    ratios = {
        crop: growing(LIBRARY, crop).residue_c_to_n
        for crop in ("hairy_vetch", "alfalfa", "cereal_rye")
    }

    assert {crop: each.value for crop, each in ratios.items() if each is not None} == {
        "hairy_vetch": 11,
        "alfalfa": 13,
        "cereal_rye": 31.5,
    }


def test_the_gardeners_own_spacing_goes_before_the_tables():
    own = Library((OwnFact("tomato", "spacing_in_row", 30, "in", "crop 1"),))

    spacing = growing(own, "tomato").spacing_in_row
    assert spacing is not None
    assert (spacing.origin, spacing.value) == ("stated", pytest.approx(0.762))


def test_a_crop_of_no_table_is_refused():
    with pytest.raises(LookupError, match="has no moon_melon"):
        growing(LIBRARY, "moon_melon")
