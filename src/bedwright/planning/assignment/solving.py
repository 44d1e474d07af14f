"""The search itself, as the years ahead ask for it."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass, replace

import numpy as np

from bedwright.planning.rotation.problem import BoolArray, FloatArray, IntArray, RotationProblem
from bedwright.planning.rotation.score import objective_of, short_of
from bedwright.planning.rotation.solution import Infeasible, RotationSolution, SolveLimits

_SAME = 1e-9
_GAINS = 1e-6  # of the objective: less is none
_NODES = 20_000
_TURNS = 3  # through all units


def best(
    problem: RotationProblem,
    limits: SolveLimits,
    told: Callable[[str, float, float, float], object],
) -> RotationSolution | None:
    """The best plan within the limits; None where the required wishes can't all be met.

    ``told`` hears of each step: its code, the plan's worth, the bound, and the gap. All three, and
    the solution's, count from a garden in which nothing is planted, so that the gap is a share of
    what planning is good for.
    """
    from bedwright.planning.rotation.solve import improve

    nothing = worth_of_nothing(problem)
    found: RotationSolution | None = None
    for step in improve(problem, limits):
        if isinstance(step, Infeasible):
            break
        found = _from_nothing(step.solution, nothing)
        told(step.step, found.objective, found.bound, found.gap)
        if found.gap <= limits.gap:
            break
    return found


def worth_of_nothing(problem: RotationProblem) -> float:
    """The objective of a garden in which nothing is planted: every wish short by all of it."""
    return -sum(each.weight * each.wanted for each in problem.wishes if not each.required)


def _from_nothing(solution: RotationSolution, nothing: float) -> RotationSolution:
    """A solution whose worth is counted from that of doing nothing."""
    objective, bound = solution.objective - nothing, solution.bound - nothing
    return replace(solution, objective=objective, bound=bound, gap=_gap_of(objective, bound))


def _gap_of(objective: float, bound: float) -> float:
    """The share of a plan's worth by which another might be better."""
    if bound <= objective + _SAME:
        return 0.0
    return (bound - objective) / objective if objective > 0 else math.inf


@dataclass(frozen=True)
class Clashing:
    """Wishes, by their places, that can't all be met; of each the most that the others leave, and
    the worth of the best plan without it, counted from nothing (None: the others still clash).
    """

    members: tuple[int, ...]
    possible: tuple[float, ...]
    worth: tuple[float | None, ...]


def clash_of(problem: RotationProblem, limits: SolveLimits) -> Clashing | None:
    """The smallest clashing set of what is required; None where there is a plan after all."""
    from bedwright.planning.rotation.clash import clash

    found = clash(problem, limits)
    if found is None:
        return None
    nothing = worth_of_nothing(problem)
    return Clashing(
        found.wishes,
        tuple(each.possible for each in found.given_up),
        tuple(
            None if each.objective is None else each.objective - nothing for each in found.given_up
        ),
    )


@dataclass(frozen=True, eq=False)
class Near:
    """The plan after the second step, what nearness it gained, the share of its worth it cost."""

    solution: RotationSolution
    gain: float
    cost: float


def brought_near(problem: RotationProblem, solution: RotationSolution, share: float) -> Near | None:
    """One crop's beds brought near each other; None where the garden states no corners.

    ``solution`` is one of :func:`best`; ``share`` of the plan's worth may be given up.
    """
    from bedwright.planning.rotation.neighbors import nearer

    if problem.nearness is None or solution.objective <= 0:
        return None
    least = solution.objective * (1 - share) + worth_of_nothing(problem)
    found = nearer(problem, solution.chosen, least)
    objective = solution.objective - found.loss
    made = replace(
        solution,
        chosen=found.chosen,
        objective=objective,
        bound=max(solution.bound, objective),
        gap=_gap_of(objective, solution.bound),
        short=short_of(problem, found.chosen),
    )
    return Near(made, found.gain, max(found.loss, 0.0) / solution.objective)


@dataclass(frozen=True)
class Other:
    """Other options for the whole time of a unit, and what the plan's worth loses."""

    options: tuple[int, ...]
    cost: float


def instead(
    problem: RotationProblem, chosen: BoolArray, unit: int, kinds: IntArray
) -> Other | None:
    """The best content of a unit that has another crop, the other units kept; where no other crop
    may stand there, the best with one crop less; None where there is neither.

    ``kinds`` (options,) tells contents apart, -1 for options that don't: a content is another where
    its kinds are, not where only a day or a cover is. Raises RuntimeError where the limit of the
    search leaves the best one open.
    """
    now = {*kinds[chosen[unit]].tolist()} - {-1}
    known = np.isin(kinds, list(now))
    come = np.where((kinds >= 0) & ~known, -1.0, 0.0)  # at least one of these
    gone = np.where(known, 1.0, 0.0)  # at least one of these less
    found = _content(problem, chosen, unit, come, -1.0)
    return found or (_content(problem, chosen, unit, gone, len(now) - 1.0) if now else None)


def _content(
    problem: RotationProblem, chosen: BoolArray, unit: int, row: FloatArray, most: float
) -> Other | None:
    """The best content of a unit for which ``row`` (options,) comes to ``most`` or less."""
    from scipy.sparse import csr_array, vstack

    from bedwright.planning.mixed import maximize
    from bedwright.planning.rotation.model import program
    from bedwright.planning.rotation.parts import part

    small, options = part(problem, np.array([unit]), problem.allowed, chosen)
    made = program(small)
    wide = np.zeros(made.gain.size)
    wide[: made.placements] = row[options[made.option]]
    solved = maximize(
        made.gain, vstack([made.rows, csr_array(wide[None, :])]).tocsr(),
        np.append(made.low, -np.inf), np.append(made.high, most),
        top=made.top, whole=made.placements, nodes=_NODES, gap=0.0,
    )  # fmt: skip
    if solved.columns is None:
        if solved.impossible:
            return None
        raise RuntimeError(f"the best other content of unit {unit} was not found")
    plan = chosen.copy()
    plan[unit] = False
    taken = options[np.flatnonzero(made.chosen(solved.columns, small.allowed.shape)[0])]
    plan[unit, taken] = True
    return Other(tuple(taken.tolist()), objective_of(problem, chosen) - objective_of(problem, plan))


def polished(problem: RotationProblem, solution: RotationSolution) -> RotationSolution:
    """A solution of :func:`best` in which no single unit could do better, the others kept."""
    from bedwright.planning.rotation.alternatives import alternatives

    chosen, turns = solution.chosen.copy(), 0
    better = True
    while better and turns < _TURNS:
        better, turns = False, turns + 1
        for unit in range(problem.units):
            found = alternatives(problem, chosen, unit) if problem.allowed[unit].any() else ()
            if found and found[0].cost < -_GAINS:
                chosen[unit] = False
                chosen[unit, list(found[0].options)] = True
                better = True
    made = replace(
        solution,
        chosen=chosen,
        objective=objective_of(problem, chosen),
        short=short_of(problem, chosen),
        bound=solution.bound + worth_of_nothing(problem),
    )
    return _from_nothing(made, worth_of_nothing(problem))
