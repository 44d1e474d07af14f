"""The search for a rotation: a plan at once, a bound on all plans, then better plans.

Small problems go to the solver as they are. In others the relaxation gives prices; at these
prices the best sequences of each unit are listed, and a program picks one sequence for each
unit. Then some units at a time choose anew among more sequences, those first that lose most
against the bound. Every step ends by a gap or by a number of nodes, so that the same problem
gives the same plan; only ``seconds`` would not.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

import numpy as np

from bedwright.planning.mixed import Mixed, maximize
from bedwright.planning.rotation.columns import Columns
from bedwright.planning.rotation.first import first_plan
from bedwright.planning.rotation.model import Program, program
from bedwright.planning.rotation.parts import soft
from bedwright.planning.rotation.prices import at_prices, relaxed_prices
from bedwright.planning.rotation.problem import BoolArray, FloatArray, IntArray, RotationProblem
from bedwright.planning.rotation.score import objective_of, short_of, succession_of
from bedwright.planning.rotation.sequences import SequenceSearch
from bedwright.planning.rotation.solution import (
    Infeasible,
    Progress,
    RotationSolution,
    SolveLimits,
)

__all__ = ["Infeasible", "Progress", "RotationSolution", "SolveLimits", "improve", "solve"]

_PLAIN, _PLAIN_SUCCESSIONS = 2000, 300  # so many placements or fewer: the plain program is quick
_LISTED = 2500  # sequences in one program: more make its start slow
_FEWEST, _MOST = 20, 250  # sequences of one unit in the program of all units
_FREED, _FREED_MOST = 14, 500  # units that choose anew together, and sequences of each
_ROUNDS = 6
_STEP_NODES, _ALL_NODES = 5, 1
_STALL = 0.0005  # a round that gains a smaller share is the last
_HEAVY = 20.0  # times the most that one placement can gain: what a unit of a required wish weighs
_TOLERANCE = 1e-6


def solve(
    problem: RotationProblem, limits: SolveLimits | None = None
) -> RotationSolution | Infeasible:
    """The best plan that :func:`improve` comes to, or that there is none."""
    found: RotationSolution | Infeasible = Infeasible(proven=False)
    for step in improve(problem, limits):
        found = step if isinstance(step, Infeasible) else step.solution
    return found


def improve(
    problem: RotationProblem, limits: SolveLimits | None = None
) -> Iterator[Progress | Infeasible]:
    """Plans that get better, each with the bound proven so far; or that there is none."""
    limits = limits or SolveLimits()
    few = _PLAIN_SUCCESSIONS if problem.successions else _PLAIN
    if np.count_nonzero(problem.allowed) <= few:
        yield _plain(problem, limits, _Best(problem, limits))
    else:
        yield from _searched(problem, limits)


class _Best:
    """The best plan and the lowest bound so far, and what was spent."""

    def __init__(self, problem: RotationProblem, limits: SolveLimits) -> None:
        self.problem, self.limits = problem, limits
        self.chosen: BoolArray | None = None
        self.objective, self.bound = -np.inf, np.inf
        self.nodes, self.repeatable = 0, True

    def take(self, chosen: BoolArray | None) -> bool:
        """Keep a plan if it meets what is required and is better; whether it was."""
        if chosen is None or not self.meets(chosen):
            return False
        objective = objective_of(self.problem, chosen)
        if objective <= self.objective + _TOLERANCE * (self.chosen is not None):
            return False
        self.chosen, self.objective = chosen, objective
        return True

    def meets(self, chosen: BoolArray) -> bool:
        required = np.array([wish.required for wish in self.problem.wishes], dtype=bool)
        return bool((short_of(self.problem, chosen)[required] <= _TOLERANCE).all())

    def spend(self, nodes: int, timed_out: bool) -> None:
        self.nodes += nodes + 1
        self.repeatable &= not timed_out

    @property
    def gap(self) -> float:
        if self.chosen is None:
            return np.inf
        return max(self.bound - self.objective, 0.0) / max(abs(self.objective), _TOLERANCE)

    @property
    def done(self) -> bool:
        return self.gap <= self.limits.gap or self.nodes >= self.limits.nodes

    def progress(self, step: str) -> Progress:
        assert self.chosen is not None
        solution = RotationSolution(
            self.chosen, self.objective, max(self.bound, self.objective), self.gap,
            short_of(self.problem, self.chosen), self.repeatable,
        )  # fmt: skip
        return Progress(solution, step, self.nodes)


def _plain(problem: RotationProblem, limits: SolveLimits, best: _Best) -> Progress | Infeasible:
    """The whole program as it is, with the nodes that are left."""
    made = program(problem)
    found = _maximized(made, max(limits.nodes - best.nodes, 1), limits.gap, limits.seconds)
    best.spend(found.nodes, found.timed_out)
    if found.impossible and best.chosen is None:
        return Infeasible(proven=True)
    best.bound = min(best.bound, found.bound)
    if found.columns is not None:
        best.take(made.chosen(found.columns, problem.allowed.shape))
    return Infeasible(proven=False) if best.chosen is None else best.progress("last")


def _maximized(made: Program, nodes: int, gap: float, seconds: float | None) -> Mixed:
    return maximize(
        made.gain, made.rows, made.low, made.high, top=made.top, whole=made.placements,
        nodes=nodes, gap=gap, seconds=seconds,
    )  # fmt: skip


@dataclass(frozen=True, eq=False)
class _Priced:
    """Worth less prices (units, options), and what the bound holds beside the units' best."""

    net: FloatArray
    rest: float


