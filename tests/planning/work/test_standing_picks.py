"""What stands in a bed is picked, washed and packed each week until the bed is cleared."""

from datetime import date, timedelta

import pytest
from work_gardens import AS_OF, garden, plan_of, task

from bedwright.planning.work.model import Act, Task
from bedwright.season import SeasonPlan

TOMATO = '[[want]]\ncrop = "tomato"\nbeds = ["A"]\nset_out = 2027-05-10\n'
KALE = '[[standing]]\nbed = "A"\ncrop = "kale"\n'
WEEKLY = KALE + 'pick_per_week = "7 kg"\n'
WEEK = timedelta(days=7)


def picks(plan: SeasonPlan, kind: str = "pick") -> list[Task]:
    """The weekly work of one kind on what stands, by its weeks."""
    assert plan.work is not None
    found = [each for each in plan.work.tasks if each.standing and each.kind == kind]
    return sorted(found, key=lambda each: each.earliest)


def picked(tasks: list[Task]) -> float:
    return sum(
        each.amount.value
        for one in tasks
        for each in one.bring
        if each.key == "picked" and each.amount is not None
    )


def made(more: str, as_of: date = AS_OF, acts: tuple[Act, ...] = ()) -> SeasonPlan:
    return plan_of(garden(TOMATO, more=more), as_of, acts)


def test_each_week_until_the_clearing_has_its_picking_and_the_last_is_part_of_the_clearing():
    plan = made(WEEKLY)
    assert plan.work is not None
    clear = task(plan.work, "clear")
    weeks = picks(plan)

    # AS_OF is a Monday; the clearing, a week long, picks what ripens in the last seven days.
    assert weeks[0].earliest == AS_OF
    assert all(each.earliest.weekday() == 0 for each in weeks)
    assert weeks[-1].latest == clear.earliest - timedelta(days=1)
    # 7 kg a week are 1 kg a day, by hand
    assert picked([*weeks, clear]) == pytest.approx((clear.latest - AS_OF).days)
    assert picked(weeks[:1]) == pytest.approx(7)
    (turnover,) = plan.turnover
    assert turnover.left.total is not None
    assert picked([*weeks, clear]) == pytest.approx(turnover.left.total.value)


def test_its_hours_are_those_of_the_labor_table_for_a_leaf_crop():
    plan = made(WEEKLY)

    assert picks(plan)[0].hours.value == pytest.approx(7 * 0.158, rel=1e-3)
    assert picks(plan, "wash")[0].after == ((picks(plan)[0].id, 0),)
    assert picks(plan, "pack")[0].after == ((picks(plan, "wash")[0].id, 0),)


def test_what_is_picked_in_clearing_is_washed_and_packed_after_it():
    plan = made(WEEKLY)
    assert plan.work is not None
    last = picks(plan, "wash")[-1]

    assert last.after == ((task(plan.work, "clear").id, 0),)
    assert last.hours.value == pytest.approx(picks(plan, "wash")[0].hours.value)


def test_a_plan_made_anew_keeps_the_ids_of_the_weeks_to_come():
    before = {each.id: each.latest for each in picks(made(WEEKLY))}
    after = picks(made(WEEKLY, AS_OF + 3 * WEEK))

    assert after
    assert all(before[each.id] == each.latest for each in after)


def test_a_picking_of_last_week_is_not_taken_for_this_weeks():
    today = AS_OF + timedelta(days=9)  # a Wednesday
    of_last_week = Act("pick", AS_OF + timedelta(days=3), "A", "kale")
    of_this_week = Act("pick", AS_OF + timedelta(days=8), "A", "kale")

    for act, done in ((of_last_week, False), (of_this_week, True)):
        plan = made(WEEKLY, today, (act,))
        assert plan.work is not None
        first = picks(plan)[0].id
        assert first in {each.task for each in plan.work.assigned}
        assert any(each.task == first and each.done for each in plan.work.assigned) is done


@pytest.mark.parametrize(
    ("spray", "first"),
    [
        ("sprayed = 2027-01-28\nlabel_harvest_days = 14\n", date(2027, 2, 11)),
        ("sprayed = 2027-01-28\n", None),  # the label's interval is not stated
    ],
    ids=["stated", "silent"],
)
def test_a_label_holds_the_picking_back(spray: str, first: date | None):
    found = picks(made(WEEKLY + spray))

    assert (found[0].earliest if found else None) == first


def test_by_the_table_it_is_picked_from_its_first_day_to_its_last():
    plan = made(KALE + "since = 2026-12-20\n")
    (turnover,) = plan.turnover
    assert turnover.left.first is not None
    assert turnover.left.last is not None
    assert turnover.left.last < date(2027, 5, 1)

    assert picks(plan)[0].earliest == turnover.left.first
    assert picks(plan)[-1].latest < turnover.left.last


def test_what_the_plan_planted_itself_is_picked_once_though_the_document_says_that_it_stands():
    today = date(2027, 9, 1)
    kale = '[[want]]\ncrop = "kale"\nbeds = ["A"]\nset_out = 2027-06-10\n'
    plan = plan_of(garden(kale, more=WEEKLY + "since = 2027-06-10\n"), today)
    assert plan.work is not None

    assert picks(plan) == []
    assert any(each.kind == "pick" for each in plan.work.tasks)


def test_a_crop_that_nothing_clears_and_nothing_ends_is_said_to_be_in_no_week():
    more = WEEKLY.replace('"A"', '"B"')
    plan = plan_of(garden(TOMATO, beds=("A", "B"), more=more))
    assert plan.work is not None

    assert picks(plan) == []
    (said,) = [each for each in plan.work.findings if each.code == "work_standing_no_end"]
    assert (said.values["bed"], said.values["crop"]) == ("B", "kale")


def test_a_crop_whose_bed_nothing_needs_is_picked_until_it_is_over():
    more = KALE.replace('"A"', '"B"') + "since = 2026-12-20\n"
    plan = plan_of(garden(TOMATO, beds=("A", "B"), more=more))
    weeks = picks(plan)

    assert {each.bed for each in weeks} == {"B"}
    assert picked(weeks) > 0


def test_what_is_cut_at_once_and_over_before_the_clearing_is_cut_in_its_own_days():
    plan = made('[[standing]]\nbed = "A"\ncrop = "cabbage"\nsince = 2026-12-01\n')
    (turnover,) = plan.turnover
    (cut,) = picks(plan)
    assert plan.work is not None

    assert turnover.left.at_once is not None
    assert picked([cut]) == pytest.approx(turnover.left.at_once.value)
    assert cut.latest < task(plan.work, "clear").latest
    assert picked([task(plan.work, "clear")]) == 0
