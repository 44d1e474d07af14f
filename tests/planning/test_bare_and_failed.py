"""A garden of which almost nothing is told, and one whose crop fails in June."""

from datetime import date, timedelta
from pathlib import Path

import pytest
from test_second_crops import WEATHER

from bedwright.garden import GardenError
from bedwright.garden.load import load_text
from bedwright.planning.timing import garden_dates
from bedwright.planning.work.model import Act
from bedwright.reference import Library
from bedwright.reports.dates_text import dates_page
from bedwright.reports.plan_json import plan_dict
from bedwright.reports.text import plan_text
from bedwright.reports.work_text import week_page
from bedwright.season import SeasonPlan, season_plan
from bedwright.units import UnitSystem

LIBRARY = Library()
BARE = """
format = 2
[garden]
name = "Bare"
latitude = "38.5 deg"
longitude = "-112 deg"
[[bed]]
id = "A"
length = "20 ft"
width = "4 ft"
[[bed]]
id = "B"
length = "20 ft"
width = "4 ft"
"""
WISH = '[[wish]]\ncrop = "tomato"\nbeds = 1\n'
GROWN = """
format = 2
[garden]
name = "Failed"
[[bed]]
id = "A"
length = "20 ft"
width = "4 ft"
texture = "silt loam"
[[bed]]
id = "B"
length = "20 ft"
width = "4 ft"
texture = "silt loam"
[[stock]]
material = "blood meal"
package = "5 lb"
[[want]]
crop = "tomato"
beds = ["A"]
set_out = 2027-05-10
[[want]]
crop = "onion"
beds = ["B"]
set_out = 2027-04-05
[work]
hours_per_week = 12
"""
LOST = """
[[history]]
bed = "A"
year = 2027
crop = "tomato"
failed = 2027-06-12
applied = [{ material = "blood meal", amount = "2 lb", on = 2027-04-26 }]
note = "Hail."
"""
AFTER = '[[want]]\ncrop = "bush bean"\nbeds = ["A"]\nset_out = 2027-06-25\n'
JUNE = date(2027, 6, 14)
ACTS = (
    Act("spread", date(2027, 4, 26), "A"),
    Act("set_out", date(2027, 5, 11), "A", "tomato"),
    Act("set_out", date(2027, 4, 6), "B", "onion"),
)


def plan_of(text: str, as_of: date, acts: tuple[Act, ...] = ()) -> SeasonPlan:
    document = load_text(text, "garden.toml", Path("/nonexistent"), LIBRARY, as_of)
    return season_plan(document, LIBRARY, as_of, acts=acts)


# Almost nothing is told ---------------------------------------------------------------------------


@pytest.fixture(scope="module")
def bare() -> SeasonPlan:
    return plan_of(BARE + WISH, date(2027, 3, 1))


def test_a_wish_alone_gets_a_bed(bare: SeasonPlan):
    assert bare.years is not None
    (placed,) = [x for x in bare.years.placements if x.crop.key == "tomato" and x.year == 2027]
    (planned,) = bare.beds

    assert planned.prescription.bed.id == placed.unit.bed
    assert planned.prescription.crop.key == "tomato"
    assert [each.code for each in bare.findings] == ["wants_from_wishes"]


def test_what_is_taken_for_granted_is_said(bare: SeasonPlan):
    text = " ".join(plan_text(bare).split())

    for words in (
        "No crop is settled for any bed",
        "loam is taken",
        "stands in, and knows nothing of your frost",
        "No stock is listed",
        "The pH was not measured",
    ):
        assert words in text, words


def test_the_first_week_says_what_to_do_and_what_to_find_out(bare: SeasonPlan):
    week = " ".join(week_page(bare, bare.as_of).split())

    assert "[ ] Push a fork in, B (tomato)" in week
    assert "State set_out in its [[want]]" in week


def test_a_bare_want_tells_when_and_what_to_spread_and_what_it_assumes():
    plan = plan_of(BARE + '[[want]]\ncrop = "tomato"\nbeds = ["A"]\n', date(2027, 3, 1))
    text = " ".join(plan_text(plan).split())

    assert "Bed A: tomato" in text
    assert {each.code for each in plan.beds[0].findings} & {"set_out_not_stated", "texture_assumed"}
    assert plan_dict(plan)["beds"]


# A crop fails in June ----------------------------------------------------------------------------


@pytest.fixture(scope="module")
def lost() -> SeasonPlan:
    return plan_of(GROWN + LOST, JUNE, ACTS)


def test_nothing_more_is_planned_for_what_failed(lost: SeasonPlan):
    assert [each.prescription.bed.id for each in lost.plantings] == ["B"]
    assert lost.work is not None
    assert lost.harvest is not None
    assert {each.kind for each in lost.work.tasks if each.bed == "A"} == {"clear"}
    assert lost.harvest.of("tomato") is None


def test_the_failed_bed_is_to_be_cleared_now_and_is_free(lost: SeasonPlan):
    text = " ".join(plan_text(lost).split())
    week = week_page(lost, JUNE)

    assert lost.unplanned == ("A",)
    assert "Bed A: the tomato failed (2027-06-12)" in text
    assert "[ ] Clear, A (tomato)" in week
    assert "the tomato failed" in " ".join(week.split())
    assert "Let it rest" not in week  # over with its days


