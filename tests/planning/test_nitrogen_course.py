"""A bed's nitrogen by week against its crop: what is counted, when it is short, what to do."""

import re
from dataclasses import replace
from datetime import date, timedelta
from pathlib import Path

import numpy as np
import pytest

from bedwright.garden import Document
from bedwright.garden.model_climate import Climate, Watering
from bedwright.planning import nitrogen_sources as ns
from bedwright.planning.nitrogen_sources import CountedTwice, counted_once, nitrogen_sources
from bedwright.planning.own import library_of
from bedwright.planning.prescription import Prescription, prescribe
from bedwright.planning.soil_warmth import soil_warmth
from bedwright.planning.supply import NitrogenCourse, nitrogen_course
from bedwright.reference import Library
from bedwright.reports.words_release import FINDINGS

WARM = Climate(soil_temperature=[f"{t} C" for t in (2, 3, 7, 12, 17, 21, 25, 24, 19, 13, 7, 3)])
COLD = Climate(soil_temperature=[f"{t} C" for t in (1, 1, 3, 6, 9, 12, 14, 14, 11, 8, 4, 2)])
ALL_OVER = Watering(method="overhead")
BEDS = ["W2", "W5", "W11", "E5", "R5", "W9"]


@pytest.fixture(scope="module")
def own(kestrel_bend: Document, library: Library) -> Library:
    return library_of(kestrel_bend, library)


@pytest.fixture(scope="module")
def plans(kestrel_bend: Document, own: Library, as_of: date) -> dict[str, Prescription]:
    beds = {bed.id: bed for bed in kestrel_bend.garden.bed}
    return {
        bed: prescribe(kestrel_bend, want, at, beds[bed], own, as_of)
        for at, want in enumerate(kestrel_bend.garden.want)
        for bed in want.beds
        if bed in BEDS
    }


def codes(course: NitrogenCourse) -> set[str]:
    return {each.code for each in course.findings}


# Each source of nitrogen counts once.


@pytest.mark.parametrize("bed", BEDS)
@pytest.mark.parametrize("soil", ["credit", "pool"])
def test_each_source_stands_once_and_their_sum_is_what_the_season_gets(
    plans: dict[str, Prescription], own: Library, bed: str, soil: ns.Counted
):
    sources = nitrogen_sources(plans[bed], own, soil)
    course = nitrogen_course(plans[bed], WARM, ALL_OVER, own, soil=soil)
    assert course.season is not None
    known = [each for each in sources if each.material is None or each.pools is not None]
    entered = course.season.spread.sum(axis=1) + course.season.income.sum(axis=1)

    assert len({each.origin for each in sources}) == len(sources)
    assert entered[1] == pytest.approx(sum(each.total.value for each in known), abs=1e-12)


@pytest.mark.parametrize("bed", BEDS)
def test_the_soil_is_a_credit_or_a_pool_and_never_both(
    plans: dict[str, Prescription], own: Library, bed: str
):
    as_credit = nitrogen_sources(plans[bed], own, "credit")
    as_pool = nitrogen_sources(plans[bed], own, "pool")

    assert {each.origin for each in as_credit} == {each.origin for each in as_pool}
    for one, other in zip(as_credit, as_pool, strict=True):
        if one.origin != "organic_matter":
            assert one == other
        else:
            assert (one.counted, other.counted) == ("credit", "pool")


def test_a_source_that_stands_twice_is_refused_by_name(
    plans: dict[str, Prescription], own: Library
):
    sources = nitrogen_sources(plans["W2"], own)
    matter = next(each for each in sources if each.origin == "organic_matter")

    with pytest.raises(CountedTwice, match="counted more than once: organic_matter"):
        counted_once([*sources, replace(matter, counted="pool")])


@pytest.mark.parametrize("bed", BEDS)
@pytest.mark.parametrize("watering", [ALL_OVER, Watering(method="drip"),
                                      Watering(method="drip", weekly_drainage="4 mm")])  # fmt: skip
def test_the_balance_closes_on_every_bed(
    plans: dict[str, Prescription], own: Library, bed: str, watering: Watering
):
    course = nitrogen_course(plans[bed], WARM, watering, own)

    assert course.season is not None
    assert np.abs(course.season.residual).max() < 1e-9


# The crop's side.


