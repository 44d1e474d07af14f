"""Numbers of bags searched for a plan cheaper than a sum, range by range, or shown to hold none.

A range is split at the cheapest bags in it that could do, once these are shown not to, until no
range holds anything cheap enough to matter.
"""

from __future__ import annotations

from concurrent.futures import ThreadPoolExecutor

import numpy as np
from numpy.typing import NDArray

from bedwright.feeding.whole import Solved, WholeProgram

Array = NDArray[np.float64]

_RANGE_NODES = 300
_RANGES = 40  # as many are looked at before a proof is given up
_RANGE_GAP = 0.001
_HAIR = 1e-6  # of a package, for rounding


def target(money: Array, best: Solved, gap: float) -> float:
    """The sum below which no plan may be, for the best one to be within the gap."""
    assert best.columns is not None
    return float(money @ best.columns) * (1 - gap)


def better(money: Array, one: Solved, other: Solved) -> Solved:
    """The cheaper plan of two (the first where they cost the same) and the higher bound."""
    plans = [each.columns for each in (one, other) if each.columns is not None]
    plan = min(plans, key=lambda columns: float(money @ columns), default=None)
    return Solved(plan, max(one.bound, other.bound))


def affordable(program: WholeProgram, money: Array, most: float) -> Array:
    """The upper bounds of the columns where no package costs more than a sum."""
    start, upper = int(program.starts[-1]), program.top()
    with np.errstate(divide="ignore"):
        counts = np.where(money[start:] > 0, most / money[start:] + _HAIR, np.inf)
    upper[start:] = np.minimum(upper[start:], np.where(program.loose(), counts, np.floor(counts)))
    return upper


def searched(
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
        most = target(money, best, gap)
        searches = [each for each in searches if not each.lost]
        for step in [pool.submit(each.look, most) for each in searches]:
            best = better(money, best, Solved(step.result(), best.bound))
        if any(not each.lost and not each.waiting for each in searches):
            return better(money, best, Solved(None, target(money, best, gap)))
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
        upper = np.minimum(upper, affordable(self._program, self._money, most))
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
