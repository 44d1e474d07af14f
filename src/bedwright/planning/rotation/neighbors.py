"""The second step: the same crop on neighboring units at once, for a small share of the objective.

Nearness joins units in pairs and would make the first search far harder. Here pairs of units
exchange what they carry between two days on which both are free: the crops of the plan stay,
their places change. First come the exchanges that cost nothing, then those that cost little; no
wish that was met is given up for them.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from bedwright.planning.rotation.parts import beside_kept
from bedwright.planning.rotation.problem import BoolArray, FloatArray, IntArray, RotationProblem
from bedwright.planning.rotation.score import objective_of, succession_of
from bedwright.planning.rotation.sequences import clashes

_ROUNDS = 4  # over all pairs of units, for each rate of loss
_RATES = (0.0, 0.25, 1.0)  # of the objective that a unit of nearness may cost
_TOLERANCE = 1e-7


@dataclass(frozen=True, eq=False)
class Nearer:
    """The plan after the second step, nearness and objective before and after it."""

    chosen: BoolArray
    nearness_before: float
    nearness: float
    objective_before: float
    objective: float

    @property
    def gain(self) -> float:
        """How much nearness the second step gained."""
        return self.nearness - self.nearness_before

    @property
    def loss(self) -> float:
        """How much of the objective it cost."""
        return self.objective_before - self.objective


def nearness_of(problem: RotationProblem, chosen: BoolArray) -> float:
    """The nearness of a plan: summed over pairs of units for each crop on both at once.

    Raises ValueError where the problem states no nearness.
    """
    nearness, alike = _nearness(problem), _alike(problem)
    counts = chosen.astype(float) @ alike @ chosen.T.astype(float)
    return float((np.triu(nearness, 1) * counts).sum())


def nearer(problem: RotationProblem, chosen: BoolArray, least: float) -> Nearer:
    """A plan with more nearness, and an objective of at least ``least``.

    An exchange may cost ``nearness_weight`` of the objective for each unit of nearness, where
    the problem states that weight; else as much as is left above ``least``. ``chosen`` (units,
    options) keeps the rules and meets what is required. Raises ValueError where the problem states
    no nearness.
    """
    before = objective_of(problem, chosen)
    start = nearness_of(problem, chosen)
    made = _Exchange(problem, chosen, least)
    for rate in _RATES:
        most = rate * problem.nearness_weight if problem.nearness_weight > 0 else np.inf * rate
        for _ in range(_ROUNDS):
            if not made.round(0.0 if np.isnan(most) else most):
                break
    plan = made.plan
    return Nearer(plan, start, nearness_of(problem, plan), before, objective_of(problem, plan))


def _nearness(problem: RotationProblem) -> FloatArray:
    if problem.nearness is None:
        raise ValueError("the problem states no nearness of its units")
    return problem.nearness


def _alike(problem: RotationProblem) -> FloatArray:
    """1 for pairs of options (options, options) of one numbered crop that share a day."""
    assert problem.crop is not None  # checked with the nearness
    starts, ends, crop = problem.starts, problem.ends, problem.crop
    days = (starts[:, None] < ends[None, :]) & (starts[None, :] < ends[:, None])
    found = days & (crop[:, None] == crop[None, :]) & (crop >= 0)
    return np.asarray(found, dtype=float)


class _Exchange:
    """A plan that changes by exchanges, and the figures that tell what one would do."""

    def __init__(self, problem: RotationProblem, plan: BoolArray, floor: float) -> None:
        self.problem, self.plan, self.floor = problem, plan.copy(), floor
        self.nearness, self.alike = _nearness(problem), _alike(problem)
        self.standing = plan @ self.alike  # of each option, how many like it a unit carries then
        self.objective = objective_of(problem, plan)
        wishes, shape = problem.wishes, problem.allowed.shape
        self.amounts = np.array([wish.amount for wish in wishes]).reshape(len(wishes), *shape)
        self.wanted = np.array([wish.wanted for wish in wishes])
        self.most = np.array([wish.most for wish in wishes])
        self.required = np.array([wish.required for wish in wishes], dtype=bool)
        self.weight = np.where(self.required, 0.0, [wish.weight for wish in wishes])
        self.given = np.array([float(wish.amount[plan].sum()) for wish in wishes])
        self.beside: list[list[int]] = [[] for _ in range(problem.units)]
        for one, other in problem.beside:
            self.beside[one].append(other)
            self.beside[other].append(one)
        self._clashes: dict[tuple[int, ...], BoolArray] = {}
        self._exchanges: dict[bytes, BoolArray] = {}

    def round(self, rate: float) -> bool:
        """Try all pairs of units once; whether anything was exchanged."""
        changed = False
        for one in range(self.problem.units):
            for other in range(one + 1, self.problem.units):
                if self.nearness[one].any() or self.nearness[other].any():
                    changed |= self._pair(one, other, rate)
        return changed

    def _pair(self, one: int, other: int, rate: float) -> bool:
        """The nearest exchange of two units that is allowed, if one gains."""
        carried = [np.flatnonzero(self.plan[unit]) for unit in (one, other)]
        options = np.concatenate(carried)
        second = np.repeat([False, True], [each.size for each in carried])
        moved = self._spans(options)
        if not moved.size:
            return False
        pair = [one, other]
        # what each option is near to on a unit, the two units themselves left out
        near = (
            self.nearness[pair] @ self.standing
            - self.nearness[np.ix_(pair, pair)] @ (self.standing[pair])
        )
        near, alike = near[:, options], self.alike[np.ix_(options, options)]
        owned = moved ^ second  # on the second unit after the exchange
        gain = np.where(owned, near[1], near[0]).sum(axis=1)
        gain += self.nearness[one, other] * ((~owned @ alike) * owned).sum(axis=1)
        now = np.where(second, near[1], near[0]).sum()
        now += self.nearness[one, other] * float((~second @ alike) @ second)
        for at in np.argsort(-gain, kind="stable").tolist():
            if gain[at] <= now + _TOLERANCE:
                return False
            to_one, to_other = options[~owned[at]], options[owned[at]]
            if self._take(one, other, to_one, to_other, float(gain[at] - now) * rate):
                return True
        return False

    def _spans(self, options: IntArray) -> BoolArray:
        """Which of the options two units would exchange (exchanges, options), each way once.

        All that lies between two days on which both units are free goes to the other. Kept: most
        pairs are as they were when a round comes back to them.
        """
        key = options.tobytes()
        if key not in self._exchanges:
            self._exchanges[key] = self._spans_of(options)
        return self._exchanges[key]

    def _spans_of(self, options: IntArray) -> BoolArray:
        starts, ends = self.problem.starts[options], self.problem.ends[options]
        days = np.unique(np.concatenate([starts, ends]))
        free = days[~((starts < days[:, None]) & (days[:, None] < ends)).any(axis=1)]
        first, last = np.triu_indices(free.size, 1)
        moved = (starts >= free[first][:, None]) & (ends <= free[last][:, None])
        return np.asarray(np.unique(moved, axis=0), dtype=bool)

    def _take(
        self, one: int, other: int, mine: IntArray, theirs: IntArray, may_cost: float
    ) -> bool:
        """Exchange, if no rule is broken and the objective keeps its floor."""
        problem = self.problem
        if not (self._fits(one, mine) and self._fits(other, theirs)):
            return False
        plan = self.plan.copy()
        plan[[one, other]] = False
        plan[one, mine], plan[other, theirs] = True, True
        given = self.given.copy()
        objective = self.objective
        for unit in (one, other):
            old, new = self.plan[unit], plan[unit]
            given += self.amounts[:, unit, new].sum(axis=1)
            given -= self.amounts[:, unit, old].sum(axis=1)
            objective += float(problem.worth[unit, new].sum() - problem.worth[unit, old].sum())
            objective += succession_of(problem, unit, new) - succession_of(problem, unit, old)
        lacks, lacked = (np.maximum(self.wanted - each, 0.0) for each in (given, self.given))
        objective -= float(self.weight @ (lacks - lacked))
        cost = self.objective - objective
        if cost > may_cost + _TOLERANCE or objective < self.floor - _TOLERANCE:
            return False
        kept = self.required | (lacked <= _TOLERANCE)  # what is met stays met
        if (given > self.most + _TOLERANCE).any() or (lacks[kept] > _TOLERANCE).any():
            return False
        if self._beside_broken(plan, one) or self._beside_broken(plan, other):
            return False
        self.plan, self.given, self.objective = plan, given, objective
        self.standing = plan @ self.alike
        return True

    def _fits(self, unit: int, options: IntArray) -> bool:
        key = tuple(int(group.years_away[unit]) for group in self.problem.apart)
        if key not in self._clashes:
            self._clashes[key] = clashes(self.problem, unit)
        clash = self._clashes[key][np.ix_(options, options)]
        alone = not clash[~np.eye(options.size, dtype=bool)].any()
        return alone and bool(self.problem.allowed[unit, options].all())

    def _beside_broken(self, plan: BoolArray, unit: int) -> bool:
        if not self.beside[unit]:
            return False
        others = plan.copy()
        others[unit] = False
        return any(
            bool(beside_kept(self.problem, group, np.array([unit]), others)[0][plan[unit]].any())
            for group in self.problem.apart_beside
        )
