"""Small random gardens that share a shed, and an exhaustive search over them.

The search tries every number of bags and every choice of materials for every group. Each group's
recipes with a choice are the convex hull of their corners, found by solving every square
subsystem; whether corners of all groups mix to a garden that the shed can feed is one small LP.
Nothing of ``bedwright.feeding`` is used but its records.
"""

import itertools
import math
from dataclasses import dataclass, replace
from random import Random

import numpy as np
from hypothesis import strategies as st
from scipy.optimize import linprog

from bedwright.feeding.blend import Candidates, Demand
from bedwright.feeding.whole import Group, Package, Shed

EDGE = 1e-5  # the share by which bounds are moved to find both sides of an edge
MOST_OF_ALL = 250.0  # kg/m2, where a material has no cap of its own
_MOST_COUNT = 4  # of a package in a garden that is searched through


@dataclass(frozen=True)
class Garden:
    groups: tuple[Group, ...]
    shed: Shed
    p2o5: tuple[np.ndarray, ...]

    def but(self, **changes) -> "Garden":
        return replace(self, **changes)

    def with_groups(self, change) -> "Garden":
        return self.but(groups=tuple(change(group) for group in self.groups))


def part(rng: Random, low: float, high: float) -> float:
    return round(rng.uniform(low, high), 4)


def gardens(**kind) -> st.SearchStrategy[Garden]:
    """Random gardens by their seed: a failing one is drawn again by ``garden_of(seed, ...)``."""
    return st.integers(0, 10**9).map(lambda seed: garden_of(seed, **kind))


def garden_of(
    seed: int,
    *,
    groups: int = 3,
    materials: int = 4,
    bent: bool | None = None,
    contents: tuple[tuple[float, ...], ...] | None = None,
) -> Garden:
    """A shed with few packages and groups of beds with demands of which most can be met.

    ``bent`` True: a random plan keeps every demand, False: none need. ``contents``: rows of n, p,
    k, salt and lime value per kg of materials to choose from; invented ones where None.
    """
    rng = Random(seed)
    n = rng.randint(2, materials)
    rows = [_invented(rng) for _ in range(n)] if contents is None else rng.sample(contents, n)
    keys = tuple(f"bag {at}" for at in range(n))
    met = rng.random() < 0.8 if bent is None else bent
    later = rng.choice([-1, *range(n)])
    some = range(min(groups, rng.choice([1, 2, 2, 3])))
    found = [_group(rng, keys, rows, later, met) for _ in some]
    together = tuple(group for group, _ in found)
    return Garden(together, _stocked(rng, keys, together), tuple(p for _, p in found))


def _invented(rng: Random) -> tuple[float, ...]:
    given = [part(rng, 0.02, most) * (rng.random() < 0.6) for most in (0.46, 0.46, 0.5, 1.0)]
    if not any(given[:3]):
        given[rng.randrange(3)] = part(rng, 0.02, 0.4)
    return (*given, rng.choice([0.0, 0.0, 0.9, -0.6, 0.02]))


def _group(
    rng: Random, keys: tuple[str, ...], rows: list[tuple[float, ...]], may_later: int, met: bool
) -> tuple[Group, np.ndarray]:
    free = [at for at in range(len(keys)) if rng.random() < 0.85] or [0]
    width = len(free)
    some = rng.sample(range(width), rng.randint(1, min(3, width)))
    mass = np.array([part(rng, 0.02, 0.3) for _ in free])
    later = np.array([at == may_later for at in free])
    x = np.where([at in some for at in range(width)], mass, 0.0)
    y = np.where(later, x * part(rng, 0.0, 1.0), 0.0)
    demands = _demands(rng, np.array([rows[at] for at in free]), x - y, y, met)
    most = np.maximum(x, mass) * [part(rng, 1.01, 2.0) for _ in free]
    least = np.array([rng.choice([0.0, 0.0, 0.5, 1.0]) for _ in free]) * mass
    bags = Candidates(tuple(keys[at] for at in free), np.ones(width), most, least, later)
    counted = rng.randint(len(some), max(len(some), 3)) if met else rng.randint(1, 3)
    group = Group(rng.choice([5.0, 12.5, 18.58, 40.0]), bags, demands, counted)
    return group, np.array([rows[at][1] for at in free])