@pytest.mark.parametrize("bed", BEDS)
def test_the_weeks_reach_from_spreading_to_the_last_harvest(
    plans: dict[str, Prescription], own: Library, bed: str
):
    course = nitrogen_course(plans[bed], WARM, ALL_OVER, own)

    assert course.starts[0] == course.spread == course.set_out - timedelta(days=14)
    assert course.starts[-1] < course.last_harvest <= course.starts[-1] + timedelta(days=7)
    assert course.uptake.sum() == pytest.approx(plans[bed].nitrogen.crop_need.value)
    assert course.uptake[:2].sum() == 0


@pytest.mark.parametrize("bed", BEDS)
def test_a_poorer_supply_is_never_the_better_one(
    plans: dict[str, Prescription], own: Library, bed: str
):
    course = nitrogen_course(plans[bed], WARM, Watering(method="drip"), own)
    low, typical, high = course.short.sum(axis=1)

    assert low >= typical >= high


def test_what_the_sources_add_is_the_whole_supply(plans: dict[str, Prescription], own: Library):
    course = nitrogen_course(plans["W2"], WARM, ALL_OVER, own)
    assert course.season is not None
    net = sum(weekly for _, weekly in course.by_source)
    moved = course.season.returned[1] - course.season.bound[1]

    assert course.available[1] == pytest.approx(net + moved, abs=1e-12)


def test_a_bed_that_runs_short_says_in_which_week_and_what_would_make_up_for_it(
    plans: dict[str, Prescription], own: Library
):
    course = nitrogen_course(plans["E5"], WARM, ALL_OVER, own)
    short = next(each for each in course.shortages if each.case == "typical")
    week = course.starts.index(short.on)

    assert {"nitrogen_runs_short", "side_dress_more"} <= codes(course)
    assert short.week == week - 1 and course.short[1, week] > 0
    assert course.short[1, :week].max() < 1e-9
    assert short.total == pytest.approx(course.short[1].sum())


@pytest.mark.parametrize("bed", ["W11", "E5"])
def test_the_extra_dressing_makes_up_for_most_of_what_is_missing(
    plans: dict[str, Prescription], own: Library, bed: str
):
    plan = plans[bed]
    before = nitrogen_course(plan, WARM, ALL_OVER, own)
    extra = before.extra
    assert extra is not None and before.set_out <= extra.on < before.last_harvest
    key, mass = extra.materials[0]
    lines = tuple(
        replace(line, later=replace(line.later, value=line.later.value + mass))
        if line.material.key == key
        else line
        for line in plan.lines
    )
    after = nitrogen_course(replace(plan, lines=lines), WARM, ALL_OVER, own)

    assert after.short[1].sum() < 0.4 * before.short[1].sum()


def test_the_peppers_keep_up_unless_the_supply_is_poor(
    plans: dict[str, Prescription], own: Library
):
    course = nitrogen_course(plans["W2"], WARM, Watering(method="drip"), own)

    assert [each.case for each in course.shortages] == ["low"]
    assert "nitrogen_may_run_short" in codes(course)


def test_a_full_raised_bed_leaves_nitrogen_behind(plans: dict[str, Prescription], own: Library):
    course = nitrogen_course(plans["R5"], WARM, ALL_OVER, own)

    assert {"nitrogen_keeps_up", "nitrogen_left_in_soil"} <= codes(course)


def test_cold_soil_frees_less_and_later(plans: dict[str, Prescription], own: Library):
    warm = nitrogen_course(plans["W11"], WARM, ALL_OVER, own)
    cold = nitrogen_course(plans["W11"], COLD, ALL_OVER, own)

    assert cold.short[1].sum() > warm.short[1].sum()


def test_drip_leaves_some_of_what_was_spread_asleep(plans: dict[str, Prescription], own: Library):
    wet = nitrogen_course(plans["W11"], WARM, ALL_OVER, own)
    drip = nitrogen_course(plans["W11"], WARM, Watering(method="drip", wetted_share="50 %"), own)
    assert wet.season is not None and drip.season is not None

    assert drip.season.pools_left.sum() > wet.season.pools_left.sum()
    assert "wetted_share_assumed" not in codes(drip)
    assert "wetted_share_assumed" in codes(
        nitrogen_course(plans["W11"], WARM, Watering(method="drip"), own)
    )


