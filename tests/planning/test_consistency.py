"""One plan, one truth: what one output tells of a garden, every other one tells as well."""

import random
from collections import defaultdict
from collections.abc import Callable, Iterator
from datetime import date, timedelta
from itertools import pairwise
from pathlib import Path

import pytest

from bedwright.garden.load import load_text
from bedwright.planning.layout.crop_facts import timing_tables
from bedwright.planning.purchases.model import Buy
from bedwright.planning.work.bed_days import BedDays, Grown, bed_days
from bedwright.planning.work.model import Task, Work
from bedwright.reference import Library
from bedwright.reports.calendar.events import season_events
from bedwright.reports.days_said import day_words
from bedwright.reports.plan_json import plan_dict
from bedwright.reports.spreadsheet.spreadsheet import season_sheets
from bedwright.reports.text import plan_text
from bedwright.reports.words_drawings import DRAWING_WORDS
from bedwright.reports.words_spreading import SHEET_WORDS
from bedwright.reports.words_spreadsheet import COLUMNS, SHEET_TITLES, SPREADSHEET
from bedwright.season import BedPlan, SeasonPlan, season_plan
from bedwright.sheets.content import SheetContent, sheet_content
from bedwright.sheets.days import dressing_days, planting_day, spread_day

AS_OF = date(2027, 2, 1)
LIBRARY = Library()
BED = 'length = "20 ft"\nwidth = "4 ft"\ntexture = "silt loam"\n'
CROPS = ("tomato", "lettuce", "carrot", "potato", "pole bean", "onion", "cabbage", "cucumber")
SHED = ("blood meal", "feather meal", "steamed bone meal", "calcitic lime", "potassium sulfate")
HAIR = 1e-6
SMALL = [*range(3), *(pytest.param(seed, marks=pytest.mark.full) for seed in range(3, 15))]


def random_garden(seed: int) -> str:
    """Two or three beds; random crops, days, shed, seed and plants on hand, crops that stand."""
    dice = random.Random(seed)
    beds = "ABC"[: dice.randint(2, 3)]
    parts = ['format = 2\n[garden]\nname = "Small"\n']
    parts += [f'[[bed]]\nid = "{bed}"\n{BED}' for bed in beds]
    for each in SHED:
        stock = f'[[stock]]\nmaterial = "{each}"\npackage = "{dice.choice([5, 25, 50])} lb"\n'
        stock += dice.choice(["", 'on_hand = "3 lb"\n', 'price = "20 USD"\n'])
        parts.append(stock)
    grown = [dice.choice(CROPS) for _ in beds]
    for bed, crop in zip(beds, grown, strict=True):
        on = date(2027, 4, 1) + timedelta(days=dice.randint(0, 70))
        parts.append(f'[[want]]\ncrop = "{crop}"\nbeds = ["{bed}"]\nset_out = {on}\n')
        if dice.random() < 0.3:
            parts.append('yield_goal = "20 lb"\n')
        if crop == "tomato" and dice.random() < 0.7:
            parts.append('companion = "lettuce"\n')
        if dice.random() < 0.4:
            parts.append('mulch = { of = "straw" }\n')
        if dice.random() < 0.4:
            parts.append(f'[[standing]]\nbed = "{bed}"\ncrop = "kale"\nsince = 2026-08-20\n')
    for crop in sorted(set(grown)):
        if dice.random() < 0.5:
            item = dice.choice(["seed", "plants"])
            stated = dice.choice(["on_hand = 12", "package = 20"])
            parts.append(f'[[supply]]\nitem = "{item}"\ncrop = "{crop}"\n{stated}\n')
    parts.append(f"[work]\nhours_per_week = {dice.choice([4, 12, 40])}\n")
    return "".join(parts)


def made(text: str) -> SeasonPlan:
    document = load_text(text, "garden.toml", Path("/nonexistent"), LIBRARY, AS_OF)
    return season_plan(document, LIBRARY, AS_OF)


