"""Schedules of gardens: nothing broken by an independent check, replanning, what does not fit."""

from datetime import date, timedelta

import pytest
from work_checker import faults_of_work
from work_gardens import AS_OF, LIBRARY, garden, hours_there, plan_of, random_garden, task, work_of

from bedwright.garden.model_work import OtherHours
from bedwright.garden.model_work import Work as Stated
from bedwright.journal.entries import Did, Picked
from bedwright.planning.work.acts import acts_of
from bedwright.planning.work.hours import hours_of_week
from bedwright.planning.work.model import Act, Work

TOMATO = '[[want]]\ncrop = "tomato"\nbeds = ["A"]\nset_out = 2027-05-10\n'
FULL = [pytest.param(seed, marks=pytest.mark.full) for seed in range(6, 300)]


def codes(work: Work) -> set[str]:
    return {each.code for each in work.findings}


@pytest.mark.parametrize("seed", [*range(6), *FULL])
def test_no_window_wait_or_hour_is_broken_in_random_gardens(seed: int):
    plan = plan_of(random_garden(seed))
    work = plan.work
    assert work is not None
    stated = plan.document.garden.work
    assert stated is not None
    bench = float("inf") if stated.bench_trays is None else stated.bench_trays

    assert faults_of_work(work, hours_there(plan), bench) == []
    for each in work.assigned:
        asked = work.task(each.task)
        overdue = asked.latest < AS_OF  # stands in the week of planning
        latest = AS_OF + timedelta(days=6) if overdue else asked.latest
        assert each.done or asked.earliest <= each.day <= latest
    for choice in work.choices:
        assert choice.kind != "hours" or all(hours > 0 for _, hours in choice.weeks)


@pytest.mark.parametrize("name", ["kestrel_plan", "ennery_plan"])
def test_nor_in_the_demos(name: str, request):
    plan = request.getfixturevalue(name)
    stated = plan.document.garden.work

    assert faults_of_work(plan.work, hours_there(plan), stated.bench_trays) == []


@pytest.mark.parametrize("seed", [*range(1), *FULL[:20]])
def test_with_the_hours_that_it_names_everything_fits(seed: int):
    base = (3 + seed % 7) / 10
    text = garden(
        TOMATO.replace('["A"]', '["A", "B"]'),
        f"hours_per_week = {base}",
        ("A", "B"),
    )
    work = work_of(text)
    (choice,) = [each for each in work.choices if each.kind == "hours"]
    more = "".join(
        f"[[work.other_hours]]\nfirst = {on}\nlast = {on + timedelta(days=6)}\n"
        f"hours_per_week = {base + hours}\n"
        for on, hours in choice.weeks
    )
    eased = work_of(text + more)

    assert any(each.why == "hours" for each in work.left_out)
    assert [each for each in eased.left_out if each.why == "hours"] == []


def test_too_few_hours_are_named_with_what_would_do():
    work = work_of(garden(TOMATO, "hours_per_week = 0.3"))

    assert any(each.why == "hours" for each in work.left_out)
    assert {each.kind for each in work.choices} >= {"hours"}
    for each in work.overloads:
        assert each.hours > each.available or len(each.tasks) == 1
        assert sum(work.task(key).hours.value for key in each.tasks) == pytest.approx(each.hours)


def test_without_stated_hours_all_fits_and_that_is_said():
    work = work_of(garden(TOMATO))

    assert work.left_out == ()
    assert all(each.available is None for each in work.weeks)
    assert "work_hours_not_stated" in codes(work)


def test_a_bench_too_small_is_named():
    two = TOMATO.replace('["A"]', '["A", "B"]').replace("tomato", "onion")
    work = work_of(garden(two, "hours_per_week = 60\nbench_trays = 3\ntray_cells = 20", ("A", "B")))

    assert "bench" in {each.why for each in work.left_out}
    assert any(each.trays > 0 for each in work.choices)


# Replanning -------------------------------------------------------------------------------------


