"""Compost, plants and seed of two beds against the hand computation of docs/hand-counts.md.

The figures behind it are those of the publications that the page names; the page holds the garden,
too, and this module reads both from it.
"""

import math
import re
from datetime import date
from pathlib import Path

import pytest

from bedwright.garden.load import load_text
from bedwright.planning.layout.seeds import CropCount
from bedwright.reference import Library
from bedwright.reports.spreadsheet.spreadsheet import season_sheets
from bedwright.season import SeasonPlan, season_plan

PAGE = (Path(__file__).resolve().parents[2] / "docs" / "hand-counts.md").read_text("utf-8")
LIBRARY = Library()
AS_OF = date(2027, 2, 1)
# To SI: NIST Handbook 44, appendix C.
UNITS = {"lb": 0.45359237, "oz": 0.028349523125, "g": 0.001, "ft": 0.3048, "": 1.0}


def by_hand() -> dict[tuple[str, str], tuple[float, float]]:
    """Each count of the page in SI, and half a unit of its last printed digit."""
    found = {}
    counts = PAGE[PAGE.index("## The counts") :]
    for bed, count, number, unit in re.findall(
        r"^\| (A|B|both) \| ([^|]+) \| ([\d.]+) ?(\w*) \|$", counts, re.M
    ):
        places = len(number.partition(".")[2])
        one = UNITS[unit]
        found[bed, count] = (float(number) * one, 0.5 * 10**-places * one * 1.001)
    return found


COUNTS = by_hand()


@pytest.fixture(scope="module")
def plan() -> SeasonPlan:
    text = re.search(r"```toml\n(.*?)```", PAGE, re.S)[1]
    document = load_text(text, "garden.toml", Path("/nonexistent"), LIBRARY, AS_OF)
    return season_plan(document, LIBRARY, AS_OF, ahead=False)


def near(bed: str, count: str) -> object:
    value, half = COUNTS[bed, count]
    return pytest.approx(value, abs=half, rel=0)


def counts_of(plan: SeasonPlan, bed: str) -> CropCount:
    (layout,) = [each for each in plan.layouts if each.planting.bed.id == bed]
    (counted,) = layout.counts
    return counted


def test_the_page_holds_every_count():
    assert len(COUNTS) == 12


@pytest.mark.parametrize("bed", ["A", "B"])
def test_compost_by_depth_and_density(plan: SeasonPlan, bed: str):
    (mass,) = [
        line.preplant.value
        for each in plan.beds
        for line in each.prescription.lines
        if (each.prescription.bed.id, line.material.key) == (bed, "yard_compost")
    ]

    assert mass == near(bed, "compost")


def test_rows_and_plants(plan: SeasonPlan):
    for bed in ("A", "B"):
        counted = counts_of(plan, bed)
        assert counted.rows == COUNTS[bed, "rows"][0]
        assert counted.plants.value == COUNTS[bed, "plants"][0]
    assert counts_of(plan, "B").row_length_m == near("B", "length of rows")


def test_plants_to_raise_and_their_seed(plan: SeasonPlan):
    counted = counts_of(plan, "A")

    assert counted.to_raise.value == COUNTS["A", "to raise"][0]
    assert counted.seeds.value == COUNTS["A", "seeds"][0]
    assert counted.seed_mass.value == near("A", "seed")


def test_seed_that_is_drilled(plan: SeasonPlan):
    assert counts_of(plan, "B").seed_mass.value == near("B", "seed")


def test_the_work_brings_what_was_counted(plan: SeasonPlan):
    brought = {
        (task.bed, task.kind, each.kind, each.key): each.amount.value
        for task in plan.work.tasks
        for each in task.bring
        if each.amount is not None
    }

    assert brought["A", "spread", "material", "yard_compost"] == near("A", "compost")
    assert brought["B", "spread", "material", "yard_compost"] == near("B", "compost")
    assert brought["A", "sow_trays", "seed", "tomato"] == near("A", "seed")
    assert brought["A", "set_out", "plants", "tomato"] == COUNTS["A", "to raise"][0]
    assert brought["B", "sow", "seed", "carrot"] == near("B", "seed")


def test_what_is_bought_is_what_was_counted(plan: SeasonPlan):
    bought = {(each.item.kind, each.item.key): each.needed for each in plan.purchases.buys}

    assert bought["material", "yard_compost"] == near("both", "compost")
    assert bought["seed", "tomato"] == near("A", "seed")
    assert bought["seed", "carrot"] == near("B", "seed")


def test_the_spreadsheet_holds_the_same(plan: SeasonPlan):
    sheets = {each.title: each for each in season_sheets(plan)}
    spreading = sheets["Spreading"]
    heads = [each.head for each in spreading.columns]
    pounds = {
        row[heads.index("Bed")]: row[heads.index("Amount (lb)")]
        for row in spreading.rows
        if "compost" in str(row[heads.index("Material")])
    }

    assert pounds["A"] * UNITS["lb"] == near("A", "compost")
    assert pounds["B"] * UNITS["lb"] == near("B", "compost")
    assert math.fsum(pounds.values()) * UNITS["lb"] == near("both", "compost")