def _demands(
    rng: Random, content: np.ndarray, x: np.ndarray, y: np.ndarray, met: bool
) -> tuple[Demand, ...]:
    """Demands around what one plan gives, wide enough for it or (not ``met``) as it happens."""
    n, p, k, salt, base = content.T
    released = np.array([part(rng, 0.3, 1.0) for _ in n])
    zero, season = np.zeros(len(n)), n * released
    named = {
        "n_season": ("need", season, season),
        "n_preplant": ("need", season, zero),
        "n_later": ("need", zero, season),
        "p2o5": ("need", p * released, zero),
        "k2o": ("need", k, zero),
        "n_ceiling": ("limit", season, season),
        "p2o5_ceiling": ("limit", p, p),
        "salt_ceiling": ("limit", salt, zero),
        "reaction": ("limit", base, base),
    }
    demands = []
    for key in rng.sample(sorted(named), rng.randint(3, 7)):
        kind, before, after = named[key]
        given = float(before @ x + after @ y)
        if not met and rng.random() < 0.5:
            given *= part(rng, 0.3, 3.0)
        room = part(rng, 0.01, 0.3)
        if kind == "limit":
            upper = given * (1 + room) if given > 0 else part(rng, 0.001, 0.02)
            demands.append(Demand(key, "limit", before, after, upper=upper))
        elif given > 1e-6:
            upper = given * (1 + 3 * room) if rng.random() < 0.25 else None
            demands.append(Demand(key, "need", before, after, given * (1 - room), upper))
    return tuple(demands)


def most_used(groups: tuple[Group, ...], key: str) -> float:
    """The most of a material that a garden's labels allow [kg]."""
    return sum(
        group.area_m2 * float(group.candidates.most[group.candidates.keys.index(key)])
        for group in groups
        if key in group.candidates.keys
    )


def _stocked(rng: Random, keys: tuple[str, ...], groups: tuple[Group, ...]) -> Shed:
    on_hand: dict[str, float] = {}
    packages: list[Package] = []
    two_sizes, alike = False, rng.random() < 0.5
    for key in keys:
        most = most_used(groups, key) or 1.0
        on_hand[key] = most * rng.choice([0.0, 0.0, 0.1, 0.3, 1.0])
        if rng.random() < 0.1:
            continue  # not to be bought
        mass, per_kg = most / rng.uniform(1.0, _MOST_COUNT), part(rng, 0.3, 5.0)
        if rng.random() < 0.1:
            packages.append(Package(key, 1.0, per_kg, loose=True))
            continue
        price = rng.choice([10.0, 10.02, 20.0]) if alike else round(per_kg * mass, 2)
        packages.append(Package(key, mass, price))
        if not two_sizes and rng.random() < 0.2:  # a large one, cheaper by the kilogram
            packages.append(Package(key, 2.5 * mass, round(2.1 * price, 2)))
            two_sizes = True
    return Shed(on_hand, tuple(packages))


# The search.


def corners(group: Group, support: tuple[int, ...], edge: float = 0.0) -> np.ndarray:
    """The corners of a group's recipes from some of its materials [kg/m2 of each, x then y].

    Each bound is loosened (below 0: tightened) by the share ``edge``.
    """
    bags = group.candidates
    width = len(bags.keys)
    columns = list(support) + [width + at for at in support if bags.later[at]]
    rows, bounds, sizes = [], [], []

    def at_most(row: np.ndarray, bound: float, size: float) -> None:
        rows.append(row[columns])
        bounds.append(bound)
        sizes.append(size)

    for at in support:
        row = np.zeros(2 * width)
        row[[at, width + at]] = 1.0
        at_most(row, float(bags.most[at]), float(bags.most[at]))
        if bags.least[at] > 0:
            at_most(-row, -float(bags.least[at]), float(bags.least[at]))
    for each in group.demands:
        row = np.concatenate([each.preplant, each.later])
        size = max(abs(each.lower or 0.0), abs(each.upper or 0.0)) or 1.0
        if each.upper is not None:
            at_most(row, each.upper, size)
        if each.lower is not None:
            at_most(-row, -each.lower, size)
    d = len(columns)
    if d == 0:
        kept = all(b + edge * s >= 0 for b, s in zip(bounds, sizes, strict=True))
        return np.zeros((1 if kept else 0, 2 * width))
    for at in columns:
        row = np.zeros(2 * width)
        row[at] = -1.0
        at_most(row, 0.0, 0.0)
    matrix, bound, size = np.array(rows), np.array(bounds), np.array(sizes)
    scale = np.linalg.norm(matrix, axis=1)
    scale[scale == 0] = 1.0
    loose = bound + edge * size
    which = np.array(list(itertools.combinations(range(len(rows)), d)))
    square = (matrix / scale[:, None])[which]
    regular = np.abs(np.linalg.det(square)) > 1e-9
    points = np.linalg.solve(square[regular], (loose / scale)[which[regular]][..., None])[..., 0]
    kept = points[np.all(points @ matrix.T <= loose + 1e-9 * size + 1e-12, axis=1)]
    found = np.zeros((len(kept), 2 * width))
    found[:, columns] = kept
    return np.unique(found.round(12), axis=0)


