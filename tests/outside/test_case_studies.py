"""Published case studies: the published advice beside ours, each difference with its cause."""

from __future__ import annotations

from pathlib import Path

import pytest
from case_studies import CASES, CAUSES, Row, head, page, rows

PAGE = Path(__file__).parents[2] / "docs" / "case-studies.md"
TABLE = rows()


def _name(row: Row) -> str:
    return f"{row.case}, {row.bed}: {row.quantity}"


@pytest.mark.parametrize("row", TABLE, ids=_name)
def test_our_figure_is_the_committed_one(row: Row):
    """A change of the engine shows here; scripts/make_case_studies.py --measure commits it."""
    assert (row.ours, row.ratio) == row.measured()


@pytest.mark.parametrize("row", TABLE, ids=_name)
def test_a_difference_has_its_cause_and_only_a_difference(row: Row):
    if row.agrees:
        assert not row.differs_because, "the two agree: the cause is out of date"
    else:
        assert row.differs_because in CAUSES, f"{row.ours} against {row.published}: why?"


def test_every_cause_is_used():
    assert {row.differs_because for row in TABLE} - {""} == set(CAUSES)


def test_every_case_is_compared():
    assert {row.case for row in TABLE} == {path.stem for path in CASES.glob("*.toml")}
    assert len({_name(row) for row in TABLE}) == len(TABLE)


@pytest.mark.parametrize("case", sorted({row.case for row in TABLE}))
def test_a_case_says_where_it_comes_from_and_what_is_assumed(case: str):
    text = " ".join(head(case))
    for word in ("Source:", "Publisher:", "Year:", "Place:", "From the report:", "Assumed here:"):
        assert word in text, f"{case} does not say {word}"


def test_the_page_is_fresh():
    assert PAGE.read_text(encoding="utf-8") == page()