def test_what_follows_a_failed_crop_is_planned_in_its_place():
    plan = plan_of(GROWN + LOST + AFTER, JUNE, ACTS)
    first = next(each for each in plan.beds if each.prescription.bed.id == "A")
    work = plan.work
    assert work is not None
    at = {each.task: each for each in work.assigned}

    assert first.prescription.crop.key == "bean_snap"
    assert first.prescription.first is None
    assert [each.code for each in plan.findings] == ["planting_failed_followed"]
    clear = at["A/bean_snap/clear/1"]
    assert not clear.done
    assert JUNE <= clear.day <= at["A/bean_snap/sow/1"].day
    assert at["A/bean_snap/sow/1"].day >= date(2027, 6, 25)


def test_what_was_spread_for_the_failed_crop_feeds_the_next():
    soil = """
[[soil_report]]
id = "lab"
beds = ["A"]
sampled = 2027-03-01
depth = "6 in"
results = [
  { analyte = "pH", value = 6.7, method = "1:1 soil:water" },
  { analyte = "Organic matter", value = "2.0 %", method = "loss on ignition" },
  { analyte = "NO3-N", value = "5 ppm", method = "KCl" },
]
"""
    spread = plan_of(GROWN + soil + LOST + AFTER.replace("bush bean", "lettuce"), JUNE)
    unfed = LOST.replace(
        'applied = [{ material = "blood meal", amount = "2 lb", on = 2027-04-26 }]', ""
    )
    bare = plan_of(GROWN + soil + unfed + AFTER.replace("bush bean", "lettuce"), JUNE)

    fed, hungry = (
        next(each for each in plan.beds if each.prescription.bed.id == "A").prescription
        for plan in (spread, bare)
    )
    assert fed.nitrogen.to_supply.value < hungry.nitrogen.to_supply.value


def test_the_same_crop_may_be_planted_again_where_it_failed():
    again = '[[want]]\ncrop = "tomato"\nbeds = ["A"]\nset_out = 2027-06-20\n'
    plan = plan_of(GROWN + LOST + again, JUNE, ACTS)
    (first,) = [each for each in plan.beds if each.prescription.bed.id == "A"]

    assert first.prescription.season == date(2027, 6, 20)


def test_without_the_failure_the_bed_goes_on():
    plan = plan_of(GROWN, JUNE, ACTS)

    assert {each.prescription.bed.id for each in plan.plantings} == {"A", "B"}
    assert plan.findings == ()


@pytest.mark.parametrize(
    ("text", "words"),
    [
        (LOST.replace('crop = "tomato"\n', ""), "what failed is not said"),
        (LOST.replace("2027-06-12", "2027-06-30"), "after 2027-06-14"),
        (LOST.replace("2027-06-12", "2024-06-12"), "does not belong to the season"),
        (LOST.replace('"tomato"', '"tomatoes"'), "the same crop"),
    ],
)
def test_a_failure_that_makes_no_sense_is_refused(text: str, words: str):
    with pytest.raises(GardenError) as refused:
        plan_of(GROWN + text, JUNE)

    assert words in str(refused.value)


def test_years_ahead_may_use_the_bed_of_a_failed_crop():
    from bedwright.planning.assignment.ahead import years_ahead

    text = GROWN + LOST + '[[wish]]\ncrop = "bush bean"\nbeds = 1\n[rotation]\nyears = 1\n'
    document = load_text(text, "garden.toml", Path("/nonexistent"), LIBRARY, JUNE)
    ahead = years_ahead(document, LIBRARY, JUNE)

    beds = {each.unit.bed: each for each in ahead.placements if each.year == 2027}
    assert beds["A"].crop.key == "bean_snap"
    assert beds["A"].on is None or beds["A"].on >= JUNE - timedelta(days=1)


# The dates after a failure ------------------------------------------------------------------------

PLACED = GROWN.replace(
    'name = "Failed"\n',
    'name = "Failed"\nlatitude = "46 N"\nlongitude = "119 W"\nelevation = "180 m"\n',
)


def dates_told(text: str) -> str:
    document = load_text(text + WEATHER, "garden.toml", Path("/nonexistent"), LIBRARY, JUNE)
    found = garden_dates(document, LIBRARY, JUNE)
    return dates_page(found, "Failed", UnitSystem.US, JUNE)


def test_dates_say_that_a_crop_failed_and_no_more_when_to_plant_it():
    page = dates_told(PLACED + LOST)
    tomato = page.split("\nTomato\n")[1].split("\nOnion, ")[0]

    assert "Tomato, bed A" not in page
    assert "Bed A: the tomato failed (2027-06-12)." in tomato
    assert "the bed is free" in tomato
    assert "Set out" not in tomato


def test_dates_tell_what_follows_on_the_bed_of_what_failed():
    page = dates_told(PLACED + LOST + AFTER)
    words = " ".join(page.split())

    assert "Bed A: the tomato failed (2027-06-12); snap bean (bush) follows it." in words
    assert "Snap bean (bush), bed A" in page


def test_a_want_of_two_beds_keeps_the_one_that_did_not_fail():
    onion = '[[want]]\ncrop = "onion"\nbeds = ["B"]\nset_out = 2027-04-05\n'
    both = PLACED.replace(onion, "").replace('beds = ["A"]', 'beds = ["A", "B"]')
    page = dates_told(both + LOST)

    assert "\nTomato, bed B\n" in page
    assert "Bed A: the tomato failed (2027-06-12)." in page
