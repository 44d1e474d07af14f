"""The table of examples itself: each row has its test, its source and a reason for slack."""

from __future__ import annotations

import re
from pathlib import Path

from published import BASES, examples

HERE = Path(__file__).parent
LEAST_PUBLISHED = 40


def _tested() -> list[str]:
    text = "".join(file.read_text(encoding="utf-8") for file in HERE.glob("test_worked_*.py"))
    return re.findall(r"^def test_([a-z0-9]+)_", text, re.MULTILINE)


def test_every_row_has_exactly_one_test_of_its_name():
    tested = _tested()
    for key in examples():
        assert tested.count(key.lower()) == 1, key


def test_every_row_says_its_source_and_its_basis():
    for row in examples().values():
        assert row.title and row.publisher and row.statement and row.place, row.id
        assert row.basis in BASES, row.id


def test_every_tolerance_beyond_the_printed_digits_has_its_reason():
    for row in examples().values():
        assert bool(row.tolerance) == bool(row.because), row.id


def test_there_are_enough_published_examples():
    published = [
        row
        for row in examples().values()
        if row.basis == "published" and "low authority" not in row.publisher
    ]
    assert len(published) >= LEAST_PUBLISHED
