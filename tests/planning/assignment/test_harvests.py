"""What a bed is expected to give: by the gardener's own figures, less what salt takes."""

from datetime import timedelta

import jsonschema
import pytest
from gardens import AS_OF, LIBRARY, asked, beds, document_of

from bedwright.crops.growing import growing
from bedwright.planning.assignment.ahead import years_ahead
from bedwright.planning.assignment.result import Placement, YearsAhead
from bedwright.reports.rotation_json import rotation_schema, years_dict
from bedwright.reports.rotation_text import years_text
from bedwright.reports.rotation_told import amount_sentences
from bedwright.reports.rotation_words import rotation_sentence
from bedwright.units import UnitSystem

ONE_YEAR = "[rotation]\nyears = 1\n[rotation.weights]\nrest = 0\nnear = 0\n"
POUND = 0.45359237
TABLE = LIBRARY.fact("crop_facts", "beet", "yield", "kg/m2").value
AREA = 200 * 0.3048**2  # of a bed, 50 ft by 4 ft [m2]
BEET = '[[wish]]\ncrop = "beet"\nbeds = 1\n'


def harvest(bed: str, year: int, mass: str) -> str:
    season = f'[[history]]\nbed = "{bed}"\nyear = {year}\ncrop = "beet"\n'
    return f'{season}harvested = "{mass}"\n'


def report(bed: str, *results: str) -> str:
    head = f'[[soil_report]]\nid = "r"\nbeds = ["{bed}"]\nsampled = 2026-10-01\ndepth = "6 in"\n'
    return f"{head}results = [{', '.join(results)}]\n"


def salt(bed: str, ec_ds_m: float) -> str:
    value = f'value = "{ec_ds_m} dS/m", method = "saturated paste"'
    return report(bed, f'{{ analyte = "EC", {value} }}')


def plan(body: str) -> YearsAhead:
    return years_ahead(document_of(ONE_YEAR + body), LIBRARY, AS_OF)


def only(ahead: YearsAhead) -> Placement:
    (found,) = ahead.placements
    return found


def codes(each: Placement) -> set[str]:
    return {x.code for x in each.reasons}


def test_a_goal_outranks_the_table_on_its_own_bed():
    found = only(plan(beds("1") + '[[want]]\ncrop = "beet"\nbeds = ["1"]\nyield_goal = "300 lb"\n'))

    assert found.expected.value == pytest.approx(300 * POUND)
    assert "rotation_expected_goal" in codes(found)


def test_without_own_figures_the_table_stands():
    found = only(plan(beds("1") + BEET))

    assert found.expected.value == pytest.approx(TABLE * AREA)
    assert not {"rotation_expected_goal", "rotation_expected_record"} & codes(found)


@pytest.mark.parametrize("years", [(2021,), (2019, 2020, 2021, 2022)])
def test_own_harvests_count_the_more_the_more_years_they_have(years: tuple[int, ...]):
    record = "".join(harvest("2", year, "100 lb") for year in years)
    found = only(plan(beds("1", "2") + BEET + record))

    weight = len(years) / (len(years) + 2)
    own = 100 * POUND / AREA
    assert found.expected.value == pytest.approx((weight * own + (1 - weight) * TABLE) * AREA)
    said = next(x for x in found.reasons if x.code == "rotation_expected_record")
    words = rotation_sentence(said, UnitSystem.US)
    assert ("1 year, which" if len(years) == 1 else f"{len(years)} years, which") in words


def test_two_beds_of_one_year_are_one_year_of_experience():
    one = asked(ONE_YEAR + beds("1", "2") + BEET + harvest("1", 2021, "80 lb")
                + harvest("2", 2021, "120 lb"))  # fmt: skip

    (usual,) = one.harvests.usual
    assert usual.years == 1
    assert usual.figure.inputs[0].value == pytest.approx(100 * POUND / AREA)


def test_what_salt_takes_is_off_the_harvest_and_the_income():
    price = '[[crop]]\ncrop = "beet"\nprice = "2 USD"\nper = "1 lb"\n'
    # Maas and Grattan: beet loses 9 % of its yield for each dS/m above 4.
    sweet, salty = (only(plan(beds("1") + BEET + price + salt("1", ec))) for ec in (2.0, 6.0))

    assert sweet.yield_left == pytest.approx(1.0)
    assert salty.yield_left == pytest.approx(1 - 0.09 * 2)
    assert salty.expected.value == pytest.approx(sweet.expected.value * (1 - 0.09 * 2))
    assert salty.income == pytest.approx(sweet.income * (1 - 0.09 * 2))
    assert "rotation_why_salt_costs" in codes(salty)


