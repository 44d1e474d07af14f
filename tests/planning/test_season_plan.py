"""The plan of a whole garden: the same every time, in either system of units, as agreed."""

import dataclasses
import json
import math
import re
from datetime import date

import jsonschema
import pytest
from small_gardens import ACID, ALKALINE, BED, LIBRARY, NEUTRAL, RICH, garden_text, plan_of

from bedwright.planning.garden_blend import alternatives, garden_blend
from bedwright.reports.plan_json import plan_dict
from bedwright.reports.plan_schema import plan_schema
from bedwright.reports.text import plan_text
from bedwright.season import assessments, season_plan

METRIC = {"50 ft": "15.24 m", "4 ft": "1.2192 m", "12 in": "30.48 cm", "0.5 in": "1.27 cm"}


def as_json(plan) -> str:
    return json.dumps(plan_dict(plan), indent=1, ensure_ascii=False)


@pytest.mark.parametrize("garden", ["ennery", pytest.param("kestrel", marks=pytest.mark.full)])
def test_the_same_garden_on_the_same_day_gives_the_same_plan_byte_for_byte(
    garden: str, request, library, as_of
):
    standing = request.getfixturevalue(f"{garden}_plan")

    again = season_plan(standing.document, library, as_of)

    assert as_json(again) == as_json(standing)
    assert plan_text(again) == plan_text(standing)


@pytest.mark.parametrize("garden", ["kestrel_plan", "ennery_plan"])
def test_a_plan_in_json_is_what_its_schema_says(garden: str, request):
    data = json.loads(as_json(request.getfixturevalue(garden)))

    jsonschema.Draft202012Validator.check_schema(plan_schema())
    errors = jsonschema.Draft202012Validator(plan_schema()).iter_errors(data)
    assert [error.message for error in errors] == []


@pytest.mark.parametrize("garden", ["kestrel_plan", "ennery_plan"])
def test_a_plan_in_json_is_under_five_megabytes(garden: str, request):
    text = as_json(request.getfixturevalue(garden))

    assert len(text.encode("utf-8")) < 5_000_000


def test_a_plan_that_lacks_its_beds_is_not_what_the_schema_says(kestrel_plan):
    data = plan_dict(kestrel_plan)
    del data["beds"]

    assert not jsonschema.Draft202012Validator(plan_schema()).is_valid(data)


@pytest.mark.parametrize("garden", ["kestrel_plan", "ennery_plan"])
def test_a_plan_reads_in_eighty_columns(garden: str, request):
    lines = plan_text(request.getfixturevalue(garden)).splitlines()

    assert [line for line in lines if len(line) > 80] == []


def amounts(text: str) -> dict[str, tuple[float, float]]:
    (bed,) = plan_of(text).beds
    return {
        line.material.key: (line.preplant.value, line.later.value)
        for line in bed.prescription.lines
    }


@pytest.mark.parametrize("results", [ACID, NEUTRAL, ALKALINE, RICH, None])
def test_the_units_that_are_shown_change_no_amount(results):
    us = garden_text(results, place='units = "US customary"')
    metric = garden_text(results, place='units = "metric"')

    assert amounts(us) == amounts(metric)
    assert plan_text(plan_of(us)) != plan_text(plan_of(metric))


@pytest.mark.parametrize("results", [ACID, NEUTRAL, ALKALINE])
def test_the_units_in_which_a_bed_is_stated_change_no_amount(results):
    wish = 'compost = { material = "plant compost", depth = "0.5 in" }'
    us = garden_text(results, want=wish)
    metric = us
    for foot, meter in METRIC.items():
        metric = metric.replace(f'"{foot}"', f'"{meter}"')

    one, other = amounts(us), amounts(metric)

    assert metric != us
    assert one.keys() == other.keys()
    for key in one:
        assert one[key] == pytest.approx(other[key], rel=1e-6, abs=1e-9)


