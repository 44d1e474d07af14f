"""Random blends like a garden's, a checker in plain Python, and a brute force beside the program.

Nothing here uses the code of ``bedwright.feeding.blend`` but its records.
"""

import itertools
import math
from dataclasses import dataclass, replace

import numpy as np
from hypothesis import strategies as st

from bedwright.feeding.blend import Blend, Candidates, Demand

MOST_OF_ALL = 250.0  # kg/m2, where a material has no cap of its own
TIE = 1e-6  # weight of mass against the dearest cost, so that equal costs give the lighter blend
KEPT = 1e-6  # share of a bound within which it counts as kept


@dataclass(frozen=True)
class Case:
    candidates: Candidates
    demands: tuple[Demand, ...]
    most_materials: int

    def without(self, key: str) -> "Case":
        rest = tuple(each for each in self.demands if each.key != key)
        return Case(self.candidates, rest, self.most_materials)

    def only(self, keys: tuple[str, ...]) -> "Case":
        kept = tuple(each for each in self.demands if each.key in keys)
        return Case(self.candidates, kept, self.most_materials)


def tenths(draw, least: float, most: float, parts: int = 200) -> float:
    return least + (most - least) * draw(st.integers(0, parts)) / parts


@st.composite
def cases(
    draw,
    most_candidates: int = 10,
    most_later: int = 10,
    most_demands: int = 12,
    can_be_met: bool | None = None,
) -> Case:
    """Bags of random contents, some of them strong, some bulky, and a bed's random demands.

    Where they ``can_be_met`` the demands are bent around some blend; None: in every other case.
    """
    n = draw(st.integers(1, most_candidates))
    bulky = np.array([draw(st.booleans()) for _ in range(n)])
    content = {
        "n": _contents(draw, bulky, 0.46, 0.015),
        "p": _contents(draw, bulky, 0.46, 0.01),
        "k": _contents(draw, bulky, 0.6, 0.01),
        "salt": _contents(draw, bulky, 1.2, 0.01),
        "b": _contents(draw, bulky, 0.11, 0.0),
    }
    base = np.array([draw(st.sampled_from([0.0, 0.0, 0.9, -0.6, 0.02])) for _ in range(n)])
    released = np.array([tenths(draw, 0.1, 1.0) for _ in range(n)])
    most = np.array(
        [
            draw(st.sampled_from([math.inf, 250.0 if heap else 4.0, 30.0 if heap else 0.08]))
            for heap in bulky
        ]
    )
    least = np.minimum(most, [draw(st.sampled_from([0.0, 0.0005, 0.004, 0.05])) for _ in range(n)])
    may_later = [draw(st.booleans()) for _ in range(n)]
    later = np.array([ok and sum(may_later[:at]) < most_later for at, ok in enumerate(may_later)])
    costs = np.array([draw(st.sampled_from([0.05, 0.4, 1.0, 1.0, 3.5, 25.0])) for _ in range(n)])
    found = _demands(draw, content, released, base)
    chosen = draw(st.lists(st.sampled_from(found), unique_by=id, min_size=1, max_size=most_demands))
    keys = tuple(f"bag {at}" for at in range(n))
    most_materials = draw(st.integers(1, 5))
    case = Case(Candidates(keys, costs, most, least, later), tuple(chosen), most_materials)
    met = draw(st.booleans()) if can_be_met is None else can_be_met
    return _bent(draw, case) if met else case


def _bent(draw, case: Case) -> Case:
    """The case with its bounds moved so far that one random blend of its bags keeps them."""
    bags = case.candidates
    n = len(bags.keys)
    some = draw(st.lists(st.integers(0, n - 1), unique=True, max_size=case.most_materials))
    before, after = np.zeros(n), np.zeros(n)
    for at in some:
        cap = min(float(bags.most[at]), 20.0 if bags.most[at] > 4 else 0.3)
        mass = max(float(bags.least[at]), cap * tenths(draw, 0.02, 1.0))
        share = tenths(draw, 0.0, 1.0) if bags.later[at] else 1.0
        before[at], after[at] = mass * share, mass * (1 - share)
    demands = []
    for each in case.demands:
        given = float(each.preplant @ before + each.later @ after)
        room = tenths(draw, 1e-3, 0.5)
        lower, upper = each.lower, each.upper
        if lower is not None:
            lower = given * (1 - room)
        if upper is not None:
            upper = max(given * (1 + room), 0.0) if given or lower is not None else upper
        demands.append(replace(each, lower=lower, upper=upper))
    return Case(bags, tuple(demands), case.most_materials)


