"""Clearing by what stands there; trays only for what is raised; each crop of a bed on its day."""

from datetime import date, timedelta

import pytest
from work_gardens import AS_OF, garden, plan_of, task, work_of

from bedwright.planning.work.model import Work
from bedwright.reports.work_text import week_page

TOMATO = '[[want]]\ncrop = "tomato"\nbeds = ["A"]\nset_out = 2027-05-10\n'
AREA = 20 * 4 * 0.3048**2  # m2
KALE = '[[standing]]\nbed = "A"\ncrop = "kale"\n'


def codes(work: Work, kind: str = "clear") -> set[str]:
    return {each.code for each in task(work, kind).cautions}


# Clearing -----------------------------------------------------------------------------------------


def test_a_bed_of_which_nothing_is_told_takes_the_tables_usual_time():
    clear = task(work_of(garden(TOMATO)), "clear")

    assert clear.hours.value == pytest.approx(AREA * 3 / 60, rel=1e-3)
    assert clear.cautions == ()


def test_a_sick_crop_is_carried_off_leaf_by_leaf_and_takes_longer():
    sick = KALE + 'since = 2026-08-20\nhealth = "diseased"\n'
    clear = task(work_of(garden(TOMATO, more=sick)), "clear")

    assert clear.hours.value == pytest.approx(AREA * 5 / 60, rel=1e-3)
    (way,) = [each for each in clear.cautions if each.code == "work_clear_way"]
    assert way.values["way"] == "burn_or_bin"


def test_what_is_ripe_is_picked_first_and_its_hours_and_mass_count():
    more = KALE + 'pick_per_week = "10 lb"\n'
    plan = plan_of(garden(TOMATO, more=more))
    assert plan.work is not None
    clear = task(plan.work, "clear")
    (standing,) = plan.turnover
    way = next(each for each in standing.ways if each.kind not in ("sell", "house"))

    picked = next(each.amount for each in clear.bring if each.key == "picked")
    assert picked is not None
    assert picked.value == pytest.approx(10 * 0.45359237)
    minutes = {"dig_in": 5, "leave_on_top": 1.5}.get(way.kind, 3)
    picking = 0.158 * picked.value  # a leaf crop's hours a kilogram
    assert clear.hours.value == pytest.approx(AREA * minutes / 60 + picking, rel=1e-3)
    assert {"work_clear_way", "work_clear_pick"} <= codes(plan.work)


def test_what_still_gives_is_not_pulled_weeks_ahead():
    giving = task(work_of(garden(TOMATO, more=KALE + 'pick_per_week = "10 lb"\n')), "clear")
    empty = task(work_of(garden(TOMATO)), "clear")

    assert (giving.latest - giving.earliest).days == 7
    assert (empty.latest - empty.earliest).days == 28


def test_what_is_dug_in_rots_before_the_bed_is_planted():
    vetch = '[[standing]]\nbed = "A"\ncrop = "hairy vetch"\nsince = 2026-09-20\n'
    plan = plan_of(garden(TOMATO, more=vetch))
    assert plan.work is not None
    (standing,) = plan.turnover
    way = next(each for each in standing.ways if each.kind not in ("sell", "house"))
    at = {each.task: each.day for each in plan.work.assigned}
    waited = (at["A/tomato/set_out/1"] - at["A/tomato/clear/1"]).days

    assert way.kind in ("dig_in", "leave_on_top")
    assert way.by is not None
    assert standing.next.start is not None
    assert task(plan.work, "clear").latest == way.by
    assert waited >= (standing.next.start - way.by).days > 0


def test_what_stands_today_is_not_taken_as_cleared_however_late_it_is():
    today = date(2027, 5, 3)
    plan = plan_of(garden(TOMATO, more=KALE), today)
    assert plan.work is not None
    at = {each.task: each for each in plan.work.assigned}

    assert not at["A/tomato/clear/1"].done
    assert at["A/tomato/clear/1"].day >= today
    assert not any(each.done for key, each in at.items() if "/spread/" in key)


def test_the_week_says_where_the_plants_go():
    plan = plan_of(garden(TOMATO, more=KALE))
    assert plan.work is not None
    at = next(each for each in plan.work.assigned if each.task == "A/tomato/clear/1")
    week = " ".join(week_page(plan, at.week).split())

    assert "Kale: " in week.split("Clear, A (tomato)")[1].split("[ ]")[0]


# Trays --------------------------------------------------------------------------------------------


def supply(stated: str, crop: str = "tomato") -> str:
    return f'[[supply]]\nitem = "plants"\ncrop = "{crop}"\n{stated}\n'


def kinds(work: Work) -> set[str]:
    return {each.kind for each in work.tasks}


def test_plants_that_are_bought_are_neither_sown_nor_tended():
    work = work_of(garden(TOMATO, more=supply("package = 6")))

    assert kinds(work) & {"sow_trays", "harden", "tend"} == set()
    assert "set_out" in kinds(work)


def test_plants_on_hand_save_the_trays_of_their_share():
    onions = TOMATO.replace("tomato", "onion")
    cells = "tray_cells = 40"
    every = task(work_of(garden(onions, cells)), "sow_trays")
    some = task(work_of(garden(onions, cells, more=supply("on_hand = 264", "onion"))), "sow_trays")
    none = work_of(garden(onions, cells, more=supply("on_hand = 2000", "onion")))

    # 528 plants are raised for 480 places: half of them are there
    assert (every.trays, some.trays) == (14, 7)
    assert "sow_trays" not in kinds(none)


def test_seed_stated_as_on_hand_is_still_sown_in_trays():
    work = work_of(
        garden(TOMATO, more='[[supply]]\nitem = "seed"\ncrop = "tomato"\non_hand = 20\n')
    )

    assert "sow_trays" in kinds(work)


# Two crops on a bed -------------------------------------------------------------------------------


def test_a_companion_is_sown_set_out_and_picked_on_its_own_days():
    both = TOMATO + 'companion = "lettuce"\n'
    plan = plan_of(garden(both))
    assert plan.work is not None
    (layout,) = plan.layouts
    days = layout.companion_days
    assert days is not None
    own = {each.kind: each for each in plan.work.tasks if each.id.startswith("A/lettuce/")}

    assert own["set_out"].earliest == days.start
    assert own["sow_trays"].earliest == days.sow_under_cover
    assert own["sow_trays"].frees_bench == own["set_out"].id
    assert own["pick"].earliest == days.first_pick
    assert own["set_out"].crop == "lettuce"
    (tomato,) = [each for each in plan.work.tasks if each.id == "A/tomato/set_out/1"]
    assert {each.key for each in tomato.bring if each.kind == "plants"} == {"tomato"}


# Rest ---------------------------------------------------------------------------------------------


def test_a_rest_that_is_over_is_not_asked_for():
    from bedwright.planning.work.model import Act

    acts = (Act("set_out", AS_OF + timedelta(days=100), "A", "tomato"),)
    work = work_of(garden(TOMATO), AS_OF + timedelta(days=110), acts)

    assert not any("/rest/" in each.task for each in work.assigned if not each.done)
