"""An accepted first year, planned again: the same crops on the same days."""

from datetime import date
from pathlib import Path

import pytest
from gardens import AS_OF, HEAD, LIBRARY, WEATHER, beds, document_of

from bedwright.garden import Document, GardenError
from bedwright.garden.load import load_text
from bedwright.planning.assignment.ahead import years_ahead
from bedwright.planning.assignment.result import YearsAhead
from bedwright.reports.rotation_accept import accepted
from bedwright.season import season_plan

BODY = (
    "[rotation]\nyears = 2\n" + beds("1", "2") + beds("3", parts=2)
    + '[[want]]\ncrop = "pea"\nbeds = ["1"]\nset_out = 2027-04-10\n'
    + '[[wish]]\ncrop = "carrot"\nbeds = 1\nyears = [2027]\n'
    + '[[wish]]\ncrop = "lettuce"\nbeds = 2\nyears = [2027]\n'
    + '[[wish]]\ncrop = "tomato"\nbeds = 0.5\n'
    + '[[wish]]\ncrop = "garlic"\nbeds = 0.5\nyears = [2028]\n'
)  # fmt: skip


def days(ahead: YearsAhead) -> set[tuple[object, ...]]:
    return {(x.unit, x.crop.id, x.year, x.turn, x.on, x.free_from) for x in ahead.placements}


def again(text: str, as_of: date = AS_OF) -> Document:
    return load_text(text, "garden.toml", Path(), LIBRARY, as_of)


@pytest.fixture(scope="module")
def before() -> tuple[Document, YearsAhead]:
    document = document_of(BODY, weather=True)
    return document, years_ahead(document, LIBRARY, AS_OF)


@pytest.fixture(scope="module")
def after(before: tuple[Document, YearsAhead]) -> Document:
    return again(accepted(before[1], before[0])[0])


def test_an_accepted_year_is_planned_again_to_the_day(
    before: tuple[Document, YearsAhead], after: Document
):
    assert days(years_ahead(after, LIBRARY, AS_OF)) == days(before[1])


def test_a_crop_after_a_wanted_one_becomes_a_want_with_its_day_and_each_says_its_turn(
    after: Document,
):
    first, *others = [each for each in after.garden.want if "1" in each.beds]

    assert (first.crop, first.turn) == ("pea", "spring")
    assert [(each.crop, each.turn) for each in others] == [("lettuce", "late summer")]
    assert all(each.set_out is not None for each in others)


def test_it_gets_its_rows_and_its_prescription(after: Document):
    plan = season_plan(after, LIBRARY, AS_OF, only="1", ahead=False)

    assert [each.prescription.crop.key for each in plan.plantings] == ["pea", "lettuce"]
    assert all(plan.layout_of(each) is not None for each in plan.plantings)


def test_parts_of_a_bed_are_pinned_with_their_days(
    before: tuple[Document, YearsAhead], after: Document
):
    pinned = {(pin.part, pin.set_out) for pin in after.garden.pin}

    # Garlic and covers that go in during the first year are harvested, or end, in the next.
    expected = {
        (each.unit.part, each.on)
        for each in before[1].placements
        if each.unit.bed == "3" and 2027 in (each.year, each.start.year)
    }
    assert pinned == expected


def test_a_pins_day_leads_to_its_years_harvest():
    wrong = '[[pin]]\nbed = "1"\ncrop = "garlic"\nyear = 2028\nset_out = 2026-10-20\n'

    with pytest.raises(GardenError, match="does not lead to a harvest of 2028"):
        document_of(beds("1") + wrong)
    with pytest.raises(GardenError, match="set_out belongs to a crop"):
        document_of(beds("1") + '[[pin]]\nbed = "1"\nyear = 2027\nset_out = 2027-04-01\n')


def test_a_second_crop_of_the_same_turn_is_wanted_by_its_day():
    # Radish is out of the bed long before the tomatoes go in: both go in in spring.
    body = "[rotation]\nyears = 1\n[rotation.weights]\nrest = 0\nnear = 0\n" + beds("1")
    body += '[[want]]\ncrop = "radish"\nbeds = ["1"]\nset_out = 2027-03-10\n'
    body += '[[wish]]\ncrop = "sweet corn"\nbeds = 1\nturn = "spring"\n'
    document = document_of(body, weather=True)
    ahead = years_ahead(document, LIBRARY, AS_OF)
    text, wants, pins = accepted(ahead, document)

    assert (wants, pins) == (1, 0)
    made = again(text).garden.want
    assert [(each.crop, each.turn) for each in made] == [
        ("radish", "spring"),
        ("sweet corn", "spring"),
    ]
    assert days(years_ahead(again(text), LIBRARY, AS_OF)) == days(ahead)


def test_a_bed_whose_crop_failed_takes_its_new_one_as_a_want_like_the_beds_beside_it():
    june = date(2027, 6, 25)
    body = "[rotation]\nyears = 1\n" + beds("1", "2")
    body += '[[want]]\ncrop = "tomato"\nbeds = ["1"]\nset_out = 2027-05-10\n'
    body += '[[history]]\nbed = "1"\nyear = 2027\ncrop = "tomato"\nfailed = 2027-06-20\n'
    body += '[[wish]]\ncrop = "lettuce"\nbeds = 2\nyears = [2027]\nmust = true\n'
    document = again(HEAD.format(units="US customary", latitude="46 N") + body + WEATHER, june)
    ahead = years_ahead(document, LIBRARY, june)
    text, wants, pins = accepted(ahead, document)

    assert (wants, pins) == (1, 0)
    lettuce = again(text, june).garden.want[-1]
    assert (lettuce.crop, lettuce.beds) == ("lettuce", ["1", "2"])
    assert days(years_ahead(again(text, june), LIBRARY, june)) == days(ahead)
