"""The tasks laid into the weeks: within the hours there are, with what does not fit and why."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, timedelta

import numpy as np

from bedwright.garden.model_work import Work as Stated
from bedwright.planning.findings import Finding, finding
from bedwright.planning.work.choices import choices_of
from bedwright.planning.work.done import Standing, standing
from bedwright.planning.work.hours import hours_of_week
from bedwright.planning.work.making import monday
from bedwright.planning.work.model import Act, Assigned, LeftOut, Task, Week, Work
from bedwright.planning.work.overload import overloads_of
from bedwright.planning.work.problem import LEFT, Solved, WorkProblem, earliest_days, trays_on_bench
from bedwright.planning.work.program import Asked, solve_work

_WEEK = 7
_ALMOST = 1e-6
_QUICK_GAP = 0.1  # of what leaving out and lateness cost, in a quick plan: judgement


@dataclass(frozen=True, eq=False)
class Laid:
    """The open tasks as a program sees them. ``tasks`` are in the order of its arrays, ``begin``
    is its day 0. ``never`` are tasks that come too late whatever is done: (task, first day)."""

    tasks: tuple[Task, ...]
    begin: date
    problem: WorkProblem
    never: tuple[tuple[Task, date | None, str | None], ...]


def scheduled(
    tasks: Sequence[Task],
    stated: Stated | None,
    acts: Sequence[Act],
    as_of: date,
    *,
    quick: bool = False,
) -> Work:
    """The best schedule from a day on, by :mod:`bedwright.planning.work.program`.

    Parameters
    ----------
    tasks : of the whole season, done ones too
    stated : what the document says of hours and benches; None: nothing
    acts : what was done, by the journal and the document
    as_of : the day from which is planned
    quick : the first good schedule is taken, and neither what is too much together nor what would
        make all of it fit is searched
    """
    stands = standing(tasks, acts, as_of)
    laid = lay(stands, stated, as_of)
    solved = solve_work(laid.problem, Asked(gap=_QUICK_GAP) if quick else None)
    if solved is None:
        raise RuntimeError("a schedule may always leave tasks out, but none was found")
    assigned = [Assigned(key, monday(on), on, done=True) for key, on in sorted(stands.done.items())]
    assigned += [
        Assigned(task.id, _day(laid, week * _WEEK), _day(laid, day))
        for task, week, day in zip(
            laid.tasks, solved.week.tolist(), solved.day.tolist(), strict=True
        )
        if week != LEFT
    ]
    left, not_yet = _left_out(laid, solved)
    short = not quick and any(each.why in ("hours", "bench") for each in left)
    return Work(
        tasks=tuple(tasks),
        assigned=tuple(sorted(assigned, key=lambda each: (each.day, each.task))),
        left_out=left,
        not_yet=not_yet,
        weeks=_weeks(laid, solved, stated),
        overloads=overloads_of(laid.tasks, laid.begin, laid.problem) if short else (),
        choices=choices_of(laid.tasks, laid.begin, laid.problem, as_of) if short else (),
        gap=solved.gap,
        findings=(*stands.findings, *_said(stated)),
    )


def lay(stands: Standing, stated: Stated | None, as_of: date) -> Laid:
    """The open tasks as arrays, their days counted from the Monday of the day of planning."""
    begin = monday(as_of)
    first = {each.id: (each.earliest - begin).days for each in stands.open}
    for each in stands.open:
        for before, wait in each.after:
            if before in stands.done:
                ready = (stands.done[before] - begin).days + wait
                first[each.id] = max(first[each.id], ready)
    kept, never = _possible(stands, first, begin)
    at = {each.id: place for place, each in enumerate(kept)}
    weeks = 1 + max(((each.latest - begin).days // _WEEK for each in kept), default=0)
    mondays = [begin + timedelta(days=_WEEK * each) for each in range(weeks)]
    # what stands is no planting of the plan's: giving up a bed's plantings does not spare its work
    planned = [None if each.standing else each.bed for each in kept]
    beds = {bed: n for n, bed in enumerate(dict.fromkeys(each for each in planned if each))}
    trays = [
        (each.trays, at[each.id], at[each.frees_bench])
        for each in kept
        if each.trays and each.frees_bench in at
    ]
    by_id = {each.id: each for each in kept}
    # sown already, standing on the bench until they are set out
    trays += [
        (count, -1, at[freed])
        for key, count, freed in stands_on_bench(stands)
        if freed in at and key not in by_id
    ]
    problem = WorkProblem(
        hours=np.array([each.hours.value for each in kept], dtype=np.float64),
        first=np.array([first[each.id] for each in kept], dtype=np.int64),
        last=np.array([(each.latest - begin).days for each in kept], dtype=np.int64),
        weight=np.array([each.priority for each in kept], dtype=np.float64),
        late=np.array([_late(each) for each in kept], dtype=np.float64),
        after=np.array(
            [
                (at[each.id], at[before], wait)
                for each in kept
                for before, wait in each.after
                if before in at
            ],
            dtype=np.int64,
        ).reshape(-1, 3),
        week_hours=np.array([hours_of_week(stated, each, as_of) for each in mondays]),
        beds=np.array([beds[each] if each else -1 for each in planned], dtype=np.int64),
        trays=np.array(trays, dtype=np.int64).reshape(-1, 3),
        bench=_bench(stated, sum(count for count, start, _ in trays if start < 0)),
    )
    return Laid(tuple(kept), begin, problem, tuple(never))


def _bench(stated: Stated | None, standing_trays: int) -> float:
    """The trays that the bench holds: no fewer than stand there already."""
    if stated is None or stated.bench_trays is None:
        return float("inf")
    return float(max(stated.bench_trays, standing_trays))


def _late(task: Task) -> float:
    """The cost of a week's lateness: never so much that leaving out would cost less."""
    weeks = (task.latest - task.earliest).days // _WEEK + 1
    return task.priority * min(task.late, 1 / (weeks + 1))