def _priced(problem: RotationProblem, made: Program, prices: FloatArray) -> _Priced:
    left, rest = at_prices(made, prices)
    net = np.full(problem.allowed.shape, -np.inf)
    net[made.unit, made.option] = left
    return _Priced(net, rest)


def _searched(problem: RotationProblem, limits: SolveLimits) -> Iterator[Progress | Infeasible]:
    best = _Best(problem, limits)
    eased = soft(problem, _weights(problem))
    simple = program(replace(eased, successions=()))
    prices = _prices(simple)
    search = SequenceSearch(eased)
    plan = first_plan(eased, search, _priced(eased, simple, prices).net)
    if best.take(plan):
        yield best.progress("first")
    else:
        hard = program(replace(problem, successions=()))
        if relaxed_prices(hard) is None:
            yield Infeasible(proven=True)
            return
    if problem.successions:
        whole = program(eased)
        priced = _priced(eased, whole, _prices(whole))
    else:
        priced = _priced(eased, simple, prices)
    columns = Columns(eased, simple)
    found = search.best(priced.net, int(np.clip(_LISTED / problem.units, _FEWEST, _MOST)))
    best.bound = priced.rest + float(found.upper.sum())
    if best.chosen is not None:
        yield best.progress("bound")
    for unit, sequences in enumerate(found.sequences):
        columns.add(unit, sequences)
    columns.add_plan(plan)
    seconds = None if limits.seconds is None else limits.seconds * 0.4
    chosen = columns.choose(
        np.arange(problem.units), plan, nodes=min(_ALL_NODES, limits.nodes),
        gap=limits.gap * 0.6, seconds=seconds,
    )  # fmt: skip
    best.spend(chosen.nodes, chosen.timed_out)
    plan = plan if chosen.chosen is None else chosen.chosen
    if best.take(plan):
        yield best.progress("better")
    yield from _freed(eased, best, columns, search, priced, found.upper, plan)
    if not best.done and (best.chosen is None or np.count_nonzero(problem.allowed) <= _PLAIN):
        yield _plain(problem, limits, best)
    elif best.chosen is not None:
        yield best.progress("last")


def _freed(
    eased: RotationProblem,
    best: _Best,
    columns: Columns,
    search: SequenceSearch,
    priced: _Priced,
    upper: FloatArray,
    plan: BoolArray,
) -> Iterator[Progress]:
    """Some units choose anew at a time, those first that lose most."""
    steps = _ROUNDS * -(-eased.units // _FREED)
    seconds = None if best.limits.seconds is None else best.limits.seconds * 0.5 / steps
    value = objective_of(eased, plan)
    for turn in range(_ROUNDS):
        before = value
        for group in _groups(_losses(search, priced.net, upper, plan), turn):
            if best.done:
                return
            found = search.best(priced.net[group], _FREED_MOST, group)
            for unit, sequences in zip(group.tolist(), found.sequences, strict=True):
                columns.add(unit, sequences)
            chosen = columns.choose(
                group, plan, nodes=_STEP_NODES, gap=best.limits.gap * 0.1, seconds=seconds
            )
            best.spend(chosen.nodes, chosen.timed_out)
            if chosen.chosen is None:
                continue
            objective = objective_of(eased, chosen.chosen)
            if objective > value + _TOLERANCE:
                plan, value = chosen.chosen, objective
                columns.add_plan(plan)
                if best.take(plan):
                    yield best.progress("better")
        if value - before <= _STALL * abs(value):
            return


def _losses(
    search: SequenceSearch, net: FloatArray, upper: FloatArray, plan: BoolArray
) -> FloatArray:
    """What each unit's sequence lacks to its best one at the prices."""
    problem = search.problem
    return np.array(
        [
            upper[unit] - net[unit, plan[unit]].sum() - succession_of(problem, unit, plan[unit])
            for unit in range(problem.units)
        ]
    )


def _groups(losses: FloatArray, turn: int) -> list[IntArray]:
    """Units by what they lose: neighbors in that order first, in later turns ever further apart."""
    order = np.argsort(-losses, kind="stable")
    count = -(-order.size // _FREED)
    if turn % 2:
        return [order[first::count] for first in range(count)]
    return [order[first * _FREED : (first + 1) * _FREED] for first in range(count)]


def _weights(problem: RotationProblem) -> FloatArray:
    """What a unit of each required wish weighs where it is eased: more than all else at stake."""
    stake = float(np.abs(problem.worth).max(initial=0.0))
    for wish in problem.wishes:
        if not wish.required:
            stake = max(stake, wish.weight * float(wish.amount.max(initial=0.0)))
    for each in problem.successions:
        stake = max(stake, float(np.abs(each.score).max(initial=0.0)))
    least = [wish.amount[wish.amount > 0].min(initial=1.0) for wish in problem.wishes]
    return np.array([_HEAVY * max(stake, 1.0) / float(each) for each in least])


def _prices(made: Program) -> FloatArray:
    prices = relaxed_prices(made)
    if prices is None:
        raise RuntimeError("a rotation without required wishes has a plan, but none was found")
    return prices
