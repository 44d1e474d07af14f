"""The work as numbers: tasks, weeks, waits, hours, a bench; and what a schedule of it is.

A task is done in one week, within its days. Its day is exact, so that a wait of nine days is nine
days, not one or two weeks. Hours are held week by week.
"""

from __future__ import annotations

from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

from bedwright.guards import not_negative

FloatArray = NDArray[np.float64]
IntArray = NDArray[np.int64]
BoolArray = NDArray[np.bool_]
LEFT = -1  # the week of a task that is left out
_WEEK = 7
_ALMOST = 1e-6


def _no_trays() -> IntArray:
    return np.zeros((0, 3), dtype=np.int64)


@dataclass(frozen=True, eq=False)
class WorkProblem:
    """Tasks and weeks. Day 0 is the Monday of week 0.

    ``hours``, ``first``, ``last`` (days), ``weight`` and ``late`` (cost of each week after the
    task's first) are (tasks,); ``after`` (pairs, 3) holds task, the one before it, and the days
    between them at least. ``week_hours`` (weeks,) may be infinite. ``trays`` (rows, 3) holds how
    many stand on the bench from which task (-1: from the start) until which; ``bench`` is the most
    of them. ``beds`` (tasks,) numbers the plantings' beds, -1 for work on the whole garden.
    """

    hours: FloatArray
    first: IntArray
    last: IntArray
    weight: FloatArray
    late: FloatArray
    after: IntArray
    week_hours: FloatArray
    beds: IntArray
    trays: IntArray = field(default_factory=_no_trays)
    bench: float = np.inf

    def __post_init__(self) -> None:
        count = self.hours.size
        for name in ("first", "last", "weight", "late", "beds"):
            if getattr(self, name).shape != (count,):
                raise ValueError(f"{name} has shape {getattr(self, name).shape}, not ({count},)")
        not_negative(hours=self.hours, weight=self.weight, late=self.late, first=self.first)
        not_negative(week_hours=self.week_hours)
        if (self.last < self.first).any() or (self.last >= self.week_hours.size * _WEEK).any():
            raise ValueError("a task's last day lies before its first or after the last week")
        if self.after.size and (self.after[:, 2] < 0).any():
            raise ValueError("a wait is less than 0 days")
        if (self.late * (self.last // _WEEK - self.first // _WEEK) > self.weight + _ALMOST).any():
            raise ValueError("a task done late costs more than one left out")

    @property
    def tasks(self) -> int:
        """How many tasks there are."""
        return self.hours.size


@dataclass(frozen=True, eq=False)
class Solved:
    """A schedule: ``week`` and ``day`` (tasks,), LEFT where left out, and what it costs.

    ``more_hours`` (weeks,) and ``more_trays`` are what was added, ``dropped`` the beds given up.
    No schedule costs less than ``bound``. ``proven``: the bound is met within the gap.
    """

    week: IntArray
    day: IntArray
    cost: float
    bound: float
    proven: bool
    more_hours: FloatArray
    more_trays: int = 0
    dropped: tuple[int, ...] = ()

    @property
    def gap(self) -> float:
        """(cost - bound) / cost, 0 where nothing is late or left out."""
        return max(self.cost - self.bound, 0.0) / max(self.cost, _ALMOST)


def earliest_days(problem: WorkProblem) -> IntArray:
    """The first day on which each task could be done if hours and bench were no matter (tasks,).

    A value after a task's last day means that no schedule holds it. Raises ValueError for tasks
    that wait for each other.
    """
    day = problem.first.copy()
    for _ in range(problem.tasks + 1):
        if not problem.after.size:
            return day
        task, before, wait = problem.after.T
        # a task that comes too late is never done: what waits for it waits for ever
        late = day[before] > problem.last[before]
        wanted = np.where(late, problem.last.max() + 1 + _WEEK, day[before] + wait)
        moved = day.copy()
        np.maximum.at(moved, task, wanted)
        if (moved == day).all():
            return day
        if (moved > problem.last.max() + 3 * _WEEK + problem.after[:, 2].sum()).any():
            break
        day = moved
    raise ValueError("some tasks wait for each other")


def cost_of(problem: WorkProblem, week: IntArray) -> float:
    """What a schedule costs: tasks left out by their weight, late ones by the week."""
    done = week != LEFT
    late = problem.late * (week - problem.first // _WEEK)
    return float(problem.weight[~done].sum() + late[done].sum())


def trays_on_bench(problem: WorkProblem, week: IntArray) -> IntArray:
    """Trays on the bench at the end of each week (weeks,), by the tasks' weeks."""
    weeks = np.arange(problem.week_hours.size)
    found = np.zeros(weeks.size, dtype=np.int64)
    for count, start, end in problem.trays:
        stands = weeks >= week[start] if start >= 0 else np.ones(weeks.size, dtype=bool)
        if start >= 0 and week[start] == LEFT:
            continue
        if week[end] != LEFT:
            stands &= weeks < week[end]
        found += count * stands
    return found


def days_of(problem: WorkProblem, week: IntArray) -> IntArray:
    """The first day in its week on which each task's waits are over; LEFT where left out."""
    day = np.where(week == LEFT, LEFT, np.maximum(week * _WEEK, problem.first))
    done = week != LEFT
    pairs = problem.after[done[problem.after[:, 0]]] if problem.after.size else problem.after
    for _ in range(problem.tasks):
        before = day.copy()
        if pairs.size:
            np.maximum.at(day, pairs[:, 0], before[pairs[:, 1]] + pairs[:, 2])
        if (day == before).all():
            return day
    return day
