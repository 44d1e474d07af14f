"""The least money of a garden: a bound from programs that count less, a plan group by group.

How many bags are opened makes nearly all the money; how many materials a recipe may hold makes
the program hard. So the program is solved first without counting materials. Where most groups
then break the limit, all are counted at once. Else those that broke it most are counted, which
gives another bound that no plan can beat. A plan comes from each of these by settling the
materials of a few groups at a time, the bags already opened being kept. Where much is left between
plan and bound, all groups are counted after all; where little, the plan is tried with a bag fewer,
some groups are freed again while the others hold theirs, and numbers of bags are searched range
by range (``bag_ranges``).

Every step ends by a gap or by a number of nodes, and the steps that run side by side wait for
each other, so that the same garden gives the same plan.
"""

from __future__ import annotations

from concurrent.futures import ThreadPoolExecutor
from functools import partial

import numpy as np
from numpy.typing import NDArray

from bedwright.feeding.bag_ranges import affordable, better, searched, target
from bedwright.feeding.whole import Solved, WholeProgram

Array = NDArray[np.float64]

PLAIN = 200  # so many switches or fewer: the plain program is quick
_AT_ONCE = 2  # groups whose materials are settled in one step
_FREED = 4  # groups that are freed together
_ROUNDS = 3
_STEP_NODES = 60
_BOUND_NODES = 60
_FREED_NODES = 30
_COUNTED_NODES = 60
_COUNTED_SWITCHES = 600  # more, and the solver takes minutes before it finds anything
_WIDE = 0.03  # between plan and bound: where more is left, all groups are counted at once
_FEWER_NODES = 40
_NEAR = 0.01  # of the money: a bound so close below what is to be shown is worth a search by ranges
_CAPPED_NODES = 200
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
        found = None if plain is None else better(money, plain, found)
    return found


def _side_by_side(
    program: WholeProgram, money: Array, gap: float, seconds: float | None
) -> Solved | None:
    """The steps on two cores: bounds on one, plans on the other. None where there is no plan."""
    loose = program.solve(money, gap=gap * _LOOSE_GAP, counted=(), seconds=seconds)
    if loose is None or loose.columns is None:
        return loose
    beyond = _beyond(program, loose.columns)
    order = sorted(range(len(beyond)), key=lambda at: -beyond[at])
    countable = program.switches().sum() <= _COUNTED_SWITCHES
    crowded = countable and sum(each > 0 for each in beyond) > len(beyond) / 2
    hardest = _stuck_first(program, money, loose.columns, order)[:_AT_ONCE]
    with ThreadPoolExecutor(2) as pool:
        diving = pool.submit(_dive, program, money, loose.columns, order, gap, seconds)
        if crowded:
            harder = program.solve(money, gap=gap, nodes=_COUNTED_NODES, seconds=seconds)
        else:
            harder = program.solve(
                money, gap=gap * _LOOSE_GAP, counted=hardest, nodes=_BOUND_NODES, seconds=seconds
            )
        best = Solved(diving.result(), loose.bound)
        if harder is None:
            return None
        best = better(money, best, harder if crowded else Solved(None, harder.bound))
        if harder.columns is not None and not crowded and not _within(money, best, gap):
            again = _dive(program, money, harder.columns, order, gap, seconds)
            best = better(money, best, Solved(again, best.bound))
        if best.columns is None:
            return best
        if not crowded and not _within(money, best, _WIDE):
            steps = [_again_freed, _counted] if countable else [_again_freed]
            for step in [pool.submit(each, program, money, best, gap, seconds) for each in steps]:
                best = better(money, best, step.result())
        if _within(money, best, gap):
            return best
        return _closed(program, money, best, hardest, gap, seconds, pool)


def _counted(
    program: WholeProgram, money: Array, best: Solved, gap: float, seconds: float | None
) -> Solved:
    """The plain program, all groups counted, asked for a plan cheaper than the best.

    Where recipes may hold so few materials that most groups break the limit, counting two says
    little, and this is what leads to a proof.
    """
    assert best.columns is not None
    most = float(money @ best.columns)
    found = program.solve(
        money, gap=gap, cutoff=most, nodes=_COUNTED_NODES, seconds=seconds,
    )  # fmt: skip
    return Solved(None, most) if found is None else found


def _again_freed(
    program: WholeProgram, money: Array, best: Solved, gap: float, seconds: float | None
) -> Solved:
    """A plan made cheaper by freeing groups as they stand in the garden, a few at a time."""
    count = len(program.groups)
    steps = range(0, count, _FREED)
    each = None if seconds is None else seconds / len(steps)
    for first in steps:
        freed = np.arange(first, min(first + _FREED, count))
        best = better(money, best, _freed(program, money, best, freed, gap, each))
    return best


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
        aim = target(money, best, gap)
        if best.bound < aim < asked and best.bound >= aim * (1 - _NEAR):
            best = searched(program, money, best, hardest, gap, each, pool)
            asked = target(money, best, gap)
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
            best = better(money, best, step.result())
    return best


def _within(money: Array, solved: Solved, gap: float) -> bool:
    return solved.columns is not None and solved.bound >= float(money @ solved.columns) * (1 - gap)


def _beyond(program: WholeProgram, columns: Array) -> list[int]:
    """How many materials each group uses beyond its limit."""
    beyond = []
    for at, group in enumerate(program.groups):
        before, later, _ = program.slices(at)
        used = int(np.count_nonzero(columns[before] + columns[later] > _TRACE))
        beyond.append(used - group.most_materials)
    return beyond


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
        money, gap=gap / 10, counted=counted, upper=affordable(program, money, most),
        nodes=_CAPPED_NODES, seconds=seconds,
    )  # fmt: skip
    bound = most if found is None else min(found.bound, most)
    return Solved(best.columns, max(best.bound, bound))
