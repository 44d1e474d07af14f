"""What a garden document asks of its rotation: who may stand where, and when."""

from datetime import date, timedelta

import numpy as np
import pytest
from gardens import AS_OF, LIBRARY, NO_EXTRAS, asked, beds, document_of, grew, may

from bedwright.planning.assignment.build import question
from bedwright.planning.assignment.model import Decision
from bedwright.planning.assignment.options import horizon_of

TOMATO = '[[wish]]\ncrop = "tomato"\nbeds = 1\n'
PEPPER = '[[wish]]\ncrop = "sweet pepper"\nbeds = 1\n'
GARLIC = '[[wish]]\ncrop = "garlic"\nbeds = 1\n'


def three_years(more: str = "") -> str:
    return NO_EXTRAS.format(more=f"years = 3\n{more}")


# Years and families ------------------------------------------------------------------------------


def test_three_full_years_lie_between_two_crops_of_a_family():
    found = asked(three_years() + beds("1", "2") + PEPPER + grew("1", (2024, "tomato")))

    assert [may(found, "1", "pepper_sweet", year) for year in (2027, 2028, 2029)] == [
        False,
        True,
        True,
    ]
    assert may(found, "2", "pepper_sweet", 2027)


@pytest.mark.parametrize(("away", "first"), [(0, 2027), (2, 2027), (4, 2029)])
def test_a_garden_may_state_another_interval(away: int, first: int):
    found = asked(three_years(f"years_away = {away}\n") + beds("1") + PEPPER
                  + grew("1", (2024, "tomato")))  # fmt: skip

    free = [year for year in (2027, 2028, 2029) if may(found, "1", "pepper_sweet", year)]
    assert free[0] == first


def test_a_familys_own_interval_outranks_the_usual_one():
    body = three_years("away = { nightshades = 1 }\n") + beds("1") + PEPPER + TOMATO
    found = asked(body + grew("1", (2025, "eggplant")))

    assert may(found, "1", "tomato", 2027)
    groups = {each.name: each.years_away.tolist() for each in found.problem.apart}
    assert groups["Solanaceae"] == [1]


def test_spinach_and_beet_are_one_family_but_asparagus_and_onion_are_two():
    body = three_years() + beds("1", "2")
    body += '[[wish]]\ncrop = "spinach"\nbeds = 1\n[[wish]]\ncrop = "onion"\nbeds = 1\n'
    found = asked(body + grew("1", (2026, "beet"))
                  + grew("2", (2024, "asparagus"), (2025, "lettuce")))  # fmt: skip

    assert not may(found, "1", "spinach", 2027)
    assert may(found, "2", "onion", 2027)


def test_a_cover_crop_counts_in_its_family():
    body = "[rotation]\nyears = 3\n" + beds("1") + '[[wish]]\ncrop = "broccoli"\nbeds = 1\n'
    found = asked(body + grew("1", (2026, "white mustard")))

    assert not may(found, "1", "broccoli", 2027)


def test_the_history_of_a_part_of_a_bed_binds_that_part_alone():
    body = three_years() + beds("1", parts=2) + PEPPER
    body += '[[history]]\nbed = "1"\npart = 2\nyear = 2026\ncrop = "tomato"\n'
    found = asked(body)

    assert [bool(each) for each in found.problem.allowed.any(axis=1)] == [True, False]
    assert sum(each.area_m2 for each in found.setting.units) == pytest.approx(50 * 4 * 0.3048**2)


# Diseases ----------------------------------------------------------------------------------------


def problem(name: str, found: int) -> str:
    return f'[[bed_problem]]\nproblem = "{name}"\nbeds = ["1"]\nfound = {found}\n'


def test_white_rot_keeps_garlic_from_its_bed_for_good_and_from_no_other():
    body = NO_EXTRAS.format(more="first_year = 2035\nyears = 1") + beds("1", "2") + GARLIC
    found = asked(body + problem("white rot", 2015))

    assert not may(found, "1", "garlic", 2035)
    assert may(found, "2", "garlic", 2035)


