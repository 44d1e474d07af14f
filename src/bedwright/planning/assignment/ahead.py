"""The years ahead: from a garden document to a plan of crops and beds, with reasons."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from datetime import date

import numpy as np

from bedwright.garden import Document
from bedwright.planning.assignment import clashes, solving
from bedwright.planning.assignment.bars import Light
from bedwright.planning.assignment.build import Question, question
from bedwright.planning.assignment.candidates import rotation_of
from bedwright.planning.assignment.met import more_than_weekly, wishes_met
from bedwright.planning.assignment.model import Decision
from bedwright.planning.assignment.reasons import placements_of, rests_of
from bedwright.planning.assignment.result import (
    Change,
    ClashTold,
    Content,
    Instead,
    Placement,
    YearsAhead,
)
from bedwright.planning.findings import Finding, finding
from bedwright.planning.rotation.problem import BoolArray, IntArray, RotationProblem
from bedwright.planning.rotation.solution import RotationSolution, SolveLimits
from bedwright.planning.weather import GardenWeather
from bedwright.reference import Library

_MOST_CLASHES = 8  # told one after the other; each gives up at least one wish
_WEIGHTY = 20.0  # times the weight of a wish: one that must be met, where it can't: judgement
_NEAR_SHARE = 0.02  # of the plan's worth that the second step may give up: judgement


@dataclass(frozen=True)
class Step:
    """How far the search is: ``step`` by its code, the plan's worth, and what none can exceed."""

    step: str
    objective: float
    bound: float
    gap: float


def years_ahead(
    document: Document,
    library: Library,
    as_of: date,
    *,
    light: Light | None = None,
    standing: Sequence[Decision] | None = None,
    decisions: Sequence[Decision] = (),
    without: Sequence[str] = (),
    years: int | None = None,
    weather: GardenWeather | None = None,
    limits: SolveLimits | None = None,
    progress: Callable[[Step], None] | None = None,
) -> YearsAhead:
    """Which crop in which bed, for the years ahead.

    Parameters
    ----------
    document, library : the garden and the tables
    as_of : the day of planning: nothing new is planted before it
    light : a bed's daily light by month [mol/m2/d], 12 values; None: light is not asked
    standing : the plan that stands (see :func:`decisions_of`), kept as far as may be
    decisions : settled beside the document: accepted, pinned on a page, or done
    without : ids of beds that are out of use
    years : how many, instead of what the document says
    weather : the garden's, where it was worked already
    limits : when the search stops; without, by what the document says
    progress : told of each better plan or bound

    The same inputs give the same plan, unless the clock ended the search (``repeatable``).
    Raises LookupError for a bed in ``without`` that is not there, WeatherError for a weather file
    that can't be used.
    """
    beds = [bed.id for bed in document.garden.bed]
    for each in without:
        if each not in beds:
            raise LookupError(f"there is no bed {each!r}; beds: {', '.join(beds)}")
    asked = question(
        document, library, as_of, light=light, standing=standing or (), decisions=decisions,
        without=frozenset(without), years=years, weather=weather,
    )  # fmt: skip
    limits = limits or limits_of(document)
    problem, solution, told = _solved(asked, limits, progress)
    solution = solving.polished(problem, solution)
    near = None
    if asked.weights.near > 0:
        near = solving.brought_near(problem, solution, _NEAR_SHARE)
    if near is not None:
        solution = near.solution
    told += _too_many(asked, problem, solution, limits, told)
    chosen = solution.chosen
    placements = placements_of(asked, chosen)
    wishes = wishes_met(asked, chosen)
    return YearsAhead(
        as_of=as_of,
        years=asked.horizon.years,
        weights=asked.weights,
        units=asked.setting.units,
        placements=placements,
        rests=rests_of(asked, chosen),
        wishes=wishes,
        clashes=tuple(told),
        instead=_instead(asked, problem, chosen),
        changes=() if standing is None else _changes(asked, standing, placements),
        findings=(*asked.findings, *more_than_weekly(wishes), *_said(asked)),
        objective=solution.objective,
        bound=solution.bound,
        gap=solution.gap,
        repeatable=solution.repeatable,
        near_gain=None if near is None else near.gain,
        near_cost=None if near is None else near.cost,
    )


def limits_of(document: Document) -> SolveLimits:
    """When the search stops, by what the document says."""
    stated = rotation_of(document)
    seconds = None if stated.most_seconds is None else float(stated.most_seconds)
    return SolveLimits(gap=stated.gap.si, seconds=seconds)


