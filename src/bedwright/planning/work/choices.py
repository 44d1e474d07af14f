"""What would make the work fit: more hours, an earlier beginning, beds given up, more bench."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace
from datetime import date, timedelta

import numpy as np

from bedwright.planning.work.model import Choice, Task
from bedwright.planning.work.overload import crowded, part_of
from bedwright.planning.work.problem import Solved, WorkProblem, earliest_days
from bedwright.planning.work.program import Asked, Unfinished, solve_work

_WEEK = 7
_EARLIEST = 4  # weeks that are tried: longer ahead is another season's work, judgement
_MOST_BEDS = 1 / 3  # of the planted beds: who must give up more wants hours, judgement
_STEP = 0.1  # hours told
# What may be done as well some weeks sooner; planting and what follows it may not.
_AHEAD = frozenset({"clear", "fork_test", "loosen", "spread", "work_in", "drip", "trellis"})
_ALMOST = 1e-6


def choices_of(
    tasks: Sequence[Task], begin: date, problem: WorkProblem, as_of: date
) -> tuple[Choice, ...]:
    """Ways after any of which all tasks fit that time allows, each with as little as will do."""
    possible = earliest_days(problem) <= problem.last
    wanted = part_of(problem, possible)
    kept = [each for each, can in zip(tasks, possible, strict=True) if can]
    found = [*_more(wanted, begin), *_earlier(kept, wanted, (as_of - begin).days)]
    found += _without(kept, wanted)
    return tuple(found)


def _solved(problem: WorkProblem, asked: Asked) -> Solved | None:
    """What the program finds; None also where its nodes do not suffice: no choice is told then."""
    try:
        return solve_work(problem, asked)
    except Unfinished:
        return None


def _more(wanted: WorkProblem, begin: date) -> list[Choice]:
    solved = _solved(wanted, Asked(all_done=True, extra=True, gap=1e-3))
    if solved is None:
        return []
    found = []
    weeks = tuple(
        (begin + timedelta(days=_WEEK * week), _up(float(hours)))
        for week, hours in enumerate(solved.more_hours)
        if hours > _ALMOST
    )
    if weeks:
        found.append(Choice("hours", weeks=weeks, trays=solved.more_trays, least=solved.proven))
    elif solved.more_trays:
        found.append(Choice("trays", trays=solved.more_trays, least=solved.proven))
    return found


def _up(hours: float) -> float:
    return round(math.ceil(hours / _STEP - _ALMOST) * _STEP, 1)


def _earlier(tasks: Sequence[Task], wanted: WorkProblem, today: int) -> list[Choice]:
    ahead = np.array([each.kind in _AHEAD for each in tasks], dtype=bool)
    if not ahead.any():
        return []
    for weeks in range(1, _EARLIEST + 1):
        sooner = np.maximum(wanted.first - _WEEK * weeks, today)
        tried = replace(
            wanted, first=np.where(ahead, np.minimum(sooner, wanted.first), wanted.first)
        )
        if crowded(tried, np.ones(tried.tasks, dtype=bool)) is not None:
            continue
        if _solved(tried, Asked(all_done=True, gap=1.0)) is not None:
            return [Choice("earlier", days=_WEEK * weeks)]
    return []


def _without(tasks: Sequence[Task], wanted: WorkProblem) -> list[Choice]:
    solved = _solved(wanted, Asked(all_done=True, drop=True, gap=1e-3))
    if solved is None or not solved.dropped:
        return []
    names = {int(n): each.bed for n, each in zip(wanted.beds, tasks, strict=True) if n >= 0}
    beds = tuple(str(names[each]) for each in solved.dropped)
    if len(beds) > _MOST_BEDS * len(names):
        return []
    return [Choice("beds", beds=beds, least=solved.proven)]
