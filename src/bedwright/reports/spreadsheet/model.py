"""A sheet as plain rows: what stands in each column, and of which kind it is."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from typing import Literal

from bedwright.language import said
from bedwright.units import UnitSystem, unit_factor

Cell = str | float | date | None
Kind = Literal["text", "day", "number", "count", "money"]


@dataclass(frozen=True)
class Column:
    """One column: its heading with the unit of its numbers, and what stands below it."""

    head: str
    kind: Kind = "text"


@dataclass(frozen=True)
class Sheet:
    """One sheet: a heading over each column, then rows of as many cells. None is an empty cell."""

    title: str
    about: str
    columns: tuple[Column, ...]
    rows: tuple[tuple[Cell, ...], ...]


_DIGITS = 9  # more than anybody reads, few enough that a hundred stays a hundred


@dataclass(frozen=True)
class Measures:
    """The units of a garden's numbers: symbols, and SI values turned into them."""

    mass: str
    length: str
    area: str
    rate: str

    def of(self, value_si: float | None, unit: str) -> float | None:
        """A value in SI in one of the units; None stays None."""
        return None if value_si is None else number(value_si / unit_factor(unit)[0])


def measures(system: UnitSystem) -> Measures:
    """The units that a garden's owner wants to see."""
    if system is UnitSystem.US:
        return Measures("lb", "ft", "ft2", "lb/100 ft2")
    return Measures("kg", "m", "m2", "g/m2")


def number(value: float) -> float:
    """A number as it stands in a cell."""
    return float(f"{value:.{_DIGITS}g}")


def unit_word(unit: str) -> str:
    """A unit as it is written in the language of the moment."""
    return said(unit, "unit")