def test_stated_drainage_carries_nitrate_off(plans: dict[str, Prescription], own: Library):
    drained = Watering(method="overhead", weekly_drainage="5 mm")
    course = nitrogen_course(plans["W11"], WARM, drained, own)
    assert course.season is not None

    assert course.season.leached[1].sum() > 0
    assert "leaching_not_counted" not in codes(course)


# Side-dressing and rest.


@pytest.mark.parametrize("bed", ["W2", "W5", "W11", "E5"])
def test_side_dressings_hold_what_the_prescription_keeps_for_later(
    plans: dict[str, Prescription], own: Library, bed: str
):
    course = nitrogen_course(plans[bed], WARM, ALL_OVER, own)
    given: dict[str, float] = {}
    for each in course.dressings:
        assert course.set_out <= each.on < course.last_harvest
        for key, mass in each.materials:
            given[key] = given.get(key, 0.0) + mass
    later = {line.material.key: line.later.value for line in plans[bed].lines if line.later.value}

    assert given == pytest.approx(later)


def test_a_side_dressing_comes_before_the_week_that_it_is_for(
    plans: dict[str, Prescription], own: Library
):
    course = nitrogen_course(plans["W2"], WARM, Watering(method="drip"), own)
    low = next(each for each in course.shortages if each.case == "low")

    assert course.dressings[0].on < low.on


def test_meals_want_a_longer_rest_in_cold_soil_and_the_habit_is_compared(
    plans: dict[str, Prescription], own: Library
):
    warm = nitrogen_course(plans["W5"], WARM, ALL_OVER, own)
    cold = nitrogen_course(plans["W5"], COLD, ALL_OVER, own)
    assert warm.rest is not None and cold.rest is not None

    assert 9 <= warm.rest.needed < cold.rest.needed
    assert warm.rest.habit.value == 2
    assert warm.rest.habit.sources[0].source_id == "common_practice"
    assert (warm.rest.verdict, "rest_less" in codes(warm)) == ("less", True)


def test_meals_left_open_on_warm_alkaline_soil_lose_ammonia(
    plans: dict[str, Prescription], own: Library
):
    assert "ammonia_if_left_open" in codes(nitrogen_course(plans["W11"], WARM, ALL_OVER, own))


def test_a_rest_of_a_season_is_refused(plans: dict[str, Prescription], own: Library):
    with pytest.raises(ValueError, match="a rest of 20 weeks"):
        nitrogen_course(plans["W2"], WARM, ALL_OVER, own, rest_weeks=20)


# What is not stated is said, and not made up.


def test_without_a_temperature_nothing_is_followed_by_week(
    plans: dict[str, Prescription], own: Library
):
    course = nitrogen_course(plans["W2"], None, None, own)

    assert codes(course) == {"soil_temperature_not_stated"}
    assert course.season is None and course.starts == () and course.available.shape == (3, 0)


def test_air_stands_in_for_soil_with_a_stated_assumption(
    plans: dict[str, Prescription], own: Library
):
    air = Climate(air_temperature=WARM.soil_temperature)
    course = nitrogen_course(plans["W2"], air, None, own)
    soil = nitrogen_course(plans["W2"], WARM, None, own)

    assert course.temperature == pytest.approx(soil.temperature + 1.28)
    assert {"soil_temperature_from_air", "watering_not_stated"} <= codes(course)


def test_months_run_from_january_whatever_the_hemisphere(library: Library):
    """The same garden half a year on, its months turned by six, is as warm week by week."""
    months = WARM.soil_temperature or []
    south = Climate(soil_temperature=months[6:] + months[:6])
    spring = tuple(date(2027, 4, 15) + timedelta(days=7 * week) for week in range(20))
    october = tuple(date(2027, 10, 15) + timedelta(days=7 * week) for week in range(20))

    assert soil_warmth(south, october, library).kelvin == pytest.approx(
        soil_warmth(WARM, spring, library).kelvin, abs=0.5
    )


def test_the_middle_of_a_month_has_the_months_mean(library: Library):
    warmth = soil_warmth(WARM, (date(2027, 7, 13), date(2027, 1, 13)), library)

    assert warmth.kelvin - 273.15 == pytest.approx([25, 2], abs=0.1)


