"""The schedule as a mathematical program of the numbers of :mod:`.problem`.

Every search ends by a gap or a number of nodes, never by the clock: the same problem gives the
same schedule.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

import numpy as np

from bedwright.planning.mixed import minimize
from bedwright.planning.work.problem import (
    LEFT,
    FloatArray,
    IntArray,
    Solved,
    WorkProblem,
    cost_of,
    days_of,
    earliest_days,
    trays_on_bench,
)

if TYPE_CHECKING:
    from scipy.sparse import csr_array

_WEEK = 7
_ALMOST = 1e-6


@dataclass(frozen=True)
class Asked:
    """What a program is asked: ``all_done`` requires every task; the others say what may give way.

    ``extra``: hours and trays may be added, as few as will do. ``drop``: beds may be given up, as
    few and as light as will do.
    """

    all_done: bool = False
    extra: bool = False
    drop: bool = False
    gap: float = 0.01
    nodes: int = 60


def solve_work(problem: WorkProblem, asked: Asked | None = None) -> Solved | None:
    """The best schedule; None where it is proven that what is required cannot be done.

    Raises Unfinished where the nodes are spent before either is known.
    """
    asked = asked or Asked()
    simple = _at_once(problem)
    if simple is not None and not (asked.all_done and (simple.week == LEFT).any()):
        return simple
    if problem.tasks == 0:
        none = np.zeros(0, dtype=np.int64)
        return Solved(none, none, 0.0, 0.0, True, np.zeros(problem.week_hours.size))
    return _searched(problem, asked)


def _at_once(problem: WorkProblem) -> Solved | None:
    """Every task as early as its waits allow, if hours and bench bear that: nothing is better.

    Tasks that come too late even so are left out by every schedule.
    """
    day = earliest_days(problem)
    week = np.where(day <= problem.last, day // _WEEK, LEFT)
    done = week != LEFT
    load = np.bincount(week[done], problem.hours[done], problem.week_hours.size)
    if (load > problem.week_hours + _ALMOST).any():
        return None
    if (trays_on_bench(problem, week) > problem.bench).any():
        return None
    cost = cost_of(problem, week)
    none = np.zeros(problem.week_hours.size)
    return Solved(week, np.where(done, day, LEFT), cost, cost, True, none)


def _searched(problem: WorkProblem, asked: Asked) -> Solved | None:
    made = _Program(problem, asked)
    found = minimize(
        made.cost, made.matrix(), np.array(made.low), np.array(made.high), top=made.top,
        whole=made.whole, nodes=asked.nodes, gap=asked.gap,
    )  # fmt: skip
    if found.columns is None:
        if found.impossible:
            return None
        raise Unfinished("the nodes were spent before any schedule was found")
    return made.solved(found.columns, found.bound)


class Unfinished(RuntimeError):
    """The search ended before it found a schedule or proved that there is none."""


class _Program:
    """Columns and rows: a whole column for each task and week of its window, then days, then
    hours, trays and beds that may give way."""

    def __init__(self, problem: WorkProblem, asked: Asked) -> None:
        self.problem, self.asked = problem, asked
        first, last = problem.first // _WEEK, problem.last // _WEEK
        spans = last - first + 1
        self.begin = np.concatenate([[0], np.cumsum(spans)])
        self.task = np.repeat(np.arange(problem.tasks), spans)
        self.week = np.arange(self.task.size) - self.begin[self.task] + first[self.task]
        self.whole = self.task.size
        dropped = sorted(set(problem.beds[problem.beds >= 0].tolist())) if asked.drop else []
        self.bed_column = {bed: self.whole + at for at, bed in enumerate(dropped)}
        self.whole += len(dropped)
        self.tight = _tight(problem)
        bound = np.unique(self.tight[:, :2]) if self.tight.size else np.zeros(0, np.int64)
        self.day_column = {int(each): self.whole + at for at, each in enumerate(bound)}
        columns = self.whole + len(self.day_column)
        self.left_column = columns
        columns += problem.tasks
        weeks = problem.week_hours.size
        self.hour_column = columns if asked.extra else -1
        columns += weeks + 1 if asked.extra else 0
        self.rows: list[int] = []
        self.places: list[int] = []
        self.values: list[float] = []
        self.low: list[float] = []
        self.high: list[float] = []
        self.top = np.ones(columns)
        self.cost = np.zeros(columns)
        self._costs()
        self._once()
        self._hours()
        self._days()
        self._bench()

    def matrix(self) -> csr_array:
        """The rows."""
        from scipy.sparse import csr_array

        return csr_array(
            (self.values, (self.rows, self.places)), shape=(len(self.low), self.cost.size)
        )

    def _row(self, places: Any, values: Any, low: float, high: float) -> None:
        places = [int(each) for each in places]
        self.rows += [len(self.low)] * len(places)
        self.places += places
        self.values += [float(each) for each in values]
        self.low.append(low)
        self.high.append(high)

    def _costs(self) -> None:
        problem, cells = self.problem, self.task.size
        since = self.week - (problem.first // _WEEK)[self.task]
        if self.asked.extra:
            self.cost[self.hour_column : -1] = 1.0
            self.cost[-1] = 1.0
            self.top[self.hour_column :] = np.inf
        elif self.asked.drop:
            for bed, column in self.bed_column.items():
                # one bed less counts before how much there is to lose on it
                share = problem.weight[problem.beds == bed].sum() / max(problem.weight.sum(), 1)
                self.cost[column] = 1 + 0.5 * share
        elif not self.asked.all_done:
            self.cost[:cells] = problem.late[self.task] * since
            self.cost[self.left_column : self.left_column + problem.tasks] = problem.weight

    def _once(self) -> None:
        for task in range(self.problem.tasks):
            places = list(range(self.begin[task], self.begin[task + 1]))
            bed = int(self.problem.beds[task])
            if bed in self.bed_column:
                places.append(self.bed_column[bed])
            if not self.asked.all_done:
                places.append(self.left_column + task)
            self._row(places, np.ones(len(places)), 1.0, 1.0)

    def _hours(self) -> None:
        for week, most in enumerate(self.problem.week_hours):
            cells = np.flatnonzero(self.week == week)
            values = self.problem.hours[self.task[cells]]
            cells, values = cells[values > 0], values[values > 0]
            if not np.isfinite(most) or not cells.size:
                continue
            if self.asked.extra:
                cells = np.append(cells, self.hour_column + week)
                values = np.append(values, -1.0)
            self._row(cells, values, -np.inf, float(most))

    def _days(self) -> None:
        """A task's day lies in its week and window, and after the waits of what it needs."""
        problem = self.problem
        far = float(problem.week_hours.size * _WEEK)
        for task, column in self.day_column.items():
            self.top[column] = far
            cells = np.arange(self.begin[task], self.begin[task + 1])
            begin = np.maximum(self.week[cells] * _WEEK, problem.first[task])
            end = np.minimum(self.week[cells] * _WEEK + _WEEK - 1, problem.last[task])
            self._row([column, *cells], [1.0, *(-begin)], 0.0, np.inf)
            # the day of a task that is not done is free
            self._row([column, *cells], [1.0, *(far - end)], -np.inf, far)
        for task, before, wait in self.tight:
            cells = np.arange(self.begin[task], self.begin[task + 1])
            mine, theirs = self.day_column[int(task)], self.day_column[int(before)]
            self._row(
                [mine, theirs, *cells], [1.0, -1.0, *np.full(cells.size, -(far + wait))],
                -far, np.inf,
            )  # fmt: skip
        for task, before, wait in problem.after.tolist():
            self._in_weeks(task, before, wait)

    def _in_weeks(self, task: int, before: int, wait: int) -> None:
        """A task is done up to a week only if what goes before it was in a week early enough.

        The rows of days say as much for whole columns; these say it for shares of them as well,
        without which the search is long.
        """
        problem = self.problem
        mine = np.arange(self.begin[task], self.begin[task + 1])
        theirs = np.arange(self.begin[before], self.begin[before + 1])
        soonest = np.maximum(self.week[theirs] * _WEEK, problem.first[before]) + wait
        latest = np.minimum(self.week[mine] * _WEEK + _WEEK - 1, problem.last[task])
        able = [int(np.count_nonzero(soonest <= each)) for each in latest]
        for upto, early in enumerate(able):
            if upto + 1 < mine.size and able[upto + 1] == early:
                continue  # the next row says it for both
            places = [*mine[: upto + 1], *theirs[:early]]
            self._row(places, [1.0] * (upto + 1) + [-1.0] * early, -np.inf, 0.0)

    def _bench(self) -> None:
        problem = self.problem
        if not np.isfinite(problem.bench) or not problem.trays.size:
            return
        for week in range(problem.week_hours.size):
            places: list[int] = []
            values: list[float] = []
            standing = 0.0
            for count, start, end in problem.trays:
                if start >= 0:
                    cells = range(self.begin[start], self.begin[start + 1])
                    past = [each for each in cells if self.week[each] <= week]
                    places += past
                    values += [float(count)] * len(past)
                else:
                    standing += float(count)
                freed = [
                    each
                    for each in range(self.begin[end], self.begin[end + 1])
                    if self.week[each] <= week
                ]
                places += freed
                values += [-float(count)] * len(freed)
            if self.asked.extra:
                places.append(self.cost.size - 1)
                values.append(-1.0)
            if places:
                self._row(places, values, -np.inf, problem.bench - standing)

    def solved(self, columns: FloatArray, bound: float) -> Solved:
        """The schedule that the columns tell of."""
        problem = self.problem
        week = np.full(problem.tasks, LEFT, dtype=np.int64)
        taken = columns[: self.task.size] > 0.5
        week[self.task[taken]] = self.week[taken]
        days = days_of(problem, week)
        chosen = np.where(np.arange(columns.size) < self.whole, np.round(columns), columns)
        cost = float(self.cost @ chosen)
        more = np.zeros(problem.week_hours.size)
        trays = 0
        if self.asked.extra:
            more = np.maximum(columns[self.hour_column : -1], 0.0)
            trays = int(np.ceil(columns[-1] - _ALMOST))
        dropped = tuple(bed for bed, at in self.bed_column.items() if columns[at] > 0.5)
        proven = cost - bound <= self.asked.gap * max(cost, _ALMOST) + _ALMOST
        return Solved(week, days, cost, min(bound, cost), proven, more, trays, dropped)


def _tight(problem: WorkProblem) -> IntArray:
    """The waits that a choice of weeks could break."""
    if not problem.after.size:
        return problem.after
    task, before, wait = problem.after.T
    return np.asarray(problem.after[problem.last[before] + wait > problem.first[task]])