def test_a_bed_alone_gets_what_it_gets_among_the_others(kestrel_plan, kestrel_bend, library, as_of):
    alone = season_plan(kestrel_bend, library, as_of, only="R1")

    (bed,) = plan_dict(alone)["beds"]
    assert bed in plan_dict(kestrel_plan)["beds"]


def test_a_bed_that_is_not_there_is_named_with_those_that_are(kestrel_bend, library, as_of):
    with pytest.raises(LookupError, match=r"no bed 'Z9'; beds: W1, W2"):
        season_plan(kestrel_bend, library, as_of, only="Z9")


def test_beds_stand_in_the_order_of_the_garden(kestrel_plan, kestrel_bend):
    order = [bed.id for bed in kestrel_bend.garden.bed]
    planned = [each.prescription.bed.id for each in kestrel_plan.beds]

    assert planned == [bed for bed in order if bed in planned]
    assert set(planned) | set(kestrel_plan.unplanned) == set(order)


def test_the_shed_is_what_its_beds_take_together(kestrel_plan):
    for each in kestrel_plan.totals:
        taken = sum(
            line.preplant.value + line.later.value
            for bed in kestrel_plan.beds
            for line in bed.prescription.lines
            if line.material.key == each.key
        )
        assert each.needed_kg == pytest.approx(taken)


STOCK = """[[stock]]
material = "urea"
package = "50 lb"
price = "40 USD"

[[stock]]
material = "potassium sulfate"
package = "1 lb"
price = "3 USD"
"""


def test_bags_are_bought_whole_and_paid_for_whole():
    plan = plan_of(garden_text(NEUTRAL, shed=(), more=STOCK))

    taken = {each.key: each.needed_kg / 0.45359237 for each in plan.totals}
    paid = {each.key: each.cost for each in plan.totals}
    assert 0 < taken["urea"] < 50
    assert paid["urea"] == 40
    assert paid["potassium_sulfate"] == 3 * math.ceil(taken["potassium_sulfate"])


def test_a_budget_that_does_not_reach_is_said_and_one_that_does_is_not():
    def said(budget: str) -> set[str]:
        limits = f'budget = "{budget}"'
        plan = plan_of(garden_text(NEUTRAL, shed=(), more=STOCK, limits=limits))
        return {each.code for each in plan.shared.findings}

    assert "over_budget" in said("1 USD")
    assert "over_budget" not in said("900 USD")


def test_a_usual_mix_is_shown_for_what_it_is():
    mix = """[[usual_mix]]
name = "two bags"
parts = [
  { material = "nitrogen bag", amount = "5 lb" },
  { material = "potash bag", amount = "5 lb" },
]
[[material]]
material = "nitrogen bag"
like = "ammonium sulfate"
analysis = { n_total = "12 %", p2o5_total = "0 %", k2o_total = "0 %" }
[[material]]
material = "potash bag"
like = "potassium sulfate"
analysis = { n_total = "0 %", p2o5_total = "0 %", k2o_total = "50 %" }
"""
    plan = plan_of(garden_text(more=mix))

    said = plan_text(plan)

    assert re.search(r"bags added up \(wrong\) +12 - 0 - 50", said)
    assert re.search(r"the mixture is +6 - 0 - 25", said)
    assert "nitrogen: 2.0 times less than the bags suggest" in said


def test_rock_powders_in_a_usual_mix_are_found_out():
    mix = """[[usual_mix]]
name = "powders"
parts = [
  { material = "greensand", amount = "10 lb" },
  { material = "rock phosphate", amount = "10 lb" },
]
"""
    (result,) = plan_of(garden_text(ALKALINE, more=mix)).mixes

    assert result.mixed.shortfall(1) > 50
    assert result.mixed.shortfall(2) > 50


def test_progress_is_told_in_words_a_gardener_reads(kestrel_bend, library, as_of):
    told: list[str] = []

    season_plan(kestrel_bend, library, as_of, only="R1", progress=told.append)

    assert told[0] == "assessing the beds"
    assert len(told) == len(set(told)) >= 3


