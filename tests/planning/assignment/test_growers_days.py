"""The days that a grower would look at twice: bulbs, covers, heat, and years without a harvest."""

from datetime import date

import pytest
from gardens import LIBRARY, NO_EXTRAS, asked, beds, document_of

from bedwright.planning.assignment.candidates import candidates_of
from bedwright.planning.assignment.dates import Timer
from bedwright.planning.assignment.dates_told import dates_told
from bedwright.planning.assignment.long_dates import long_slots
from bedwright.planning.assignment.model import Candidate, Slot
from bedwright.planning.timing import bulbs_said

WISHES = "".join(
    f'[[wish]]\ncrop = "{each}"\n{how}\n'
    for each, how in (
        ("onion", "beds = 1"),
        ("garlic", "beds = 1"),
        ("lettuce", 'a_week = "5 lb"\nfrom_day = "05-01"\nto_day = "10-15"'),
    )
)


@pytest.fixture(scope="module")
def timer() -> Timer:
    return Timer.of(document_of(beds("1") + WISHES, weather=True), LIBRARY)


@pytest.fixture(scope="module")
def crops(timer: Timer) -> dict[str, Candidate]:
    return {each.id: each for each in candidates_of(timer.document, LIBRARY)}


def day(timer: Timer, slot: Slot) -> date:
    return date.fromordinal(timer.season_start(2027).toordinal() + slot.offset)


def harvest(timer: Timer, slot: Slot) -> date:
    return date.fromordinal(day(timer, slot).toordinal() + round(slot.first))


def test_onions_at_46_north_go_in_while_days_lengthen_and_are_dug_in_summer(timer, crops):
    found = timer.slots(crops["onion"], weekly=True)

    assert found
    assert all(day(timer, each) < date(2027, 6, 1) for each in found)
    assert all(date(2027, 7, 1) < harvest(timer, each) < date(2027, 9, 10) for each in found)


def test_garlic_of_the_fall_is_dug_in_july(timer, crops):
    (found,) = long_slots(crops["garlic"], timer)

    assert date(2028, 6, 25) < harvest(timer, found) < date(2028, 7, 31)


def test_sudangrass_and_sunn_hemp_wait_for_soil_of_65_f(timer, crops):
    warm = timer.weather.days.soil_c
    for each in ("sorghum_sudangrass", "sunn_hemp"):
        for slot in long_slots(crops[each], timer):
            sown = timer.weather.firsts[2:-2] + slot.offset
            assert (warm[sown] >= (65 - 32) / 1.8 - 0.5).mean() >= 0.5
            assert date(2027, 5, 10) < day(timer, slot) < date(2027, 8, 15)


def test_mustard_that_the_cold_kills_is_ended_by_it_and_rye_stands_till_spring(timer, crops):
    (mustard,), (rye,) = (
        long_slots(crops[each], timer) for each in ("white_mustard", "cereal_rye")
    )

    assert mustard.dead
    assert mustard.killed > 0.5
    assert not rye.dead
    assert mustard.last < rye.last - 60


def test_lettuce_of_the_hottest_weeks_counts_for_less_than_that_of_spring_and_fall(timer, crops):
    found = timer.slots(crops["lettuce"], weekly=True)
    hottest = max(found, key=lambda each: each.heat)
    spring = min(found, key=lambda each: day(timer, each))

    assert date(2027, 7, 1) < harvest(timer, hottest) < date(2027, 8, 31)
    assert spring.heat < hottest.heat
    assert hottest.picked < spring.picked


def test_of_a_hot_day_it_is_said_that_it_is_one(timer):
    question = asked("[rotation]\nyears = 1\n" + beds("1") + WISHES, weather=True)
    options = question.setting.options
    hot = max(range(len(options)), key=lambda at: options[at].heat)
    told = {each.code for each in dates_told(question.setting, hot)}

    assert "rotation_why_heat" in told
    assert "rotation_why_not_best_day" not in told
    assert question.worth.short[0, hot] > 0
    assert "bulbs_in_long_days" in {each.code for each in question.findings}


