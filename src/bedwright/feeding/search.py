"""The least money of a garden: a bound from programs that count less, a plan group by group.

How many bags are opened makes nearly all the money; how many materials a recipe may hold makes
the program hard. So the program is solved first without counting materials, then with counting
them in the groups that broke the limit most: both give bounds that no plan can beat. A plan comes
from each of these by settling the materials of a few groups at a time, the bags already
opened being kept; the cheaper is tried with a bag fewer, and some groups are freed again while the
others hold theirs. Where little is left between plan and bound, numbers of bags are searched: a
range of them is split at the cheapest that could do, once that is shown not to, until no range
holds anything cheap enough to matter.

Every step ends by a gap or by a number of nodes, and the steps that run side by side wait for
each other, so that the same garden gives the same plan.
"""

from __future__ import annotations

from concurrent.futures import ThreadPoolExecutor
from functools import partial

import numpy as np
from numpy.typing import NDArray

from bedwright.feeding.whole import Solved, WholeProgram

Array = NDArray[np.float64]

PLAIN = 250  # so many switches or fewer: the plain program is quick
_AT_ONCE = 2  # groups whose materials are settled in one step
_FREED = 4  # groups that are freed together
_ROUNDS = 3
_STEP_NODES = 60
_BOUND_NODES = 60
_FREED_NODES = 30
_FEWER_NODES = 40
_RANGE_NODES = 300
_RANGES = 40  # as many are looked at before a proof is given up
_NEAR = 0.01  # of the money: a bound so close below what is to be shown is worth a search by ranges
_RANGE_GAP = 0.001
_CAPPED_NODES = 200
_HAIR = 1e-6  # of a package, for rounding
_LOOSE_GAP = 0.3  # of the first gap, for the steps whose bounds are used
_TRACE = 1e-8  # kg/m2: less is not a use


def least_money(
    program: WholeProgram, money: Array, *, gap: float, seconds: float | None = None
) -> Solved | None:
    """The cheapest plan found and its bound, or None where it is proven that there is none.

    A result without columns says that the search came to its limits before it found a plan.
    """
    found: Solved | None = Solved(None, -np.inf)
    if program.switches().sum() > PLAIN:
        found = _side_by_side(program, money, gap, None if seconds is None else seconds / 4)
    if found is not None and found.columns is None:
        plain = program.solve(money, gap=gap, seconds=seconds)
        found = None if plain is None else _better(money, plain, found)
    return found


def _side_by_side(
    program: WholeProgram, money: Array, gap: float, seconds: float | None
) -> Solved | None:
    """The steps on two cores: bounds on one, plans on the other. None where there is no plan."""
    loose = program.solve(money, gap=gap * _LOOSE_GAP, counted=(), seconds=seconds)
    if loose is None or loose.columns is None:
        return loose
    order = _hardest_first(program, loose.columns)
    hardest = _stuck_first(program, money, loose.columns, order)[:_AT_ONCE]
    with ThreadPoolExecutor(2) as pool:
        diving = pool.submit(_dive, program, money, loose.columns, order, gap, seconds)
        harder = program.solve(
            money, gap=gap * _LOOSE_GAP, counted=hardest, nodes=_BOUND_NODES, seconds=seconds
        )
        best = Solved(diving.result(), loose.bound)
        if harder is None:
            return None
        best = _better(money, best, Solved(None, harder.bound))
        if harder.columns is not None and not _within(money, best, gap):
            again = _dive(program, money, harder.columns, order, gap, seconds)
            best = _better(money, best, Solved(again, best.bound))
        if best.columns is None:
            return best
        return _closed(program, money, best, hardest, gap, seconds, pool)


def _closed(
    program: WholeProgram,
    money: Array,
    best: Solved,
    hardest: list[int],
    gap: float,
    seconds: float | None,
    pool: ThreadPoolExecutor,
) -> Solved:
    """A cheaper plan and a higher bound in turn, two steps at a time, until they meet."""
    draw = np.random.default_rng(0)  # a fixed draw: the same garden gives the same plan
    count = len(program.groups)
    each = None if seconds is None else seconds / _ROUNDS
    asked = np.inf  # the sum below which plans were last looked for by ranges
    for at in range(_ROUNDS + 1):
        target = _target(money, best, gap)
        if best.bound < target < asked and best.bound >= target * (1 - _NEAR):
            best = _searched(program, money, best, hardest, gap, each, pool)
            asked = _target(money, best, gap)
        if at == _ROUNDS or _within(money, best, gap):
            break
        freed = [
            partial(_freed, program, money, best, draw.permutation(count)[:_FREED], gap, each)
            for _ in range(_AT_ONCE)
        ]
        other = (
            partial(_fewer, program, money, best, gap, each),
            partial(_capped, program, money, best, hardest, gap, each),
            freed[1],
        )
        for step in [pool.submit(step) for step in (freed[0], other[min(at, 2)])]:
            best = _better(money, best, step.result())
    return best