def test_the_day_of_planning_is_given_and_not_the_clocks():
    text = garden_text(NEUTRAL).replace("set_out = 2027-05-10\n", "")

    spring = plan_of(text, date(2027, 3, 1)).beds[0].prescription
    autumn = plan_of(text, date(2026, 11, 25)).beds[0].prescription

    assert spring.season == autumn.season == date(2027, 4, 1)
    assert plan_of(text, date(2027, 8, 1)).beds[0].prescription.season == date(2028, 4, 1)


def test_the_tables_behind_a_plan_are_named_by_their_revision(kestrel_plan):
    assert {"material_facts", "soil_classes", "sources"} <= set(kestrel_plan.tables)
    assert all(re.fullmatch(r"[0-9a-f]{12}", each) for each in kestrel_plan.tables.values())


def test_every_source_in_a_plan_is_a_publication_of_the_list(kestrel_plan):
    def sources(value):
        if isinstance(value, dict):
            for each in value.get("sources", []):
                yield each["id"] if isinstance(each, dict) else each
            for each in value.values():
                yield from sources(each)
        elif isinstance(value, list):
            for each in value:
                yield from sources(each)

    found = set(sources(plan_dict(kestrel_plan)["beds"]))

    assert len(found) > 10
    assert found <= set(LIBRARY.sources)


def test_every_line_of_a_plan_is_a_mass_that_can_be_spread(kestrel_plan):
    for bed in kestrel_plan.beds:
        for line in bed.prescription.lines:
            assert line.preplant.value >= 0
            assert line.later.value >= 0
            assert line.preplant.value + line.later.value > 0
            assert dataclasses.asdict(line.preplant)["unit"] == "kg"


@pytest.mark.parametrize("shed", [("fresh cow manure",), ("straw", "horse manure"), ("borax",)])
def test_a_shed_of_which_nothing_may_be_used_still_gets_its_plan(shed: tuple[str, ...]):
    (bed,) = plan_of(garden_text(NEUTRAL, shed=shed)).beds

    assert bed.prescription.lines == ()
    assert {each.code for each in bed.prescription.findings} & {"no_source_in_shed"}


def test_a_nearest_recipe_that_only_just_fits_still_fits_in_the_garden():
    # Cottonseed meal at its cap for nitrogen, phosphate and potash at once: a hair's breadth.
    results = (
        "Organic matter, 10.74 %, loss on ignition",
        "Free lime, 4.74 %, calcimeter",
        "Boron, 0.0695 ppm, hot water",
        "Zinc, 2.47 ppm, DTPA",
        "Iron, 14.63 ppm, DTPA",
        "Magnesium, 198.8 ppm, ammonium acetate",
        "Calcium, 1619 ppm, ammonium acetate",
        "CEC, 6.24 meq/100 g, ammonium acetate",
    )
    text = garden_text(
        results,
        bed=BED.replace("silt loam", "sandy loam"),
        shed=("copper sulfate", "cottonseed meal", "borax"),
        crop="leek",
        want='compost = { material = "plant compost", depth = "0.5 in" }',
        limits="most_materials = 1",
    )

    (bed,) = plan_of(text).beds

    assert [line.material.key for line in bed.prescription.lines] == ["cottonseed_meal"]
    assert "demands_clash" in {each.code for each in bed.prescription.findings}


def test_each_other_blend_is_the_best_at_what_it_is_named_for(kestrel_bend, library, as_of):
    assessed, own = assessments(kestrel_bend, library, as_of)

    plan = garden_blend(kestrel_bend, assessed, own)
    others = {each.name: each for each in alternatives(plan.prepared)}

    assert others["fewest_bags"].carried <= min(plan.carried, others["cheapest"].carried)
    assert others["least_phosphorus"].phosphorus_kg <= plan.phosphorus_kg * 1.01
    assert others["cheapest"].money <= plan.money * 1.01