def test_a_recorded_disease_asks_for_more_than_the_family_does():
    body = NO_EXTRAS.format(more="first_year = 2030\nyears = 4")
    body += beds("1", "2") + '[[wish]]\ncrop = "cabbage"\nbeds = 1\n'
    found = asked(body + problem("clubroot", 2025) + grew("1", (2025, "kale"))
                  + grew("2", (2025, "kale")))  # fmt: skip

    # Clubroot: 7 full years without a host (tables); the family alone asks for 3.
    assert [y for y in range(2030, 2034) if may(found, "1", "cabbage", y)] == [2033]
    assert may(found, "2", "cabbage", 2030)


def test_verticillium_keeps_melons_and_peppers_apart_though_they_are_two_families():
    body = three_years() + beds("1") + PEPPER + '[[wish]]\ncrop = "muskmelon"\nbeds = 1\n'
    found = asked(body + problem("verticillium wilt", 2020))

    (group,) = [each for each in found.problem.apart if each.name == "verticillium_wilt"]
    hosts = {found.setting.crop(int(at)).id for at in np.flatnonzero(group.members)}
    assert hosts == {"pepper_sweet", "muskmelon"}


def test_a_crop_that_feeds_a_disease_without_showing_it_is_told_of():
    body = three_years() + beds("1") + '[[wish]]\ncrop = "chard"\nbeds = 1\n'
    found = asked(body + problem("fusarium wilt of spinach", 2025))

    assert may(found, "1", "chard", 2027)
    assert "rotation_feeds_silently" in {each.code for each in found.findings}


def test_clear_plastic_is_for_beds_with_something_to_be_killed():
    body = (
        "[rotation]\nyears = 2\n" + beds("1", "2") + TOMATO + problem("root-knot nematodes", 2026)
    )
    body = body.replace("root-knot nematodes", "northern root-knot nematode")
    found = asked(body, weather=True)

    plastic = [
        at for at in range(found.problem.options) if found.setting.crop(at).life == "plastic"
    ]
    assert plastic
    assert found.problem.allowed[0, plastic].all()
    assert not found.problem.allowed[1, plastic].any()


# What is settled, what stands ---------------------------------------------------------------------


def test_a_want_with_a_day_settles_its_bed_on_that_day():
    want = '[[want]]\ncrop = "tomato"\nbeds = ["1"]\nset_out = 2027-05-10\n'
    found = asked(three_years() + beds("1", "2") + want, weather=True)

    (claim,) = [each for each in found.asked if each.kind == "want"]
    (at,) = np.flatnonzero(claim.wish.amount[0])
    assert claim.wish.required
    assert found.setting.options[at].on == date(2027, 5, 10)
    assert not found.problem.allowed[1, at]


def test_garlic_set_out_in_fall_belongs_to_the_year_in_which_it_is_harvested():
    want = '[[want]]\ncrop = "garlic"\nbeds = ["1"]\nset_out = 2027-10-08\n'
    found = asked(three_years() + beds("1") + want, weather=True)

    (claim,) = [each for each in found.asked if each.kind == "want"]
    assert claim.year == 2028


def test_what_is_settled_stands_against_a_rule_and_that_is_said():
    want = '[[want]]\ncrop = "tomato"\nbeds = ["1"]\nset_out = 2027-05-10\n'
    found = asked(three_years() + beds("1") + want + grew("1", (2025, "potato")), weather=True)

    (said,) = [each for each in found.findings if each.code == "rotation_settled_against"]
    assert said.values["rule"] == "rotation_family_back"
    assert found.problem.allowed[0].any()


def test_a_bed_kept_free_gets_nothing_that_year():
    pin = '[[pin]]\nbed = "1"\nyear = 2028\n'
    found = asked(three_years() + beds("1") + TOMATO + pin)

    assert [may(found, "1", "tomato", year) for year in (2027, 2028, 2029)] == [True, False, True]


def test_a_perennial_keeps_its_bed_until_another_crop_has_followed():
    body = three_years() + beds("1", "2") + TOMATO + grew("1", (2020, "asparagus"))
    found = asked(body + grew("2", (2020, "asparagus"), (2024, "lettuce")))

    assert not may(found, "1", "tomato", 2028)
    assert may(found, "2", "tomato", 2028)


