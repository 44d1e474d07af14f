"""The years ahead as a result: placements with reasons, wishes met and short, clashes, changes."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from typing import Literal

from bedwright.garden.model_rotation import Weights
from bedwright.planning.assignment.model import Candidate, Unit
from bedwright.planning.assignment.wishes import Measure
from bedwright.planning.findings import Finding
from bedwright.planning.timing_model import Turn
from bedwright.working import Figure

Kind = Literal["wish", "want", "pin", "decision"]


@dataclass(frozen=True)
class Placement:
    """One crop on one unit. Dates are None where none are known: then it holds the whole year.

    ``reasons`` say why it stands there. ``barred`` are the other crops asked for that year that
    could not, each group with the code of its rule. ``income`` is money by the gardener's own
    prices, ``income_a_week`` that for each week that the bed is held; None without a price.
    ``yield_left`` is the share that the bed's salt leaves [-], None where not known; ``saleable``
    the share of the harvest that ``income`` counts [-], None without a price.
    """

    unit: Unit
    crop: Candidate
    year: int
    turn: Turn | None
    start: date
    free_from: date
    on: date | None
    first_harvest: date | None
    last_harvest: date | None
    settled: Kind | None
    reasons: tuple[Finding, ...]
    barred: tuple[tuple[str, tuple[str, ...]], ...]
    expected: Figure | None
    income: float | None
    income_a_week: float | None
    yield_left: float | None
    saleable: float | None = None


@dataclass(frozen=True)
class Rest:
    """A unit on which no crop is harvested in a year, and why."""

    unit: Unit
    year: int
    reasons: tuple[Finding, ...]
    barred: tuple[tuple[str, tuple[str, ...]], ...]


@dataclass(frozen=True)
class WishMet:
    """What became of a wish in one year. Amounts are beds, m2, or kg for a wish by the week.

    ``over`` is what is ripe in the stall's weeks beyond what they ask for, ``weeks_over`` the first
    days of those weeks. ``short_beds`` is the shortage in usual beds. ``weeks`` is how many the
    stall asked for, and ``weeks_short`` the first days of those that lack something, ``weeks_out``
    of those that no date of planting reaches. ``open_beds`` are beds that history, problems, light
    and manure leave to the crop that year; ``barred`` counts the others by the code of the rule.
    """

    at: int
    crop: Candidate
    year: int
    measure: Measure
    must: bool
    wanted: float
    given: float
    short: float
    short_beds: float
    weeks: int
    weeks_short: tuple[date, ...]
    weeks_out: tuple[date, ...]
    open_beds: tuple[str, ...]
    barred: tuple[tuple[str, int], ...]
    over: float = 0.0
    weeks_over: tuple[date, ...] = ()


@dataclass(frozen=True)
class Content:
    """What a unit would hold instead: crop, year and day of planting."""

    crop: Candidate
    year: int
    on: date | None


@dataclass(frozen=True)
class Instead:
    """The best content of a unit with another crop, or with one less where no other may stand
    there; the other units kept; and what it costs.

    ``cost`` is in the plan's own measure; ``cost_beds`` the same as beds of an unmet wish.
    """

    unit: Unit
    content: tuple[Content, ...]
    cost: float
    cost_beds: float


@dataclass(frozen=True)
class ClashMember:
    """One of the wishes that clash: the ``beds`` that it asks for in a year, and where.

    ``on`` are the beds; ``parts`` those of its one bed, where it has not all of it.
    ``possible`` are the beds of it that can still be had where the others are met. ``worth`` is
    that of the best plan without it [the plan's own measure]; None: the others still clash.
    """

    kind: Kind
    at: int
    crop: Candidate
    years: tuple[int, ...]
    beds: float
    on: tuple[str, ...]
    possible: float
    worth: float | None
    parts: tuple[int, ...] = ()


@dataclass(frozen=True)
class ClashTold:
    """Wishes that can't all be had. ``family`` is theirs where they share one: ``wanted`` beds of
    it, in ``year`` or over ``years``, against ``free`` beds that have been free of it for ``away``
    years. ``must`` tells whether they were required. ``ground`` tells of two that would stand on
    the same ground at the same time, None where they clash for another reason."""

    members: tuple[ClashMember, ...]
    family: str | None
    years: tuple[int, ...]
    wanted: float
    free: tuple[str, ...]
    away: int
    must: bool
    ground: Finding | None = None


@dataclass(frozen=True)
class Change:
    """What replaces what of the standing plan on a unit in a year; None for nothing."""

    unit: Unit
    year: int
    before: str | None
    after: str | None


@dataclass(frozen=True, eq=False)
class YearsAhead:
    """Which crop in which bed for the years ahead, with reasons. See ``docs/rotation.md``.

    ``bound`` says that no plan is better than that, ``gap`` the share still open;
    ``repeatable`` is False where a clock ended the search. ``near_gain`` is what the second step
    won in beds of one crop lying near each other, and ``near_cost`` what it gave up [shares].
    """

    as_of: date
    years: tuple[int, ...]
    weights: Weights
    units: tuple[Unit, ...]
    placements: tuple[Placement, ...]
    rests: tuple[Rest, ...]
    wishes: tuple[WishMet, ...]
    clashes: tuple[ClashTold, ...]
    instead: tuple[Instead, ...]
    changes: tuple[Change, ...]
    findings: tuple[Finding, ...]
    objective: float
    bound: float
    gap: float
    repeatable: bool
    near_gain: float | None
    near_cost: float | None
