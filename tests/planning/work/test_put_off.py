"""A planting that the hours put off is told, as the bed's sheet names another day."""

from datetime import date

from work_gardens import garden, plan_of

from bedwright.reports.work_said import work_sentence
from bedwright.units import UnitSystem

WANTS = "".join(
    f'[[want]]\ncrop = "onion"\nbeds = ["{bed}"]\nset_out = 2027-04-08\n' for bed in "AB"
)


def test_a_planting_that_the_hours_put_off_is_told_with_both_days():
    plan = plan_of(garden(WANTS, "hours_per_week = 6", ("A", "B")))
    assert plan.work is not None
    later = [each for each in plan.work.findings if each.code == "work_planting_later"]
    moved = [
        each for each in plan.work.assigned
        if each.task.split("/")[2] == "set_out" and each.week > date(2027, 4, 8)
    ]  # fmt: skip

    assert len(later) == len(moved) == 1
    said = work_sentence(later[0], UnitSystem.US)
    assert "put its planting off, from April 8 to April 12" in said


def test_a_planting_in_its_week_is_not():
    plan = plan_of(garden(WANTS, "hours_per_week = 60", ("A", "B")))
    assert plan.work is not None

    assert not any(each.code == "work_planting_later" for each in plan.work.findings)