def test_a_perennial_that_is_planted_holds_its_bed_to_the_end():
    found = asked(three_years() + beds("1") + '[[wish]]\ncrop = "rhubarb"\nbeds = 1\n')

    ends = {option.free_from for option in found.setting.options}
    assert ends == {date(2030, 1, 1)}


def test_a_bed_out_of_use_gets_nothing_and_its_claims_fall_away():
    want = '[[want]]\ncrop = "tomato"\nbeds = ["1"]\nset_out = 2027-05-10\n'
    found = asked(three_years() + beds("1", "2") + want + TOMATO, without=frozenset({"1"}))

    assert not found.problem.allowed[0].any()
    assert not [each for each in found.asked if each.kind == "want"]


def test_what_was_wanted_for_the_year_before_is_history_and_stands_until_it_is_cleared():
    want = '[[want]]\ncrop = "broccoli"\nbeds = ["1"]\nset_out = 2026-08-20\n'
    body = three_years("first_year = 2027\n") + beds("1") + want
    found = asked(body + '[[wish]]\ncrop = "cabbage"\nbeds = 1\n', weather=True)

    assert not may(found, "1", "cabbage", 2027)


def test_a_decision_beside_the_document_is_settled_too():
    decisions = (Decision("1", None, "tomato", 2028),)
    found = asked(three_years() + beds("1") + TOMATO, decisions=decisions)

    (claim,) = [each for each in found.asked if each.kind == "decision"]
    assert (claim.year, claim.wish.required) == (2028, True)


# Dates --------------------------------------------------------------------------------------------


def test_without_weather_each_bed_gets_one_planting_a_year_and_that_is_said():
    found = asked(three_years() + beds("1") + TOMATO + PEPPER)

    spans = {(each.start, each.free_from) for each in found.setting.options if each.year == 2027}
    assert spans == {(date(2027, 1, 1), date(2028, 1, 1))}
    assert "rotation_without_weather" in {each.code for each in found.findings}


def test_south_of_the_equator_a_year_without_weather_runs_from_july():
    found = asked(three_years() + beds("1") + TOMATO, latitude="34 S")

    spans = {(each.start, each.free_from) for each in found.setting.options if each.year == 2027}
    assert spans == {(date(2026, 7, 1), date(2027, 7, 1))}


def test_nothing_new_is_planted_before_the_day_of_planning():
    body = three_years() + beds("1") + '[[wish]]\ncrop = "lettuce"\nbeds = 1\n'
    late = question(document_of(body, weather=True), LIBRARY, date(2027, 6, 1))

    assert min(each.start for each in late.setting.options) >= date(2027, 6, 1)


def test_a_crop_leaves_its_bed_a_turnover_after_the_last_harvest():
    body = three_years("turnover_days = 10\n") + beds("1") + TOMATO
    found = asked(body, weather=True)

    for each in found.setting.options:
        assert each.last_harvest is not None
        assert each.free_from == each.last_harvest + timedelta(days=11)


def test_tomatoes_are_set_out_in_no_frost_and_harvested_before_it():
    found = asked(three_years() + beds("1") + TOMATO, weather=True)

    months = {(each.on.month, each.first_harvest.month) for each in found.setting.options}
    assert months
    assert all(4 <= out <= 7 and 7 <= harvest <= 10 for out, harvest in months)


def test_garlic_goes_in_in_fall_and_comes_out_in_the_next_summer():
    found = asked(three_years() + beds("1") + GARLIC, weather=True)

    for each in found.setting.options:
        assert each.on.month in (9, 10, 11)
        assert each.first_harvest.year == each.on.year + 1 == each.year


@pytest.mark.parametrize(("as_of", "first"), [("2026-11-25", 2027), ("2027-03-01", 2027),
                                              ("2027-08-01", 2028)])  # fmt: skip
def test_a_plan_begins_with_the_year_that_lies_half_a_year_ahead(as_of: str, first: int):
    document = document_of(beds("1"))

    assert horizon_of(document, date.fromisoformat(as_of)).years[0] == first