@pytest.fixture(scope="module", params=["kestrel_plan", "ennery_plan", *SMALL])
def plan(request: pytest.FixtureRequest, made_once: Callable) -> SeasonPlan:
    if isinstance(request.param, str):
        return request.getfixturevalue(request.param)
    return made(random_garden(request.param))


@pytest.fixture(scope="module")
def work(plan: SeasonPlan) -> Work:
    assert plan.work is not None
    return plan.work


@pytest.fixture(scope="module")
def dated(plan: SeasonPlan) -> list[tuple[BedPlan, Grown, BedDays]]:
    """The plantings whose days are known."""
    tables = timing_tables(plan.library)
    found = []
    for each, grown in zip(plan.plantings, plan.grown, strict=True):
        days = bed_days(grown, tables, plan.library)
        if days is not None:
            found.append((each, grown, days))
    return found


@pytest.fixture(scope="module")
def sheets(plan: SeasonPlan) -> dict[str, SheetContent]:
    words, system = {**DRAWING_WORDS, **SHEET_WORDS}, plan.document.garden.garden.units
    return {
        each.prescription.bed.id: sheet_content(plan, each.prescription.bed.id, words, system)
        for each in plan.beds
    }


@pytest.fixture(scope="module")
def data(plan: SeasonPlan) -> dict:
    return plan_dict(plan)


@pytest.fixture(scope="module")
def text(plan: SeasonPlan) -> str:
    return " ".join(plan_text(plan).split())


def of_planting(work: Work, grown: Grown, *kinds: str) -> list[Task]:
    """A planting's own tasks of some kinds, by their numbers."""
    begin = tuple(f"{grown.bed}/{grown.crop}/{kind}/" for kind in kinds)
    found = [each for each in work.tasks if each.id.startswith(begin)]
    return sorted(found, key=lambda each: int(each.id.rsplit("/", 1)[1]))


def brought(tasks: list[Task] | tuple[Task, ...], kind: str) -> dict[str, float]:
    """What tasks bring of a kind of thing, by its key."""
    found: dict[str, float] = defaultdict(float)
    for task in tasks:
        for each in task.bring:
            if each.kind == kind and each.amount is not None:
                found[each.key] += each.amount.value
    return dict(found)


def needed(plan: SeasonPlan, kind: str) -> dict[str, float]:
    """What purchases count as needed of a kind, by the table's key of its material or crop."""
    found: dict[str, float] = defaultdict(float)
    assert plan.purchases is not None
    for buy in plan.purchases.buys:
        if buy.item.kind == kind:
            for each in buy.needs:
                found[buy.item.key if kind == "material" else each.crop] += each.amount
    return dict(found)


def prescribed(plan: SeasonPlan) -> dict[str, float]:
    found: dict[str, float] = defaultdict(float)
    for planting in plan.plantings:
        for line in planting.prescription.lines:
            found[line.material.key] += line.preplant.value + line.later.value
    return {key: mass for key, mass in found.items() if mass > 0}


def packages(buy: Buy) -> Iterator[float]:
    for step in buy.steps:
        yield from (lot.size for lot in step.lots if lot.size is not None)