def _contents(draw, bulky: np.ndarray, strong: float, weak: float) -> np.ndarray:
    empty = [draw(st.booleans()) for _ in bulky]
    return np.array(
        [
            0.0 if none else tenths(draw, 0.0, weak if heap else strong)
            for none, heap in zip(empty, bulky, strict=True)
        ]
    )


def _demands(draw, content, released, base) -> list[Demand]:
    zero = np.zeros_like(released)
    season = content["n"] * released
    need = tenths(draw, 0.002, 0.03)
    share = tenths(draw, 0.2, 1.0)
    p_need, k_need, lime = (tenths(draw, 0.001, 0.02), tenths(draw, 0.001, 0.03), 0.4)
    one = zero.copy()
    one[draw(st.integers(0, len(one) - 1))] = 1.0
    return [
        Demand("n_season", "need", season, season, lower=0.9 * need),
        Demand("n_ceiling", "limit", season, season, upper=need * tenths(draw, 1.0, 2.0)),
        Demand("n_preplant", "need", season, zero, lower=0.9 * need * share),
        Demand("n_later", "need", zero, season, lower=0.9 * need * (1 - share) + 1e-4),
        Demand("p2o5", "need", content["p"] * released, zero, lower=p_need),
        Demand("p2o5_ceiling", "limit", content["p"], content["p"], upper=p_need),
        Demand("k2o", "need", content["k"], zero, lower=k_need),
        Demand("lime", "need", np.maximum(base, 0.0), zero, lower=0.9 * lime, upper=1.1 * lime),
        Demand("reaction", "limit", base, base, upper=tenths(draw, 0.0, 0.1)),
        Demand("salt_ceiling", "limit", content["salt"], zero, upper=tenths(draw, 0.001, 0.1)),
        Demand("b", "need", content["b"], zero, lower=1e-4, upper=2e-4),
        Demand("compost_depth", "wish", one, zero, lower=tenths(draw, 0.01, 20.0)),
    ]


def faults_of(case: Case, found: Blend) -> list[str]:
    """What is wrong with a blend, by plain sums over plain numbers."""
    before = [float(x) for x in found.preplant]
    after = [float(x) for x in found.later]
    faults = [*_faults_of_masses(case, before, after)]
    for each in case.demands:
        faults += _faults_of_demand(each, found, before, after)
    for key in found.shortfall or {}:
        lower = next(each.lower for each in case.demands if each.key == key)
        if found.supplied[key] >= lower:
            faults.append(f"{key}: named short but met")
    costs = case.candidates.cost
    cost = math.fsum(float(c) * (x + y) for c, x, y in zip(costs, before, after, strict=True))
    if not math.isclose(cost, found.cost, rel_tol=1e-9, abs_tol=1e-12):
        faults.append(f"cost {found.cost}, is {cost}")
    return faults


def _faults_of_masses(case: Case, before: list[float], after: list[float]) -> list[str]:
    bags = case.candidates
    faults = []
    for at, key in enumerate(bags.keys):
        x, y = before[at], after[at]
        cap, dose = min(float(bags.most[at]), MOST_OF_ALL), float(bags.least[at])
        if x < 0 or y < 0:
            faults.append(f"{key}: less than nothing")
        if x + y > cap * (1 + KEPT):
            faults.append(f"{key}: {x + y} over its cap {cap}")
        if 0 < x + y < dose * (1 - 1e-3):  # the solver's 1e-7 kg on a dose of half a gram
            faults.append(f"{key}: {x + y} under its least dose {dose}")
        if y > 0 and not bags.later[at]:
            faults.append(f"{key}: {y} later, which it may not be")
    used = sum(1 for x, y in zip(before, after, strict=True) if x + y > 0)
    if used > case.most_materials:
        faults.append(f"{used} materials where {case.most_materials} are the most")
    return faults