def stands_on_bench(stands: Standing) -> tuple[tuple[str, int, str], ...]:
    """Trays sown already: the task, how many, and what frees them."""
    return tuple(
        (each.id, each.trays, each.frees_bench)
        for each in stands.sown
        if each.frees_bench is not None
    )


def _possible(
    stands: Standing, first: dict[str, int], begin: date
) -> tuple[list[Task], list[tuple[Task, date | None, str | None]]]:
    """Tasks that can be done, and those that can't: too late by what is done, or by these."""
    ids = {each.id for each in stands.open} | set(stands.done)
    never: dict[str, tuple[Task, date | None, str | None]] = {}
    changed = True
    while changed:
        changed = False
        for each in stands.open:
            if each.id in never:
                continue
            gone = next((b for b, _ in each.after if b in never or b not in ids), None)
            if gone is not None:
                never[each.id] = (each, None, gone)
                changed = True
            elif first[each.id] > (each.latest - begin).days:
                possible = begin + timedelta(days=first[each.id])
                never[each.id] = (each, possible, None)
                changed = True
    return [each for each in stands.open if each.id not in never], list(never.values())


def _day(laid: Laid, day: int) -> date:
    return laid.begin + timedelta(days=day)


def _left_out(laid: Laid, solved: Solved) -> tuple[tuple[LeftOut, ...], tuple[str, ...]]:

    problem = laid.problem
    soonest = earliest_days(problem)
    left = [LeftOut(e.id, "waits" if by else "time", by, on) for e, on, by in laid.never]
    not_yet: list[str] = []
    load = _load(problem, solved)
    place = {each.id: at for at, each in enumerate(laid.tasks)}
    for at, each in enumerate(laid.tasks):
        if solved.week[at] != LEFT:
            continue
        waits = [b for b, _ in each.after if b in place and solved.week[place[b]] == LEFT]
        begun = [solved.day[place[b]] for b, _ in each.after if b in place]
        if waits:
            left.append(LeftOut(each.id, "waits", waits[0]))
        elif soonest[at] > problem.last[at]:
            left.append(LeftOut(each.id, "time", None, _day(laid, int(soonest[at]))))
        elif each.repeated and begun and max(begun) > problem.last[at]:
            not_yet.append(each.id)
        else:
            weeks = range(problem.first[at] // _WEEK, problem.last[at] // _WEEK + 1)
            room = any(
                load[w] + problem.hours[at] <= problem.week_hours[w] + _ALMOST for w in weeks
            )
            left.append(LeftOut(each.id, "bench" if room and each.trays else "hours"))
    return tuple(left), tuple(not_yet)


def _load(problem: WorkProblem, solved: Solved) -> np.ndarray:
    done = solved.week != LEFT
    return np.bincount(solved.week[done], problem.hours[done], problem.week_hours.size)


def _weeks(laid: Laid, solved: Solved, stated: Stated | None) -> tuple[Week, ...]:
    load = _load(laid.problem, solved)
    trays = trays_on_bench(laid.problem, solved.week)
    return tuple(
        Week(
            _day(laid, week * _WEEK),
            float(load[week]),
            float(most) if np.isfinite(most) else None,
            int(trays[week]),
        )
        for week, most in enumerate(laid.problem.week_hours)
    )


def _said(stated: Stated | None) -> tuple[Finding, ...]:
    if stated is None or stated.hours_per_week is None:
        return (finding("work_hours_not_stated", "assumed"),)
    return ()
