"""The second step: one crop's beds nearer to each other, by moving and exchanging plantings.

A planting is moved to a bed nearer to the others of its crop that stand at the same time, and what
stands in its way there takes its place. Every move keeps the rules; together they may give up a
stated share of what the plan is worth.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from bedwright.planning.rotation.problem import BoolArray, FloatArray, IntArray, RotationProblem
from bedwright.planning.rotation.score import objective_of, short_of

_ROUNDS = 4
_GAINS = 1e-6  # of nearness: less is none
_SAME = 1e-9


@dataclass(frozen=True, eq=False)
class Exchanged:
    """The plan after the moves; nearness gained, and objective lost."""

    chosen: BoolArray
    gain: float
    loss: float


def exchanged(
    problem: RotationProblem, chosen: BoolArray, crops: IntArray, least: float
) -> Exchanged:
    """A plan that is worth more with nearness counted, and has an objective of at least ``least``.

    Parameters
    ----------
    problem : with its nearness, and what a pair side by side weighs (``nearness_weight``)
    chosen : (units, options), a plan that keeps the rules
    crops : (options,) crop numbers, -1 for what need not stand near its like
    least : the objective below which the plan must not fall

    The nearness of a plan is summed over the pairs of units that hold one crop at once.
    Raises ValueError where the problem states no nearness.
    """
    if problem.nearness is None:
        raise ValueError("the problem states no nearness of its units")
    moves = _Moves(problem, chosen.copy(), crops, problem.nearness)
    before = objective_of(problem, chosen)
    gained = 0.0
    for _ in range(_ROUNDS):
        won = sum(moves.improve(int(u), int(o), least) for u, o in np.argwhere(moves.plan))
        gained += won
        if won <= _GAINS:
            break
    return Exchanged(moves.plan, gained, before - objective_of(problem, moves.plan))


class _Moves:
    """A plan under change."""

    def __init__(
        self, problem: RotationProblem, plan: BoolArray, crops: IntArray, nearness: FloatArray
    ) -> None:
        self.problem, self.plan, self.nearness = problem, plan, nearness
        days = (problem.starts[:, None] < problem.ends) & (problem.starts < problem.ends[:, None])
        self.days = days
        self.alike = days & (crops[:, None] == crops) & (crops[:, None] >= 0)
        self.required = np.array([each.required for each in problem.wishes], dtype=bool)
        self.most = np.array([each.most for each in problem.wishes])
        self.objective = objective_of(problem, plan)

    def improve(self, unit: int, option: int, least: float) -> float:
        """Move one planting where that gains most nearness; what was gained."""
        if not self.plan[unit, option]:
            return 0.0
        others = self.plan @ self.alike[option]
        others[unit] = False
        if not others.any():
            return 0.0
        here = float(self.nearness[unit, others].sum())
        there = np.where(others, -np.inf, self.nearness @ others.astype(float))
        for other in np.argsort(-there, kind="stable"):
            if there[other] <= here + _GAINS:
                break
            gain = self._tried(unit, option, int(other), least)
            if gain > 0:
                return gain
        return 0.0

    def _tried(self, unit: int, option: int, other: int, least: float) -> float:
        """The gain of moving one planting, and what stands in its way back; 0 where it won't do."""
        away = self.plan[other] & self.days[option]
        mine, theirs = self.plan[unit].copy(), self.plan[other].copy()
        mine[option], theirs[away] = False, False
        mine |= away
        theirs[option] = True
        if not (self._may(unit, mine) and self._may(other, theirs)):
            return 0.0
        before = self._nearness(unit, other)
        kept = self.plan[[unit, other]].copy()
        self.plan[unit], self.plan[other] = mine, theirs
        gain = self._nearness(unit, other) - before
        if gain > _GAINS and self._beside() and self._worth(least, gain):
            return gain
        self.plan[[unit, other]] = kept
        return 0.0

    def _may(self, unit: int, content: BoolArray) -> bool:
        problem = self.problem
        if not problem.allowed[unit, content].all():
            return False
        held = np.flatnonzero(content)
        if (self.days[np.ix_(held, held)].sum() - held.size) > 0:
            return False
        for group in problem.apart:
            members = held[group.members[held]]
            if members.size < 2 or group.years_away[unit] < 0:
                continue
            years = np.sort(problem.years[members])
            if group.gap_days is not None:
                order = members[np.argsort(problem.starts[members])]
                gaps = problem.starts[order[1:]] - problem.ends[order[:-1]]
                if (gaps < group.gap_days).any():
                    return False
            elif (np.diff(years) <= group.years_away[unit]).any():
                return False
        return True

    def _beside(self) -> bool:
        """Whether neighbors keep apart what must not stand side by side."""
        for group in self.problem.apart_beside:
            for one, other in self.problem.beside:
                if min(group.years_away[one], group.years_away[other]) < 0:
                    continue
                a = np.flatnonzero(self.plan[one] & group.members)
                b = np.flatnonzero(self.plan[other] & group.members)
                if self.days[np.ix_(a, b)].any():
                    return False
        return True

    def _worth(self, least: float, gain: float) -> bool:
        """Whether the changed plan meets what it must, and is worth more for its nearness."""
        given = np.array([each.amount[self.plan].sum() for each in self.problem.wishes])
        if (given > self.most + _SAME).any():
            return False
        if (short_of(self.problem, self.plan)[self.required] > _SAME).any():
            return False
        objective = objective_of(self.problem, self.plan)
        better = objective + self.problem.nearness_weight * gain > self.objective + _GAINS
        if better and objective >= least - _SAME:
            self.objective = objective
            return True
        return False

    def _nearness(self, unit: int, other: int) -> float:
        """The part of the plan's nearness in which two units have a share."""
        total = 0.0
        for each in (unit, other):
            held = np.flatnonzero(self.plan[each])
            counts = self.plan.astype(float) @ self.alike[held].T.astype(float)
            total += float(self.nearness[each] @ counts.sum(axis=1))
        held, theirs = np.flatnonzero(self.plan[unit]), np.flatnonzero(self.plan[other])
        both = float(self.alike[np.ix_(held, theirs)].sum()) * float(self.nearness[unit, other])
        return total - both
