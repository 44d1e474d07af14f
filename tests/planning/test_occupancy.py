"""What stands where, month by month: days of the plan, standing crops, parts, the years ahead."""

from dataclasses import replace
from datetime import date, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st
from small_gardens import AS_OF, BED, LIBRARY, garden_text, plan_of

from bedwright.planning.assignment.candidates import candidate_at
from bedwright.planning.assignment.model import Unit
from bedwright.planning.assignment.result import Placement
from bedwright.planning.occupancy import Doing, Occupancy, Spell, months_of, occupancy
from bedwright.season import SeasonPlan

DAYS = st.dates(date(2026, 6, 1), date(2028, 6, 30))


def occupied(plan: SeasonPlan, years=None) -> Occupancy:
    return occupancy(
        plan.document, plan.library, plan.as_of, plan.grown, plan.turnover, plan.harvest, years
    )


def months(plan: SeasonPlan, unit: int = 0, years=None, first: date = AS_OF) -> dict[str, str]:
    """What a bed does by month, months in which it is empty left out."""
    found = months_of(occupied(plan, years), first)
    row = found.cells[unit]
    return {
        month.isoformat()[:7]: str(cell.doing)
        for month, cell in zip(found.months, row, strict=True)
        if cell.doing is not Doing.EMPTY
    }


@pytest.fixture(scope="module")
def tomato() -> SeasonPlan:
    return plan_of(garden_text())


def test_a_bed_is_made_ready_bears_its_crop_is_picked_and_is_empty_again(tomato):
    (planting,) = tomato.harvest.crops[0].plantings
    (picking,) = planting.pickings
    course = tomato.beds[0].nitrogen

    found = months(tomato)

    def of(on: date) -> str:
        return on.isoformat()[:7]

    picked = {each for each, doing in found.items() if doing == "picked"}
    assert min(picked) == of(picking.first)
    assert max(found) == max(picked) == of(picking.last)
    assert found[of(course.set_out)] == "growing"
    assert found[of(course.spread)] in ("resting", "growing")
    assert min(found) == of(course.spread)


def test_a_planting_without_a_day_is_in_no_month_and_is_named():
    text = garden_text(None).replace("set_out = 2027-05-10\n", "")

    found = occupied(plan_of(text))

    assert found.undated == (("A", "Tomato"),)
    assert found.spells == ()


def test_a_standing_crop_is_out_when_the_plan_clears_its_bed():
    text = garden_text(
        more='[[standing]]\nbed = "A"\ncrop = "kale"\nsince = 2026-08-15\npick_per_week = "2 lb"\n'
    )
    plan = plan_of(text)
    (turnover,) = plan.turnover

    kale, tomato = occupied(plan).spells

    assert (kale.crop, kale.told, kale.last) == ("kale", "standing", turnover.next.clear)
    assert kale.picked[0][0] == AS_OF
    assert kale.last < tomato.first


def test_a_standing_crop_that_nothing_ends_stays_and_is_named():
    text = garden_text(more=f'[[bed]]\nid = "B"\n{BED}\n[[standing]]\nbed = "B"\ncrop = "chives"\n')

    plan = plan_of(text)
    found = occupied(plan)

    assert found.open_ended == (("B", "Chives"),)
    assert set(months(plan, unit=1).values()) == {"growing"}
    assert len(months(plan, unit=1)) == 12


def test_a_companion_stands_beside_its_crop_while_both_grow():
    plan = plan_of(garden_text(want='companion = "lettuce"'))
    found = months_of(occupied(plan), date(2027, 5, 1), 1)
    ((cell,),) = found.cells

    assert {each.crop for each in cell.held} == {"tomato", "lettuce"}
    assert cell.beside


def placement(plan: SeasonPlan, part: int | None, on: date, settled=None) -> Placement:
    crop = candidate_at(plan.document, LIBRARY, "want", 0)
    end = on + timedelta(days=90)
    return Placement(
        Unit("A", part, 10.0, 0.5), crop, on.year, "spring", on, end, on, on + timedelta(days=60),
        end, settled, (), (), None, None, None, None,
    )  # fmt: skip


class Years:
    """The years ahead as occupancy reads them."""

    def __init__(self, *placements: Placement) -> None:
        self.placements = placements


def test_the_years_ahead_fill_one_part_of_a_bed_and_are_marked_as_proposals():
    plan = plan_of(garden_text(None, bed=BED + "parts = 2\n"))
    ahead = Years(placement(plan, 2, date(2026, 12, 5)))

    found = months_of(occupied(plan, ahead), date(2026, 12, 1), 2)

    south, north = found.cells
    assert [each.doing for each in south] == [Doing.EMPTY, Doing.EMPTY]
    assert [each.doing for each in north] == [Doing.GROWING, Doing.GROWING]
    assert north[0].held[0].proposed


def test_a_proposal_gives_way_to_what_the_season_plans_itself(tomato):
    same = placement(tomato, None, date(2027, 5, 10), "want")
    other = placement(tomato, None, date(2027, 6, 1))

    assert occupied(tomato, Years(same, other)).spells == occupied(tomato).spells


def test_of_one_month_the_earlier_crop_comes_first():
    base = Spell("A", None, "beet", "Beet", date(2027, 4, 1), date(2027, 6, 10), None,
                 ((date(2027, 6, 1), date(2027, 6, 10)),), False, "plan")  # fmt: skip
    after = replace(base, crop="kale", name="Kale", first=date(2027, 6, 20), last=None, picked=())
    found = Occupancy((Unit("A", None, 10.0, 1.0),), (base, after), (), ())

    ((june,),) = months_of(found, date(2027, 6, 15), 1).cells

    assert [(each.crop, each.doing) for each in june.held] == [
        ("beet", Doing.PICKED),
        ("kale", Doing.GROWING),
    ]
    assert not june.beside


@given(first=DAYS, stays=st.integers(0, 300), wait=st.integers(0, 300), rest=st.integers(0, 60),
       month=DAYS)  # fmt: skip
def test_a_month_tells_the_most_that_any_of_its_days_sees(first, stays, wait, rest, month):
    last = first + timedelta(days=stays)
    pick = first + timedelta(days=min(wait, stays))
    spell = Spell("A", None, "x", "X", first, last, first - timedelta(days=rest),
                  ((pick, last),), False, "plan")  # fmt: skip
    found = Occupancy((Unit("A", None, 1.0, 1.0),), (spell,), (), ())

    begin = month.replace(day=1)
    days = [begin + timedelta(days=at) for at in range(31)]
    days = [each for each in days if each.month == begin.month]
    seen = set()
    for day in days:  # day by day, by hand
        if pick <= day <= last:
            seen.add(Doing.PICKED)
        elif first <= day <= last:
            seen.add(Doing.GROWING)
        elif first - timedelta(days=rest) <= day < first:
            seen.add(Doing.RESTING)
        else:
            seen.add(Doing.EMPTY)
    most = max(seen, key=list(Doing).index)

    ((cell,),) = months_of(found, month, 1).cells
    assert cell.doing == most


@pytest.mark.parametrize("count", [0, 121])
def test_no_months_and_too_many_are_refused(tomato, count):
    with pytest.raises(ValueError, match="months"):
        months_of(occupied(tomato), AS_OF, count)
