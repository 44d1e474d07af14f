"""Why the work does not fit: sets of tasks that can't all be done, none of them too many."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date, timedelta

import numpy as np

from bedwright.planning.work.model import Overload, Task
from bedwright.planning.work.problem import BoolArray, IntArray, WorkProblem, earliest_days
from bedwright.planning.work.program import Asked, Unfinished, solve_work

_WEEK = 7
_MOST = 6  # sets that are told: more say no more
_ALMOST = 1e-6
_NODES = 200


def overloads_of(tasks: Sequence[Task], begin: date, problem: WorkProblem) -> tuple[Overload, ...]:
    """Sets of tasks that can't all be done in their weeks; without any one the others can.

    Each set is found from a span of weeks whose tasks ask for more hours than there are, and is
    then thinned task by task, each time by a program that says whether the others fit. Of a span
    of weeks one set is told.
    """
    found: list[Overload] = []
    free = np.ones(problem.week_hours.size, dtype=bool)
    possible = earliest_days(problem) <= problem.last
    while len(found) < _MOST:
        members = crowded(problem, possible, free)
        if members is None:
            return tuple(found)
        members = thinned(problem, members)
        first = int(problem.first[members].min()) // _WEEK
        last = int(problem.last[members].max()) // _WEEK
        found.append(
            Overload(
                begin + timedelta(days=_WEEK * first),
                begin + timedelta(days=_WEEK * last),
                tuple(tasks[at].id for at in np.flatnonzero(members).tolist()),
                float(problem.hours[members].sum()),
                float(problem.week_hours[first : last + 1].sum()),
            )
        )
        free[first : last + 1] = False
    return tuple(found)


def crowded(
    problem: WorkProblem, open_: BoolArray, free: BoolArray | None = None
) -> BoolArray | None:
    """Tasks of the shortest span of weeks, all of them ``free``, that asks for more hours than it
    has: as few of the heaviest as do. None where no span does."""
    first, last = problem.first // _WEEK, problem.last // _WEEK
    weeks = problem.week_hours.size
    asks = open_ & (problem.hours > 0)
    longest = int((last - first + 1)[asks].max(initial=0))
    for span in range(1, longest + 1):
        for begin in range(weeks - span + 1):
            room = problem.week_hours[begin : begin + span].sum()
            if not np.isfinite(room) or (free is not None and not free[begin : begin + span].all()):
                continue
            inside = asks & (first >= begin) & (last < begin + span)
            if problem.hours[inside].sum() > room + _ALMOST:
                return _few(problem, inside, float(room))
    return None


def _few(problem: WorkProblem, inside: BoolArray, room: float) -> BoolArray:
    """The heaviest of the tasks, as few as exceed the room."""
    order = np.flatnonzero(inside)
    order = order[np.argsort(-problem.hours[order], kind="stable")]
    many = int(np.searchsorted(np.cumsum(problem.hours[order]), room + _ALMOST, side="right")) + 1
    chosen = np.zeros(problem.tasks, dtype=bool)
    chosen[order[:many]] = True
    return chosen


def thinned(problem: WorkProblem, members: BoolArray) -> BoolArray:
    """Leave out each task without which the others still can't all be done."""
    kept = members.copy()
    for at in np.flatnonzero(members):
        kept[at] = False
        if fits(problem, kept):
            kept[at] = True
    return kept


def fits(problem: WorkProblem, members: BoolArray) -> bool:
    """Whether these tasks can all be done, whatever else is left; True where it can't be told."""
    part = part_of(problem, members)
    if crowded(part, np.ones(part.tasks, dtype=bool)) is not None:
        return False
    try:
        return solve_work(part, Asked(all_done=True, gap=1.0, nodes=_NODES)) is not None
    except Unfinished:
        return True


def part_of(problem: WorkProblem, members: BoolArray) -> WorkProblem:
    """The problem of some of the tasks; waits for others fall away."""
    place: IntArray = np.cumsum(members) - 1
    after = problem.after
    if after.size:
        after = after[members[after[:, 0]] & members[after[:, 1]]].copy()
        after[:, :2] = place[after[:, :2]]
    trays = problem.trays
    if trays.size:
        started = (trays[:, 1] < 0) | members[trays[:, 1]]
        trays = trays[started & members[trays[:, 2]]].copy()
        trays[:, 1] = np.where(trays[:, 1] < 0, -1, place[trays[:, 1]])
        trays[:, 2] = place[trays[:, 2]]
    return WorkProblem(
        problem.hours[members], problem.first[members], problem.last[members],
        problem.weight[members], problem.late[members], after, problem.week_hours,
        problem.beds[members], trays, problem.bench,
    )  # fmt: skip
