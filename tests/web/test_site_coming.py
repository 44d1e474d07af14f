"""The days of work of the whole garden: in order, each once, clearing before spreading."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta

import pytest

from bedwright.drawings import BedState
from bedwright.planning.work.making import monday
from bedwright.planning.work.model import Assigned
from bedwright.web.bed_states import bed_states, last_season, standing_crops
from bedwright.web.coming import coming, done_acts, within
from bedwright.web.plan_store import with_work

pytestmark = pytest.mark.django_db


def test_days_stand_in_order_and_those_of_one_crop_together(demo_plan):
    days = coming(demo_plan)

    assert [each.on for each in days] == sorted(each.on for each in days)
    peppers = [each for each in days if each.code == "set_out" and each.crop == "sweet pepper"]
    assert {bed for each in peppers for bed in each.beds} == {"W2", "W3", "R5"}
    assert len({(each.on, each.code, each.crop) for each in days}) == len(days)


def test_a_bed_is_cleared_before_it_is_spread_on_and_spread_before_it_is_planted(demo_plan):
    by_bed: dict[str, dict[str, date]] = {}
    for each in coming(demo_plan):
        for bed in each.beds:
            by_bed.setdefault(bed, {})[each.code] = each.on

    checked = 0
    for bed, on in by_bed.items():
        planted = on.get("set_out") or on.get("sow") or on["plant_pieces"]
        if "spread" in on:
            assert on["spread"] <= planted, bed
            if "clear_by" in on:
                assert on["clear_by"] <= on["spread"], bed
                checked += 1
    assert checked > 5


def test_what_the_journal_tells_of_is_not_told_again(demo_plan):
    first = next(each for each in coming(demo_plan) if each.code == "spread")
    left = coming(demo_plan, frozenset({(first.beds[0], "spread")}))

    assert all(first.beds[0] not in each.beds for each in left if each.code == "spread")


def test_a_round_of_spreading_is_done_when_every_material_is_written_down():
    half = [("W2", "spread", False, True), ("W2", "spread", False, False)]
    whole = [("W2", "spread", False, True), ("W2", "spread", True, False)]

    assert ("W2", "spread") not in done_acts(half)
    assert ("W2", "spread") in done_acts(whole)
    assert ("W2", "side_dress") not in done_acts(whole)


def test_within_counts_both_ends(demo_plan):
    days = coming(demo_plan)
    on = days[3].on

    assert {each.on for each in within(days, on, on)} == {on}
    assert within(days, on + timedelta(days=1), on) == ()


def test_a_beds_state_follows_the_calendar(demo_plan):
    bed = next(each for each in demo_plan.beds if each.prescription.bed.id == "W2")
    course = bed.nitrogen

    def state(on: date) -> BedState:
        return bed_states(demo_plan.document, demo_plan, on)["W2"]

    assert state(course.spread - timedelta(days=1)) is BedState.PLANNED
    assert state(course.spread) is BedState.RESTING
    assert state(course.set_out) is BedState.STANDING
    assert state(course.last_harvest + timedelta(days=1)) is BedState.EMPTY
    assert bed_states(demo_plan.document, demo_plan, course.spread)["W7"] is BedState.EMPTY


def test_a_bed_is_not_empty_while_a_crop_stands_in_it(demo_plan):
    document, on = demo_plan.document, demo_plan.as_of
    stands = {each.bed for each in document.garden.standing}

    for plan in (None, demo_plan):
        states = bed_states(document, plan, on)
        assert {bed for bed, state in states.items() if state is BedState.STANDING} == stands


def test_what_stands_is_out_once_its_bed_is_cleared_and_before_it_is_spread_on(demo_plan):
    document, on, work = demo_plan.document, demo_plan.as_of, demo_plan.work
    (clear,) = (each for each in work.tasks if each.kind == "clear" and each.bed == "R1")
    done = Assigned(clear.id, monday(on), on, done=True)
    marked = with_work(demo_plan, (), replace(work, assigned=(*work.assigned, done)))

    assert standing_crops(document, demo_plan, on)["R1"] == "kale"
    assert "R1" not in standing_crops(document, marked, on)
    assert bed_states(document, marked, on)["R1"] is BedState.PLANNED
    spread = max(each.nitrogen.spread for each in demo_plan.beds)
    assert standing_crops(document, demo_plan, spread) == {}


def test_the_last_season_is_the_newest_told(demo_plan):
    told = [each for each in demo_plan.document.garden.history if each.bed == "W2" and each.crop]
    crop, year = last_season(demo_plan.document, "W2")

    assert year == max(each.year for each in told)
    assert crop in {each.crop.replace("_", " ") for each in told if each.year == year}


def test_a_cover_is_taken_off_only_where_there_is_one(demo_plan):
    covered = {
        bed.prescription.bed.id
        for bed in demo_plan.beds
        if bed.dates is not None and bed.dates.cover is not None
    }
    told = {bed for each in coming(demo_plan) if each.code == "cover_off" for bed in each.beds}
    assert told <= covered
