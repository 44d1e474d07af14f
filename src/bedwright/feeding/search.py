"""The least money of a garden: a bound from programs that count less, a plan group by group.

How many bags are opened makes nearly all the money; how many materials a recipe may hold makes
the program hard. So the program is solved first without counting materials, then with counting
them in the groups that broke the limit most: both give bounds that no plan can beat. A plan comes
from the first of these by settling the materials of a few groups at a time, the bags already
opened being kept; then some groups are freed again while the others hold theirs.

Every step ends by a gap or by a number of nodes, and the steps that run side by side wait for
each other, so that the same garden gives the same plan.
"""

from __future__ import annotations

from concurrent.futures import ThreadPoolExecutor

import numpy as np
from numpy.typing import NDArray

from bedwright.feeding.whole import Solved, WholeProgram

Array = NDArray[np.float64]

_PLAIN = 250  # so many switches or fewer: the plain program is quick
_AT_ONCE = 2  # groups whose materials are settled in one step
_FREED = 4  # groups that are freed together
_ROUNDS = 3
_STEP_NODES = 60
_BOUND_NODES = 60
_FREED_NODES = 30
_LOOSE_GAP = 0.3  # of the first gap, for the steps whose bounds are used
_TRACE = 1e-8  # kg/m2: less is not a use


def least_money(
    program: WholeProgram, money: Array, *, gap: float, seconds: float | None = None
) -> Solved | None:
    """The cheapest plan found and its bound, or None where it is proven that there is none.

    A result without columns says that the search came to its limits before it found a plan.
    """
    found: Solved | None = Solved(None, -np.inf)
    if program.switches().sum() > _PLAIN:
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
    with ThreadPoolExecutor(2) as pool:
        diving = pool.submit(_dive, program, money, loose.columns, order, gap, seconds)
        harder = program.solve(
            money, gap=gap * _LOOSE_GAP, counted=order[:_AT_ONCE], nodes=_BOUND_NODES,
            seconds=seconds,
        )  # fmt: skip
        best = Solved(diving.result(), loose.bound)
        if harder is None:
            return None
        best = _better(money, best, Solved(None, harder.bound))
        if _within(money, best, gap):
            return best
        return _freed(program, money, best, gap, seconds, pool)


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
    gap: float,
    seconds: float | None,
    pool: ThreadPoolExecutor,
) -> Solved:
    """A plan made cheaper by freeing some groups in turn while the others keep their materials."""
    count = len(program.groups)
    draw = np.random.default_rng(0)  # a fixed draw: the same garden gives the same plan
    for _ in range(_ROUNDS):
        if best.columns is None or _within(money, best, gap):
            break
        tried = []
        for _ in range(_AT_ONCE):
            freed = draw.permutation(count)[:_FREED]
            upper = program.top()
            for at in range(count):
                if at not in freed:
                    program.keep_materials(at, best.columns, upper)
            tried.append(
                pool.submit(
                    program.solve, money, gap=gap / 2, upper=upper, nodes=_FREED_NODES,
                    cutoff=float(money @ best.columns) * (1 - gap / 20),
                    seconds=None if seconds is None else seconds / _ROUNDS,
                )
            )  # fmt: skip
        for each in tried:
            found = each.result()
            if found is not None and found.columns is not None:
                best = _better(money, best, Solved(found.columns, best.bound))
    return best
