"""The rotation as a mixed-integer program: cliques of days and years, a path of classes per unit.

Days: options of one unit that share a day stand together in one row, at most one of them is
chosen; only the largest such sets are kept. Years: likewise the members of a group in any window
of years. Successions: each unit is a path from its first option to its last through nodes of
moment and class of what stood last, so that what comes next is known without pairing options.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

import numpy as np

from bedwright.planning.rotation.paths import Path, classes_of, path
from bedwright.planning.rotation.problem import (
    BoolArray,
    FloatArray,
    IntArray,
    KeepApart,
    RotationProblem,
)

if TYPE_CHECKING:
    from scipy.sparse import csr_array


@dataclass(frozen=True, eq=False)
class Program:
    """Maximize ``gain`` @ columns, rows between ``low`` and ``high``, columns from 0 to ``top``.

    The first columns are placements (``unit``, ``option``), whole; then come paths, which are
    whole by themselves; then one shortage for each wish that is not required (``wish_of``).
    ``joint`` (rows,) marks the rows that are no unit's days or path: years, neighbors, wishes;
    ``across`` those of several units: neighbors and wishes.
    """

    gain: FloatArray
    top: FloatArray
    rows: csr_array
    low: FloatArray
    high: FloatArray
    unit: IntArray
    option: IntArray
    wish_of: IntArray
    joint: BoolArray
    across: BoolArray

    @property
    def placements(self) -> int:
        """How many columns are placements."""
        return self.unit.size

    def chosen(self, columns: FloatArray, shape: tuple[int, int]) -> BoolArray:
        """The plan (units, options) of a solution's columns."""
        made = np.zeros(shape, dtype=bool)
        taken = columns[: self.placements] > 0.5
        made[self.unit[taken], self.option[taken]] = True
        return made


@dataclass
class _Rows:
    """Rows under construction, as triplets."""

    row: list[IntArray] = field(default_factory=list)
    column: list[IntArray] = field(default_factory=list)
    value: list[FloatArray] = field(default_factory=list)
    low: list[float] = field(default_factory=list)
    high: list[float] = field(default_factory=list)
    joint: list[bool] = field(default_factory=list)

    def add(
        self,
        columns: IntArray,
        values: FloatArray | float,
        low: float,
        high: float,
        joint: bool = True,
    ) -> None:
        self.row.append(np.full(columns.size, len(self.low)))
        self.column.append(columns)
        self.value.append(np.broadcast_to(np.asarray(values, dtype=float), columns.shape))
        self.low.append(low)
        self.high.append(high)
        self.joint.append(joint)

    def add_path(self, made: Path, at: IntArray, count: int) -> None:
        """A unit's path, its own columns from ``count`` on; ``at`` (options,) its placements."""
        first = len(self.low)
        for entries, columns in (
            (made.entries, made.entries[:, 1].astype(np.int64) + count),
            (made.placed, at[made.placed[:, 1].astype(np.int64)]),
        ):
            self.row.append(entries[:, 0].astype(np.int64) + first)
            self.column.append(columns)
            self.value.append(entries[:, 2])
        self.low += made.low.tolist()
        self.high += made.high.tolist()
        self.joint += [False] * made.low.size


def largest_sets(sets: Sequence[BoolArray]) -> list[BoolArray]:
    """Those sets of two or more that lie in no other, each once, in the order given."""
    found = [each for each in sets if each.sum() > 1]
    if not found:
        return []
    inside = np.stack(found).astype(np.int64)
    common = inside @ inside.T
    size = common.diagonal()
    within = common == size[:, None]  # row lies in column
    equal = within & within.T
    earlier = np.tril(equal, -1).any(axis=1)
    proper = (within & ~equal).any(axis=1)
    return [each for each, out in zip(found, earlier | proper, strict=True) if not out]


def sharing_a_day(starts: IntArray, ends: IntArray, members: BoolArray) -> list[BoolArray]:
    """The largest sets of ``members`` (options,) that all stand on one day."""
    at = np.unique(starts[members])
    return largest_sets([members & (starts <= day) & (day < ends) for day in at])


