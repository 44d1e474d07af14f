"""What a bed's sheet says, before it is put on paper."""

import re
from dataclasses import replace
from pathlib import Path

import pytest
from reading_sheets import WORDS, contents, flat

import bedwright
from bedwright.reports.text import bed_text
from bedwright.reports.words_spreading import SHEET_WORDS
from bedwright.season import SeasonPlan
from bedwright.sheets.content import SheetContent, sheet_content
from bedwright.sheets.days import sheet_days

AMOUNT = re.compile(r"^  ((?:[\d.]+ (?:lb|oz|kg|g) ?)+?) +(\S.*)$", re.MULTILINE)


def sheet(plan: SeasonPlan, bed: str) -> SheetContent:
    return sheet_content(plan, bed, WORDS, plan.document.garden.garden.units)


@pytest.mark.parametrize("garden", ["kestrel_plan", "ennery_plan"])
def test_a_sheet_tells_the_amounts_of_the_plan_and_no_other(
    garden: str, request: pytest.FixtureRequest
):
    plan: SeasonPlan = request.getfixturevalue(garden)
    system = plan.document.garden.garden.units
    counted = 0
    for each, made in zip(plan.beds, contents(plan), strict=True):
        text = bed_text(each, system)
        before_why = text.split("\nWHY\n")[0]
        in_plan = sorted((mass.strip(), name) for mass, name in AMOUNT.findall(before_why))

        told = [task for round_ in made.spreading for task in round_.tasks]

        assert sorted((task.amount, task.material) for task in told) == in_plan
        for task in told:
            assert flat(task.measure) in flat(text)
            assert flat(task.cautions) in flat(text)
            assert flat(task.into) in flat(text)
        counted += len(told)
    assert counted > 10


def test_what_goes_deep_is_spread_before_what_is_raked_in(ennery_plan: SeasonPlan):
    before = sheet(ennery_plan, "1").spreading[0]

    deep = ["work into" in task.into for task in before.tasks]

    assert True in deep and False in deep
    assert deep == sorted(deep, reverse=True)
    assert before.heading.endswith("in this order")


def test_a_bed_that_gets_nothing_says_so_and_keeps_its_days(kestrel_plan: SeasonPlan):
    made = sheet(kestrel_plan, "R1")

    assert [each.heading for each in made.spreading] == [WORDS["nothing"]]
    assert made.spreading[0].tasks == ()
    assert [day.what for day in made.days] == [
        "Kale comes out", "clear the bed", "lay drip", "sow", "first harvest", "last harvest",
    ]  # fmt: skip
    assert made.days[0].when == made.days[1].when
    assert "spread" not in {day.what for day in made.days}


def test_what_must_be_known_first_is_apart_from_what_concerns_the_plan(kestrel_plan: SeasonPlan):
    too_salty, clash = sheet(kestrel_plan, "R1"), sheet(kestrel_plan, "W2")

    assert any("Leach the bed before planting" in line for line in too_salty.first)
    assert not any("clash" in line for line in clash.first)
    assert any("clash" in line for line in clash.why_short)
    assert any("side-dressed on 2027-08-21" in line for line in clash.spreading[-1].notes)


def test_no_act_or_caution_is_lost(kestrel_plan: SeasonPlan, ennery_plan: SeasonPlan):
    for plan in (kestrel_plan, ennery_plan):
        system = plan.document.garden.garden.units
        for each, made in zip(plan.beds, contents(plan), strict=True):
            said = [*made.first, *made.why]
            said += [note for round_ in made.spreading for note in round_.notes]
            in_plan = re.findall(r"^\* (.*(?:\n  \S.*)*)", bed_text(each, system), re.MULTILINE)

            assert {flat(line) for line in in_plan} <= {flat(line) for line in said}


def test_days_follow_the_calendar_with_the_year_where_it_changes(ennery_plan: SeasonPlan):
    days = sheet(ennery_plan, "1").days

    assert [(day.when, day.what) for day in days] == [
        ("by November 14, 2026", "clear the bed"),
        ("by November 14", "spread the lime"),
        ("by November 28", "spread"),
        ("until December 12", "let the bed rest"),
        ("by December 10", "lay drip"),
        ("December 12", "sow"),
        ("about January 13, 2027", "side-dress"),
        ("about February 5", "side-dress"),
        ("about February 19 (February 15 to 25)", "first harvest"),
        ("about February 25", "last harvest"),
    ]
    assert days[5].note == "By the weather: Sow from September 29, 2026 on."


def test_a_side_dressing_has_a_line_for_each_time(ennery_plan: SeasonPlan):
    later = sheet(ennery_plan, "1").spreading[1]

    assert later.heading == "Later: 2 side-dressings"
    assert later.times == ("about January 13", "about February 5")


def test_a_long_rest_brings_the_clearing_forward(kestrel_plan: SeasonPlan):
    """E1 rests four weeks: it cannot be cleared after it is spread on."""
    days = {day.what: day.when for day in sheet(kestrel_plan, "E1").days}

    assert days["spread"] == "by February 20"
    assert days["clear the bed"] == "by February 20, 2027"


def test_without_weather_the_sheet_says_that_days_are_not_known(kestrel_plan: SeasonPlan):
    bed = replace(kestrel_plan.beds[0], dates=None)

    days = sheet_days(bed, WORDS)

    assert days[-1].what == WORDS["no_dates"]
    assert [day.what for day in days[:-1]] == ["spread", "let the bed rest", "set out"]


def test_a_bed_without_a_crop_has_no_sheet(kestrel_plan: SeasonPlan):
    with pytest.raises(LookupError, match="no crop is wanted for bed 'W7'"):
        sheet(kestrel_plan, "W7")


def test_every_word_of_the_sheet_is_used():
    source = Path(bedwright.__file__).parent
    places = [*(source / "sheets").glob("*"), source / "reports" / "spreading_text.py"]
    places += [source / "reports" / "text.py", source / "cli" / "sheets.py"]
    told = "\n".join(path.read_text(encoding="utf-8") for path in places if path.is_file())

    assert [key for key in SHEET_WORDS if not re.search(rf"\b{key}\b", told)] == []
