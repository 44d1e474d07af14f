"""The expected harvest as the page tells it: crop by crop, week by week, gaps and gluts named."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date, timedelta

from bedwright.language import named
from bedwright.planning.harvest.model import CropHarvest, HarvestPlan, HarvestWeek, Range
from bedwright.reports.days_said import span_words
from bedwright.reports.harvest_text import harvest_sentence, sold_words, told_words, unit_word
from bedwright.reports.words_harvest import HARVEST
from bedwright.units import UnitSystem, show
from bedwright.units.show import plain

_LEAST_KG = 0.005  # a week that brings less is told as nothing
_SIX = timedelta(days=6)


@dataclass(frozen=True)
class WeekTold:
    """Weeks that follow each other and are told alike: days, what is fit to sell of it with its
    range, what the stall wants, and which of ``gap``, ``glut``, ``enough`` or "" that is."""

    span: str
    weeks: int
    amount: str
    range: str
    wanted: str
    balance: str
    word: str


@dataclass(frozen=True)
class CropTold:
    """A crop: what is picked in all, where that is from, how it is sold, its weeks."""

    name: str
    mass: str
    range: str
    origin: str
    sold: str
    beds: tuple[str, ...]
    unit: str
    wished: bool
    weeks: tuple[WeekTold, ...]
    problem: str


def crops_told(plan: HarvestPlan, system: UnitSystem) -> list[CropTold]:
    """Every crop of the season, those that the stall wants first."""
    told = [_crop(each, system) for each in plan.crops]
    return sorted(told, key=lambda each: not each.wished)


def findings_told(plan: HarvestPlan, system: UnitSystem) -> tuple[list[str], list[str]]:
    """What is to be acted on, and the rest."""
    act = [harvest_sentence(e, system) for e in plan.findings if e.weight == "act"]
    rest = [harvest_sentence(e, system) for e in plan.findings if e.weight != "act"]
    return act, rest


def _crop(crop: CropHarvest, system: UnitSystem) -> CropTold:
    name = named(crop.name)
    problem = ""
    if not crop.plantings:
        problem = HARVEST["not_grown"].format(crop=name)
    elif all(each.mass is None for each in crop.plantings):
        problem = HARVEST["not_picked"].format(crop=name)
    low, mass, high = _ends(crop.mass, system)
    by_piece = any(each.pieces is not None for each in crop.weeks)
    return CropTold(
        name=name,
        mass=mass,
        range="" if low == high else _between(low, high),
        origin=told_words(crop),
        sold=sold_words(crop, system),
        beds=tuple(dict.fromkeys(each.bed for each in crop.plantings)),
        unit=unit_word(crop.unit) if by_piece else "",
        wished=any(each.wanted is not None for each in crop.weeks),
        weeks=tuple(_runs(crop, system)),
        problem=problem,
    )


def _runs(crop: CropHarvest, system: UnitSystem) -> Iterator[WeekTold]:
    held: tuple[date, date, int, tuple[str, ...]] | None = None
    for each in crop.weeks:
        told = _week(each, system)
        if held and held[3] == told and held[1] + timedelta(days=1) == each.monday:
            held = (held[0], each.sunday, held[2] + 1, told)
            continue
        if held:
            yield _told(*held)
        held = (each.monday, each.monday + _SIX, 1, told)
    if held:
        yield _told(*held)


def _told(first: date, last: date, weeks: int, told: tuple[str, ...]) -> WeekTold:
    amount, between, wanted, balance = told
    return WeekTold(
        span_words(first, last, year=False), weeks, amount, between, wanted, balance,
        HARVEST[balance] if balance else "",
    )  # fmt: skip


def _week(week: HarvestWeek, system: UnitSystem) -> tuple[str, str, str, str]:
    low, mass, high = _ends(week.to_sell, system)
    amount, between = mass, "" if low == high else _between(low, high)
    if week.pieces is not None:
        ends = [
            plain(round(e), 3) for e in (week.pieces.low, week.pieces.typical, week.pieces.high)
        ]
        amount, between = ends[1], "" if ends[0] == ends[2] else _between(ends[0], ends[2])
    most = week.to_sell.high if week.pieces is None else week.pieces.high
    least = _LEAST_KG if week.pieces is None else 0.5
    if most < least:
        amount, between = HARVEST["nothing"], ""
    elif week.to_sell.typical < _LEAST_KG:
        amount = HARVEST["nothing"]
    wanted = ""
    if week.wanted is not None:
        asked = week.wanted >= _LEAST_KG
        wanted = show(week.wanted, "mass", system, digits=2) if asked else HARVEST["nothing"]
    if wanted and week.pieces is not None and most >= least:
        amount = HARVEST["as_mass"].format(amount=amount, mass=mass)
    return amount, between, wanted, week.balance


def _between(low: str, high: str) -> str:
    return HARVEST["between"].format(low=low, high=high)


def _ends(mass: Range, system: UnitSystem) -> tuple[str, str, str]:
    low, typical, high = (
        show(each, "mass", system, digits=2) for each in (mass.low, mass.typical, mass.high)
    )
    return low, typical, high
