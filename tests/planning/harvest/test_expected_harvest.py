"""The expected harvest: how much, from what, when, and against what the stall wants."""

import json
import math
from datetime import date, timedelta

import jsonschema
import pytest
from harvest_gardens import (
    AREA,
    CARROT,
    LIBRARY,
    ONION,
    POUND,
    TOMATO,
    codes,
    harvest_of,
    only,
    plan_of,
    season,
    weekly,
)
from hypothesis import given, settings
from hypothesis import strategies as st

from bedwright.planning.harvest.model import Picking, Range
from bedwright.planning.harvest.pickings import mondays_of, shares_in
from bedwright.planning.harvest.stall import balance_of, offered_of_kept, wanted_by_week
from bedwright.reports.figures_json import figure_dict
from bedwright.reports.harvest_text import harvest_text, told_words
from bedwright.reports.plan_json import plan_dict
from bedwright.reports.plan_schema import plan_schema
from bedwright.units import UnitSystem

DAYS = st.dates(date(2026, 1, 1), date(2030, 1, 1))
TABLE = LIBRARY.fact("crop_facts", "tomato", "yield", "kg/m2")


def test_the_table_stands_where_the_garden_has_no_record():
    crop = only(TOMATO)

    assert crop.mass.typical == pytest.approx(TABLE.value * AREA)
    assert crop.mass.low == pytest.approx(TABLE.least * AREA)
    assert crop.mass.high == pytest.approx(TABLE.most * AREA)
    assert told_words(crop) == "From the table, not from your garden."


@pytest.mark.parametrize(("years", "told"), [((2026,), "table"), ((2025, 2026), "record")])
def test_from_your_garden_is_said_from_two_seasons_on(years: tuple[int, ...], told: str):
    crop = only(TOMATO + "".join(season(year, "60 lb") for year in years))

    own, weight = 60 * POUND, len(years) / (len(years) + 2)
    assert crop.mass.typical == pytest.approx(weight * own + (1 - weight) * TABLE.value * AREA)
    assert (crop.told_by, crop.seasons) == (told, len(years))
    assert ("not from your garden" in told_words(crop)) is (told == "table")


def test_two_harvests_of_one_year_are_one_season():
    crop = only(TOMATO + season(2026, "60 lb") + season(2026, "50 lb", bed="B"), ("A", "B"))

    assert (crop.told_by, crop.seasons) == ("table", 1)


def test_a_goal_takes_the_tables_spread_in_proportion():
    crop = only(TOMATO.replace("set_out", 'yield_goal = "100 lb"\nset_out'))

    assert crop.told_by == "goal"
    assert crop.mass.typical == pytest.approx(100 * POUND)
    assert crop.mass.low == pytest.approx(100 * POUND * TABLE.least / TABLE.value)
    assert crop.mass.high == pytest.approx(100 * POUND * TABLE.most / TABLE.value)


def test_the_weeks_hold_the_whole_harvest_and_begin_on_mondays():
    crop = only(TOMATO)
    (planting,) = crop.plantings
    (picking,) = planting.pickings

    assert all(each.monday.weekday() == 0 for each in crop.weeks)
    assert math.fsum(each.picked.typical for each in crop.weeks) == pytest.approx(crop.mass.typical)
    assert crop.weeks[0].monday <= picking.first <= crop.weeks[0].sunday
    assert crop.weeks[-1].monday <= picking.last <= crop.weeks[-1].sunday


def test_picking_agrees_with_the_days_of_work():
    plan = plan_of(TOMATO)
    assert plan.work is not None
    assert plan.harvest is not None
    picks = [each for each in plan.work.tasks if each.kind == "pick"]
    (picking,) = plan.harvest.crops[0].plantings[0].pickings

    assert picking.first == picks[0].earliest
    assert picks[-1].earliest <= picking.last <= picks[-1].latest


def test_bunches_are_what_is_fit_to_sell_by_the_mass_of_one():
    crop = only(CARROT)
    week = crop.weeks[1]

    assert crop.unit == "bunch"
    assert week.to_sell.typical == pytest.approx(0.75 * week.picked.typical)
    assert week.pieces.typical == pytest.approx(week.to_sell.typical / (12 / 16 * POUND))


