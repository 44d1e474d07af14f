"""The demo garden read as its gardener would: what the docs quote is what the program says."""

import re
from pathlib import Path

import pytest

from bedwright.reports.text import plan_text
from bedwright.season import SeasonPlan

PAGE = (Path(__file__).parents[2] / "docs" / "kestrel-bend.md").read_text(encoding="utf-8")
QUOTES = re.findall(r"```text\n(.*?)```", PAGE, re.S)


@pytest.fixture(scope="module")
def plan(kestrel_plan) -> SeasonPlan:
    return kestrel_plan


@pytest.fixture(scope="module")
def text(plan: SeasonPlan) -> str:
    return plan_text(plan)


def codes(plan: SeasonPlan, bed: str) -> set[str]:
    (found,) = [each for each in plan.beds if each.prescription.bed.id == bed]
    return {each.code for each in found.findings}


def test_the_page_quotes_something():
    assert len(QUOTES) >= 5


@pytest.mark.parametrize("quote", QUOTES)
def test_what_the_page_quotes_is_what_the_plan_says(text, quote: str):
    assert quote in text


def test_the_old_raised_beds_get_no_compost_and_no_other_bed_is_forbidden_it(plan):
    forbidden = {
        each.prescription.bed.id
        for each in plan.beds
        if "no_compost_this_year" in codes(plan, each.prescription.bed.id)
    }

    assert forbidden == {"R1", "R2", "R3"}
    for bed in plan.beds:
        if bed.prescription.bed.id in forbidden:
            kinds = {line.material.kind for line in bed.prescription.lines}
            assert not kinds & {"compost", "manure"}


def test_the_peppers_are_told_their_week_and_what_to_do(plan):
    assert {"nitrogen_runs_short", "side_dress_more"} <= codes(plan, "W2") & codes(plan, "W3")
