"""Sequences as columns: each unit takes one of its known sequences, wishes and neighbors hold."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from bedwright.planning.mixed import Mixed, maximize
from bedwright.planning.rotation.model import Program
from bedwright.planning.rotation.problem import BoolArray, FloatArray, IntArray, RotationProblem
from bedwright.planning.rotation.score import succession_of
from bedwright.planning.rotation.sequences import Sequence

if TYPE_CHECKING:
    from scipy.sparse import csr_array


@dataclass(frozen=True, eq=False)
class Chosen:
    """A plan from known sequences, None where none was found; ``bound`` on plans from them."""

    chosen: BoolArray | None
    bound: float
    nodes: int
    timed_out: bool


class Columns:
    """The sequences known so far. ``program`` is that of the problem without successions."""

    def __init__(self, problem: RotationProblem, program: Program) -> None:
        from scipy.sparse import csr_array

        self._problem, self._program = problem, program
        self._number: dict[tuple[int, Sequence], int] = {}
        self._gain: list[float] = []
        self._placement = np.full(problem.allowed.shape, -1)
        self._placement[program.unit, program.option] = np.arange(program.placements)
        across = np.flatnonzero(program.across)
        rows = program.rows[across]
        self._placed = csr_array(rows[:, : program.placements])
        self._short = csr_array(rows[:, program.placements :])
        self._low, self._high = program.low[across], program.high[across]
        for unit in range(problem.units):
            self.add(unit, [()])

    def add(self, unit: int, sequences: list[Sequence]) -> None:
        """Take up sequences of a unit; known ones are left out."""
        problem = self._problem
        for sequence in sequences:
            key = (unit, sequence)
            if key in self._number:
                continue
            self._number[key] = len(self._gain)
            options = list(sequence)
            gain = float(problem.worth[unit, options].sum())
            if problem.successions:
                stands = np.zeros(problem.options, dtype=bool)
                stands[options] = True
                gain += succession_of(problem, unit, stands)
            self._gain.append(gain)

    def add_plan(self, chosen: BoolArray) -> None:
        """Take up the sequences of a plan (units, options)."""
        starts = self._problem.starts
        for unit, stands in enumerate(chosen):
            options = np.flatnonzero(stands)
            order = options[np.argsort(starts[options], kind="stable")]
            self.add(unit, [tuple(order.tolist())])

    def choose(
        self,
        units: IntArray,
        chosen: BoolArray,
        *,
        nodes: int,
        gap: float,
        seconds: float | None = None,
    ) -> Chosen:
        """The best plan from the known sequences of ``units``; the others keep ``chosen``."""
        from scipy.sparse import csr_array, hstack, vstack

        free = np.zeros(self._problem.units, dtype=bool)
        free[units] = True
        keys = [key for key in self._number if free[key[0]]]
        gain, rows, one = self._parts(keys)
        kept = chosen & ~free[:, None]
        stands = self._placement[kept]
        given = np.asarray(self._placed[:, stands].sum(axis=1)).ravel()
        one = one[np.flatnonzero(free)]
        blank = csr_array((one.shape[0], gain.size - one.shape[1]))
        low = np.concatenate([self._low - given, np.ones(one.shape[0])])
        high = np.concatenate([self._high - given, np.ones(one.shape[0])])
        made: Mixed = maximize(
            gain, vstack([rows, hstack([one, blank])]).tocsr(), low, high,
            top=self._tops(len(keys)), whole=len(keys), nodes=nodes, gap=gap, seconds=seconds,
        )  # fmt: skip
        if made.columns is None:
            return Chosen(None, made.bound, made.nodes, made.timed_out)
        plan = kept.copy()
        for at in np.flatnonzero(made.columns[: len(keys)] > 0.5):
            unit, sequence = keys[at]
            plan[unit, list(sequence)] = True
        return Chosen(plan, made.bound, made.nodes, made.timed_out)

    def _tops(self, columns: int) -> FloatArray:
        return np.concatenate([np.ones(columns), self._program.top[self._program.placements :]])

    def _parts(self, keys: list[tuple[int, Sequence]]) -> tuple[FloatArray, csr_array, csr_array]:
        """Gains, rows across units, and each unit's one sequence, for some columns."""
        from scipy.sparse import csr_array, hstack

        options = [len(sequence) for _, sequence in keys]
        unit = np.array([each for each, _ in keys], dtype=np.int64)
        flat = np.array([o for _, sequence in keys for o in sequence], dtype=np.int64)
        column = np.repeat(np.arange(len(keys)), options)
        placement = self._placement[np.repeat(unit, options), flat]
        shape = (self._program.placements, len(keys))
        stands = csr_array((np.ones(flat.size), (placement, column)), shape=shape)
        one = csr_array(
            (np.ones(len(keys)), (unit, np.arange(len(keys)))),
            shape=(self._problem.units, len(keys)),
        )
        gain = np.array([self._gain[self._number[key]] for key in keys])
        gain = np.concatenate([gain, self._program.gain[self._program.placements :]])
        return gain, hstack([self._placed @ stands, self._short]).tocsr(), one
