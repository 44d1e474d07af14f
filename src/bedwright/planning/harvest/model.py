"""What is expected of a season: masses by crop and week, beside what the stall wants."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, timedelta
from typing import Literal

from bedwright.planning.assignment.harvests import Yield
from bedwright.planning.findings import Finding
from bedwright.working import Figure

Balance = Literal["", "enough", "gap", "glut"]
BY_WEIGHT = "weight"  # a unit of sale that is no piece


@dataclass(frozen=True)
class Range:
    """A number with its low and high."""

    low: float
    typical: float
    high: float

    def times(self, low: float, typical: float, high: float) -> Range:
        """Each end by its own factor."""
        return Range(self.low * low, self.typical * typical, self.high * high)

    def plus(self, other: Range) -> Range:
        """The sum, end by end: as if a bad year were bad for all."""
        return Range(self.low + other.low, self.typical + other.typical, self.high + other.high)


NOTHING = Range(0.0, 0.0, 0.0)


@dataclass(frozen=True)
class Picking:
    """The days of one sowing's picking, and its ``share`` of the planting's harvest [-].

    ``early`` and ``late`` are the same in an early and a late year, one in ten each; the usual
    days where the weather does not tell.
    """

    first: date
    last: date
    share: float
    early: tuple[date, date]
    late: tuple[date, date]


@dataclass(frozen=True)
class PlantingHarvest:
    """What one planting is expected to give.

    ``area`` is what the crop takes of its bed; ``mass`` [kg] is what is picked of it, None where
    nothing tells its yield or it is not picked yet. ``pickings`` are empty where the days are not
    known. ``bears`` is the first year in which a perennial is picked, where that lies ahead.
    """

    bed: str
    crop: str
    expected: Yield | None
    area: Figure
    mass: Figure | None
    pickings: tuple[Picking, ...]
    bears: int | None = None


@dataclass(frozen=True)
class HarvestWeek:
    """One crop in the week from a Monday. ``picked`` and ``to_sell`` [kg]; ``pieces`` in the unit
    of sale, None where it is sold by weight; ``wanted`` [kg] by the stall, None without a wish.

    ``to_sell`` of a crop that keeps is what is offered of it in that week.
    """

    monday: date
    picked: Range
    to_sell: Range
    pieces: Range | None
    wanted: float | None
    balance: Balance

    @property
    def sunday(self) -> date:
        """The week's last day."""
        return self.monday + timedelta(days=6)


@dataclass(frozen=True)
class CropHarvest:
    """One crop of the season. ``unit`` is the word of its unit of sale, ``weight`` where it is
    sold by weight; ``unit_mass`` that of a piece [kg], ``saleable`` the share fit to sell [-],
    None where no table says (then all is taken as fit). ``mass`` is picked of all plantings [kg],
    their days known or not.

    ``told_by`` is record where two seasons of own harvests are in for every planting whose yield
    is not the gardener's goal, goal where every one is, else table. ``seasons`` are the years of
    own harvests. ``left`` is what is left of a crop that keeps when the stall's weeks end [kg].
    """

    crop: str
    key: str
    name: str
    unit: str
    unit_mass: Figure | None
    saleable: Figure | None
    told_by: Literal["table", "goal", "record"]
    seasons: int
    mass: Range
    keeps: bool
    plantings: tuple[PlantingHarvest, ...]
    weeks: tuple[HarvestWeek, ...]
    left: Range

    def spans(self, balance: Balance) -> tuple[tuple[date, date], ...]:
        """The weeks with a balance, those that follow each other as one span of days."""
        found: list[tuple[date, date]] = []
        for each in self.weeks:
            if each.balance != balance:
                continue
            if found and found[-1][1] + timedelta(days=1) == each.monday:
                found[-1] = (found[-1][0], each.sunday)
            else:
                found.append((each.monday, each.sunday))
        return tuple(found)


@dataclass(frozen=True)
class HarvestPlan:
    """Every crop that is picked or that the stall wants, in the garden's order."""

    crops: tuple[CropHarvest, ...]
    findings: tuple[Finding, ...]

    def of(self, crop: str) -> CropHarvest | None:
        """A crop by its key, or a cultivar by its own; None where it is not grown or wanted."""
        return next((each for each in self.crops if crop in (each.crop, each.key)), None)