def _faults_of_demand(
    each: Demand, found: Blend, before: list[float], after: list[float]
) -> list[str]:
    faults = []
    given = math.fsum(
        float(a) * x + float(b) * y
        for a, b, x, y in zip(each.preplant, each.later, before, after, strict=True)
    )
    if not math.isclose(given, found.supplied[each.key], rel_tol=1e-9, abs_tol=1e-12):
        faults.append(f"{each.key}: says {found.supplied[each.key]}, is {given}")
    if each.upper is not None and given > each.upper + KEPT * (abs(each.upper) or 1.0):
        faults.append(f"{each.key}: {given} over {each.upper}")
    if each.lower is not None and given < each.lower * (1 - KEPT):
        missing = (found.shortfall or {}).get(each.key)
        if missing is None or not found.clash:
            faults.append(f"{each.key}: {given} under {each.lower} and not named")
        elif not math.isclose(missing, each.lower - given, rel_tol=1e-9):
            faults.append(f"{each.key}: short of {each.lower - given}, not of {missing}")
    return faults


def burden(case: Case, before, after) -> float:
    """Cost with the small weight of mass that breaks ties."""
    return math.fsum(
        weight * (float(x) + float(y))
        for weight, x, y in zip(_weights(case), before, after, strict=True)
    )


def _weights(case: Case) -> list[float]:
    dearest = max(float(c) for c in case.candidates.cost)
    return [float(c) + TIE * dearest for c in case.candidates.cost]


def brute_force(case: Case, slack: float = 0.0) -> float | None:
    """The least burden over every choice of materials and every corner of what it allows.

    ``slack`` loosens (or, below 0, tightens) each bound by that share. None: nothing fits.
    """
    n = len(case.candidates.keys)
    best: float | None = None
    for size in range(0, min(n, case.most_materials) + 1):
        for support in itertools.combinations(range(n), size):
            found = _best_corner(case, support, slack)
            if found is not None and (best is None or found < best):
                best = found
    return best


def _best_corner(case: Case, support: tuple[int, ...], slack: float) -> float | None:
    bags = case.candidates
    columns = [(at, False) for at in support] + [(at, True) for at in support if bags.later[at]]
    rows, bounds, sizes = [], [], []  # rows @ v <= bounds

    def at_most(row: list[float], bound: float, size: float) -> None:
        rows.append(row)
        bounds.append(bound)
        sizes.append(size)

    for at in support:
        row = [1.0 if column[0] == at else 0.0 for column in columns]
        cap = min(float(bags.most[at]), MOST_OF_ALL)
        at_most(row, cap, cap)
        dose = float(bags.least[at])
        at_most([-x for x in row], -dose, dose or 1.0)
    for each in case.demands:
        row = [float(each.later[at] if late else each.preplant[at]) for at, late in columns]
        size = max(abs(each.lower or 0.0), abs(each.upper or 0.0)) or 1.0
        if each.upper is not None:
            at_most(row, each.upper, size)
        if each.lower is not None:
            at_most([-x for x in row], -each.lower, size)
    d = len(columns)
    if d == 0:
        return 0.0 if all(b + slack * s >= 0 for b, s in zip(bounds, sizes, strict=True)) else None
    for at in range(d):
        at_most([-1.0 if other == at else 0.0 for other in range(d)], 0.0, 0.0)
    matrix, bound, size = np.array(rows), np.array(bounds), np.array(sizes)
    chosen = np.array(list(itertools.combinations(range(len(rows)), d)))
    scale = np.linalg.norm(matrix, axis=1)
    scale[scale == 0] = 1.0
    square = (matrix / scale[:, None])[chosen]
    regular = np.abs(np.linalg.det(square)) > 1e-9
    loose = bound + slack * size
    points = np.linalg.solve(square[regular], (loose / scale)[chosen[regular]][..., None])[..., 0]
    kept = np.all(points @ matrix.T <= loose + 1e-9 * size + 1e-12, axis=1)
    if not np.any(kept):
        return None
    weights = _weights(case)
    burdens = points[kept] @ np.array([weights[at] for at, _ in columns])
    return float(np.min(burdens))
