"""Published examples of ``examples.csv``, and the comparison by the digits that they print."""

from __future__ import annotations

import csv
from dataclasses import dataclass
from functools import cache
from pathlib import Path

from bedwright.reference import Library, Row
from bedwright.soil.interpretation import Ground, Measurement, Reading, read_class
from bedwright.units import to_si, unit_factor
from bedwright.working import Figure

COLUMNS = (
    "id", "statement", "published", "unit", "tolerance", "because", "basis",
    "title", "publisher", "year", "place",
)  # fmt: skip
BASES = ("published", "wrong_in_source", "computed", "memory")


@dataclass(frozen=True)
class Example:
    """One row: what a source prints, and how far a correct engine may lie from it.

    Without a tolerance of its own a printed figure holds to half of its last digit.
    """

    id: str
    statement: str
    published: str
    unit: str
    tolerance: str
    because: str
    basis: str
    title: str
    publisher: str
    year: str
    place: str

    @property
    def printed(self) -> tuple[str, ...]:
        """The figures or words as printed."""
        return tuple(each.strip() for each in self.published.split(";"))

    def margin(self, printed: str) -> float:
        """How far a figure may lie from the printed one."""
        if self.tolerance:
            return float(self.tolerance)
        decimals = len(printed.partition(".")[2])
        return 0.5 * 10.0**-decimals * (1 + 1e-9)

    def agrees(self, *values: float) -> None:
        """Assert that every value is what the source prints, in the unit of the row."""
        assert len(values) == len(self.printed)
        for value, printed in zip(values, self.printed, strict=True):
            assert abs(value - float(printed)) <= self.margin(printed), (
                f"{self.id}: {value:g} {self.unit}, published {printed}"
            )

    def is_wrong(self, *values: float) -> None:
        """Assert that no value is what the source prints: the source errs."""
        assert self.basis == "wrong_in_source"
        assert len(values) == len(self.printed)
        for value, printed in zip(values, self.printed, strict=True):
            assert abs(value - float(printed)) > self.margin(printed), (
                f"{self.id}: {value:g} {self.unit} follows the error in the source"
            )

    def says(self, *words: str) -> None:
        """Assert that the words are those of the source."""
        assert words == self.printed


@cache
def examples() -> dict[str, Example]:
    """Every row by its id."""
    with Path(__file__).with_name("examples.csv").open(encoding="utf-8", newline="") as file:
        reader = csv.reader(file)
        assert tuple(next(reader)) == COLUMNS
        rows = [Example(*cells) for cells in reader]
    found = {row.id: row for row in rows}
    assert len(found) == len(rows), "an id stands twice"
    return found


def example(key: str) -> Example:
    """The row called ``key``."""
    return examples()[key]


def si(text: str, kind: str) -> float:
    """A published figure with its unit, ``3 lb/ac``, in the engine's SI unit."""
    value, _, unit = text.partition(" ")
    return to_si(float(value), unit, kind)


def shown(value: float, unit: str) -> float:
    """An engine value in SI, in the unit that the source prints."""
    return value / unit_factor(unit)[0]


@cache
def library() -> Library:
    """The shipped tables."""
    return Library()


DESERT = Ground(ph=7.8, carbonate_percent=None, gypsum=False, compost_filled=False)


def reading(
    analyte: str, extractant: str, value: float, test_group: str, group_kind: str
) -> Reading:
    """A soil-test value in mg/kg, read by the shipped tables."""
    figure = Figure(analyte, value, "mg/kg", "measured")
    return read_class(
        library(), Measurement(analyte, extractant, figure), test_group, group_kind, DESERT
    )


def table_row(table: str, **words: str) -> Row:
    """The one row of a table with these words."""
    found = [
        row for row in library().rows(table) if all(row[key] == each for key, each in words.items())
    ]
    assert len(found) == 1, f"{len(found)} rows of {table} have {words}"
    return found[0]


def class_word(table: str, value: float, **words: str) -> str:
    """The class of a value in a table of ``class,lower,upper``."""
    for row in library().rows(table):
        upper = row.number("upper")
        if (
            all(row[key] == each for key, each in words.items())
            and (row.number("lower") or 0.0) <= value
            and (upper is None or value < upper)
        ):
            return row["class"]
    raise LookupError(f"{value} is in no class of {words}")
