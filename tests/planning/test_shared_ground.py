"""No two crops stand on the same ground at the same time: whole beds, parts, and both together."""

from datetime import date, timedelta
from itertools import combinations

import pytest
from hypothesis import given
from hypothesis import strategies as st
from small_gardens import ALKALINE, garden_text, plan_of

from bedwright.planning.findings import Finding
from bedwright.planning.shared_ground import GroundHeld, still_standing
from bedwright.reports.fill import sentence
from bedwright.units import UnitSystem

PARTED = '[[bed]]\nid = "B"\nlength = "50 ft"\nwidth = "4 ft"\ntexture = "silt loam"\nparts = 2\n'
MAY, JUNE = date(2027, 5, 10), date(2027, 6, 10)


def pin(crop: str, on: date, part: int | None = None) -> str:
    named = "" if part is None else f"part = {part}\n"
    return f'[[pin]]\nbed = "B"\ncrop = "{crop}"\nyear = {on.year}\nset_out = {on}\n{named}'


def held(crop: str, on: date, days: int, part: int | None = None, wait: int = 7) -> GroundHeld:
    last = on + timedelta(days=days)
    return GroundHeld("B", part, crop, on, last, last + timedelta(days=1 + wait))


def words(found: Finding) -> str:
    return sentence(found, UnitSystem.US)


@pytest.mark.parametrize(("whole", "part"), [(MAY, JUNE), (JUNE, MAY)], ids=["first", "second"])
def test_a_whole_bed_and_a_part_of_it_pinned_for_the_same_weeks_are_told(whole: date, part: date):
    more = PARTED + pin("tomato", whole) + pin("lettuce", part, 1)
    plan = plan_of(garden_text(ALKALINE, crop="spinach", more=more))
    said = [
        each
        for planting in plan.plantings
        for each in planting.findings
        if each.code.startswith("first_crop")
    ]

    (told,) = said
    first, second = ("tomato", "lettuce") if whole < part else ("lettuce", "tomato")
    lasts = {each.prescription.crop.key: each.nitrogen.last_harvest for each in plan.plantings}
    last = lasts[first]
    free = last + timedelta(days=1 + 7)  # seven days between: the usual turnover
    assert words(told) == (
        f"Bed B, part 1: the {first} stands on this part until about {last}, and the {second} is "
        f"to start on it on {JUNE}. Start the {second} on {free} or later, end the {first} sooner, "
        "or give one of them another part or bed."
    )
    assert told.weight == "act"


def test_crops_on_two_parts_of_a_bed_are_no_clash():
    assert still_standing([held("tomato", MAY, 140, 1), held("lettuce", JUNE, 60, 2)]) == ((), ())


def test_two_crops_that_overlap_on_one_part_are_told_as_those_of_a_whole_bed():
    said = [still_standing([held("tomato", MAY, 140, part), held("lettuce", JUNE, 60, part)])[1]
            for part in (None, 2)]  # fmt: skip

    assert [words(each) for (each,) in said] == [
        "Bed B: the tomato stands here until about 2027-09-27, and the lettuce is to start on "
        "2027-06-10. Start the lettuce on 2027-10-05 or later, end the tomato sooner, or give one "
        "of them another bed.",
        "Bed B, part 2: the tomato stands on this part until about 2027-09-27, and the lettuce is "
        "to start on it on 2027-06-10. Start the lettuce on 2027-10-05 or later, end the tomato "
        "sooner, or give one of them another part or bed.",
    ]


def test_what_stands_longer_than_the_crop_just_before_is_told_too():
    crops = [
        held("chard", MAY, 150),
        held("radish", JUNE, 25),
        held("lettuce", date(2027, 8, 1), 60),
    ]

    _, radish, lettuce = still_standing(crops)

    assert [each.values["first"] for each in radish] == ["chard"]
    assert [each.values["first"] for each in lettuce] == ["chard"]


def test_what_stays_for_years_leaves_its_ground_to_nobody():
    rhubarb = GroundHeld("B", 2, "rhubarb", MAY, None, None, stays=True)

    _, lettuce, beside = still_standing(
        [rhubarb, held("lettuce", JUNE, 60), held("onion", JUNE, 60, 1)]
    )

    assert [words(each) for each in lettuce] == [
        "Bed B, part 2: the rhubarb stays on this part for years, and the lettuce is to start on "
        "it on 2027-06-10. Give one of them another part or bed."
    ]
    assert [each.values["first"] for each in beside] == ["lettuce"]


@given(
    st.lists(
        st.tuples(st.sampled_from([None, 1, 2]), st.integers(0, 60), st.integers(0, 60)),
        max_size=5,
    ),
    st.integers(0, 14),
)
def test_a_bed_is_told_of_just_where_a_day_and_a_part_of_it_would_bear_two_crops(stands, wait):
    crops = [held(str(at), MAY + timedelta(days=begin), stays, part, wait)
             for at, (part, begin, stays) in enumerate(stands)]  # fmt: skip
    told = {
        tuple(sorted((str(each.values["first"]), str(each.values["crop"]))))
        for found in still_standing(crops)
        for each in found
    }
    # part by part and day by day, by hand; the bed lies ``wait`` days after the last harvest
    bearing: dict[tuple[int, int], set[str]] = {}
    for at, (part, begin, stays) in enumerate(stands):
        for ground in (1, 2) if part is None else (part,):
            for day in range(begin, begin + stays + 1 + wait):
                bearing.setdefault((ground, day), set()).add(str(at))
    twice = {pair for each in bearing.values() for pair in combinations(sorted(each), 2)}

    assert told == twice