class TestTheWholePlan:
    def test_tasks_spread_what_is_prescribed_and_that_is_what_is_bought_or_had(
        self, plan: SeasonPlan, work: Work
    ):
        undated = {
            str(value)
            for each in work.findings
            if each.code in ("work_dressing_not_dated", "work_not_dated")
            for value in [each.values["bed"]]
        }
        spread = brought(work.tasks, "material")

        assert needed(plan, "material") == pytest.approx(prescribed(plan), rel=1e-6)
        if not undated:
            assert spread == pytest.approx(prescribed(plan), rel=1e-6)
        totals = {each.key: each.needed_kg for each in plan.totals if each.needed_kg > 0}
        assert totals == pytest.approx(prescribed(plan), rel=1e-6)

    def test_what_is_bought_and_on_hand_covers_the_need_and_no_package_is_too_many(
        self, plan: SeasonPlan
    ):
        assert plan.purchases is not None
        for buy in plan.purchases.buys:
            short = max(buy.needed - (buy.on_hand or 0.0), 0.0)
            hair = HAIR + 1e-5 * buy.needed  # the blend's solver meets its masses so nearly
            assert buy.bought + buy.missing >= short - hair, buy.item
            for size in packages(buy):
                assert buy.bought - size < short + hair, buy.item

    def test_tasks_bring_the_seed_that_is_bought(self, plan: SeasonPlan, work: Work, dated: list):
        if len(dated) < len(plan.plantings):
            pytest.skip(
                "a planting without a day has no tasks, and its seed is bought all the same"
            )
        sown = [each for each in work.tasks if each.kind in ("sow", "sow_trays")]
        ahead = [each for each in sown if each.earliest >= plan.as_of]

        assert brought(ahead, "seed") == pytest.approx(needed(plan, "seed"), rel=1e-6)

    def test_every_output_has_the_same_days(
        self, plan: SeasonPlan, work: Work, dated: list, sheets: dict, text: str, data: dict
    ):
        told = {(each["bed"], each["crop"]): each for each in data["beds"] + data["second_crops"]}
        for planting, grown, days in dated:
            plants = of_planting(work, grown, "set_out", "sow", "plant")
            assert plants[0].earliest == days.start == planting_day(planting)
            assert [each.earliest for each in plants[1:]] == list(days.again)
            water = plan.water_of(planting)
            if water is not None:
                assert water.stand.start == days.start
            layout = plan.layout_of(planting)
            if layout is not None and layout.planting.stay.start is not None:
                assert layout.planting.stay.start == days.start
            spread = of_planting(work, grown, "spread")
            if spread:
                assert spread[-1].latest == days.turns[-1][0]
                if spread_day(planting) is not None:
                    assert spread[-1].latest == spread_day(planting)
            dressed = of_planting(work, grown, "side_dress")
            assert len(dressed) == len(days.dressings)
            for each, on in zip(dressed, days.dressings, strict=True):
                assert each.earliest <= on <= each.latest
            if dressed:
                assert days.dressings == dressing_days(planting)
            bed = told[(grown.bed, planting.prescription.crop.key)]
            assert bed["set_out"] == days.start.isoformat()
            assert day_words(days.start) in text or days.start.isoformat() in text
            if planting.prescription.first is None:
                rows = " ".join(each.when for each in sheets[grown.bed].days)
                laid = [each.day for each in work.assigned if not each.done
                        and each.task == plants[0].id]  # fmt: skip
                assert day_words((laid or [days.start])[0]) in rows

    def test_calendar_and_spreadsheet_have_the_days_and_hours_of_the_schedule(
        self, plan: SeasonPlan, work: Work, dated: list
    ):
        events = {each.key: each for each in season_events(plan)}
        laid = {each.task: each for each in work.assigned if not each.done}
        for key, each in laid.items():
            assert events[f"task/{key}"].first == each.day
        for _, grown, days in dated:
            for number, on in enumerate((days.start, *days.again), 1):
                event = events.get(f"planting/{grown.bed}/{grown.crop}/{number}")
                task = of_planting(work, grown, "set_out", "sow", "plant")[number - 1]
                told = laid[task.id].day if task.id in laid else on
                if event is None:
                    assert told < plan.as_of
                else:
                    assert event.first == told
                if task.id in laid and laid[task.id].week > on:  # the hours put it off: it is said
                    later = {each.values["bed"] for each in work.findings
                             if each.code == "work_planting_later"}  # fmt: skip
                    assert grown.bed in later
            beside = [each for each in work.tasks if each.bed == grown.bed
                      and f"/{grown.beside(str(each.crop))}/" in each.id
                      and each.crop != grown.prescription.crop.key
                      and each.kind in ("set_out", "sow", "plant")
                      and grown.layout is not None
                      and grown.layout.planting.companion is not None
                      and each.crop == grown.layout.planting.companion.key]  # fmt: skip
            for task in beside:
                event = events[f"planting/{grown.bed}/{grown.crop}.with.{task.crop}/1"]
                assert event.first == (laid[task.id].day if task.id in laid else task.earliest)
        sheets = {each.title: each for each in season_sheets(plan)}
        tasks, bought = sheets[SHEET_TITLES["tasks"]], sheets[SHEET_TITLES["purchases"]]
        heads = [each.head for each in tasks.columns]
        day, hours = heads.index(COLUMNS["day"]), heads.index(COLUMNS["hours"])
        planned = [
            each for each in tasks.rows if each[heads.index(COLUMNS["state"])]
            == SPREADSHEET["planned"]
        ]  # fmt: skip
        assert sorted(each[day] for each in planned) == sorted(e.day for e in laid.values())
        whole = sum(work.task(key).hours.value for key in laid)
        assert sum(each[hours] for each in planned) == pytest.approx(whole, rel=1e-6)
        assert plan.purchases is not None
        heads = [each.head for each in bought.columns]
        on = sorted(each[heads.index(COLUMNS["needed_on"])] for each in bought.rows)
        assert on == sorted(step.on for _, step in plan.purchases.steps for _ in step.lots)

    def test_beds_are_cleared_by_the_day_that_turnover_names(
        self, plan: SeasonPlan, work: Work, sheets: dict, dated: list
    ):
        by_bed = {(grown.bed, grown.crop): grown for _, grown, _ in dated}
        for each in plan.turnover:
            grown = by_bed[(each.bed, each.next.crop + (".2" if each.next.second else ""))]
            (clear,) = of_planting(work, grown, "clear")
            assert each.next.clear is not None
            assert clear.latest <= max(each.next.clear, plan.as_of)
            assert any(
                found.code == "work_clear_way" and found.values["crop"] == each.name
                for found in clear.cautions
            )
            if not each.next.second:
                rows = {day.when.split(", ")[0] for day in sheets[each.bed].days}
                assert any(day_words(each.next.clear) in when for when in rows)

    def test_seed_and_materials_are_there_on_the_day_of_their_task(
        self, plan: SeasonPlan, work: Work
    ):
        assert plan.purchases is not None
        undated = {e.values["bed"] for e in work.findings if e.code == "work_dressing_not_dated"}
        there: dict[tuple[str, str], list[date]] = defaultdict(list)
        for buy in plan.purchases.buys:
            for need in buy.needs:
                if buy.item.kind in ("material", "seed", "pieces"):
                    key = buy.item.key if buy.item.kind == "material" else need.crop
                    there[(need.bed, key)].append(need.on)
        wanted: dict[tuple[str, str], list[date]] = defaultdict(list)
        for each in work.assigned:
            task = work.task(each.task)
            for thing in task.bring:
                if thing.kind in ("material", "seed") and not each.done:
                    wanted[(str(task.bed), thing.key)].append(each.day)
        for (bed, key), days in wanted.items():
            if bed not in undated:
                assert min(there[(bed, key)]) <= min(days), (bed, key)
                assert len(there[(bed, key)]) >= len(days)
                pairs = zip(sorted(there[(bed, key)]), sorted(days), strict=False)
                assert all(had <= used for had, used in pairs), (bed, key)

    def test_what_is_picked_in_tasks_is_what_is_expected(self, plan: SeasonPlan, work: Work):
        assert plan.harvest is not None
        expected: dict[str, float] = defaultdict(float)
        for crop in plan.harvest.crops:
            for each in crop.plantings:
                if each.mass is not None and each.pickings:
                    expected[each.bed] += each.mass.value
        # What stands is picked in its own weeks, and the last time as its bed is cleared.
        for each in plan.turnover:
            total = each.left.total
            sound = any(way.kind in ("sell", "house") for way in each.ways)
            if total is not None and total.value > 0 and sound:
                expected[each.bed] += total.value
        for task in work.tasks:
            if task.kind == "clear":
                expected[str(task.bed)] -= brought([task], "part").get("picked", 0.0)
        picked: dict[str, float] = defaultdict(float)
        for task in work.tasks:
            if task.kind == "pick":
                picked[str(task.bed)] += brought([task], "part")["picked"]
        known = {each.values["bed"] for each in work.findings if each.code == "work_not_dated"}
        for bed in set(expected) | set(picked):
            if bed not in known:
                assert picked[bed] == pytest.approx(expected[bed], rel=1e-6), bed

    def test_no_bed_bears_two_crops_at_once(self, plan: SeasonPlan, dated: list):
        spans: dict[tuple[str, int], list[tuple[date, date]]] = defaultdict(list)
        said = {
            planting.prescription.bed.id
            for planting in plan.plantings
            for each in planting.findings
            if each.code.startswith("first_crop_")
        }
        for _, grown, days in dated:
            ground = grown.prescription.part
            parts = range(1, 13) if ground is None else [ground]
            for part in parts:
                spans[grown.bed, part].append((days.start, days.end))
        for (bed, part), times in spans.items():
            for (_, end), (start, _) in pairwise(sorted(times)):
                assert end < start or bed in said, (bed, part)
        ahead: dict[object, list[tuple[date, date]]] = defaultdict(list)
        for each in plan.years.placements if plan.years is not None else ():
            if each.on is not None and each.free_from is not None:
                ahead[each.unit].append((each.on, each.free_from))
        for times in ahead.values():
            for (_, free), (start, _) in pairwise(sorted(times)):
                assert free <= start

    def test_years_ahead_keep_this_seasons_plantings(self, plan: SeasonPlan, dated: list):
        if plan.years is None:
            pytest.skip("the document asks for no years ahead")
        placed = {(each.unit.bed, each.crop.key, each.on) for each in plan.years.placements}
        for planting, grown, days in dated:
            stated = any(
                grown.bed in want.beds and want.set_out == days.start
                for want in plan.document.garden.want
            )
            first = planting.nitrogen.set_out.year == plan.years.years[0]
            if stated and first:
                assert (grown.bed, planting.prescription.crop.key, days.start) in placed

    def test_the_minutes_of_sheets_are_those_of_the_schedule(
        self, plan: SeasonPlan, sheets: dict, data: dict
    ):
        if plan.water is None:
            pytest.skip("the weather is not stated")
        schedule = {(each.zone, each.first): each for each in plan.water.schedule}
        for planting in plan.beds:
            stand, sheet = plan.water_of(planting), sheets[planting.prescription.bed.id]
            if stand is None or sheet.water is None:
                continue
            runs = [each for each in stand.months if each.runs > 0]
            if stand.lines is not None:
                told = [f"{each.runs} x {max(1, round(each.minutes))}" for each in runs]
                assert list(sheet.water.rows[0][1:]) == told
            for each in runs:
                zone = schedule.get((stand.zone or "", each.first.replace(day=1)))
                if zone is not None and each.zone_minutes is not None:
                    assert each.zone_minutes == pytest.approx(zone.minutes)
                    assert each.runs == zone.runs
                    assert each.minutes <= zone.minutes + HAIR
        told = data["water"]["plantings"]
        for stand, one in zip(plan.water.stands, told, strict=True):
            assert [each["runs_a_week"] for each in one["months"]] == [e.runs for e in stand.months]

    def test_the_weeks_hours_are_those_of_their_tasks(self, work: Work, data: dict):
        hours: dict[date, float] = defaultdict(float)
        for each in work.assigned:
            if not each.done:
                hours[each.week] += work.task(each.task).hours.value
        for week in work.weeks:
            assert week.hours == pytest.approx(hours.pop(week.monday, 0.0), abs=HAIR)
        assert not hours
        told = {each["id"]: each for each in data["work"]["tasks"]}
        for each in work.assigned:
            assert told[each.task]["day"] == each.day.isoformat()
            assert told[each.task]["week"] == each.week.isoformat()

    def test_trays_are_tended_only_where_plants_are_raised(self, plan: SeasonPlan, work: Work):
        raised = {each.id for each in work.tasks if each.kind == "sow_trays"}
        tended = [each for each in work.tasks if each.kind == "tend"]

        assert bool(tended) == bool(raised)
        for task in work.tasks:
            if task.kind == "sow_trays":
                assert task.frees_bench in {each.id for each in work.tasks}
