"""The timing tables hold together and give the engine what it needs."""

from collections import Counter
from typing import get_args

import numpy as np
import pytest

from bedwright.crops.fruit_set import Driver
from bedwright.crops.growing import STOCK
from bedwright.crops.timing_tables import ANY_CROP, NotTimed, TimingTables
from bedwright.reference import Library
from bedwright.units import to_si

LIBRARY = Library()
TABLES = ("crop_timing", "crop_habits", "emergence", "fruit_set_responses", "protection")
TIMING = TimingTables.of(*(LIBRARY.rows(table) for table in TABLES))
CROPS = TIMING.crops()
KINDS = {row["crop"]: row["kind"] for row in LIBRARY.rows("crops")}
KEYS = set(KINDS)
FACT = {
    "crop_timing": "crop property condition",
    "crop_habits": "crop property",
    "emergence": "crop temperature property",
    "fruit_set_responses": "response parameter",
    "protection": "protection property condition",
}
WORDS = {
    "start": {"sown", "set_out", "pieces"},
    "cover_off": {"flower", "outgrown"},
    "picked": {"once", "many"},
    "frost_class": {"hardy", "semi_hardy", "tender", "very_tender"},
    "feeding": {"heavy", "medium", "light", "giver"},
    "root_class": {"shallow", "medium", "deep"},
    "part": {"fruit", "root", "leaf", "stem", "flower", "seed", "bulb", "tuber", "cover"},
    "light": {"full_sun", "part_shade_ok", "shade_in_heat"},
    "heat_class": {"cool", "warm", "hot"},
    "trellis": {"none", "stake", "trellis", "optional"},
    "life": {"annual", "overwintered", "perennial"},
    "cover_season": {"summer", "winter", "both"},
    "cover_against": {row["problem"] for row in LIBRARY.rows("soil_borne")},
    "unit_of_sale": {
        "lb", "bunch", "head", "each", "ear", "bulb", "pint", "stem", "none",
    },
    "pollination": {"wind"},
    "residue_fit": set(STOCK),
    "residue_unfit": set(STOCK),
}  # fmt: skip


@pytest.mark.parametrize("table", TABLES)
def test_tables_speak_of_known_crops(table: str):
    column = "applies_to" if table == "fruit_set_responses" else "crop"
    if table != "protection":
        named = {word for row in LIBRARY.rows(table) for word in row[column].split()}
        assert named - KEYS - {ANY_CROP} == set()


@pytest.mark.parametrize("table", [each for each in TABLES if each != "fruit_set_responses"])
def test_of_each_fact_one_row_is_in_use(table: str):
    facts, used = Counter(), Counter()
    for row in LIBRARY.rows(table):
        key = tuple(row[column] for column in FACT[table].split())
        if row["property"].startswith("residue_"):  # each kind of stock is a fact of its own
            key = (*key, row["word"])
        facts[key] += 1
        used[key] += row.used

    assert {key for key in facts if used[key] != 1} == set()


def test_a_choice_among_sources_is_given_a_reason():
    rows = LIBRARY.rows("crop_timing")
    facts = Counter((row["crop"], row["property"], row["condition"]) for row in rows)
    silent = [
        row.line
        for row in rows
        if row.used
        and facts[row["crop"], row["property"], row["condition"]] > 1
        and "used:" not in row["note"]
        and row["property"] not in {"days_to_harvest", "pick_interval"}
    ]

    assert silent == []


def test_more_than_thirty_vegetables_can_be_timed_cool_and_warm_ones():
    assert len(CROPS) >= 50
    assert sum(KINDS[crop] == "fruiting" for crop in CROPS) >= 12
    assert sum(KINDS[crop] in {"leafy", "root", "brassica", "bulb"} for crop in CROPS) >= 20


def test_every_cover_crop_can_be_timed_from_its_sowing():
    covers = {crop for crop, kind in KINDS.items() if kind == "cover"}

    assert len(covers) >= 17
    assert covers <= set(CROPS)
    for crop in covers:
        assert TIMING.usual_start(crop) == "sown"
        assert not np.isnan(TIMING.crop(crop).soil_c)
        assert not np.isnan(TIMING.crop(crop).kill_c[1])
        assert TIMING.words[(crop, "cover_season")]["word"] in WORDS["cover_season"]


def test_buckwheat_and_sudangrass_stand_as_long_as_their_guide_says():
    # Cornell, Cover Crop Guide for NY Growers: 35 to 40 and 60 to 70 days.
    for crop, low, high in (("buckwheat", 35, 40), ("sorghum_sudangrass", 60, 70)):
        ends = [TIMING.days(crop, "days_to_harvest", end, "sown") for end in ("low", "high")]
        assert ends == [low, high]