def test_what_is_done_stays_and_the_rest_is_planned_from_today():
    acts = (
        Act("clear", date(2027, 4, 12), "A"),
        Act("spread", date(2027, 4, 24), "A"),
        Act("set_out", date(2027, 5, 12), "A", "tomato"),
    )
    today = date(2027, 6, 2)
    work = work_of(garden(TOMATO, "hours_per_week = 9"), today, acts)
    at = {each.task: each for each in work.assigned}

    assert at["A/tomato/set_out/1"].done
    assert at["A/tomato/set_out/1"].day == date(2027, 5, 12)
    # what had to go before it counts as done with it
    assert at["A/tomato/harden/1"].done
    assert all(each.day >= today for each in work.assigned if not each.done)
    assert "A/tomato/look/1" not in at  # its week is past
    assert task(work, "weed", 2).id in at


def test_work_spread_late_puts_the_planting_off():
    acts = (Act("spread", date(2027, 5, 1), "A"),)
    work = work_of(garden(TOMATO), date(2027, 5, 3), acts)
    at = {each.task: each.day for each in work.assigned}

    # worked in this week, and then a rest of 14 days: beyond the last good day for setting out
    left = {each.task: each for each in work.left_out}
    assert "A/tomato/set_out/1" not in at
    assert left["A/tomato/set_out/1"].why in ("time", "waits")
    assert all(each.why != "hours" for each in work.left_out)


def test_past_work_is_taken_as_done_only_where_nothing_is_written_down():
    today = date(2027, 6, 2)
    silent = work_of(garden(TOMATO), today)
    told = work_of(garden(TOMATO), today, (Act("clear", date(2027, 4, 12), "A"),))

    assert "work_taken_as_done" in codes(silent)
    assert "work_overdue" in codes(told)
    overdue = task(told, "spread")
    at = {each.task: each.day for each in told.assigned}
    assert today <= at[overdue.id] < today + timedelta(days=7)


def test_the_document_can_tell_what_is_done():
    done = '[[labor_done]]\ntask = "clear"\nbed = "A"\non = 2027-04-01\n'
    work = work_of(garden(TOMATO, more=done), date(2027, 4, 5))
    at = {each.task: each for each in work.assigned}

    assert at["A/tomato/clear/1"].done


def test_the_journal_tells_what_is_done():
    entries = [
        Did(id="11111111-1111-4111-8111-111111111111", on=date(2027, 5, 12), bed="A",
            what="set out", crop="tomatoes"),
        Did(id="11111111-1111-4111-8111-111111111112", on=date(2027, 5, 1), bed="A",
            what="worked", hours=2.0),
        Picked(id="11111111-1111-4111-8111-111111111113", on=date(2027, 8, 3), bed="A",
               crop="tomato", mass="3 lb"),
    ]  # fmt: skip
    document = plan_of(garden(TOMATO)).document

    assert acts_of(entries, document, LIBRARY) == (
        Act("set_out", date(2027, 5, 12), "A", "tomato"),
        Act("pick", date(2027, 8, 3), "A", "tomato"),
    )


def test_ids_stay_when_the_plan_is_made_anew():
    text = garden(TOMATO, "hours_per_week = 9")
    early, late = work_of(text), work_of(text, date(2027, 4, 20), (Act("clear", AS_OF, "A"),))

    assert [each.id for each in early.tasks] == [each.id for each in late.tasks]


# Hours ------------------------------------------------------------------------------------------


def test_other_hours_count_by_the_day():
    stated = Stated(
        hours_per_week=14,
        other_hours=[
            OtherHours(first=date(2027, 7, 7), last=date(2027, 7, 20), hours_per_week=0),
            OtherHours(first="12-01", last="01-31", hours_per_week=7),
        ],
    )
    monday = date(2027, 7, 5)

    assert hours_of_week(stated, monday, monday) == pytest.approx(4)  # Monday and Tuesday
    assert hours_of_week(stated, monday + timedelta(days=7), monday) == 0
    assert hours_of_week(stated, date(2027, 12, 27), monday) == pytest.approx(7)
    assert hours_of_week(stated, date(2027, 8, 2), date(2027, 8, 6)) == pytest.approx(6)
    assert hours_of_week(None, monday, monday) == float("inf")


def test_the_same_garden_gives_the_same_work_twice():
    text = random_garden(3)

    assert work_of(text) == work_of(text)