def test_asparagus_gives_neither_harvest_nor_income_before_its_third_year():
    # University of Wisconsin Extension: cut for a month in the third year after planting.
    body = NO_EXTRAS.format(more="years = 3\nfirst_year = 2027") + beds("1")
    body += '[[wish]]\ncrop = "asparagus"\na_week = "2 lb"\nfrom_day = "04-15"\nto_day = "05-30"\n'
    body += '[[crop]]\ncrop = "asparagus"\nprice = "5 USD"\nper = "1 lb"\n'
    question = asked(body)
    planted = next(at for at, each in enumerate(question.setting.options) if each.year == 2027)
    by_year = {each.year: each.wish.amount[0, planted] for each in question.asked}

    assert by_year[2027] == by_year[2028] == 0
    assert by_year[2029] > 0
    assert not question.worth.income[0, planted] > 0
    (told,) = dates_told(question.setting, planted)
    assert (told.code, told.values["year"]) == ("rotation_why_bears_later", "2029")


@pytest.mark.parametrize("crop, told", [("asparagus", True), ("lettuce", False)])
def test_ground_wished_for_asparagus_is_said_to_count_before_it_is_picked(crop: str, told: bool):
    body = NO_EXTRAS.format(more="years = 3\nfirst_year = 2027") + beds("1")
    question = asked(body + f'[[wish]]\ncrop = "{crop}"\nbeds = 1\n')
    said = {each.code: each for each in question.findings}

    assert ("rotation_ground_before_bearing" in said) is told
    if told:  # cut from the third year on
        assert said["rotation_ground_before_bearing"].values["years"] == 2
        assert {each.wish.amount.max() for each in question.asked} == {1.0}


def test_covers_for_rest_are_annuals_and_marigold_is_grown_where_nematodes_are():
    body = "[rotation]\nyears = 1\n" + beds("1") + '[[wish]]\ncrop = "lettuce"\nbeds = 1\n'
    found = '[[bed_problem]]\nproblem = "{}"\nbeds = ["1"]\nfound = 2024\n'
    gardens = (body, body + found.format("white rot"), body + found.format("root-knot nematodes"))
    clean, rot, nematodes = (
        {each.id for each in candidates_of(document_of(each), LIBRARY)} for each in gardens
    )

    assert "alfalfa" not in clean | rot | nematodes
    assert "french_marigold" not in clean | rot
    assert nematodes - clean == {"french_marigold"}


def test_broccoli_that_would_fill_out_in_heat_may_wait_for_cooler_days(timer):
    broccoli = Candidate("broccoli", "broccoli", None, "Broccoli", "Brassicaceae", "annual")
    late = [each for each in timer.slots(broccoli, weekly=False) if each.turn == "late summer"]
    best = next(each for each in late if each.best)
    most = max(late, key=lambda each: each.picked)

    assert best.heat > most.heat
    assert best.offset < most.offset < max(each.offset for each in late)


def test_an_onion_whose_type_is_stated_is_followed_by_that_and_nothing_is_assumed():
    body = "[rotation]\nyears = 1\n" + beds("1") + '[[wish]]\ncrop = "keeper"\nbeds = 1\n'
    own = '[[crop]]\ncrop = "keeper"\nlike = "onion"\nbulbs_in = "intermediate"\n'
    stated = Timer.of(document_of(body + own, weather=True), LIBRARY)
    keeper = next(x for x in candidates_of(stated.document, LIBRARY) if x.id == "own:keeper")
    bulbing = stated.planting(keeper).crop.bulbing

    assert bulbing is not None
    assert bulbing.day_length_h == pytest.approx(13)
    assert bulbs_said(stated.planting(keeper), "keeper") == []


def test_weather_that_was_worked_already_is_not_worked_again(timer):
    assert Timer.of(timer.document, LIBRARY, timer.weather).weather is timer.weather