def too_close(problem: RotationProblem, group: KeepApart, unit: int) -> list[BoolArray]:
    """The largest sets of the group's options of a unit of which at most one may be chosen."""
    away = int(group.years_away[unit])
    members = group.members & problem.allowed[unit]
    if away < 0 or not members.any():
        return []
    if group.gap_days is not None:
        return sharing_a_day(problem.starts, problem.ends + group.gap_days, members)
    years = problem.years
    first = np.unique(years[members])
    return largest_sets([members & (years >= y) & (years <= y + away) for y in first])


def program(problem: RotationProblem) -> Program:
    """The whole problem as a program."""
    from scipy.sparse import csr_array

    unit, option = (each.astype(np.int64) for each in np.nonzero(problem.allowed))
    at = np.full(problem.allowed.shape, -1)
    at[unit, option] = np.arange(unit.size)
    rows = _Rows()
    gain = [problem.worth[unit, option]]
    for each in range(problem.units):
        _days_and_years(problem, each, at[each], rows)
    count = unit.size
    if problem.successions:
        classes = classes_of(problem)
        for each in range(problem.units):
            made = path(problem, each, classes)
            rows.add_path(made, at[each], count)
            gain.append(made.gain)
            count += made.gain.size
    units_end = len(rows.low)
    _neighbors(problem, at, rows)
    paths_end = count
    soft = [n for n, wish in enumerate(problem.wishes) if not wish.required]
    for wish in problem.wishes:
        amount = wish.amount[unit, option]
        used = np.flatnonzero(amount)
        if wish.required:
            rows.add(used, amount[used], wish.wanted, wish.most)
            continue
        reach = np.append(used, count)
        rows.add(reach, np.append(amount[used], 1.0), wish.wanted, np.inf)
        if amount.sum() > wish.most:
            rows.add(used, amount[used], -np.inf, wish.most)
        gain.append(np.array([-wish.weight]))
        count += 1
    top = np.ones(count)
    top[paths_end:] = [problem.wishes[n].wanted for n in soft]
    data = (np.concatenate(rows.value or [np.zeros(0)]),
            (np.concatenate(rows.row or [np.zeros(0, int)]),
             np.concatenate(rows.column or [np.zeros(0, int)])))  # fmt: skip
    return Program(
        np.concatenate(gain), top, csr_array(data, shape=(len(rows.low), count)),
        np.array(rows.low), np.array(rows.high), unit, option, np.array(soft, dtype=np.int64),
        np.array(rows.joint, dtype=bool), np.arange(len(rows.low)) >= units_end,
    )  # fmt: skip


def _days_and_years(problem: RotationProblem, unit: int, at: IntArray, rows: _Rows) -> None:
    days = sharing_a_day(problem.starts, problem.ends, problem.allowed[unit])
    apart = [each for group in problem.apart for each in too_close(problem, group, unit)]
    for each in largest_sets(apart):
        if not any((each <= day).all() for day in days):
            rows.add(at[each], 1.0, -np.inf, 1.0)
    for each in () if problem.successions else days:
        rows.add(at[each], 1.0, -np.inf, 1.0, joint=False)


def _neighbors(problem: RotationProblem, at: IntArray, rows: _Rows) -> None:
    starts, ends = np.tile(problem.starts, 2), np.tile(problem.ends, 2)
    for one, other in problem.beside:
        columns = np.concatenate([at[one], at[other]])
        for group in problem.apart_beside:
            if group.years_away[one] < 0 or group.years_away[other] < 0:
                continue
            mine = group.members & problem.allowed[one]
            theirs = group.members & problem.allowed[other]
            if not (mine.any() and theirs.any()):
                continue
            for together in sharing_a_day(starts, ends, np.concatenate([mine, theirs])):
                rows.add(columns[together], 1.0, -np.inf, 1.0)
