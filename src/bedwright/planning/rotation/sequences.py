"""The best whole sequences of a unit at given prices: every one within a share of the best.

A sequence is all that a unit carries over the years. The best continuation of each moment and
class is known from :mod:`prices`' way through the moments, without the rules that keep groups
apart; a search in depth cuts what can't come near enough to it and keeps the rules exactly.
"""

from __future__ import annotations

from dataclasses import dataclass, field

import numpy as np

from bedwright.planning.rotation.paths import Classes, classes_of, history_of, moments
from bedwright.planning.rotation.problem import (
    BoolArray,
    FloatArray,
    IntArray,
    RotationProblem,
)

Sequence = tuple[int, ...]
_TRIES = 24  # of widths for one unit: each halves or doubles the last
_STEPS = 60_000  # of one search in depth, then it counts as too wide
_FIRST_WIDTH = 0.02
_ROUNDING = 1e-9


@dataclass(frozen=True, eq=False)
class Found:
    """``sequences`` of each unit, best first, and ``upper`` (units,): none is worth more."""

    sequences: list[list[Sequence]]
    upper: FloatArray


@dataclass(eq=False)
class SequenceSearch:
    """Looks for the best sequences of each unit, time and again at other prices."""

    problem: RotationProblem
    classes: Classes = field(init=False)
    history: FloatArray = field(init=False)
    widths: FloatArray = field(init=False)

    def __post_init__(self) -> None:
        problem = self.problem
        self.classes = classes_of(problem)
        self.history = np.array(
            [history_of(problem, unit) for unit in range(problem.units)]
        ).reshape(problem.allowed.shape)
        scale = 1 + float(np.abs(problem.worth).max(initial=0))
        self.widths = np.full(problem.units, _FIRST_WIDTH * scale)
        self._moment, self._lands = moments(problem.starts, problem.ends)
        self._clashes: dict[tuple[int, ...], list[int]] = {}

    def best(self, net: FloatArray, most: int, units: IntArray | None = None) -> Found:
        """Up to ``most`` best sequences of ``units`` (all, if None) with placements worth ``net``.

        ``net`` (of units, options) is minus infinity where an option is not allowed.
        """
        units = np.arange(self.problem.units) if units is None else units
        onward = self._onward(net, self.history[units])
        sequences: list[list[Sequence]] = []
        upper = np.zeros(units.size)
        for at, unit in enumerate(units.tolist()):
            search = self._search(unit, net[at], onward[:, at])
            found, upper[at], self.widths[unit] = _widened(search, self.widths[unit], most)
            sequences.append([sequence for _, sequence in found])
        return Found(sequences, upper)

    def _onward(self, net: FloatArray, history: FloatArray) -> FloatArray:
        """The best still to come (moments + 1, units, states); the last state: nothing yet."""
        moment, lands, classes = self._moment, self._lands, self.classes
        total, states = int(moment.max(initial=-1)) + 1, classes.score.shape[0]
        gains = classes.score[:, classes.after]
        onward = np.zeros((total + 1, net.shape[0], states + 1))
        for now in range(total - 1, -1, -1):
            here = np.flatnonzero(moment == now)
            value = net[:, here] + onward[lands[here], :, classes.before[here]].T
            behind = (value[:, None, :] + gains[None, :, here]).max(axis=2)
            first = (value + history[:, here]).max(axis=1)
            onward[now] = np.maximum(onward[now + 1], np.column_stack([behind, first]))
        return onward

    def _search(self, unit: int, net: FloatArray, onward: FloatArray) -> _Search:
        options = np.flatnonzero(np.isfinite(net))
        options = options[np.lexsort((options, self._moment[options]))]
        classes, total = self.classes, onward.shape[0] - 1
        score, history, clash = classes.score, self.history[unit], self._clash(unit)
        nothing = score.shape[0]
        rows = [
            (
                option,
                moment,
                lands,
                int(classes.before[option]),
                [*(score[:, classes.after[option]] + value).tolist(), value + history[option]],
                clash[option],
            )
            for option, moment, lands, value in zip(
                options.tolist(), self._moment[options].tolist(), self._lands[options].tolist(),
                net[options].tolist(), strict=True,
            )
        ]  # fmt: skip
        first = np.searchsorted(self._moment[options], np.arange(total + 1)).tolist()
        return _Search(rows, first, onward.tolist(), nothing)

    def _clash(self, unit: int) -> list[int]:
        """For each option, as bits, those that can't stand in one sequence with it."""
        key = tuple(int(group.years_away[unit]) for group in self.problem.apart)
        if key not in self._clashes:
            self._clashes[key] = [
                int.from_bytes(np.packbits(row, bitorder="little").tobytes(), "little")
                for row in clashes(self.problem, unit)
            ]
        return self._clashes[key]


