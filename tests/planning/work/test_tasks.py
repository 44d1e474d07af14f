"""Every act is a task: its days, hours, what goes before, what to bring, what to mind."""

from datetime import date, timedelta

import pytest
from work_gardens import AS_OF, garden, plan_of, task, work_of

from bedwright.planning.findings import Finding
from bedwright.planning.work.bed_days import Grown, bed_days
from bedwright.planning.work.model import Task, Work
from bedwright.season import SeasonPlan
from bedwright.sheets.days import dressing_days, planting_day, spread_day

TOMATO = '[[want]]\ncrop = "tomato"\nbeds = ["A"]\nset_out = 2027-05-10\n'


@pytest.fixture(scope="module")
def tomato() -> SeasonPlan:
    return plan_of(garden(TOMATO + 'mulch = { of = "straw" }\n', "market_hours = 4"))


@pytest.fixture(scope="module")
def work(tomato: SeasonPlan) -> Work:
    assert tomato.work is not None
    return tomato.work


def codes(found: tuple[Finding, ...]) -> set[str]:
    return {each.code for each in found}


def kinds(work: Work) -> set[str]:
    return {each.kind for each in work.tasks}


def test_a_tomato_bed_asks_for_every_kind_of_work(work: Work):
    assert kinds(work) == {
        "clear", "fork_test", "loosen", "spread", "work_in", "rest", "drip", "trellis",
        "sow_trays", "harden", "tend", "set_out", "mulch", "weed", "tie", "look", "check_drip",
        "pick", "pack", "sell",
    } | ({"side_dress"} if "side_dress" in kinds(work) else set())  # fmt: skip


def test_a_carrot_bed_is_sown_thinned_and_washed():
    found = kinds(work_of(garden('[[want]]\ncrop="carrot"\nbeds=["A"]\nset_out=2027-04-05\n')))

    assert {"sow", "thin", "wash"} <= found
    assert found & {"sow_trays", "harden", "trellis", "tie", "mulch", "sell"} == set()


def test_ids_are_unique_and_name_bed_crop_kind_and_number(work: Work):
    ids = [each.id for each in work.tasks]

    assert len(ids) == len(set(ids))
    assert {"A/tomato/set_out/1", "A/tomato/weed/2", "//tend/1"} <= set(ids)


def test_what_must_go_before_goes_before(work: Work):
    known = {each.id for each in work.tasks}
    at = {each.task: each.day for each in work.assigned}
    order = ["clear", "fork_test", "loosen", "spread", "work_in", "set_out", "mulch"]

    assert all(before in known for each in work.tasks for before, _ in each.after)
    days = [at[task(work, kind).id] for kind in order]
    assert days == sorted(days)


def test_the_bed_rests_between_working_in_and_setting_out(work: Work, tomato: SeasonPlan):
    (planting,) = tomato.beds
    waits = dict(task(work, "set_out").after)
    planned = (planting.nitrogen.set_out - planting.nitrogen.spread).days

    assert waits["A/tomato/work_in/1"] == planned == 14
    at = {each.task: each.day for each in work.assigned}
    assert (at["A/tomato/set_out/1"] - at["A/tomato/work_in/1"]).days >= planned


def test_the_masses_to_bring_are_those_of_the_prescription(work: Work, tomato: SeasonPlan):
    assert brought(work) == pytest.approx(prescribed(tomato))


def prescribed(plan: SeasonPlan) -> dict[tuple[str, str], float]:
    found: dict[tuple[str, str], float] = {}
    for planting in plan.plantings:
        count = len(dressing_days(planting))
        for line in planting.prescription.lines:
            key = (planting.prescription.bed.id, line.material.key)
            later = line.later.value if count else 0.0
            found[key] = found.get(key, 0.0) + line.preplant.value + later
    return {key: mass for key, mass in found.items() if mass > 0}


def brought(work: Work) -> dict[tuple[str, str], float]:
    found: dict[tuple[str, str], float] = {}
    for each in work.tasks:
        for thing in each.bring:
            if thing.kind == "material" and thing.amount is not None:
                key = (str(each.bed), thing.key)
                found[key] = found.get(key, 0.0) + thing.amount.value
    return found


