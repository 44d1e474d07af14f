"""One call of the solver for programs with whole numbers, and what came of it."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

import numpy as np
from numpy.typing import NDArray

if TYPE_CHECKING:
    from scipy.optimize._milp import _OptionsMILP
    from scipy.sparse import csr_array

FloatArray = NDArray[np.float64]


@dataclass(frozen=True, eq=False)
class Mixed:
    """``columns`` of the best solution, None where none was found; ``bound`` on all.

    ``impossible``: it is proven that there is none. ``timed_out``: the clock ended the search.
    """

    columns: FloatArray | None
    bound: float
    nodes: int
    impossible: bool
    timed_out: bool


def minimize(
    cost: FloatArray,
    rows: csr_array,
    low: FloatArray,
    high: FloatArray,
    *,
    top: FloatArray,
    whole: int,
    nodes: int,
    gap: float,
    seconds: float | None = None,
) -> Mixed:
    """Minimize ``cost`` @ columns from 0 to ``top``, the first ``whole`` of them whole numbers.

    Parameters
    ----------
    cost, top : (columns,)
    rows, low, high : (rows, columns) and (rows,): ``low`` <= ``rows`` @ columns <= ``high``
    whole : how many columns, from the first on, are whole numbers
    nodes, gap, seconds : the search ends after so many nodes, at this share of the cost, or, where
        stated, by the clock: only then may the same program give another solution

    Raises RuntimeError where the solver gives up.
    """
    from scipy.optimize import Bounds, LinearConstraint, milp

    integral = np.zeros(cost.size, dtype=np.int64)
    integral[:whole] = 1
    options: _OptionsMILP = {"mip_rel_gap": gap, "node_limit": nodes}
    if seconds is not None:
        options["time_limit"] = seconds
    if not cost.size:
        met = bool((low <= 0).all() and (high >= 0).all())
        return Mixed(np.zeros(0) if met else None, 0.0 if met else np.inf, 0, not met, False)

    def solved() -> Any:
        return milp(
            cost,
            integrality=integral,
            bounds=Bounds(np.zeros(cost.size), top),
            constraints=LinearConstraint(rows, low, high) if rows.shape[0] else None,
            options=options,
        )

    def stopped() -> bool:  # a limit of nodes comes as status 1 or 4, by the solver's version
        return found.status == 1 or "limit reached" in str(found.message).lower()

    found = solved()
    if found.status == 4 and not stopped():  # a few small programs are solved without presolving
        options["presolve"] = False
        found = solved()
    if found.status == 2:
        return Mixed(None, np.inf, 0, True, False)
    limited = stopped()
    if found.status != 0 and not limited:
        raise RuntimeError(f"the solver gave up: {found.message}")
    bound = -np.inf if found.mip_dual_bound is None else float(found.mip_dual_bound)
    if found.status == 0 and not np.isfinite(bound):  # nothing whole: no search, no bound told
        bound = float(found.fun)
    columns = None if found.x is None else np.asarray(found.x)
    timed_out = limited and "time limit" in str(found.message).lower()
    return Mixed(columns, bound, int(found.mip_node_count or 0), False, timed_out)


def maximize(
    gain: FloatArray,
    rows: csr_array,
    low: FloatArray,
    high: FloatArray,
    *,
    top: FloatArray,
    whole: int,
    nodes: int,
    gap: float,
    seconds: float | None = None,
) -> Mixed:
    """Maximize ``gain`` @ columns; everything else as :func:`minimize`. ``bound`` lies above."""
    found = minimize(
        -gain, rows, low, high, top=top, whole=whole, nodes=nodes, gap=gap, seconds=seconds
    )
    return Mixed(found.columns, -found.bound, found.nodes, found.impossible, found.timed_out)
