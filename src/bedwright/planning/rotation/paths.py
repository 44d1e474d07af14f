"""A unit's options as a path: what stood last is known at each moment, without pairing options.

At each moment a unit has a state: the class of what stood last, or nothing yet. From a state it
waits for the next moment, or passes a gate, of its moment and the class of what comes next, into
an option; the option leaves it at a later moment in the option's own class. The gain of a
succession lies on the gates, so that a path's columns grow with classes, not with pairs of options.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from bedwright.planning.rotation.problem import FloatArray, IntArray, RotationProblem


@dataclass(frozen=True, eq=False)
class Classes:
    """The classes of all successions together: ``before``, ``after`` (options,), and ``score``."""

    before: IntArray
    after: IntArray
    score: FloatArray


@dataclass(frozen=True, eq=False)
class Path:
    """One unit's path. ``gain`` is that of its own columns; rows are triplets, summed up.

    ``entries`` have (row, column, value), columns counted from the path's own first, and
    ``placed`` (row, option, value). Each row is at least ``low`` and at most ``high``.
    """

    gain: FloatArray
    entries: FloatArray
    placed: FloatArray
    low: FloatArray
    high: FloatArray


def classes_of(problem: RotationProblem) -> Classes:
    """One class before and one after for each option, alike where all successions agree."""
    none = np.full((problem.options, 1), -1, dtype=np.int64)
    befores = np.column_stack([none, *(each.before for each in problem.successions)])
    afters = np.column_stack([none, *(each.after for each in problem.successions)])
    before_kinds, before = np.unique(befores, axis=0, return_inverse=True)
    after_kinds, after = np.unique(afters, axis=0, return_inverse=True)
    score = np.zeros((len(before_kinds), len(after_kinds)))
    for n, each in enumerate(problem.successions, start=1):
        a, b = before_kinds[:, n][:, None], after_kinds[:, n][None, :]
        known = (a >= 0) & (b >= 0)
        if known.any():
            score += np.where(known, each.score[np.where(known, a, 0), np.where(known, b, 0)], 0.0)
    return Classes(before.ravel().astype(np.int64), after.ravel().astype(np.int64), score)


def history_of(problem: RotationProblem, unit: int) -> FloatArray:
    """What each option (options,) gains by coming first on a unit."""
    total = np.zeros(problem.options)
    for each in problem.successions:
        total += each.history[unit]
    return total


def moments(starts: IntArray, ends: IntArray) -> tuple[IntArray, IntArray]:
    """The moment of each option's start, and the first moment after its end.

    An option may come after exactly those that have ended by its start; starts with no end
    between them are one moment. Moments are numbered from 0 in the order of time; an end after
    the last start has the number of moments.
    """
    ended = np.searchsorted(np.sort(ends), starts, side="right")
    counts, moment = np.unique(ended, return_inverse=True)
    opens = np.full(counts.size, np.iinfo(np.int64).max)
    np.minimum.at(opens, moment, starts)
    return moment.astype(np.int64), np.searchsorted(opens, ends, side="left").astype(np.int64)


def path(problem: RotationProblem, unit: int, classes: Classes) -> Path:
    """The path of one unit; ``classes`` by :func:`classes_of`."""
    options = np.flatnonzero(problem.allowed[unit])
    made = _Making()
    if not options.size:
        return made.done()
    moment, lands = moments(problem.starts[options], problem.ends[options])
    first = history_of(problem, unit)[options]
    # options that gain alike behind all states pass one gate
    kinds = np.unique(
        np.column_stack([classes.after[options], first]), axis=0, return_inverse=True
    )[1].ravel()  # fmt: skip
    last = int(moment.max())
    nothing = classes.score.shape[0]
    at: dict[tuple[int, int], int] = {(0, nothing): made.row(-1.0)}
    for now in range(last + 1):
        here = np.flatnonzero(moment == now)
        gates = [
            (made.row(0.0), here[kinds[here] == kind]) for kind in np.unique(kinds[here]).tolist()
        ]
        for gate, through in gates:
            made.placed += [(gate, options[o], -1.0) for o in through]
        for state in range(nothing + 1):
            row = at.get((now, state))
            if row is None:
                continue
            for gate, through in gates:
                one = through[0]
                value = (
                    first[one]
                    if state == nothing
                    else classes.score[state, classes.after[options[one]]]
                )
                made.column(row, gate, float(value))
            if now < last:
                after = at.setdefault((now + 1, state), -1)
                if after < 0:
                    after = at[now + 1, state] = made.row(0.0)
                made.column(row, after, 0.0)
            else:
                made.high[row] = np.inf  # the path may end here
        for o in here:
            if lands[o] <= last:
                key = (int(lands[o]), int(classes.before[options[o]]))
                if key not in at:
                    at[key] = made.row(0.0)
                made.placed.append((at[key], options[o], 1.0))
    return made.done()


class _Making:
    """A path under construction: a column goes out of one row and into another."""

    def __init__(self) -> None:
        self.gain: list[float] = []
        self.entries: list[tuple[float, float, float]] = []
        self.placed: list[tuple[float, float, float]] = []
        self.low: list[float] = []
        self.high: list[float] = []

    def row(self, low: float) -> int:
        self.low.append(low)
        self.high.append(low)
        return len(self.low) - 1

    def column(self, out_of: int, into: int, gain: float) -> None:
        self.entries += [(out_of, len(self.gain), -1.0), (into, len(self.gain), 1.0)]
        self.gain.append(gain)

    def done(self) -> Path:
        return Path(
            np.array(self.gain),
            np.array(self.entries).reshape(-1, 3),
            np.array(self.placed).reshape(-1, 3),
            np.array(self.low),
            np.array(self.high),
        )
