"""No table changes unnoticed."""

import sys
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parent))

import checksums


def test_every_table_has_the_rows_and_sums_that_were_recorded():
    found, recorded = set(checksums.of_tables()), set(checksums.recorded())

    assert sorted(found ^ recorded) == [], "if meant: python tests/reference/checksums.py"


def test_the_checksums_cover_every_table():
    tables = {path.stem for path in checksums.tables_folder().glob("*.csv")}

    assert {table for table, _, _ in checksums.recorded()} == tables
