"""Checking schedules by other means than the program's: plain Python, days and sums."""

from __future__ import annotations

import itertools
import math
from collections.abc import Sequence
from datetime import date, timedelta

from bedwright.planning.work.model import Task, Work
from bedwright.planning.work.problem import LEFT, WorkProblem

HAIR = 1e-6


def faults_of_work(work: Work, hours: dict[date, float], bench: float = math.inf) -> list[str]:
    """What a schedule breaks of its tasks' days, waits and hours, and of the bench."""
    tasks = {each.id: each for each in work.tasks}
    at = {each.task: each for each in work.assigned}
    left = {each.task for each in work.left_out} | set(work.not_yet)
    found = []
    if len(at) != len(work.assigned) or left & at.keys():
        found.append("a task stands twice")
    load: dict[date, float] = {}
    for key, each in at.items():
        if each.done:
            continue
        task = tasks[key]
        if not each.week <= each.day < each.week + timedelta(days=7):
            found.append(f"{key}: its day lies outside its week")
        load[each.week] = load.get(each.week, 0.0) + task.hours.value
        found += waits_broken(task, at, tasks)
    for week, used in load.items():
        if used > hours.get(week, math.inf) + HAIR:
            found.append(f"{week}: {used} h of {hours[week]}")
    # trays that stand there already are more than the bench holds, or not: they stay
    stands = sum(each.trays for each in work.tasks if each.id in at and at[each.id].done)
    bench = max(bench, stands)
    for week in sorted({each.week for each in work.assigned}):
        trays = 0
        for task in work.tasks:
            if task.trays and task.id in at and at[task.id].week <= week:
                freed = at.get(task.frees_bench or "")
                trays += task.trays if freed is None or freed.week > week else 0
        if trays > bench:
            found.append(f"{week}: {trays} trays")
    return found


def waits_broken(task: Task, at: dict, tasks: dict[str, Task]) -> list[str]:
    found = []
    day = at[task.id].day
    for before, wait in task.after:
        if before not in tasks:
            continue
        if before not in at:
            found.append(f"{task.id}: done without {before}")
        elif (day - at[before].day).days < wait:
            found.append(
                f"{task.id}: {(day - at[before].day).days} days after {before}, not {wait}"
            )
    return found


def keeps(problem: WorkProblem, week: Sequence[int]) -> bool:
    """Whether weeks (LEFT: left out) keep everything that the problem asks."""
    day = [None if w == LEFT else max(int(problem.first[t]), 7 * w) for t, w in enumerate(week)]
    for _ in range(problem.tasks + 1):
        for task, before, wait in problem.after.tolist():
            if day[task] is None:
                continue
            if day[before] is None:
                return False
            day[task] = max(day[task], day[before] + wait)
    for task, w in enumerate(week):
        if day[task] is not None and day[task] > min(int(problem.last[task]), 7 * w + 6):
            return False
    for w, most in enumerate(problem.week_hours.tolist()):
        if sum(problem.hours[t] for t in range(problem.tasks) if week[t] == w) > most + HAIR:
            return False
        trays = 0
        for count, start, end in problem.trays.tolist():
            begun = start < 0 or LEFT < week[start] <= w
            trays += count if begun and not LEFT < week[end] <= w else 0
        if trays > problem.bench:
            return False
    return True


def price(problem: WorkProblem, week: Sequence[int]) -> float:
    return sum(
        problem.weight[t] if w == LEFT else problem.late[t] * (w - problem.first[t] // 7)
        for t, w in enumerate(week)
    )


def best_of_all(problem: WorkProblem, *, all_done: bool = False) -> float:
    """The least price over every schedule there is; infinite where none keeps everything."""
    choices = [
        ([] if all_done else [LEFT]) + list(range(problem.first[t] // 7, problem.last[t] // 7 + 1))
        for t in range(problem.tasks)
    ]
    prices = (price(problem, w) for w in itertools.product(*choices) if keeps(problem, w))
    return min(prices, default=math.inf)