def _target(money: Array, best: Solved, gap: float) -> float:
    """The sum below which no plan may be, for the best one to be within the gap."""
    assert best.columns is not None
    return float(money @ best.columns) * (1 - gap)


def _within(money: Array, solved: Solved, gap: float) -> bool:
    return solved.columns is not None and solved.bound >= float(money @ solved.columns) * (1 - gap)


def _better(money: Array, one: Solved, other: Solved) -> Solved:
    """The cheaper plan of two (the first where they cost the same) and the higher bound."""
    plans = [each.columns for each in (one, other) if each.columns is not None]
    plan = min(plans, key=lambda columns: float(money @ columns), default=None)
    return Solved(plan, max(one.bound, other.bound))


def _hardest_first(program: WholeProgram, columns: Array) -> list[int]:
    """The groups by how many materials they use beyond their limit."""
    beyond = []
    for at, group in enumerate(program.groups):
        before, later, _ = program.slices(at)
        used = int(np.count_nonzero(columns[before] + columns[later] > _TRACE))
        beyond.append(used - group.most_materials)
    return sorted(range(len(beyond)), key=lambda at: -beyond[at])


def _stuck_first(
    program: WholeProgram, money: Array, columns: Array, order: list[int]
) -> list[int]:
    """The same order, but first the groups that cannot do alone with the bags of ``columns``."""
    lower, upper = _with_bags(program, columns, program.top())
    stuck = {
        at
        for at in order
        if program.solve(money, gap=1.0, counted=(at,), lower=lower, upper=upper,
                         nodes=_BOUND_NODES) is None
    }  # fmt: skip
    return sorted(order, key=lambda at: at not in stuck)


def _with_bags(program: WholeProgram, columns: Array, upper: Array) -> tuple[Array, Array]:
    """Bounds that open exactly the whole bags of ``columns``; what is sold loose stays free."""
    start, whole = int(program.starts[-1]), ~program.loose()
    counts = np.round(columns[start:])
    lower = np.zeros(program.columns)
    lower[start:] = np.where(whole, counts, 0.0)
    upper[start:] = np.where(whole, counts, upper[start:])
    return lower, upper


