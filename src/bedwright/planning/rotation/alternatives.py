"""What else could stand on a unit, with all others kept, and what that costs."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from bedwright.planning.mixed import maximize
from bedwright.planning.rotation.model import program
from bedwright.planning.rotation.parts import part
from bedwright.planning.rotation.problem import BoolArray, FloatArray, IntArray, RotationProblem
from bedwright.planning.rotation.score import objective_of

if TYPE_CHECKING:
    from scipy.sparse import csr_array

_NODES = 20_000


@dataclass(frozen=True)
class Alternative:
    """Other ``options`` for the whole time of a unit; ``cost`` is what the objective loses."""

    options: tuple[int, ...]
    cost: float


def alternatives(
    problem: RotationProblem, chosen: BoolArray, unit: int, *, count: int = 1
) -> tuple[Alternative, ...]:
    """The best ``count`` other contents of a unit, cheapest first; fewer where there are no more.

    ``chosen`` (units, options) is a plan that meets what is required; the other units keep it.
    Raises RuntimeError where the solver's limit leaves the best one open.
    """
    small, options = part(problem, np.array([unit]), problem.allowed, chosen)
    made = program(small)
    rows, low, high = made.rows, made.low.tolist(), made.high.tolist()
    value = objective_of(problem, chosen)
    known: list[IntArray] = [np.flatnonzero(chosen[unit, options])]
    found: list[Alternative] = []
    for _ in range(count):
        cuts = np.array([_not_again(made.option, each, made.gain.size) for each in known])
        most = [each.size - 1.0 for each in known]
        solved = maximize(
            made.gain, _below(rows, cuts), np.array([*low, *[-np.inf] * len(most)]),
            np.array([*high, *most]), top=made.top, whole=made.placements, nodes=_NODES, gap=0.0,
        )  # fmt: skip
        if solved.impossible:
            break
        if solved.columns is None:
            raise RuntimeError(f"the alternatives of unit {unit} were not found within the limits")
        taken = np.flatnonzero(made.chosen(solved.columns, small.allowed.shape)[0])
        known.append(taken)
        plan = chosen.copy()
        plan[unit] = False
        plan[unit, options[taken]] = True
        cost = value - objective_of(problem, plan)
        found.append(Alternative(tuple(options[taken].tolist()), cost))
    return tuple(found)


def _not_again(option: IntArray, content: IntArray, columns: int) -> FloatArray:
    """A row that only this content brings to its size."""
    row = np.zeros(columns)
    row[: option.size] = np.where(np.isin(option, content), 1.0, -1.0)
    return row


def _below(rows: csr_array, cuts: FloatArray) -> csr_array:
    from scipy.sparse import csr_array, vstack

    return vstack([rows, csr_array(cuts)]).tocsr()