def can_be_met(group: Group, edge: float = 0.0) -> bool:
    """Whether some choice of a group's materials keeps all its demands: an LP for each choice."""
    n = len(group.candidates.keys)
    return any(
        _fits(group, support, edge)
        for size in range(min(n, group.most_materials) + 1)
        for support in itertools.combinations(range(n), size)
    )


def _fits(group: Group, support: tuple[int, ...], edge: float) -> bool:
    bags = group.candidates
    ways = [(at, False) for at in support] + [(at, True) for at in support if bags.later[at]]
    rows = [np.zeros(len(ways))]
    bounds = [0.0]
    for at in support:
        both = np.array([1.0 if way[0] == at else 0.0 for way in ways])
        most, least = min(float(bags.most[at]), MOST_OF_ALL), float(bags.least[at])
        rows += [both / most, -both / (least or 1.0)]
        bounds += [1.0 + edge, (edge - 1.0) if least > 0 else 0.0]
    for each in group.demands:
        size = max(abs(each.lower or 0.0), abs(each.upper or 0.0)) or 1.0
        row = np.array([each.later[at] if late else each.preplant[at] for at, late in ways]) / size
        if each.upper is not None:
            rows.append(row)
            bounds.append(each.upper / size + edge)
        if each.lower is not None:
            rows.append(-row)
            bounds.append(edge - each.lower / size)
    if not ways:
        return min(bounds) >= 0
    nothing = np.zeros(len(ways))
    return linprog(nothing, A_ub=np.array(rows), b_ub=bounds).status == 0


@dataclass(frozen=True)
class _Choice:
    """A choice of materials for one group: what its corners take of each key [kg], their P."""

    size: int
    use: np.ndarray
    phosphate: np.ndarray


