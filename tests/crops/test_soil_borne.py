"""Soil-borne problems: hosts of several families, silent hosts, cleaning crops and intervals."""

from collections import Counter

import pytest

from bedwright.crops.soil_borne import SoilBorne, soil_borne
from bedwright.reference import Library

LIBRARY = Library()
PROBLEMS = {each.key: each for each in soil_borne(LIBRARY)}
CROPS = {row["crop"]: row["family"] for row in LIBRARY.rows("crops")}
FAMILIES = set(CROPS.values())


def problem(key: str) -> SoilBorne:
    return PROBLEMS[key]


def years(key: str, crop: str) -> tuple[float, float]:
    figure = problem(key).years_away(crop)
    assert figure is not None
    return figure.least, figure.most


def test_there_are_fifty_problems_and_each_has_hosts_and_an_interval():
    assert len(PROBLEMS) >= 50
    for key, each in PROBLEMS.items():
        assert each.hosts, key
        assert each.kind in {"disease", "pest", "nematode"}
        assert not each.hosts & (each.symptomless | each.cleaning | each.named_safe), key
        for crop in each.hosts:
            assert each.years_away(crop) is not None, (key, crop)


def test_hosts_are_crops_and_families_that_are_known():
    for row in LIBRARY.rows("soil_borne_hosts"):
        assert row["host_kind"] in {"family", "crop"}
        assert row["host"] in (FAMILIES if row["host_kind"] == "family" else CROPS), row.line
        assert row["relation"] in {"host", "symptomless", "cleans", "safe"}, row.line
    for row in LIBRARY.rows("soil_borne_years"):
        assert row["host"] == "" or row["host"] in CROPS, row.line
        assert row["ban"] in {"", "yes"}
        assert row["unit"] == "yr"


def test_of_each_interval_one_row_is_in_use_and_says_why_where_there_are_more():
    rows = LIBRARY.rows("soil_borne_years")
    all_rows = Counter((row["problem"], row["host"]) for row in rows)
    used = Counter((row["problem"], row["host"]) for row in rows if row.used)

    assert {key for key in all_rows if used[key] != 1} == set()
    silent = [
        row.line
        for row in rows
        if row.used and all_rows[row["problem"], row["host"]] > 1 and "used:" not in row["note"]
    ]
    assert silent == []


def test_white_rot_bans_alliums_for_good():
    white_rot = problem("white_rot")

    assert white_rot.banned("garlic") and white_rot.banned("chives")
    assert not white_rot.banned("lettuce")
    figure = white_rot.years_away("garlic")
    assert figure is not None
    assert figure.value > 2034 - 2015  # found in 2015: 19 years on it still lasts


def test_asparagus_is_not_planted_again_where_it_wilted():
    assert problem("asparagus_fusarium").banned("asparagus")


def test_clubroot_keeps_all_brassicas_away_for_seven_years_covers_too():
    clubroot = problem("clubroot")

    assert {crop for crop, family in CROPS.items() if family == "Brassicaceae"} == clubroot.hosts
    assert {"arugula", "white_mustard", "radish", "mizuna"} <= clubroot.hosts
    assert years("clubroot", "cabbage") == (7, 7)
    assert clubroot.years_away("lettuce") is None
    assert not clubroot.banned("cabbage")


def test_chard_feeds_the_wilt_of_spinach_and_shows_nothing():
    wilt = problem("fusarium_wilt_spinach")

    assert wilt.hosts == {"spinach"}
    assert wilt.symptomless == {"beet", "chard"}
    assert wilt.feeds("chard") and wilt.years_away("chard") is not None
    assert years("fusarium_wilt_spinach", "spinach") == (4, 6)


@pytest.mark.parametrize("key", ["fusarium_basal_rot", "pink_root"])
def test_oats_before_onions_feed_their_rots(key: str):
    assert "oat" in problem(key).symptomless
    assert "onion" in problem(key).hosts


def test_the_wilt_of_lettuce_stays_with_lettuce():
    assert problem("fusarium_wilt_lettuce").hosts == {"lettuce"}


def test_the_wilt_of_watermelon_lives_on_no_other_cucurbit():
    wilt = problem("fusarium_wilt_watermelon")

    assert wilt.hosts == {"watermelon"}
    assert "muskmelon" in wilt.named_safe


def test_verticillium_crosses_families_and_grasses_clean_the_soil():
    wilt = problem("verticillium_wilt")

    families = {CROPS[crop] for crop in wilt.hosts}
    assert {"Solanaceae", "Cucurbitaceae", "Rosaceae", "Malvaceae", "Amaranthaceae"} <= families
    assert "sweet_corn" in wilt.cleaning
    assert "broccoli" not in wilt.hosts


def test_phytophthora_blight_crosses_families_and_leaves_potato_and_cabbage_alone():
    blight = problem("phytophthora_blight")

    assert {"pepper_sweet", "squash_winter", "bean_lima", "tomato"} <= blight.hosts
    assert "potato" not in blight.hosts
    assert "cabbage" in blight.named_safe
    least, _ = years("phytophthora_blight", "pepper_sweet")
    assert least >= 4  # Midwest Vegetable Production Guide 2022, p. 49: more than four


def test_cotton_root_rot_takes_broadleaf_crops_that_stand_through_the_heat_and_no_grass_or_onion():
    rot = problem("cotton_root_rot")
    monocots = {"Poaceae", "Amaryllidaceae", "Asparagaceae"}

    assert {crop for crop, family in CROPS.items() if family in monocots} <= rot.named_safe
    short = {crop for crop in rot.named_safe if CROPS[crop] not in monocots}
    assert rot.hosts == set(CROPS) - rot.named_safe
    assert {"lettuce", "radish"} <= short
    assert not {"tomato", "okra", "alfalfa", "artichoke"} & short


def test_grains_feed_the_warm_root_knot_and_clean_the_northern_one():
    warm, northern = problem("root_knot_warm"), problem("root_knot_northern")

    assert {"sweet_corn", "barley"} <= warm.symptomless
    assert {"sweet_corn", "barley"} <= northern.cleaning
    assert "french_marigold" in warm.cleaning


def test_a_row_on_a_crop_goes_before_that_on_its_family():
    assert "french_marigold" not in problem("root_knot_warm").hosts
    drop = problem("sclerotinia")
    assert "broccoli" in drop.cleaning and "cabbage" in drop.hosts


def test_intervals_of_the_midwest_guide():
    # Midwest Vegetable Production Guide 2022, p. 49 (years).
    assert years("fusarium_basal_rot", "onion") == (4, 4)
    assert years("gummy_stem_blight", "cucumber") == (3, 3)
    assert years("bacterial_fruit_blotch", "muskmelon") == (2, 2)
    assert years("blackleg", "cabbage") == (3, 5)
    assert years("black_rot", "kale") == (2, 3)
    assert years("fusarium_wilt_watermelon", "watermelon") == (5, 7)
    assert years("plectosporium_blight", "pumpkin") == (3, 4)


def test_intervals_that_sources_disagree_about_stand_side_by_side():
    rows = [row for row in LIBRARY.rows("soil_borne_years") if row["problem"] == "clubroot"]

    assert len(rows) >= 5
    assert {row.source.source_id for row in rows} >= {"uconn_rotation", "uc_clubroot"}
