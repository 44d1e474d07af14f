"""Row counts and column sums of the reference tables, so that a slip of the hand shows.

After a change of the tables that is meant, write them anew and look at the difference:

    python tests/reference/checksums.py
    git diff tests/reference/checksums.csv
"""

from __future__ import annotations

import csv
import math
from pathlib import Path

from bedwright.reference.tables import tables_folder

CHECKSUMS = Path(__file__).with_name("checksums.csv")
Entry = tuple[str, str, str]  # table, column (or "rows"), count or sum


def of_tables() -> list[Entry]:
    """Each table's number of rows, and the sum of each column that holds only numbers."""
    entries: list[Entry] = []
    for path in sorted(tables_folder().glob("*.csv")):
        with path.open(encoding="utf-8", newline="") as stream:
            rows = list(csv.DictReader(stream))
        entries.append((path.stem, "rows", str(len(rows))))
        for column in rows[0]:
            numbers = _numbers([row[column] for row in rows])
            if numbers:
                entries.append((path.stem, column, f"{math.fsum(numbers):.10g}"))
    return entries


def _numbers(cells: list[str]) -> list[float]:
    try:
        return [float(cell) for cell in cells if cell.strip()]
    except ValueError:
        return []


def recorded() -> list[Entry]:
    """The entries of checksums.csv."""
    with CHECKSUMS.open(encoding="utf-8", newline="") as stream:
        return [(row["table"], row["column"], row["sum"]) for row in csv.DictReader(stream)]


def write() -> None:
    """Write checksums.csv anew."""
    with CHECKSUMS.open("w", encoding="utf-8", newline="") as stream:
        writer = csv.writer(stream, lineterminator="\n")
        writer.writerow(("table", "column", "sum"))
        writer.writerows(of_tables())


if __name__ == "__main__":
    write()