def test_the_gardeners_own_unit_of_sale_counts():
    own = '[[crop]]\ncrop = "carrot"\nprice = "3 USD"\nper = "1 lb"\n'

    assert only(CARROT + own).unit == "weight"


def test_weeks_with_too_little_and_too_much_are_named():
    found = harvest_of(TOMATO + weekly("3 lb", "07-05", "10-03"))
    (crop,) = found.crops
    short = next(each for each in found.findings if each.code == "harvest_gap")

    by_week = {each.monday: each.balance for each in crop.weeks}
    assert by_week[date(2027, 7, 5)] == "gap"
    assert by_week[date(2027, 8, 16)] == "glut"
    assert short.values["weeks"].startswith("2027-07-05/")
    lacks = [each.wanted - each.to_sell.typical for each in crop.weeks if each.balance == "gap"]
    assert short.values["mass"].value == pytest.approx(math.fsum(lacks))
    text = harvest_text(found, UnitSystem.US)
    assert "* Tomato: less than the stall wants (July 5" in text
    assert "wanted 3 lb: too little" in text


def test_without_a_wish_nothing_is_too_much():
    assert {each.balance for each in only(TOMATO).weeks} == {""}


def test_onions_are_offered_until_they_are_gone():
    crop = only(ONION + weekly("8 lb", "07-05", "12-26", "onion"))
    sold = math.fsum(each.to_sell.typical for each in crop.weeks)

    assert crop.keeps
    assert sold + crop.left.typical == pytest.approx(crop.mass.typical * 0.875)
    picked = next(each.monday for each in crop.weeks if each.picked.typical > 0)
    after = [each for each in crop.weeks if each.monday > picked]
    assert after[0].balance == "enough"
    assert after[-1].balance == "gap"
    assert "glut" not in {each.balance for each in crop.weeks}


def test_what_is_wished_for_and_not_grown_is_said():
    found = harvest_of(TOMATO + weekly("2 lb", "07-01", "08-01", "cucumber"))

    assert "harvest_not_grown" in codes(found)
    assert {each.balance for each in found.of("cucumber").weeks} == {"gap"}


def test_a_planting_without_a_day_stands_in_no_week_and_tells_no_gap():
    wish = weekly("2 lb", "07-01", "08-01")
    found = harvest_of(TOMATO.replace("set_out = 2027-05-10\n", "") + wish)

    (crop,) = found.crops
    assert crop.mass.typical > 0
    assert {each.balance for each in crop.weeks} == {""}
    assert "harvest_not_dated" in codes(found)
    assert "harvest_gap" not in codes(found)


def test_two_crops_in_a_bed_share_its_area():
    found = harvest_of(TOMATO.replace("set_out", 'companion = "lettuce"\nset_out'))

    areas = [each.area.value for crop in found.crops for each in crop.plantings]
    assert len(areas) == 2
    assert math.fsum(areas) == pytest.approx(AREA)


def test_cultivars_are_counted_together_for_a_wish_of_the_crop():
    own = "".join(f'[[crop]]\ncrop = "{each}"\nlike = "tomato"\n' for each in ("red", "gold"))
    wants = TOMATO.replace('"tomato"', '"red"') + TOMATO.replace('"tomato"', '"gold"').replace(
        '["A"]', '["B"]'
    )
    both = harvest_of(own + wants + weekly("3 lb", "07-01", "10-01"), ("A", "B"))
    apart = harvest_of(own + wants, ("A", "B"))

    assert [each.crop for each in both.crops] == ["tomato"]
    assert len(both.crops[0].plantings) == 2
    assert len(apart.crops) == 2


def test_a_cover_crop_is_not_picked():
    cover = '[[want]]\ncrop = "buckwheat"\nbeds = ["A"]\nset_out = 2027-06-01\n'

    assert harvest_of(cover).crops == ()


def test_asparagus_bears_nothing_until_its_third_year():
    want = '[[want]]\ncrop = "asparagus"\nbeds = ["A"]\nset_out = 2027-04-10\n'
    old = "".join(season(year, "2 lb", "asparagus") for year in (2025, 2026))
    new, standing = only(want), only(want + old)

    assert (new.plantings[0].bears, new.mass.typical) == (2029, 0)
    assert "harvest_bears_later" in codes(harvest_of(want))
    assert standing.plantings[0].bears is None
    assert standing.mass.typical > 0