# Light, manure, salt, weeks -----------------------------------------------------------------------


def test_a_crop_is_kept_from_a_bed_that_is_too_dark_for_it():
    body = three_years() + beds("1", "2") + TOMATO
    found = asked(body, weather=True, light=lambda bed: [8.0 if bed == "1" else 40.0] * 12)

    assert not may(found, "1", "tomato", 2027)
    assert may(found, "2", "tomato", 2027)


def test_a_crop_that_climbs_goes_where_a_trellis_stands_if_one_stands_anywhere():
    body = three_years() + beds("1", "2") + '[[wish]]\ncrop = "pole bean"\nbeds = 1\n' + TOMATO
    bare, stood = asked(body, weather=True), body.replace('id = "2"', 'id = "2"\ntrellis = true')
    found = asked(stood, weather=True)

    assert may(bare, "1", "bean_pole", 2027)
    assert not may(found, "1", "bean_pole", 2027)
    assert may(found, "2", "bean_pole", 2027)
    assert may(found, "1", "tomato", 2027)  # staked


def test_nothing_is_harvested_within_the_interval_after_raw_manure():
    body = three_years() + beds("1", "2") + '[[wish]]\ncrop = "carrot"\nbeds = 1\n'
    body += '[[history]]\nbed = "1"\nyear = 2026\napplied = ['
    body += '{ material = "fresh cow manure", amount = "50 lb", on = 2026-11-01 }]\n'
    found = asked(body, weather=True)

    # 7 CFR 205.203(c)(1): 120 days before the harvest of what touches the soil.
    first = date(2026, 11, 1) + timedelta(days=120)
    for at, each in enumerate(found.setting.options):
        if found.problem.allowed[0, at]:
            assert each.first_harvest >= first


def test_a_wish_by_the_week_counts_each_week_apart_unless_the_crop_keeps():
    body = three_years() + beds("1")
    for crop, month in (("lettuce", "06"), ("onion", "08")):
        days = f'from_day = "{month}-01"\nto_day = "{month}-28"\n'
        body += f'[[wish]]\ncrop = "{crop}"\na_week = "10 lb"\n{days}'
    found = asked(body, weather=True)

    lettuce = [each for each in found.asked if each.candidate.id == "lettuce" and each.year == 2027]
    onion = [each for each in found.asked if each.candidate.id == "onion" and each.year == 2027]
    assert [each.week for each in lettuce] == [date(2027, 6, day) for day in (1, 8, 15, 22)]
    assert [each.weeks for each in onion] == [4]
    assert onion[0].wish.wanted == pytest.approx(40 * 0.45359237)


def test_a_bed_of_lettuce_gives_no_more_over_the_weeks_than_its_yield():
    body = three_years() + beds("1")
    body += '[[wish]]\ncrop = "lettuce"\na_week = "10 lb"\nfrom_day = "01-01"\nto_day = "12-31"\n'
    found = asked(body, weather=True)

    whole = sum(each.wish.amount for each in found.asked if each.year == 2028)[0]
    inside = [at for at, each in enumerate(found.setting.options)
              if each.year == 2028 and each.last_harvest.year == 2028]  # fmt: skip
    goal = LIBRARY.fact("crop_facts", "lettuce", "yield", "kg/m2")
    fit = LIBRARY.fact("crop_growing", "lettuce", "saleable_share", "-")  # serves the stall
    assert whole[inside] == pytest.approx(goal.value * fit.value * 50 * 4 * 0.3048**2)


def test_only_what_was_asked_for_is_planted():
    want = '[[want]]\ncrop = "potato"\nbeds = ["2"]\nset_out = 2027-04-20\n'
    found = asked(three_years() + beds("1", "2") + TOMATO + want, weather=True)

    assert not may(found, "1", "potato", 2028)


def test_the_same_document_asks_the_same_question():
    body = three_years() + beds("1", "2") + TOMATO + GARLIC
    one, two = asked(body, weather=True), asked(body, weather=True)

    assert one.setting.options == two.setting.options
    assert np.array_equal(one.problem.worth, two.problem.worth)
    assert one.setting.options[0].start > AS_OF