def clashes(problem: RotationProblem, unit: int) -> BoolArray:
    """Pairs of options (options, options) that can't both be chosen for a unit."""
    starts, ends, years = problem.starts, problem.ends, problem.years
    found = (starts[:, None] < ends[None, :]) & (starts[None, :] < ends[:, None])
    for group in problem.apart:
        away = int(group.years_away[unit])
        if away < 0:
            continue
        both = group.members[:, None] & group.members[None, :]
        if group.gap_days is None:
            found |= both & (np.abs(years[:, None] - years[None, :]) <= away)
        else:
            later = ends + group.gap_days
            found |= both & (starts[:, None] < later[None, :]) & (starts[None, :] < later[:, None])
    return found


@dataclass(eq=False)
class _Search:
    """A search in depth through one unit's options."""

    rows: list[tuple[int, int, int, int, list[float], int]]
    first: list[int]
    onward: list[list[float]]
    nothing: int

    @property
    def top(self) -> float:
        return self.onward[0][self.nothing]

    def within(self, width: float, most: int) -> tuple[list[tuple[float, Sequence]], bool]:
        """Sequences whose worth is at most ``width`` below the top; False: there are more."""
        need = self.top - width - _ROUNDING
        rows, first, onward, last = self.rows, self.first, self.onward, len(self.rows)
        found: list[tuple[float, Sequence]] = []
        steps = 0
        stack: list[tuple[int, int, float, int, Sequence]] = [(0, self.nothing, 0.0, 0, ())]
        while stack:
            moment, state, value, blocked, sequence = stack.pop()
            steps += 1
            if value >= need:
                found.append((value, sequence))
            if len(found) > most or steps > _STEPS:
                return found, False
            for at in range(first[moment], last):
                option, starts, lands, before, gains, clash = rows[at]
                if onward[starts][state] + value < need:
                    break
                if blocked >> option & 1:
                    continue
                with_it = value + gains[state]
                if with_it + onward[lands][before] >= need:
                    stack.append((lands, before, with_it, blocked | clash, (*sequence, option)))
        return found, True


def _widened(
    search: _Search, width: float, most: int
) -> tuple[list[tuple[float, Sequence]], float, float]:
    """About ``most`` best sequences, a value that none exceeds, and the width that found them."""
    low, high = 0.0, np.inf
    kept: list[tuple[float, Sequence]] = []
    spare: list[tuple[float, Sequence]] = []
    upper, kept_width = search.top, width
    for _ in range(_TRIES):
        found, whole = search.within(width, 3 * most)
        if whole:
            kept, kept_width, low = found, width, width
            upper = max((value for value, _ in found), default=search.top - width)
            if len(found) >= most / 2 or width > search.top + _ROUNDING:
                break
        else:
            spare, high = found or spare, width
        width = 2 * width if np.isinf(high) else (low + high) / 2
    found = kept or spare or [(0.0, ())]
    found = sorted(found, key=lambda each: (-each[0], each[1]))[:most]
    return found, upper, max(kept_width, _ROUNDING)
