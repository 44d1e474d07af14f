"""One blend for the whole shed: a recipe for each group of like beds, and whole bags to buy.

The groups share what is on hand and what is bought. Stage one finds the least money; what the
solver proves is said as a gap. The structure is used twice: the masses that a minimal recipe can
take bound the switches tightly, and the money cannot fall below that of the same program where
the number of materials is limited in some groups only, which is quick to solve (``search``).
"""

from __future__ import annotations

from collections.abc import Collection, Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray

from bedwright.feeding.blend import Candidates, Demand

Array = NDArray[np.float64]

_MOST_KG_M2 = 250.0  # more than a foot of compost: no dressing is more
_TIE = 1e-7  # money per kg that breaks ties towards less mass
# A limit by nodes, not by the clock, so that the same garden gives the same plan. A node of a large
# garden takes longer, so it gets fewer: judgement, some minutes at the most.
_WORK, _FEWEST_NODES, _MOST_NODES = 400_000, 200, 20_000

_INFEASIBLE = 2  # scipy's status where it is proven that nothing keeps all rows


@dataclass(frozen=True)
class Group:
    """Beds that share a recipe: their area together, their materials and demands (per m2)."""

    area_m2: float
    candidates: Candidates
    demands: tuple[Demand, ...]
    most_materials: int


@dataclass(frozen=True)
class Package:
    """A package that can be bought: its material, mass and price; ``loose`` ones are not whole."""

    key: str
    mass_kg: float
    price: float
    loose: bool = False


@dataclass(frozen=True)
class Shed:
    """What is on hand [kg] by material, and the packages that can be bought."""

    on_hand: dict[str, float]
    packages: tuple[Package, ...]

    def held_kg(self, key: str, counts: Sequence[float]) -> float:
        """What there is of a material once so many of each package are bought [kg]."""
        return self.on_hand.get(key, 0.0) + sum(
            count * package.mass_kg
            for count, package in zip(counts, self.packages, strict=True)
            if package.key == key
        )


@dataclass(frozen=True)
class Solved:
    """The best columns found, None where a limit came first, and a bound on the objective."""

    columns: Array | None
    bound: float