def decisions_of(ahead: YearsAhead) -> tuple[Decision, ...]:
    """A plan as decisions: to be kept by the next, or, of one year, to be taken as settled."""
    return tuple(
        Decision(each.unit.bed, each.unit.part, each.crop.id, each.year, each.turn, each.on)
        for each in ahead.placements
    )


def _solved(
    asked: Question, limits: SolveLimits, progress: Callable[[Step], None] | None
) -> tuple[RotationProblem, RotationSolution, list[ClashTold]]:
    """A plan, after giving up as few required wishes as the clashes ask for."""

    def tell(step: str, objective: float, bound: float, gap: float) -> None:
        if progress is not None:
            progress(Step(step, objective, bound, gap))

    problem, told = asked.problem, list[ClashTold]()
    weight = _WEIGHTY * max(asked.weights.wishes, 1.0)
    for _ in range(_MOST_CLASHES):
        solution = solving.best(problem, limits, tell)
        if solution is not None:
            return problem, solution, told
        clash = solving.clash_of(problem, limits)
        if clash is None:
            break
        told.append(clashes.told(asked, clash, must=True))
        problem = clashes.relaxed(problem, clash.members, weight)
    every = [at for at, each in enumerate(problem.wishes) if each.required]
    problem = clashes.relaxed(problem, every, weight)
    solution = solving.best(problem, limits, tell)
    if solution is None:
        raise RuntimeError("no plan was found though nothing is required of it")
    return problem, solution, told


def _too_many(
    asked: Question,
    problem: RotationProblem,
    solution: RotationSolution,
    limits: SolveLimits,
    before: list[ClashTold],
) -> list[ClashTold]:
    """Wishes that were not required and are more than history bears in a year."""
    told = []
    known = {(each.kind, each.at) for clash in before for each in clash.members}
    for members in clashes.too_many(asked, solution.short.tolist()):
        if known & {(asked.asked[at].kind, asked.asked[at].at) for at in members}:
            continue
        clash = solving.clash_of(clashes.required(problem, members), limits)
        if clash is not None:
            told.append(clashes.told(asked, clash, must=False))
    return told


def _instead(asked: Question, problem: RotationProblem, chosen: BoolArray) -> tuple[Instead, ...]:
    """For each unit the best other crops, the other units kept."""
    assert problem.crop is not None  # the question numbers them
    found, crops = [], problem.crop
    options, a_wish = asked.setting.options, asked.weights.wishes or 1.0
    years = len(asked.horizon.years)
    kinds = np.where(crops < 0, -1, crops * years + problem.years - asked.horizon.years[0])
    for unit, place in enumerate(asked.setting.units):
        if not problem.allowed[unit].any():
            continue
        other = solving.instead(problem, chosen, unit, kinds)
        if other is None:
            continue
        content = tuple(
            Content(asked.setting.crop(at), options[at].year, options[at].on)
            for at in sorted(other.options, key=lambda each: options[each].start)
        )
        cost = other.cost + _nearness_lost(problem, chosen, unit, other.options, crops)
        found.append(Instead(place, content, cost, cost / a_wish))
    return tuple(found)


def _nearness_lost(
    problem: RotationProblem,
    chosen: BoolArray,
    unit: int,
    options: tuple[int, ...],
    crops: IntArray,
) -> float:
    """What another content of a unit loses of one crop's beds near each other, weighed."""
    if problem.nearness is None:
        return 0.0
    days = (problem.starts[:, None] < problem.ends) & (problem.starts < problem.ends[:, None])
    alike = (days & (crops[:, None] == crops) & (crops[:, None] >= 0)).astype(float)
    near = (chosen.astype(float) @ alike).T @ problem.nearness[unit]
    own = chosen[unit]
    return float(problem.nearness_weight * (near[own].sum() - near[list(options)].sum()))


def _changes(
    asked: Question, standing: Sequence[Decision], placements: tuple[Placement, ...]
) -> tuple[Change, ...]:
    """What differs from the standing plan, by unit and year."""
    names = {each.id: each.name.lower() for each in asked.setting.candidates}
    found = []
    for unit in asked.setting.units:
        for year in asked.horizon.years:
            where = (unit.bed, unit.part, year)
            before = {x.crop for x in standing if (x.bed, x.part, x.year) == where}
            after = {x.crop.id for x in placements if x.unit == unit and x.year == year}
            gone, come = _named(before - after, names), _named(after - before, names)
            if before != after:
                found.append(Change(unit, year, gone, come))
    return tuple(found)


def _named(ids: set[str], names: dict[str, str]) -> str | None:
    return ", ".join(sorted(names.get(each, each) for each in ids)) or None


def _said(asked: Question) -> list[Finding]:
    if asked.setting.options:
        return []
    return [finding("rotation_nothing_asked", "note")]