def test_words_are_those_of_the_vocabulary():
    for row in LIBRARY.rows("crop_habits"):
        allowed = WORDS.get(row["property"], KEYS)
        assert row["word"] in allowed, row.line


def test_set_responses_have_drivers_of_the_vocabulary_and_cardinal_temperatures_in_order():
    assert {row["driver"] for row in LIBRARY.rows("fruit_set_responses")} <= set(get_args(Driver))
    for crop in CROPS:
        TIMING.responses(crop)  # refuses temperatures out of order


@pytest.mark.parametrize("crop", CROPS)
def test_a_crop_of_the_tables_is_one_that_can_grow(crop: str):
    made = TIMING.crop(crop)

    assert -2 <= made.base_c < made.upper_c <= 40
    assert 200 <= made.heat_to_harvest <= 2600  # degC d
    assert np.isnan(made.heat_to_flower) or 0 < made.heat_to_flower < made.heat_to_harvest
    assert np.isnan(made.heat_to_flower) == (not TIMING.responses(crop))
    kill = np.array(made.kill_c)
    hardiest = -30 if KINDS[crop] == "cover" else -12
    assert np.isnan(kill).all() or (hardiest <= kill[0] <= kill[1] <= kill[2] <= 3)
    assert np.isnan(made.damage_c) or made.damage_c >= kill[0]
    assert np.isnan(made.soil_c) or 0 < made.soil_c <= 25
    assert made.span_days >= 1
    both = {TIMING.crop(crop, start=start).heat_to_harvest for start in ("sown", "set_out")}
    assert all(heat > 0 for heat in both)


def test_killing_minima_are_those_of_the_lists_not_of_crop_models():
    for crop in ("tomato", "pepper_sweet", "bean_snap"):
        assert TIMING.crop(crop).kill_c == pytest.approx((-5 / 9, 0, 5 / 9), abs=1e-9)
        models = [
            row
            for row in LIBRARY.rows("crop_timing")
            if row["crop"] == crop
            and row["property"] == "kill_temperature"
            and row.source.source_id == "dssat_genotype"
        ]
        assert [row.used for row in models] == [False]


def test_a_cultivars_own_days_go_before_the_tables():
    early, late = (TIMING.crop("tomato", days_to_harvest=days) for days in (60, 90))

    assert late.heat_to_harvest == pytest.approx(1.5 * early.heat_to_harvest)
    assert early.heat_to_flower < late.heat_to_flower
    corn = TIMING.crop("sweet_corn")
    assert corn.heat_to_harvest == pytest.approx(1539 / 1.8)
    assert TIMING.crop("sweet_corn", days_to_harvest=70).heat_to_harvest < corn.heat_to_harvest


def test_transplanting_makes_a_crop_earlier_by_its_usual_gain():
    gain = TIMING.days(ANY_CROP, "transplant_gain")

    assert gain == 17.5
    sown, set_out = (TIMING.days_to_harvest("muskmelon", each) for each in ("sown", "set_out"))
    assert sown - set_out == gain
    assert TIMING.days_to_harvest("cabbage", "sown") == 85 + gain


def test_the_low_and_high_end_of_the_days_make_an_earlier_and_a_later_crop():
    low, usual, high = (
        TIMING.crop("carrot", end=end).heat_to_harvest for end in ("low", "typical", "high")
    )

    assert low < usual < high


def test_frost_finds_potatoes_when_they_are_up_and_transplants_at_once():
    assert TIMING.crop("potato").sown
    assert TIMING.crop("potato").emergence is not None
    assert not TIMING.crop("tomato").sown


def test_of_a_range_of_protection_the_low_end_is_taken_unless_asked():
    low, high = (TIMING.cover("row_cover_heavy", "tomato", end) for end in ("low", "high"))

    assert low.frost_k == pytest.approx(to_si(6, "degF", "temperature_difference"))
    assert high.frost_k == pytest.approx(to_si(10, "degF", "temperature_difference"))
    assert low.off_at_flower
    assert not TIMING.cover("low_tunnel", "lettuce").off_at_flower
    assert TIMING.cover("low_tunnel", "lettuce").longest_days == 56
    assert TIMING.cover("none", "tomato").longest_days == 0


def test_what_is_not_in_the_tables_is_told_by_name():
    with pytest.raises(NotTimed, match=r"asparagus.*base_temperature.*days_to_harvest"):
        TIMING.crop("asparagus")
    with pytest.raises(NotTimed, match="'tent' is no protection of the table; there are: low_tun"):
        TIMING.cover("tent", "tomato")
    with pytest.raises(NotTimed, match="does not say how"):
        TIMING.usual_start("rhubarb")
    assert np.isnan(TIMING.days("tomato", "no_such_thing"))
    assert TIMING.rules().heat_limit_c == pytest.approx(35)