class Search:
    """Every plan of a small garden, its bounds loosened (below 0: tightened) by ``edge``."""

    def __init__(self, garden: Garden, edge: float = 0.0) -> None:
        self.garden, self.edge = garden, edge
        self.keys = sorted({key for group in garden.groups for key in group.candidates.keys})
        most = {key: most_used(garden.groups, key) for key in self.keys}
        self.most = np.array([most[key] for key in self.keys])
        self.choices = [self._choices(at) for at in range(len(garden.groups))]
        packages = garden.shed.packages
        self.loose = [each for each in packages if each.loose and each.key in most]
        whole = [each for each in packages if not each.loose and each.key in most]
        counts = []
        for each in whole:
            needed = max(0.0, most[each.key] - garden.shed.on_hand.get(each.key, 0.0))
            counts.append(range(math.ceil(needed / each.mass_kg) + 1))
        every = list(itertools.product(*counts))
        self.bags = np.array(every, dtype=float).reshape(len(every), len(whole))
        self.cost = self.bags @ np.array([each.price for each in whole], dtype=float)
        self.room = np.tile(
            [garden.shed.on_hand.get(key, 0.0) for key in self.keys], (len(self.bags), 1)
        )
        for column, each in enumerate(whole):
            self.room[:, self.keys.index(each.key)] += self.bags[:, column] * each.mass_kg
        self.room += edge * self.room + max(edge, 0.0) * self.most
        order = np.argsort(self.cost, kind="stable")
        self.bags, self.cost, self.room = self.bags[order], self.cost[order], self.room[order]
        open_ended = [self.keys.index(each.key) for each in self.loose]
        k = len(self.keys)
        tests = [np.array(bits, dtype=float) for bits in itertools.product((0, 1), repeat=k)]
        self.tests = np.array([w / self.most for w in tests if not w[open_ended].any()])
        self.plans = [
            (plan, sum((each.use @ self.tests.T).min(axis=0) for each in plan))
            for plan in itertools.product(*self.choices)
        ]

    def _choices(self, at: int) -> list[_Choice]:
        group, phosphate = self.garden.groups[at], self.garden.p2o5[at]
        n = len(group.candidates.keys)
        into = np.zeros((2 * n, len(self.keys)))
        for k, key in enumerate(group.candidates.keys):
            into[[k, n + k], self.keys.index(key)] = group.area_m2
        found = []
        for size in range(min(n, group.most_materials) + 1):
            for support in itertools.combinations(range(n), size):
                points = corners(group, support, self.edge)
                if len(points):
                    brought = points @ np.concatenate([phosphate, phosphate]) * group.area_m2
                    found.append(_Choice(size, points @ into, brought))
        return found

    def money(self) -> float | None:
        """The least money of any plan; None where none is possible."""
        best: float | None = None
        for cost, room in zip(self.cost, self.room, strict=True):
            if best is not None and cost >= best:
                break
            for plan in self._possible(room):
                spent = self._mix(plan, room, by="money")
                if spent is not None and (best is None or cost + spent < best):
                    best = cost + spent
                if not self.loose and best is not None:
                    return best
        return best

    def phosphate(self, money: float) -> float | None:
        """The least P2O5 [kg] of any plan that costs no more than ``money``."""
        best: float | None = None
        tries = []
        for cost, room in self._sheds(money):
            for plan in self._possible(room):
                floor = sum(float(each.phosphate.min()) for each in plan)
                tries.append((floor, len(tries), plan, room, money - cost))
        for floor, _, plan, room, left in sorted(tries, key=lambda each: each[:2]):
            if best is not None and floor >= best:
                break
            brought = self._mix(plan, room, by="phosphate", money=left)
            if brought is not None and (best is None or brought < best):
                best = brought
        return best

    def carried(self, money: float, phosphate: float) -> int | None:
        """The fewest materials carried by any plan within money and P2O5."""
        tries = []
        for cost, room in self._sheds(money):
            for plan in self._possible(room):
                if sum(float(each.phosphate.min()) for each in plan) <= phosphate + 1e-9:
                    size = sum(each.size for each in plan)
                    tries.append((size, len(tries), plan, room, money - cost))
        for size, _, plan, room, left in sorted(tries, key=lambda each: each[:2]):
            brought = self._mix(plan, room, by="phosphate", money=left)
            if brought is not None and brought <= phosphate:
                return size
        return None

    def _sheds(self, money: float):
        """What can be there for the money; without loose packages only where no more can be."""
        within = self.cost <= money
        costs, rooms = self.cost[within], self.room[within]
        for at in range(len(costs)):
            more = np.all(rooms >= rooms[at] - 1e-12, axis=1) & np.any(
                rooms > rooms[at] + 1e-12, axis=1
            )
            if self.loose or not more.any():
                yield costs[at], rooms[at]

    def _possible(self, room: np.ndarray):
        limit = self.tests @ room + 1e-9
        return (plan for plan, floor in self.plans if np.all(floor <= limit))

    def _mix(self, plan, room: np.ndarray, *, by: str, money: float | None = None) -> float | None:
        """The least of mixing corners of each group's choice within the shed's room."""
        sizes = [len(each.use) for each in plan]
        columns = sum(sizes) + len(self.loose)
        use = np.zeros((len(self.keys), columns))
        use[:, : sum(sizes)] = np.concatenate([each.use for each in plan]).T
        for at, each in enumerate(self.loose):
            use[self.keys.index(each.key), sum(sizes) + at] = -each.mass_kg
        prices = np.zeros(columns)
        prices[sum(sizes) :] = [each.price for each in self.loose]
        rows, bounds = [use / self.most[:, None]], [room / self.most]
        if money is not None and math.isfinite(money) and self.loose:
            rows.append(prices[None, :])
            bounds.append(np.array([money]))
        whole = np.zeros((len(plan), columns))
        for at, end in enumerate(itertools.accumulate(sizes)):
            whole[at, end - sizes[at] : end] = 1.0
        phosphate = np.zeros(columns)
        phosphate[: sum(sizes)] = np.concatenate([each.phosphate for each in plan])
        result = linprog(
            prices if by == "money" else phosphate,
            A_ub=np.concatenate(rows),
            b_ub=np.concatenate(bounds),
            A_eq=whole,
            b_eq=np.ones(len(plan)),
        )
        return float(result.fun) if result.status == 0 else None
