"""Two crops on one bed in one year: a spring crop, and one set out in late summer after it."""

import json
import math
from datetime import date

import jsonschema
import pytest
from small_gardens import ALKALINE, codes, garden_text, plan_of

from bedwright.garden import GardenError
from bedwright.planning.ledger_entries import entries, planned_season
from bedwright.reports.plan_json import plan_dict
from bedwright.reports.plan_schema import plan_schema
from bedwright.reports.text import plan_text

FALL = '[[want]]\ncrop = "broccoli"\nbeds = ["A"]\nset_out = 2027-07-25\n'
WEATHER = """
[weather.monthly]
t_max = ["4 C", "8 C", "14 C", "19 C", "24 C", "29 C",
         "34 C", "33 C", "28 C", "19 C", "10 C", "4 C"]
t_min = ["-4 C", "-2 C", "1 C", "4 C", "8 C", "12 C",
         "15 C", "15 C", "10 C", "4 C", "0 C", "-3 C"]
rain = ["26 mm", "20 mm", "18 mm", "16 mm", "18 mm", "14 mm",
        "5 mm", "6 mm", "10 mm", "17 mm", "26 mm", "27 mm"]
wet_days = [9, 7, 7, 6, 6, 4, 2, 2, 3, 5, 9, 10]
years = 20
seed = 1
"""


def both(more: str = "", crop: str = "lettuce") -> str:
    return garden_text(
        ALKALINE, crop=crop, want='turn = "spring"', more=FALL + 'turn = "late summer"\n' + more
    )


@pytest.fixture(scope="module")
def plan():
    return plan_of(both())


def test_the_late_summer_crop_is_the_second(plan):
    assert [each.prescription.crop.key for each in plan.beds] == ["lettuce"]
    assert [each.prescription.crop.key for each in plan.second] == ["broccoli"]
    assert plan.complete


def test_the_order_in_which_the_document_tells_them_does_not_matter():
    turned = garden_text(
        ALKALINE,
        crop="broccoli",
        want='turn = "late summer"',
        more='[[want]]\ncrop = "lettuce"\nbeds = ["A"]\nset_out = 2027-04-05\nturn = "spring"\n',
    )

    found = plan_of(turned)

    assert [each.prescription.crop.key for each in found.plantings] == ["lettuce", "broccoli"]


def test_the_second_crop_asks_for_nitrogen_only_and_in_full(plan):
    second = plan.second[0].prescription

    assert "settled_with_the_first_crop" in codes(second)
    assert all(each.amount.value == 0 for each in second.needs)
    assert second.nitrogen.credits == ()
    assert second.nitrogen.to_supply.value == second.nitrogen.crop_need.value
    assert (second.reaction.lime, second.salt.gypsum) == (None, None)


def test_the_first_crop_is_fed_as_if_it_were_alone(plan):
    alone = plan_of(garden_text(ALKALINE, crop="lettuce", want='turn = "spring"'))

    first, same = plan.beds[0].prescription, alone.beds[0].prescription
    assert first.nitrogen.to_supply.value == same.nitrogen.to_supply.value
    assert [each.amount.value for each in first.needs] == [each.amount.value for each in same.needs]


def test_the_shed_counts_both_crops(plan):
    spread: dict[str, float] = {}
    for each in plan.plantings:
        for line in each.prescription.lines:
            mass = line.preplant.value + line.later.value
            spread[line.material.key] = spread.get(line.material.key, 0.0) + mass

    assert {
        each.key: pytest.approx(each.needed_kg) for each in plan.totals if each.needed_kg
    } == spread


def test_the_ledger_takes_out_both_harvests(plan):
    planned = [planned_season(each.prescription) for each in plan.plantings]

    together = entries(plan.document, plan.library, planned)
    apart = [entries(plan.document, plan.library, [each]) for each in planned]
    assert math.isclose(together.removed.sum(), sum(each.removed.sum() for each in apart))
    assert math.isclose(together.mass.sum(), sum(each.mass.sum() for each in apart))


def test_both_crops_stand_in_the_text_and_in_the_data(plan):
    text, data = plan_text(plan), json.loads(json.dumps(plan_dict(plan)))

    assert text.index("Bed A: lettuce") < text.index("Bed A: broccoli, after the year's lettuce")
    assert [each["crop"] for each in data["second_crops"]] == ["broccoli"]
    assert list(jsonschema.Draft202012Validator(plan_schema()).iter_errors(data)) == []


def test_a_second_crop_that_starts_before_the_first_is_out_is_told():
    place = 'latitude = "46 N"\nlongitude = "119 W"\nelevation = "180 m"\n'
    text = both(WEATHER, crop="tomato").replace('name = "Small"\n', f'name = "Small"\n{place}')

    said = {each.code: each for each in plan_of(text).second[0].findings}

    standing = dict(said["first_crop_still_stands"].values)
    assert date.fromisoformat(str(standing["free"])) > date(2027, 7, 25)


def test_two_crops_of_one_turn_follow_each_other_by_their_days():
    later = '[[want]]\ncrop = "spinach"\nbeds = ["A"]\nset_out = 2027-06-20\nturn = "spring"\n'
    first = 'turn = "spring"'
    found = plan_of(garden_text(ALKALINE, crop="lettuce", want=first, more=later))

    assert [each.prescription.crop.key for each in found.plantings] == ["lettuce", "spinach"]
    with pytest.raises(GardenError, match="wanted for two crops"):
        third = FALL + 'turn = "late summer"\n'
        plan_of(garden_text(ALKALINE, crop="lettuce", want=first, more=later + third))


@pytest.mark.parametrize("turns", [("", 'turn = "late summer"'), ('turn = "spring"', ""), ("", "")])
def test_two_crops_on_a_bed_must_each_say_their_turn(turns: tuple[str, str]):
    text = garden_text(ALKALINE, crop="lettuce", want=turns[0], more=FALL + turns[1])

    with pytest.raises(GardenError, match="wanted for two crops"):
        plan_of(text)
