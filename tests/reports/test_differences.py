"""Two season plans beside each other: what changes, and only that."""

from datetime import date, timedelta
from functools import cache
from pathlib import Path

import pytest

from bedwright.garden.load import load_text
from bedwright.planning.findings import finding
from bedwright.reference import Library
from bedwright.reports.differences import PlanDifferences, plan_differences
from bedwright.reports.differences.findings import bed_findings, only_in
from bedwright.reports.differences.model import Amount, Said
from bedwright.reports.differences.told import differences_told
from bedwright.season import SeasonPlan, season_plan
from bedwright.units import UnitSystem
from bedwright.working import Figure

AS_OF = date(2026, 11, 25)
LIBRARY = Library()
_BED = 'length = "40 ft"\nwidth = "4 ft"\ntexture = "silt loam"\n'
GARDEN = f"""format = 2
[garden]
name = "Small"
[limits]
[work]
hours_per_week = 12
[[bed]]
id = "A"
{_BED}
[[bed]]
id = "B"
{_BED}
[[stock]]
material = "feather meal"
package = "50 lb"
price = "40 USD"
[[stock]]
material = "blood meal"
package = "50 lb"
price = "90 USD"
[[want]]
crop = "tomato"
beds = ["A"]
set_out = 2027-05-10
[[want]]
crop = "carrot"
beds = ["B"]
set_out = 2027-04-20
"""
CHANGES = {
    "none": ("", ""),
    "crop": ('crop = "tomato"', 'crop = "cabbage"'),
    "day": ("2027-05-10", "2027-05-20"),
    "hours": ("hours_per_week = 12", "hours_per_week = 0.5"),
    "material": ("[limits]", '[limits]\navoid = ["feather meal"]'),
    "bed": ('beds = ["B"]', 'beds = ["A"]\nturn = "late summer"'),
}


@cache
def plan(change: str = "none") -> SeasonPlan:
    before, after = CHANGES[change]
    text = GARDEN.replace(before, after, 1) if before else GARDEN
    if change == "bed":
        text = text.replace("2027-04-20", "2027-08-01").replace(
            "set_out = 2027-05-10", 'set_out = 2027-05-10\nturn = "spring"'
        )
    document = load_text(text, "garden.toml", Path("/nonexistent"), LIBRARY, AS_OF)
    return season_plan(document, LIBRARY, AS_OF, ahead=False)


def with_change(change: str) -> PlanDifferences:
    return plan_differences(plan(), plan(change))


def amount(found: PlanDifferences, what: str) -> Amount:
    (one,) = (each for each in found.garden if each.what == what)
    return one


def test_a_plan_does_not_differ_from_itself():
    found = with_change("none")

    assert found.none
    assert differences_told(found, UnitSystem.US, "USD").none


def test_another_crop_changes_its_own_bed_alone():
    found = with_change("crop")
    (bed,) = found.beds

    assert bed.bed == "A"
    assert bed.crops == (("Tomato",), ("Cabbage",))
    assert bed.other_crops
    crops = {each.of: (each.before, each.after) for each in found.harvest}
    assert set(crops) == {"Tomato", "Cabbage"}
    assert crops["Tomato"][1] is crops["Cabbage"][0] is None
    assert crops["Tomato"][0] == pytest.approx(plan().harvest.of("tomato").mass.typical)


def test_a_later_day_moves_what_hangs_on_it():
    (bed,) = with_change("day").beds
    moved = {each.what: (each.before, each.after) for each in bed.days}

    assert moved["plant"] == (date(2027, 5, 10), date(2027, 5, 20))
    assert all(after - before == timedelta(days=10) for before, after in moved.values())
    assert {"first_pick", "last_pick"} <= set(moved)


def test_fewer_hours_leave_tasks_out_and_the_plan_says_so():
    found = with_change("hours")

    assert amount(found, "left_out").after == len(plan("hours").work.left_out)
    assert amount(found, "left_out").after > (amount(found, "left_out").before or 0)
    assert amount(found, "fullest_week").after < amount(found, "fullest_week").before
    assert not amount(found, "hours").changed
    assert sum(each.times for each in found.dropped) >= amount(found, "left_out").after - (
        amount(found, "left_out").before or 0
    )
    told = differences_told(found, UnitSystem.US, "USD")
    assert len(told.dropped) == len(found.dropped)
    assert any(each.startswith("A (tomato): ") for each in told.dropped)