def _dive(
    program: WholeProgram,
    money: Array,
    columns: Array,
    order: list[int],
    gap: float,
    seconds: float | None,
) -> Array | None:
    """A plan by settling the materials of a few groups at a time; None where it gets stuck."""
    start = int(program.starts[-1])
    whole = ~program.loose()
    lower, upper = np.zeros(program.columns), program.top()
    at_once = max(_AT_ONCE, -(-len(order) // 8))
    steps = [order[first : first + at_once] for first in range(0, len(order), at_once)]
    settled: set[int] = set()
    for step in steps:
        lower[start:] = np.where(whole, np.round(columns[start:]), 0.0)
        settled |= set(step)
        found = program.solve(
            money, gap=gap, counted=settled, lower=lower, upper=upper, nodes=_STEP_NODES,
            seconds=None if seconds is None else seconds / len(steps),
        )  # fmt: skip
        if found is None or found.columns is None:
            return None
        columns = found.columns
        for at in step:
            program.keep_materials(at, columns, upper)
    return columns


def _freed(
    program: WholeProgram,
    money: Array,
    best: Solved,
    freed: NDArray[np.int64],
    gap: float,
    seconds: float | None,
) -> Solved:
    """A plan made cheaper where some groups choose anew and the others keep their materials."""
    assert best.columns is not None
    upper = program.top()
    for at in range(len(program.groups)):
        if at not in freed:
            program.keep_materials(at, best.columns, upper)
    found = program.solve(
        money, gap=gap / 2, upper=upper, nodes=_FREED_NODES,
        cutoff=float(money @ best.columns) * (1 - gap / 20), seconds=seconds,
    )  # fmt: skip
    return Solved(None if found is None else found.columns, best.bound)


def _fewer(
    program: WholeProgram, money: Array, best: Solved, gap: float, seconds: float | None
) -> Solved:
    """A plan that does with the bags of the best but one, the dearest that can be spared.

    Most bags cannot, which shows at once.
    """
    assert best.columns is not None
    start = int(program.starts[-1])
    _, most = _with_bags(program, best.columns, program.top())
    opened = np.flatnonzero(np.where(program.loose(), 0.0, most[start:]) > 0)
    for at in opened[np.argsort(-money[start:][opened], kind="stable")]:
        upper = most.copy()
        upper[start + at] -= 1
        found = program.solve(
            money, gap=gap * _LOOSE_GAP, upper=upper, nodes=_FEWER_NODES, seconds=seconds
        )
        if found is not None and found.columns is not None:
            return Solved(found.columns, best.bound)
    return best


def _capped(
    program: WholeProgram,
    money: Array,
    best: Solved,
    counted: list[int],
    gap: float,
    seconds: float | None,
) -> Solved:
    """A bound from counting some groups, no more of a package being bought than a plan costs."""
    assert best.columns is not None
    most = float(money @ best.columns)
    found = program.solve(
        money, gap=gap / 10, counted=counted, upper=_affordable(program, money, most),
        nodes=_CAPPED_NODES, seconds=seconds,
    )  # fmt: skip
    bound = most if found is None else min(found.bound, most)
    return Solved(best.columns, max(best.bound, bound))


def _affordable(program: WholeProgram, money: Array, most: float) -> Array:
    """The upper bounds of the columns where no package costs more than a sum."""
    start, upper = int(program.starts[-1]), program.top()
    with np.errstate(divide="ignore"):
        counts = np.where(money[start:] > 0, most / money[start:] + _HAIR, np.inf)
    upper[start:] = np.minimum(upper[start:], np.where(program.loose(), counts, np.floor(counts)))
    return upper


def _searched(
    program: WholeProgram,
    money: Array,
    best: Solved,
    hardest: list[int],
    gap: float,
    seconds: float | None,
    pool: ThreadPoolExecutor,
) -> Solved:
    """Numbers of bags searched for plans that would show the best not to be within the gap.

    One search counts no group, which is quick, the other counts the hardest, which leaves less to
    split; they go in step, so that the end of either ends both, whatever the machine does.
    """
    searches = [_Ranges(program, money, counted, seconds) for counted in ([], hardest)]
    for _ in range(_RANGES):
        target = _target(money, best, gap)
        searches = [each for each in searches if not each.lost]
        for step in [pool.submit(each.look, target) for each in searches]:
            best = _better(money, best, Solved(step.result(), best.bound))
        if any(not each.lost and not each.waiting for each in searches):
            target = _target(money, best, gap)
            return _better(money, best, Solved(None, target))
    return best


class _Ranges:
    """Ranges of numbers of bags in which there may be a plan that costs no more than a sum.

    Each is asked for its cheapest bags with few groups counted. Either these bags, or more, do for
    all groups, or that is shown not to be, and the rest of the range is split: fewer of the first
    package than that, or as many and fewer of the second, and so on.
    """

    def __init__(
        self, program: WholeProgram, money: Array, counted: list[int], seconds: float | None
    ) -> None:
        self._program, self._money, self._counted = program, money, counted
        self._seconds = seconds
        self.waiting = [(np.zeros(program.columns), program.top())]
        self.lost = False  # a step came to its limits, so that nothing can be shown

    def look(self, most: float) -> Array | None:
        """Take up the next range; a plan that costs no more than ``most``, if one shows.

        ``most`` may become less from one call to the next, never more.
        """
        lower, upper = self.waiting.pop()
        upper = np.minimum(upper, _affordable(self._program, self._money, most))
        if np.any(lower > upper):
            return None
        cheap = self._solved(most, self._counted, lower, upper)
        if cheap is None:
            return None
        if cheap.columns is None:
            self.lost = True
            return None
        start = int(self._program.starts[-1])
        counts = np.where(self._program.loose(), 0.0, np.round(cheap.columns[start:]))
        above = lower.copy()
        above[start:] = np.maximum(lower[start:], counts)
        plan = self._solved(most, None, above, upper)
        opened = start + np.flatnonzero(above[start:] > lower[start:])
        for at in opened[np.argsort(-self._money[opened], kind="stable")]:
            fewer = upper.copy()
            fewer[at] = above[at] - 1
            self.waiting.append((lower.copy(), fewer))
            lower[at] = above[at]
        if plan is None:
            return None
        if plan.columns is None:
            self.lost = True
            return None
        self.waiting.append((above, upper))  # there may be a cheaper one still
        return plan.columns

    def _solved(
        self, most: float, counted: list[int] | None, lower: Array, upper: Array
    ) -> Solved | None:
        return self._program.solve(
            self._money, gap=_RANGE_GAP, counted=counted, lower=lower, upper=upper, cutoff=most,
            nodes=_RANGE_NODES, seconds=self._seconds,
        )  # fmt: skip