def test_a_plan_of_one_bed_alone_has_no_harvest():
    from bedwright.season import season_plan

    plan = plan_of(TOMATO + CARROT.replace('"A"', '"B"'), ("A", "B"))
    alone = season_plan(plan.document, LIBRARY, plan.as_of, only="A", ahead=False)

    assert (alone.harvest, alone.purchases) == (None, None)


def test_the_json_satisfies_its_schema_and_bears_its_working():
    data = plan_dict(plan_of(TOMATO + weekly("3 lb", "07-05", "10-03")))

    jsonschema.validate(json.loads(json.dumps(data)), plan_schema())
    (crop,) = data["harvest"]["crops"]
    assert crop["weeks"][0]["week"] == "2027-W27"
    assert crop["plantings"][0]["area"]["value"] == pytest.approx(AREA)
    assert figure_dict(TABLE)["value"] == crop["plantings"][0]["mass"]["inputs"][0]["value"]


# Weeks and stall ---------------------------------------------------------------------------------


@given(first=DAYS, days=st.integers(0, 120), early=st.integers(0, 30), late=st.integers(0, 30))
@settings(max_examples=25)
def test_every_years_shares_sum_to_the_whole(first: date, days: int, early: int, late: int):
    last = first + timedelta(days=days)

    def moved(by: int) -> tuple[date, date]:
        return first + timedelta(days=by), last + timedelta(days=by)

    pickings = [
        Picking(first, last, 0.5, moved(-early), moved(late)),
        Picking(*moved(14), 0.5, moved(14), moved(14)),
    ]
    shares = [shares_in(pickings, monday) for monday in mondays_of(pickings)]

    assert [math.fsum(x) for x in zip(*shares, strict=True)] == pytest.approx([1, 1, 1])


@given(
    first=st.tuples(st.integers(1, 12), st.integers(1, 28)),
    last=st.tuples(st.integers(1, 12), st.integers(1, 28)),
)
@settings(max_examples=25)
def test_a_wish_by_the_week_asks_for_its_days(first: tuple[int, int], last: tuple[int, int]):
    text = weekly("7 lb", f"{first[0]:02d}-{first[1]:02d}", f"{last[0]:02d}-{last[1]:02d}")
    wish = load_wish(text)
    begin, end = date(2027, *first), date(2027, *last)
    if end < begin:
        end = date(2028, *last)

    whole = math.fsum(wanted_by_week([wish], 2027).values())
    assert whole == pytest.approx(((end - begin).days + 1) * POUND)


def load_wish(text: str):
    import tomllib

    from bedwright.garden.model_rotation import Wish

    return Wish.model_validate(tomllib.loads(text)["wish"][0])


@given(st.lists(st.tuples(st.floats(0, 50), st.floats(0, 20)), min_size=1, max_size=12))
@settings(max_examples=25)
def test_what_is_offered_of_a_kept_crop_was_ready_before_and_is_wanted(weeks):
    start = date(2027, 7, 5)
    days = [start + timedelta(weeks=at) for at in range(len(weeks))]
    ready = {on: Range(each, each, each) for on, (each, _) in zip(days, weeks, strict=True)}
    wanted = {on: each for on, (_, each) in zip(days, weeks, strict=True)}
    offered, left = offered_of_kept(ready, wanted)

    had = sold = 0.0
    for on in days:
        had += ready[on].typical
        sold += offered[on].typical
        assert offered[on].typical <= wanted[on]
        assert sold <= had + 1e-9
    assert sold + left.typical == pytest.approx(had)


@pytest.mark.parametrize(
    ("offered", "wanted", "balance"),
    [(8.9, 10, "gap"), (9.1, 10, "enough"), (11.1, 10, "glut"), (1, 0, "glut"), (5, None, "")],
)
def test_a_tenth_more_or_less_is_enough(offered: float, wanted: float | None, balance: str):
    assert balance_of(offered, wanted) == balance
