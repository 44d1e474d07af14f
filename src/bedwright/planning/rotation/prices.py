"""Prices of wishes and rules, and what they prove: no plan is better than the sum of best paths.

Whoever pays a price for each wish, year rule and neighbor rule can plan each unit by itself. The
sum of the units' best sequences bounds every plan, whatever the prices, so that the bound does
not hang on a solver's tolerance.
"""

from __future__ import annotations

from typing import Any

import numpy as np

from bedwright.planning.rotation.model import Program
from bedwright.planning.rotation.problem import FloatArray


def relaxed_prices(program: Program) -> FloatArray | None:
    """The prices (rows,) of the relaxation without whole numbers; None where it has no plan.

    Raises RuntimeError where the solver gives up.
    """
    from scipy.optimize import linprog
    from scipy.sparse import vstack

    equal = program.low == program.high
    upper = np.flatnonzero(np.isfinite(program.high) & ~equal)
    lower = np.flatnonzero(np.isfinite(program.low) & ~equal)
    same = np.flatnonzero(equal)

    def solved(method: str) -> Any:
        return linprog(  # type: ignore[call-overload]  # the stubs know no sparse rows
            -program.gain,
            A_ub=vstack([program.rows[upper], -program.rows[lower]]).tocsr(),
            b_ub=np.concatenate([program.high[upper], -program.low[lower]]),
            A_eq=program.rows[same] if same.size else None,
            b_eq=program.high[same] if same.size else None,
            bounds=np.column_stack([np.zeros(program.top.size), program.top]),
            method=method,
        )

    found = solved("highs-ipm")
    if found.status == 4:  # the interior point is by far the quicker, and now and then gives up
        found = solved("highs-ds")
    if found.status == 2:
        return None
    if found.status != 0:
        raise RuntimeError(f"the relaxation of the rotation was not solved: {found.message}")
    prices = np.zeros(program.low.size)
    if upper.size + lower.size:
        paid = -np.asarray(found.ineqlin.marginals)
        prices[upper] += paid[: upper.size]
        prices[lower] -= paid[upper.size :]
    if same.size:
        prices[same] = -np.asarray(found.eqlin.marginals)
    return prices


def at_prices(program: Program, prices: FloatArray) -> tuple[FloatArray, float]:
    """What each placement (placements,) is worth less prices (rows,), and what all else adds.

    Prices are above 0 for a most, below 0 for a least; those of rows that are no joint rows and
    those of the wrong side don't count. The best sequence of each unit, so priced, plus the second
    figure is a bound on every plan.
    """
    paid = np.where(program.joint, prices, 0.0)
    paid = np.where((paid > 0) & np.isinf(program.high), 0.0, paid)
    paid = np.where((paid < 0) & np.isinf(program.low), 0.0, paid)
    sides = np.where(paid > 0, program.high, program.low)
    rest = float((paid * np.where(paid == 0, 0.0, sides)).sum())
    left = program.gain - program.rows.T @ paid
    short = program.wish_of.size
    if short:  # what a shortage still gains at these prices
        rest += float(np.maximum(left[-short:] * program.top[-short:], 0.0).sum())
    return left[: program.placements], rest