def test_without_a_material_another_is_bought_at_its_price():
    found = with_change("material")
    money = amount(found, "money")

    assert money.before == pytest.approx(plan().purchases.cost)
    assert money.after == pytest.approx(plan("material").purchases.cost)
    spread = {(bed.bed, each.of): each for bed in found.beds for each in bed.amounts}
    feathers = [each for (_, of), each in spread.items() if of == "Feather meal"]
    assert feathers
    assert all(each.after is None for each in feathers)
    masses = {
        line.material.name: line.preplant.value + line.later.value
        for line in plan().beds[0].prescription.lines
    }
    assert spread["A", "Feather meal"].before == pytest.approx(masses["Feather meal"])


def test_a_bed_that_loses_its_crop_is_told_as_empty():
    found = with_change("bed")
    beds = {each.bed: each for each in found.beds}

    assert beds["B"].crops == (("Carrot",), ())
    assert beds["A"].crops == (("Tomato",), ("Tomato", "Carrot"))
    told = {each.bed: each for each in differences_told(found, UnitSystem.US, "USD").beds}
    assert (told["B"].rows[0].before, told["B"].rows[0].after) == ("carrot", "none")


@pytest.mark.parametrize("change", sorted(CHANGES))
def test_the_other_way_round_is_the_same_mirrored(change):
    there, back = with_change(change), plan_differences(plan(change), plan())

    assert there.gained == back.lost
    assert there.lost == back.gained
    assert (there.dropped, there.fitted) == (back.fitted, back.dropped)
    for one, other in zip(there.garden, back.garden, strict=True):
        assert (one.before, one.after) == (other.after, other.before)
    beds = {each.bed: each for each in back.beds}
    assert {each.bed for each in there.beds} == set(beds)
    for each in there.beds:
        assert each.crops == beds[each.bed].crops[::-1]
        assert each.gained == beds[each.bed].lost
        assert {(a.of, a.what, a.before, a.after) for a in each.amounts} == {
            (a.of, a.what, a.after, a.before) for a in beds[each.bed].amounts
        }


def test_a_finding_is_the_same_whatever_its_numbers_and_days():
    def said(crop: str, on: str, kg: float) -> Said:
        amount = Figure("mass", kg, "kg", "computed")
        return Said("work", finding("work_x", "act", crop=crop, on=on, amount=amount))

    before = [said("beet", "2027-05-01", 1.0)]

    assert only_in([said("beet", "2027-06-01", 2.0)], before) == ()
    assert len(only_in([said("kale", "2027-05-01", 1.0)], before)) == 1
    assert len(only_in([Said("bed", before[0].finding)], before)) == 1


def test_the_urgent_come_first():
    notes = [Said("bed", finding(f"c{at}", weight)) for at, weight in enumerate(("note", "act"))]

    assert [each.finding.weight for each in only_in(notes, [])] == ["act", "note"]


@pytest.mark.parametrize(
    ("before", "after", "changed"),
    [(None, None, False), (None, 0.0, True), (0.0, 0.0, False), (100.0, 100.4, False),
     (100.0, 101.0, True), (0.0, 0.1, True)],
)  # fmt: skip
def test_what_no_scale_tells_apart_is_the_same(before, after, changed):
    assert Amount("money", "money", before, after).changed is changed


@pytest.mark.parametrize(("system", "mass"), [(UnitSystem.US, "lb"), (UnitSystem.METRIC, "kg")])
def test_it_is_told_in_the_readers_units_with_what_is_more_or_less(system, mass):
    told = differences_told(with_change("day"), system, "USD")
    (bed,) = told.beds
    rows = {row.what: row for row in bed.rows}

    assert bed.headline.startswith("tomato: plant: 10 days later; tomato: spread: ")
    assert rows["tomato: plant"].by == "10 days later"
    assert rows["tomato: plant"].after == "May 20, 2027"
    harvest = next(row for row in told.garden if row.what == "harvest expected")
    assert mass in harvest.before
    assert not harvest.changed


def test_everything_that_a_plan_says_of_its_beds_has_words_here(kestrel_plan):
    beds = [each.id for each in kestrel_plan.document.garden.bed]
    said = tuple(each for bed in beds for each in bed_findings(kestrel_plan, bed))
    found = PlanDifferences((), (), (), said, ())

    told = differences_told(found, UnitSystem.US, "USD")

    assert len({each.room for each in said}) >= 3
    assert len(told.gained) + len(told.gained_notes) == len(said)
    assert not any("{" in each for each in (*told.gained, *told.gained_notes))
