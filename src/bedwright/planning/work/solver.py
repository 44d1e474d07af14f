"""One call of the solver for the programs of the work, and what came of it."""

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
class Least:
    """``columns`` of the cheapest solution, None where none was found; no solution costs less than
    ``bound``. ``impossible``: it is proven that there is none."""

    columns: FloatArray | None
    bound: float
    impossible: bool


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
) -> Least:
    """Minimize ``cost`` @ columns from 0 to ``top``, the first ``whole`` of them whole numbers.

    The search ends at a share ``gap`` of the cost or after ``nodes``, never by the clock.
    """
    from scipy.optimize import Bounds, LinearConstraint, milp

    integral = np.zeros(cost.size, dtype=np.int64)
    integral[:whole] = 1
    options: _OptionsMILP = {"mip_rel_gap": gap, "node_limit": nodes}

    def solved() -> Any:
        return milp(
            cost,
            integrality=integral,
            bounds=Bounds(np.zeros(cost.size), top),
            constraints=LinearConstraint(rows, low, high),
            options=options,
        )

    found = solved()
    # A search that ended by its nodes comes under the same number as a failure, told by its words.
    if found.status == 4 and "limit reached" not in str(found.message).lower():
        options["presolve"] = False
        found = solved()
    if found.status == 2:
        return Least(None, np.inf, True)
    if found.status != 0 and "limit reached" not in str(found.message).lower():
        raise RuntimeError(f"the solver gave up: {found.message}")
    bound = -np.inf if found.mip_dual_bound is None else float(found.mip_dual_bound)
    if found.status == 0 and not np.isfinite(bound):  # nothing whole: no search, no bound told
        bound = float(found.fun)
    return Least(None if found.x is None else np.asarray(found.x), bound, False)