@pytest.mark.parametrize("name", ["kestrel_plan", "ennery_plan"])
def test_in_the_demos_masses_and_days_are_those_of_prescriptions_and_sheets(name: str, request):
    from bedwright.planning.layout.crop_facts import timing_tables

    plan: SeasonPlan = request.getfixturevalue(name)
    work = plan.work
    assert work is not None
    assert brought(work) == pytest.approx(prescribed(plan))
    tables = timing_tables(plan.library)
    for each in plan.plantings:
        grown = Grown(
            each.prescription, each.nitrogen, each.manure, each.dates, plan.layout_of(each),
            each.findings,
        )  # fmt: skip
        days = bed_days(grown, tables, plan.library)
        assert days is not None
        assert days.start == planting_day(each)
        told = spread_day(each)
        if days.turns and told is not None:
            assert days.turns[-1][0] == told
        if any(line.later.value > 0 for line in each.prescription.lines):
            assert days.dressings == dressing_days(each)
        work_told = dict(each.dates.stated.work) if each.dates and each.dates.stated else {}
        if each.dates is not None and each.dates.stated is not None:
            assert days.drip == work_told["lay_drip_by"]
            assert days.sow_under_cover == work_told.get("sow_under_cover")
            assert days.first_pick == work_told.get("first_picking")


def test_hours_are_those_of_the_table_by_the_bed(work: Work):
    # 80 ft2 are 7.43 m2: a fork takes 4 to 10 minutes a square meter, and may not be needed
    hours = task(work, "loosen").hours

    assert hours.value == pytest.approx(7.432 * 6 / 60, rel=1e-3)
    assert (hours.least, hours.most) == pytest.approx((0.0, 7.432 * 10 / 60), rel=1e-3)


def test_own_times_replace_the_tables_and_it_is_said():
    own = '[[labor_time]]\ntask = "clear"\ntime = "30 min"\narea = "40 ft2"\n'
    work = work_of(garden(TOMATO, more=own))

    hours = task(work, "clear").hours
    assert hours.value == pytest.approx(1.0)  # 80 ft2
    assert hours.least == hours.most == hours.value
    assert "work_own_times" in codes(work.findings)


def test_what_the_fork_found_decides_whether_a_bed_is_loosened():
    def after(found: str, tools: str = "") -> Work:
        told = f'[[fork_test]]\nbed = "A"\non = 2027-01-20\nfound = "{found}"\n'
        return work_of(garden(TOMATO, tools, more=told))

    loose, pan = after("loose"), after("pan")
    assert kinds(loose) & {"loosen", "fork_test"} == set()
    assert "work_not_loosened" in codes(loose.findings)
    assert "work_pan_wants_broadfork" in codes(task(pan, "loosen").cautions)
    with_tool = task(after("pan", 'tools = ["broadfork"]'), "loosen")
    assert "broadfork" in {each.key for each in with_tool.bring}
    assert with_tool.hours.least > 0


def test_a_test_of_the_fork_says_what_to_look_for(work: Work):
    (note,) = task(work, "fork_test").cautions

    assert note.code == "work_fork_test"
    assert {each.source_id for each in note.sources} == {"agronomy_facts_63_article", "sruc_vess"}


def test_powders_ask_for_a_mask_and_posts_for_a_call(work: Work):
    spread = task(work, "spread")
    masks = [e for e in spread.cautions if e.values.get("caution") == "dust_mask"]

    assert masks
    assert all(each.sources for each in spread.cautions)
    assert {"posts_call_first", "posts_driving"} <= codes(task(work, "trellis").cautions)


def test_a_bag_above_the_lifting_limit_is_lifted_in_parts():
    lime = (
        '[[soil_report]]\nid = "fall"\nbeds = ["A"]\nsampled = 2026-10-15\ndepth = "6 in"\n'
        'results = [\n  { analyte = "pH", value = 5.0, method = "1:1 soil:water" },\n'
        '  { analyte = "Organic matter", value = "3 %", method = "loss on ignition" },\n]\n'
    )
    work = work_of(garden(TOMATO, more=lime).replace('"20 ft"', '"60 ft"'))
    lifts = [e for t in work.tasks for e in t.cautions if e.code == "work_lift"]

    assert lifts
    for each in lifts:
        load, ground = each.values["load"], each.values["ground"]
        assert load.value > ground.value
        assert load.value / each.values["parts"] <= ground.value + 1e-9