def test_ennery_flat_is_followed_through_its_own_summer(
    ennery_flat: Document, library: Library, as_of: date
):
    own = library_of(ennery_flat, library)
    want = next(each for each in ennery_flat.garden.want if each.set_out)
    at = ennery_flat.garden.want.index(want)
    bed = next(each for each in ennery_flat.garden.bed if each.id == want.beds[0])
    plan = prescribe(ennery_flat, want, at, bed, own, as_of)
    months = WARM.soil_temperature or []
    south = Climate(soil_temperature=months[6:] + months[:6])
    course = nitrogen_course(plan, south, ALL_OVER, own)

    assert course.season is not None
    assert np.abs(course.season.residual).max() < 1e-9


# The words.


def test_every_code_has_a_sentence_and_every_sentence_a_code():
    folder = Path(ns.__file__).parent
    text = "".join((folder / name).read_text("utf-8") for name in ("supply.py", "soil_warmth.py"))
    said = set(re.findall(r'finding\(\s*"(\w+)"', text))
    assert "rest_none" in text
    said |= {f"rest_{verdict}" for verdict in ("agrees", "less", "more", "none")}

    assert said == set(FINDINGS)


@pytest.mark.parametrize("bed", BEDS)
def test_every_sentence_finds_its_values(plans: dict[str, Prescription], own: Library, bed: str):
    for climate in (WARM, COLD, None):
        course = nitrogen_course(plans[bed], climate, Watering(method="drip"), own)
        for each in course.findings:
            wanted = set(re.findall(r"\{(\w+)\}", FINDINGS[each.code]))
            assert wanted <= set(each.values), each.code


# The document's own fields.


@pytest.mark.parametrize(
    ("field", "value"),
    [("soil_temperature", ["5 C"] * 11), ("soil_temperature", ["5"] * 12),
     ("soil_temperature", ["500 C"] * 12), ("air_temperature", [5.0] * 12)],
)  # fmt: skip
def test_a_year_has_twelve_months_with_units(field: str, value: list[object]):
    with pytest.raises(ValueError):
        Climate.model_validate({field: value})


def test_a_climate_without_any_temperature_is_refused():
    with pytest.raises(ValueError, match="no temperature is given"):
        Climate.model_validate({})


@pytest.mark.parametrize(
    "value",
    [
        {"method": "overhead", "wetted_share": "50 %"},
        {"method": "drip", "wetted_share": "0 %"},
        {"method": "drip", "wetted_share": "120 %"},
        {"method": "flood"},
    ],
)
def test_watering_that_makes_no_sense_is_refused(value: dict[str, str]):
    with pytest.raises(ValueError):
        Watering.model_validate(value)


# The tables.


def test_the_tables_of_release_speak_of_known_materials_and_crops(library: Library):
    kinds = {row["kind"] for row in library.rows("materials")}
    materials = {row["material"] for row in library.rows("materials")} | kinds
    crops = {row["crop"] for row in library.rows("crops")}
    crop_words = crops | {row["kind"] for row in library.rows("crops")}

    def named(table: str) -> set[str]:
        return {word for row in library.rows(table) for word in row["applies_to"].split()}

    assert named("release_pools") <= materials
    assert named("ammonia_loss") <= materials
    assert named("nitrogen_uptake") <= crop_words
    assert {row["crop"] for row in library.rows("season_lengths")} <= crops


@pytest.mark.parametrize(
    ("table", "fact"),
    [("release_pools", "release_class parameter"),
     ("ammonia_loss", "loss_class placement condition"),
     ("nitrogen_uptake", "uptake_class season_share"), ("season_lengths", "crop")],
)  # fmt: skip
def test_one_row_of_each_fact_is_in_use(library: Library, table: str, fact: str):
    rows = library.rows(table)
    used = [tuple(row[column] for column in fact.split()) for row in rows if row.used]
    every = {tuple(row[column] for column in fact.split()) for row in rows}

    assert len(used) == len(set(used))
    assert set(used) == every


def test_every_meal_manure_and_compost_has_its_pools(library: Library):
    from bedwright.feeding.materials import material
    from bedwright.feeding.pools import material_pools

    without = [
        row["material"]
        for row in library.rows("materials")
        if row["kind"] in ("meal", "manure", "compost", "residue")
        and material_pools(library, material(library, row["material"])) is None
    ]

    assert without == []
