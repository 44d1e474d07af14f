"""The blend: how much of which material, by a mathematical program.

Variables are the masses per area of each material, before planting and as side-dressing, and
whether a material is used at all. Needs are met within their tolerance, limits are kept, and
the cost is the least. Where that cannot be, the program says which demands clash and gives the
nearest blend: every limit kept, the shortfalls of needs and wishes as small as they can be.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from typing import Any, Literal

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]

_GAP = 1e-6  # relative optimality gap at which the program stops
_NODES = 20_000  # a limit by nodes, not by the clock, so that the same input gives the same blend
_TIE = 1e-6  # weight of mass against cost, so that equal costs give the lighter blend
_SLACK = 1e-6  # share of a bound within which it counts as reached or kept


@dataclass(frozen=True)
class Candidates:
    """The materials that a blend may use; arrays hold one entry for each.

    ``cost`` is money (or any burden) per kg; ``most`` the greatest mass per area in one season
    [kg/m2, inf where none is known]; ``least`` the smallest worth spreading [kg/m2]; ``later``
    whether it may be given as a side-dressing.
    """

    keys: tuple[str, ...]
    cost: Array
    most: Array
    least: Array
    later: NDArray[np.bool_]


@dataclass(frozen=True)
class Demand:
    """One demand on a blend: lower <= preplant . x + later . y <= upper [per m2].

    ``preplant`` and ``later`` are contents per kg of each candidate. A ``need`` is shortened
    before a ``limit`` is broken; a ``wish`` (a compost depth) is given up like a need.
    """

    key: str
    kind: Literal["need", "limit", "wish"]
    preplant: Array
    later: Array
    lower: float | None = None
    upper: float | None = None


@dataclass(frozen=True)
class Blend:
    """A blend and what can be said of it.

    ``preplant`` and ``later`` are masses per area of each candidate [kg/m2]; ``supplied`` the
    left side of each demand. ``clash`` names a minimal set of demands that cannot all be kept
    (empty where the blend meets everything); ``shortfall`` what the nearest blend lacks [per
    m2]; ``prices`` what one unit more of each binding demand would cost.
    """

    keys: tuple[str, ...]
    preplant: Array
    later: Array
    cost: float
    supplied: dict[str, float]
    binding: tuple[str, ...]
    prices: dict[str, float]
    clash: tuple[str, ...] = ()
    shortfall: dict[str, float] | None = None

    @property
    def meets_everything(self) -> bool:
        """Whether every demand is kept."""
        return not self.clash


def blend(candidates: Candidates, demands: tuple[Demand, ...], most_materials: int) -> Blend:
    """The cheapest blend of at most ``most_materials`` materials that keeps every demand.

    Raises ValueError for demands whose arrays do not fit the candidates, whose numbers are not
    finite, or whose limits even an empty bed breaks (a limit's lower bound above 0).
    """
    _check(candidates, demands, most_materials)
    if not candidates.keys:
        return _empty(candidates, demands)
    solved = _solve(candidates, demands, most_materials)
    if solved is not None:
        return describe(candidates, demands, *solved)
    clash = _minimal_clash(candidates, demands, most_materials)
    return _nearest(candidates, demands, most_materials, clash)


def _check(candidates: Candidates, demands: Iterable[Demand], most_materials: int) -> None:
    n = len(candidates.keys)
    if most_materials < 1:
        raise ValueError("most_materials must be at least 1")
    for name in ("cost", "most", "least", "later"):
        if getattr(candidates, name).shape != (n,):
            raise ValueError(f"{name} must hold one entry for each of the {n} materials")
    if np.any(candidates.cost < 0) or not np.all(np.isfinite(candidates.cost)):
        raise ValueError("costs must be finite and not less than 0")
    for each in demands:
        for array in (each.preplant, each.later):
            if array.shape != (n,) or not np.all(np.isfinite(array)):
                raise ValueError(f"{each.key}: contents must be {n} finite numbers")
        if each.kind == "limit" and each.lower is not None and each.lower > 0:
            raise ValueError(f"{each.key}: a limit with a lower bound is a need")
        if each.lower is not None and each.upper is not None and each.lower > each.upper:
            raise ValueError(f"{each.key}: lower {each.lower:g} is above upper {each.upper:g}")


def _empty(candidates: Candidates, demands: tuple[Demand, ...]) -> Blend:
    nothing = np.zeros(len(candidates.keys))
    short = {each.key: each.lower for each in demands if each.lower is not None and each.lower > 0}
    supplied = {each.key: 0.0 for each in demands}
    clash = tuple(short)[:1]
    return Blend(
        candidates.keys, nothing, nothing.copy(), 0.0, supplied, (), {}, clash, dict(short) or None
    )


def _solve(
    candidates: Candidates, demands: tuple[Demand, ...], most_materials: int
) -> tuple[Array, Array] | None:
    """The masses of the cheapest blend, or None where the demands clash."""
    n = len(candidates.keys)
    problem = _Problem(candidates, most_materials)
    for each in demands:
        problem.add(each)
    objective = np.concatenate([_costs(candidates), _costs(candidates), np.zeros(n)])
    found = problem.minimize(objective)
    return None if found is None else (found[:n], found[n : 2 * n])


def _costs(candidates: Candidates) -> Array:
    scale = float(np.max(candidates.cost, initial=0.0)) or 1.0
    return np.asarray(candidates.cost + _TIE * scale, dtype=float)


class _Problem:
    """The constraint matrix of one bed, with room for slack columns at the end."""

    def __init__(self, candidates: Candidates, most_materials: int, slacks: int = 0) -> None:
        n = len(candidates.keys)
        self.n, self.columns = n, 3 * n + slacks
        self.big = np.where(np.isfinite(candidates.most), candidates.most, _BIG_KG_M2)
        self.rows: list[Array] = []
        self.lower: list[float] = []
        self.upper: list[float] = []
        identity = np.eye(n)
        for at in range(n):
            self._row([identity[at], identity[at], -self.big[at] * identity[at]], -np.inf, 0.0)
            if candidates.least[at] > 0:
                self._row(
                    [identity[at], identity[at], -candidates.least[at] * identity[at]], 0.0, np.inf
                )
        self._row([np.zeros(n), np.zeros(n), np.ones(n)], -np.inf, float(most_materials))
        self.most_later = np.where(candidates.later, self.big, 0.0)

    def _row(self, parts: list[Array], lower: float, upper: float) -> Array:
        row = np.zeros(self.columns)
        row[: 3 * self.n] = np.concatenate(parts)
        self.rows.append(row)
        self.lower.append(lower)
        self.upper.append(upper)
        return row

    def add(self, demand: Demand, slack: int | None = None) -> None:
        """Add a demand, scaled so that kilograms of copper and of compost weigh alike."""
        scale = max(abs(demand.lower or 0.0), abs(demand.upper or 0.0)) or 1.0
        lower = -np.inf if demand.lower is None else demand.lower / scale
        upper = np.inf if demand.upper is None else demand.upper / scale
        parts = [demand.preplant / scale, demand.later / scale, np.zeros(self.n)]
        if slack is None:
            self._row(parts, lower, upper)
            return
        row = self._row(parts, lower, np.inf)
        row[3 * self.n + slack] = 1.0
        if np.isfinite(upper):
            self._row(parts, -np.inf, upper)

    def minimize(self, objective: Array) -> Array | None:
        """The best column values, or None where there are none."""
        n = self.n
        upper = np.concatenate(
            [self.big, self.most_later, np.ones(n), np.full(self.columns - 3 * n, np.inf)]
        )
        lower = np.zeros(self.columns)
        integral = np.zeros(self.columns, dtype=np.int64)
        integral[2 * n : 3 * n] = 1
        found = self._milp(objective, lower, upper, integral)
        if found is None:
            return None
        # The solver lets a material that is not used leak in by its tolerance: fix the choice of
        # materials and solve the masses again exactly.
        chosen = np.round(found[2 * n : 3 * n])
        lower[2 * n : 3 * n] = upper[2 * n : 3 * n] = chosen
        upper[:n] *= chosen
        upper[n : 2 * n] *= chosen
        polished = self._milp(objective, lower, upper, np.zeros_like(integral))
        return found if polished is None else polished

    def _milp(
        self, objective: Array, lower: Array, upper: Array, integral: NDArray[np.int64]
    ) -> Array | None:
        from scipy.optimize import Bounds, LinearConstraint, milp

        for presolve in (True, False):  # seldom the solver trips over its own presolve
            result = milp(
                objective,
                integrality=integral,
                bounds=Bounds(lower, upper),
                constraints=LinearConstraint(np.array(self.rows), self.lower, self.upper),
                options={"mip_rel_gap": _GAP, "node_limit": _NODES, "presolve": presolve},
            )
            if result.x is not None or result.status == _INFEASIBLE:
                break
        if result.x is None:
            if result.status == _INFEASIBLE:
                return None
            raise RuntimeError(f"the solver stopped without an answer: {result.message}")
        found: Array = np.maximum(np.asarray(result.x, dtype=np.float64), 0.0)
        return found


_INFEASIBLE = 2  # scipy's word for it
# More than a foot of compost; no season's dressing comes near it.
_BIG_KG_M2 = 250.0


def _minimal_clash(
    candidates: Candidates, demands: tuple[Demand, ...], most_materials: int
) -> tuple[str, ...]:
    """A set of demands that clash, of which none can be left out (deletion filter).

    Limits are tried last, so that the set speaks of needs and wishes where it can. An empty set
    of demands always has the empty blend, so the filter ends with at least one demand.
    """
    order = {"wish": 0, "need": 1, "limit": 2}
    kept = list(demands)
    for each in sorted(demands, key=lambda demand: -order[demand.kind]):
        rest = tuple(other for other in kept if other.key != each.key)
        if _solve(candidates, rest, most_materials) is None:
            kept = list(rest)
    return tuple(each.key for each in kept)


def _nearest(
    candidates: Candidates, demands: tuple[Demand, ...], most_materials: int, clash: tuple[str, ...]
) -> Blend:
    """Every limit kept, the shares missing from needs and wishes least, then the cost."""
    n = len(candidates.keys)
    soft = [each for each in demands if each.kind != "limit" and (each.lower or 0) > 0]
    problem = _Problem(candidates, most_materials, slacks=len(soft))
    for each in demands:
        if each in soft:
            problem.add(each, slack=soft.index(each))
        else:
            problem.add(each)
    cost = _costs(candidates)
    scale = float(np.max(cost)) * float(np.max(np.minimum(problem.big, 10.0))) or 1.0
    objective = np.concatenate(
        [cost / scale * 1e-4, cost / scale * 1e-4, np.zeros(n), np.ones(len(soft))]
    )
    found = problem.minimize(objective)
    if found is None:
        raise ValueError("the limits cannot be kept even by spreading nothing")
    described = describe(candidates, demands, found[:n], found[n : 2 * n])
    short = {
        each.key: (each.lower or 0.0) - described.supplied[each.key]
        for each in soft
        if described.supplied[each.key] < (each.lower or 0.0) * (1 - _SLACK)
    }
    return replace(described, clash=clash, shortfall=short)


def describe(
    candidates: Candidates, demands: tuple[Demand, ...], preplant: Array, later: Array
) -> Blend:
    """A blend of given masses [kg/m2]: what it supplies, what binds and what that costs."""
    supplied = {each.key: float(each.preplant @ preplant + each.later @ later) for each in demands}
    binding = []
    for each in demands:
        value = supplied[each.key]
        for bound in (each.lower, each.upper):
            if bound and abs(value - bound) <= 1e-4 * abs(bound):
                binding.append(each.key)
                break
    cost = float(candidates.cost @ (preplant + later))
    prices = _prices(candidates, demands, preplant, later) if binding else {}
    return Blend(candidates.keys, preplant, later, cost, supplied, tuple(binding), prices)


def _prices(
    candidates: Candidates, demands: tuple[Demand, ...], preplant: Array, later: Array
) -> dict[str, float]:
    """What one more unit of each demand would cost with the same materials (LP marginals)."""
    from scipy.optimize import linprog

    used = np.flatnonzero(preplant + later > 0)
    if used.size == 0:
        return {}
    rows, bounds, names = [], [], []
    for each in demands:
        row = np.concatenate([each.preplant[used], each.later[used]])
        if each.lower is not None:
            rows.append(-row)
            bounds.append(-each.lower)
            names.append((each.key, 1.0))
        if each.upper is not None:
            rows.append(row)
            bounds.append(each.upper)
            names.append((each.key, -1.0))
    most = np.where(np.isfinite(candidates.most[used]), candidates.most[used], _BIG_KG_M2)
    limits: list[Any] = [(0.0, float(each)) for each in most]
    limits += [
        (0.0, float(m) if ok else 0.0) for m, ok in zip(most, candidates.later[used], strict=True)
    ]
    if not rows:
        return {}
    result = linprog(
        np.concatenate([candidates.cost[used]] * 2), A_ub=np.array(rows), b_ub=bounds, bounds=limits
    )
    if result.status != 0:
        return {}
    found: dict[str, float] = {}
    for (key, sign), marginal in zip(names, result.ineqlin.marginals, strict=True):
        if abs(marginal) > 1e-9:
            found[key] = found.get(key, 0.0) - sign * float(marginal)
    return found