def test_digging_in_the_dry_southwest_is_done_wet():
    dry = garden(TOMATO, place='latitude = "33.4 N"\nlongitude = "112.1 W"')
    wet = garden(TOMATO, place='latitude = "46.1 N"\nlongitude = "119.2 W"')

    assert "work_dust" in codes(task(work_of(dry), "loosen").cautions)
    assert "work_dust" not in codes(task(work_of(wet), "loosen").cautions)


def test_a_bed_with_lead_is_worked_damp(kestrel_plan: SeasonPlan):
    work = kestrel_plan.work
    leaded = {e.bed for e in work.tasks if "work_lead" in codes(e.cautions)}

    assert leaded == {"W14"}


def test_an_undated_want_asks_to_look_at_the_soil_alone_and_that_is_said():
    work = work_of(garden('[[want]]\ncrop = "tomato"\nbeds = ["A"]\n'))

    assert [each.kind for each in work.tasks] == ["fork_test"]
    assert "work_not_dated" in codes(work.findings)


def test_seedlings_stand_in_whole_trays_until_they_are_set_out(work: Work, tomato: SeasonPlan):
    sown = task(work, "sow_trays")
    (planting,) = tomato.beds
    raised = tomato.layout_of(planting).counts[0].to_raise.value

    assert sown.trays == -(-raised // 72) == 1
    assert sown.frees_bench == "A/tomato/set_out/1"
    standing = {each.monday: each.trays for each in work.weeks}
    at = {each.task: each.week for each in work.assigned}
    assert standing[at[sown.id]] == 1
    assert standing[at["A/tomato/set_out/1"] - timedelta(days=7)] == 1
    assert standing[at["A/tomato/set_out/1"]] == 0


def test_picking_brings_in_the_yield_hoped_for(work: Work, tomato: SeasonPlan):
    (planting,) = tomato.beds
    picked = sum(
        thing.amount.value
        for each in work.tasks
        if each.kind == "pick"
        for thing in each.bring
        if thing.amount is not None
    )
    goal = planting.prescription.crop.goal.value * planting.prescription.evidence.area.value

    assert picked == pytest.approx(goal)


def test_windows_hold_their_days(work: Work):
    def window(kind: str) -> tuple[date, date]:
        each: Task = task(work, kind)
        return each.earliest, each.latest

    assert window("set_out") == (date(2027, 5, 10), date(2027, 5, 16))
    assert window("spread")[1] == date(2027, 4, 26)
    assert all(each.earliest <= each.latest for each in work.tasks)
    assert all(each.day >= AS_OF for each in work.assigned)


def test_the_season_of_one_bed_is_that_of_the_hand_computation():
    """docs/work.md, one bed by hand."""
    area, row_m, kg = 7.43224, 6.096, 21.6584
    by_hand = {
        "clear": area * 3 / 60,
        "fork_test": 10 / 60,
        "loosen": area * 6 / 60,
        "spread": (5 + area * 0.5) / 60,
        "work_in": area * 1 / 60,
        "rest": 0.0,
        "drip": (10 + row_m * 0.2) / 60,
        "trellis": 6 * 2 / 60,
        "sow_trays": 12 / 60,
        "tend": 6 * 4 / 60,
        "harden": 6 / 60,
        "set_out": 8 * 0.4 / 60,
        "weed": 5 * area * 5 / 60,
        "tie": 9 * 8 * 0.6 / 60,
        "look": 19 * area * 0.25 / 60,
        "check_drip": 20 * row_m * 0.04 / 60,
        "pick": kg * 0.022,
        "pack": kg * 0.01,
    }
    found: dict[str, float] = {}
    for each in work_of(garden(TOMATO)).tasks:
        found[each.kind] = found.get(each.kind, 0.0) + each.hours.value

    assert found == pytest.approx(by_hand, rel=1e-3)
    assert sum(found.values()) == pytest.approx(7.87, abs=0.005)