class WholeProgram:
    """The mixed-integer program of a garden; each call of :meth:`minimize` is one stage."""

    def __init__(self, groups: tuple[Group, ...], shed: Shed) -> None:
        self.groups, self.shed = groups, shed
        self.starts = np.cumsum([0, *(3 * len(group.candidates.keys) for group in groups)])
        self.columns = int(self.starts[-1]) + len(shed.packages)
        self.materials = sorted({key for group in groups for key in group.candidates.keys})
        self._entries: list[tuple[int, NDArray[np.int64], Array]] = []
        self._lower: list[float] = []
        self._upper: list[float] = []
        self._top = np.full(self.columns, np.inf)
        self._switches = np.zeros(self.columns, dtype=bool)
        self._cards: list[int] = []
        for at, group in enumerate(groups):
            self._group(at, group)
        self._stock()

    def slices(self, at: int) -> tuple[slice, slice, slice]:
        """The columns of a group: before planting, later, and whether used."""
        start, n = int(self.starts[at]), len(self.groups[at].candidates.keys)
        return (slice(start, start + n), slice(start + n, start + 2 * n),
                slice(start + 2 * n, start + 3 * n))  # fmt: skip

    def row(self, columns: NDArray[np.int64], values: Array, lower: float, upper: float) -> None:
        """Add a constraint: lower <= values . columns <= upper."""
        self._entries.append((len(self._lower), columns, values))
        self._lower.append(lower)
        self._upper.append(upper)

    def _group(self, at: int, group: Group) -> None:
        before, later, used = self.slices(at)
        n = len(group.candidates.keys)
        most_before, most_later = tight_bounds(group)
        self._top[before], self._top[later], self._top[used] = most_before, most_later, 1.0
        self._switches[used] = True
        index = np.arange(self.columns)
        for k in range(n):
            x, y, z = index[before][k], index[later][k], index[used][k]
            for column, most in ((x, most_before[k]), (y, most_later[k])):
                if most > 0:
                    self.row(np.array([column, z]), np.array([1.0, -most]), -np.inf, 0.0)
            least = group.candidates.least[k]
            if least > 0:
                self.row(np.array([x, y, z]), np.array([1.0, 1.0, -least]), 0.0, np.inf)
            most = group.candidates.most[k]
            if np.isfinite(most):
                self.row(np.array([x, y]), np.array([1.0, 1.0]), -np.inf, most)
        self._cards.append(len(self._lower))
        self.row(index[used], np.ones(n), -np.inf, float(group.most_materials))
        for demand in group.demands:
            self._demand(index, before, later, demand)

    def _demand(
        self, index: NDArray[np.int64], before: slice, later: slice, demand: Demand
    ) -> None:
        scale = max(abs(demand.lower or 0.0), abs(demand.upper or 0.0)) or 1.0
        self.row(
            np.concatenate([index[before], index[later]]),
            np.concatenate([demand.preplant, demand.later]) / scale,
            -np.inf if demand.lower is None else demand.lower / scale,
            np.inf if demand.upper is None else demand.upper / scale,
        )

    def _stock(self) -> None:
        index = np.arange(self.columns)
        packages = index[int(self.starts[-1]) :]
        for key in self.materials:
            columns, values = [], []
            for at, group in enumerate(self.groups):
                if key not in group.candidates.keys:
                    continue
                k = group.candidates.keys.index(key)
                before, later, _ = self.slices(at)
                columns += [index[before][k], index[later][k]]
                values += [group.area_m2, group.area_m2]
            for column, package in zip(packages, self.shed.packages, strict=True):
                if package.key == key:
                    columns.append(column)
                    values.append(-package.mass_kg)
            self.row(np.array(columns), np.array(values), -np.inf, self.shed.on_hand.get(key, 0.0))
            self._links(key)

    def _links(self, key: str) -> None:
        """No group takes more than what is on hand, if it uses the material, and what is bought.

        Implied by the stock row where switches are 0 or 1, and sharper where they are not.
        """
        index = np.arange(self.columns)
        bags = [at for at, each in enumerate(self.shed.packages) if each.key == key]
        bag_columns = index[int(self.starts[-1]) :][bags]
        masses = np.array([self.shed.packages[at].mass_kg for at in bags])
        for at, group in enumerate(self.groups):
            if key not in group.candidates.keys:
                continue
            k = group.candidates.keys.index(key)
            columns = [index[part][k] for part in self.slices(at)]
            values = [1.0, 1.0, -self.shed.on_hand.get(key, 0.0) / group.area_m2]
            self.row(
                np.array([*columns, *bag_columns]),
                np.array([*values, *(-masses / group.area_m2)]),
                -np.inf,
                0.0,
            )

    def money(self) -> Array:
        """The objective of stage one: the price of the packages, ties broken by mass."""
        objective = self.prices()
        for at, group in enumerate(self.groups):
            before, later, _ = self.slices(at)
            objective[before] = objective[later] = _TIE * group.area_m2
        return objective

    def prices(self) -> Array:
        """The price of each package, and nothing for the rest."""
        found = np.zeros(self.columns)
        found[int(self.starts[-1]) :] = [each.price for each in self.shed.packages]
        return found

    def weighed(self, contents: tuple[Array, ...]) -> Array:
        """An objective that weighs each group's masses by contents per kg, area counted."""
        objective = np.zeros(self.columns)
        for at, (group, content) in enumerate(zip(self.groups, contents, strict=True)):
            before, later, _ = self.slices(at)
            objective[before] = objective[later] = content * group.area_m2
        return objective

    def switches(self) -> Array:
        """An objective that counts the materials carried to each group."""
        return self._switches.astype(float)

    def minimize(
        self,
        objective: Array,
        *,
        gap: float,
        lower: Array | None = None,
        upper: Array | None = None,
        seconds: float | None = None,
        effort: float = 1.0,
    ) -> tuple[Array, float] | None:
        """The best columns and the proven bound, or None where none were found.

        ``lower`` and ``upper`` fix columns. ``effort`` is the share of the usual nodes that the
        search may open.
        """
        solved = self.solve(objective, gap=gap, lower=lower, upper=upper, seconds=seconds,
                            effort=effort)  # fmt: skip
        if solved is None or solved.columns is None:
            return None
        return solved.columns, solved.bound

    def solve(
        self,
        objective: Array,
        *,
        gap: float,
        counted: Collection[int] | None = None,
        lower: Array | None = None,
        upper: Array | None = None,
        cutoff: float | None = None,
        seconds: float | None = None,
        effort: float = 1.0,
        nodes: int | None = None,
    ) -> Solved | None:
        """Like :meth:`minimize`, with None only where it is proven that there are no columns.

        ``counted`` names the groups whose switches are decided, None for all: leaving some out
        gives a bound from below. ``cutoff`` asks for an objective not above it;
        ``nodes`` is a limit in the place of ``effort``.
        """
        from scipy.optimize import Bounds, LinearConstraint, milp

        integral = np.zeros(self.columns, dtype=np.int64)
        low = np.zeros(self.columns) if lower is None else lower
        top = self._top.copy() if upper is None else upper
        top_rows = np.array(self._upper)
        for at in range(len(self.groups)):
            if counted is None or at in counted:
                integral[self.slices(at)[2]] = 1
            else:  # a switch may be anything, so it neither counts nor asks for a least dose
                top_rows[self._cards[at]] = np.inf
        integral[int(self.starts[-1]) :] = np.where(self.loose(), 0, 1)
        constraints = [LinearConstraint(self._matrix(), self._lower, top_rows)]
        if cutoff is not None:
            constraints.append(LinearConstraint(objective[np.newaxis, :], -np.inf, cutoff))
        usual = min(max(_WORK // self.columns, _FEWEST_NODES), _MOST_NODES)
        most = max(1, round(usual * effort)) if nodes is None else nodes
        options: Any = {"mip_rel_gap": gap, "node_limit": most}
        if seconds is not None:
            options["time_limit"] = seconds
        result = milp(
            objective,
            integrality=integral,
            bounds=Bounds(low, top),
            constraints=constraints,
            options=options,
        )
        if result.x is None:
            proven = result.status == _INFEASIBLE
            return None if proven else Solved(None, _number(result.mip_dual_bound))
        bound = _number(result.mip_dual_bound if integral.any() else result.fun)
        return Solved(np.maximum(np.asarray(result.x, dtype=np.float64), 0.0), bound)

    def _matrix(self) -> Any:
        from scipy.sparse import coo_array

        rows = np.concatenate([np.full(len(c), at) for at, c, _ in self._entries])
        columns = np.concatenate([c for _, c, _ in self._entries])
        values = np.concatenate([v for _, _, v in self._entries])
        shape = (len(self._lower), self.columns)
        return coo_array((values, (rows, columns)), shape=shape).tocsr()

    def loose(self) -> NDArray[np.bool_]:
        """Which packages are sold by weight, (packages,)."""
        return np.array([each.loose for each in self.shed.packages], dtype=bool)

    def top(self) -> Array:
        """The upper bounds of the columns, to be narrowed by a caller."""
        return self._top.copy()

    def keep_materials(self, at: int, columns: Array, upper: Array) -> NDArray[np.bool_]:
        """Narrow ``upper`` to the materials that a group uses in ``columns``; which these are."""
        before, later, used = self.slices(at)
        on: NDArray[np.bool_] = columns[used] > 0.5
        for part in (before, later, used):
            upper[part] *= on
        return on


def _number(bound: float | None) -> float:
    """A bound as the solver gives it; nothing is proven where it gives none."""
    return -np.inf if bound is None or not np.isfinite(bound) else float(bound)


def tight_bounds(group: Group) -> tuple[Array, Array]:
    """The most of each material that a minimal recipe of a group can hold, before and later.

    Two arguments: a limit whose contents are all positive bounds each material by itself; and a
    recipe from which nothing can be taken away holds no more of a material than the largest
    need it serves asks for alone (where no content of that need is negative).
    """
    c = group.candidates
    limit = np.where(np.isfinite(c.most), c.most, _MOST_KG_M2)
    caps = [limit.copy(), np.where(c.later, limit, 0.0)]
    wanted = [np.zeros(len(c.keys)), np.zeros(len(c.keys))]
    for demand in group.demands:
        for side, contents in enumerate((demand.preplant, demand.later)):
            both = np.concatenate([demand.preplant, demand.later])
            if np.any(both < 0):
                wanted[side] = np.full(len(c.keys), np.inf)
                continue
            with np.errstate(divide="ignore", invalid="ignore"):
                if demand.upper is not None:
                    alone = np.where(contents > 0, demand.upper / contents, np.inf)
                    caps[side] = np.minimum(caps[side], alone)
                if demand.lower is not None and demand.lower > 0:
                    alone = np.where(contents > 0, demand.lower / contents, 0.0)
                    wanted[side] = np.maximum(wanted[side], alone)
    least = np.minimum(c.least, limit)
    return (
        np.minimum(caps[0], np.maximum(wanted[0], least)),
        np.minimum(caps[1], np.maximum(wanted[1], np.where(c.later, least, 0.0))),
    )
