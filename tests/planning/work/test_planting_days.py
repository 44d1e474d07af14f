"""Every output tells a planting on one day: the schedule's; and companions have theirs."""

from datetime import date

import pytest
from work_gardens import garden, plan_of

from bedwright.planning.work.model import Act
from bedwright.reports.calendar.events import season_events
from bedwright.reports.words_spreading import SHEET_WORDS
from bedwright.season import SeasonPlan
from bedwright.sheets.days import sheet_days
from bedwright.web.coming import coming

WANTS = "".join(
    f'[[want]]\ncrop = "onion"\nbeds = ["{bed}"]\nset_out = 2027-04-08\n' for bed in "AB"
)
BESIDE = '[[want]]\ncrop = "tomato"\nbeds = ["A"]\nset_out = 2027-05-10\ncompanion = "lettuce"\n'


@pytest.fixture(scope="module")
def put_off() -> SeasonPlan:
    """Two beds for one day, of which the hours put one off."""
    return plan_of(garden(WANTS, "hours_per_week = 6", ("A", "B")))


def planted(plan: SeasonPlan) -> dict[str, date]:
    assert plan.work is not None
    return {
        str(plan.work.task(each.task).bed): each.day
        for each in plan.work.assigned
        if plan.work.task(each.task).kind == "set_out"
    }


def test_calendar_sheet_and_the_coming_days_tell_the_day_of_the_schedule(put_off: SeasonPlan):
    laid = planted(put_off)
    events = {each.bed: each for each in season_events(put_off) if each.kind == "planting"}
    ahead = {
        bed: each.on for each in coming(put_off) if each.code == "set_out" for bed in each.beds
    }

    assert sorted(laid.values()) == [date(2027, 4, 8), date(2027, 4, 12)]
    assert {bed: each.first for bed, each in events.items()} == laid
    assert ahead == laid
    for bed in put_off.beds:
        days = put_off.planting_days_of(bed)
        rows = sheet_days(bed, SHEET_WORDS, put_off.layout_of(bed), days)
        (row,) = [each for each in rows if each.what == "set out"]
        on = laid[bed.prescription.bed.id]
        assert row.when.startswith(f"April {on.day}")
        assert ("The dates ask for April 8" in row.note) is (on.day == 12)


def test_the_event_that_was_put_off_says_which_day_the_dates_ask_for(put_off: SeasonPlan):
    said = {
        each.first: " ".join(each.lines) for each in season_events(put_off)
        if each.kind == "planting"
    }  # fmt: skip

    assert "The dates ask for April 8" in said[date(2027, 4, 12)]
    assert "The dates ask for" not in said[date(2027, 4, 8)]


def test_a_planting_that_does_not_fit_stays_on_its_day_and_says_so():
    plan = plan_of(garden(WANTS, "hours_per_week = 1", ("A", "B")))
    assert plan.work is not None
    left = {each.task for each in plan.work.left_out if "/set_out/" in each.task}
    assert left
    events = {each.key: each for each in season_events(plan)}

    for bed in (each.split("/")[0] for each in left):
        event = events[f"planting/{bed}/onion/1"]
        assert event.first == date(2027, 4, 8)
        assert "The weeks have no room for it as things stand" in " ".join(event.lines)


def test_the_ids_of_plantings_stay_when_the_hours_move_them(put_off: SeasonPlan):
    free = plan_of(garden(WANTS, "hours_per_week = 60", ("A", "B")))
    keys = [
        {each.key for each in season_events(plan) if each.kind == "planting"}
        for plan in (put_off, free)
    ]

    assert keys[0] == keys[1] == {"planting/A/onion/1", "planting/B/onion/1"}


def test_a_companion_has_its_own_event_on_the_day_of_its_task():
    plan = plan_of(garden(BESIDE, "hours_per_week = 40"))
    assert plan.work is not None
    (task,) = [
        each for each in plan.work.tasks
        if each.crop == "lettuce" and each.kind in ("sow", "set_out")
    ]  # fmt: skip
    laid = next(each.day for each in plan.work.assigned if each.task == task.id)
    events = {each.key: each for each in season_events(plan)}

    assert events["planting/A/tomato.with.lettuce/1"].first == laid
    assert "lettuce, A" in events["planting/A/tomato.with.lettuce/1"].summary
    assert events["planting/A/tomato/1"].first == date(2027, 5, 10)


def test_one_crop_may_come_first_and_later_share_the_bed_and_keeps_tasks_of_its_own():
    first = '[[want]]\ncrop = "lettuce"\nbeds = ["A"]\nset_out = 2027-03-10\nturn = "spring"\n'
    later = BESIDE.replace("2027-05-10", "2027-06-10") + 'turn = "late summer"\n'
    plan = plan_of(garden(first + later, "hours_per_week = 40"))
    assert plan.work is not None
    ids = [each.id for each in plan.work.tasks]

    assert len(ids) == len(set(ids))


def test_a_planting_written_down_as_done_is_told_on_its_own_day():
    early = (Act("set_out", date(2027, 4, 6), "A", "onion"),)
    plan = plan_of(garden(WANTS, "hours_per_week = 60", ("A", "B")), date(2027, 4, 7), early)
    days = {each.bed: (each.day, each.state) for each in plan.planting_days}

    assert days["A"] == (date(2027, 4, 6), "done")
    assert "planting/A/onion/1" not in {each.key for each in season_events(plan)}