def test_an_own_harvest_of_a_salty_bed_is_not_charged_for_its_salt_twice():
    # 18 % is lost on bed 1, where the harvest was weighed: again there, it is as it was.
    body = beds("1") + BEET + salt("1", 6.0) + harvest("1", 2021, "100 lb")
    found = only(plan(body))

    own, table = 100 * POUND, TABLE * AREA * 0.82
    assert found.expected.value == pytest.approx(own / 3 + table * 2 / 3)


def test_a_goal_is_taken_as_stated_and_salt_is_told_beside_it():
    body = beds("1") + '[[want]]\ncrop = "beet"\nbeds = ["1"]\nyield_goal = "300 lb"\n'
    found = only(plan(body + salt("1", 6.0)))

    assert found.expected.value == pytest.approx(300 * POUND)
    assert "rotation_why_salt_beside_goal" in codes(found)


def test_the_share_that_can_be_sold_is_said_beside_the_income():
    body = beds("1") + '[[crop]]\ncrop = "tomato"\nprice = "3 USD"\nper = "1 lb"\n'
    body += '[[wish]]\ncrop = "tomato"\nbeds = 1\n'
    document = document_of(ONE_YEAR + body)
    found = only(years_ahead(document, LIBRARY, AS_OF))

    sold = LIBRARY.fact("crop_growing", "tomato", "saleable_share", "-").value
    assert (found.saleable, sold) == (sold, pytest.approx(0.8))
    assert found.income == pytest.approx(3 * sold * found.expected.value / POUND)
    assert any("80 % of it that can be sold" in x for x in amount_sentences(found, document))


def test_old_disease_and_lead_are_told_beside_the_crop():
    body = beds("1") + '[[wish]]\ncrop = "carrot"\nbeds = 1\n'
    lead = '{ analyte = "lead", value = "120 ppm", method = "total acid" }'
    found = only(plan(body + report("1", lead)))

    told = {x.code: rotation_sentence(x, UnitSystem.US) for x in found.reasons}
    assert "wash produce" in told["screening_keep_soil_covered_and_wash"]

    ill = '[[bed_problem]]\nproblem = "clubroot"\nbeds = ["1"]\nfound = 2005\n'
    cabbage = beds("1") + '[[wish]]\ncrop = "cabbage"\nbeds = 1\n'
    late = only(plan(cabbage + ill))
    over = next(x for x in late.reasons if x.code == "rotation_problem_over")
    assert (over.values["year"], over.weight) == ("2005", "caution")
    assert "Clubroot was here" in rotation_sentence(over, UnitSystem.US)


def test_what_is_ripe_beyond_the_weekly_amount_is_told_with_a_way_out():
    body = ONE_YEAR + beds("1") + '[[wish]]\ncrop = "cucumber"\na_week = "16 lb"\n'
    body += 'from_day = "07-01"\nto_day = "09-01"\n'
    ahead = years_ahead(document_of(body, weather=True), LIBRARY, AS_OF)
    met, placed = ahead.wishes[0], only(ahead)

    # The bed is picked evenly: in a whole week within its span it gives the same each time, and
    # what is fit to sell of it serves the stall.
    fit = growing(LIBRARY, "cucumber").saleable_share.value
    days = (placed.last_harvest - placed.first_harvest).days + 1
    a_week = 7 * fit * placed.expected.value / days
    whole = [x for x in met.weeks_over
             if placed.first_harvest <= x <= placed.last_harvest - timedelta(days=6)]  # fmt: skip
    assert len(whole) >= 3
    assert met.over >= len(whole) * (a_week - 16 * POUND) > 0
    assert met.over <= len(met.weeks_over) * (a_week - 16 * POUND) + 1e-6
    said = next(x for x in ahead.findings if x.code == "rotation_more_than_weekly")
    assert said.values["mass"].value == pytest.approx(met.over)
    assert "Give such beds parts" in rotation_sentence(said, UnitSystem.US)
    sold = next(x for x in ahead.findings if x.code == "rotation_saleable")
    assert sold.values["share"].value == fit < 1
    assert "served by what is fit to sell" in rotation_sentence(sold, UnitSystem.US)
    jsonschema.validate(years_dict(ahead), rotation_schema())


def test_what_is_the_same_for_several_beds_is_said_once():
    body = beds("1", "2", "3") + '[[wish]]\ncrop = "beet"\nbeds = 2\n' + harvest("3", 2021, "90 lb")
    document = document_of(ONE_YEAR + body)
    page = " ".join(years_text(years_ahead(document, LIBRARY, AS_OF), document, {}).split())

    assert page.count("beds were open to it") == 1
    assert page.count("You wish for beet.") == 1
    assert page.count("goes by your own harvests of 1 year,") == 1
