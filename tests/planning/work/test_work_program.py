"""The program against exhaustive search, and what it says when the work does not fit."""

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from work_checker import best_of_all, keeps, price

from bedwright.planning.work.overload import crowded, part_of, thinned
from bedwright.planning.work.problem import LEFT, WorkProblem, earliest_days
from bedwright.planning.work.program import Asked, solve_work

EXACT = Asked(gap=0.0, nodes=100_000)
WEEKS = 3


def problem(
    hours=(1.0,), first=None, last=None, after=(), week_hours=(10.0, 10.0, 10.0), **rest
) -> WorkProblem:
    count = len(hours)
    given = {
        "weight": np.full(count, 10.0),
        "late": np.full(count, 0.5),
        "beds": np.zeros(count, dtype=np.int64),
    } | {key: np.asarray(value) if key != "bench" else value for key, value in rest.items()}
    return WorkProblem(
        hours=np.asarray(hours, dtype=np.float64),
        first=np.asarray(first or [0] * count, dtype=np.int64),
        last=np.asarray(last or [7 * len(week_hours) - 1] * count, dtype=np.int64),
        after=np.asarray(after, dtype=np.int64).reshape(-1, 3),
        week_hours=np.asarray(week_hours, dtype=np.float64),
        **given,
    )


@st.composite
def problems(draw) -> WorkProblem:
    count = draw(st.integers(1, 6))
    days = WEEKS * 7
    first = [draw(st.integers(0, days - 1)) for _ in range(count)]
    last = [min(each + draw(st.integers(0, 20)), days - 1) for each in first]
    after = [
        (task, draw(st.integers(0, task - 1)), draw(st.integers(0, 12)))
        for task in range(1, count)
        if draw(st.booleans())
    ]
    trays = []
    if count > 1 and draw(st.booleans()):
        after.append((1, 0, 3))
        trays = [(draw(st.integers(1, 3)), draw(st.sampled_from([0, -1])), 1)]
    weight = [float(draw(st.integers(0, 30))) for _ in range(count)]
    return problem(
        [float(draw(st.integers(0, 5))) for _ in range(count)],
        first,
        last,
        after,
        [float(draw(st.integers(0, 8))) for _ in range(WEEKS)],
        weight=weight,
        late=[each * draw(st.sampled_from([0.0, 0.05, 0.4])) for each in weight],
        beds=[draw(st.integers(-1, 2)) for _ in range(count)],
        trays=np.array(trays, dtype=np.int64).reshape(-1, 3),
        bench=float(draw(st.integers(0, 4))),
    )


@given(problems())
def test_small_problems_come_out_as_by_exhaustive_search(given_):
    standing_too_many = sum(n for n, start, _ in given_.trays.tolist() if start < 0) > given_.bench
    if standing_too_many and not np.isfinite(best_of_all(given_)):
        return  # more trays stand there already than the bench holds: nothing can be right
    solved = solve_work(given_, EXACT)

    assert keeps(given_, solved.week)
    assert price(given_, solved.week) == pytest.approx(solved.cost, abs=1e-6)
    assert solved.cost == pytest.approx(best_of_all(given_), abs=1e-6)
    assert solved.bound <= solved.cost + 1e-6


@given(problems())
def test_what_is_said_to_fit_with_more_hours_fits_and_with_less_does_not(given_):
    able = earliest_days(given_) <= given_.last
    wanted = replace(part_of(given_, able), bench=np.inf)
    asked = Asked(all_done=True, extra=True, gap=0.0, nodes=100_000)
    solved = solve_work(wanted, asked)
    more = solved.more_hours

    eased = replace(wanted, week_hours=wanted.week_hours + more)
    assert keeps(eased, solved.week)
    least = min(
        (
            np.maximum(np.bincount(weeks, wanted.hours, WEEKS) - wanted.week_hours, 0).sum()
            for weeks in every_week_of(replace(wanted, week_hours=np.full(WEEKS, 1e6)))
        ),
        default=0.0,
    )
    assert more.sum() == pytest.approx(least, abs=1e-6)


def every_week_of(given_: WorkProblem):
    """Every way to do all tasks if hours were no matter."""
    import itertools

    choices = [range(given_.first[t] // 7, given_.last[t] // 7 + 1) for t in range(given_.tasks)]
    for weeks in itertools.product(*choices):
        if weeks and keeps(given_, weeks):
            yield np.array(weeks)


@given(problems())
def test_beds_given_up_are_as_few_as_will_do(given_):
    able = earliest_days(given_) <= given_.last
    wanted = replace(part_of(given_, able), bench=np.inf)
    solved = solve_work(wanted, Asked(all_done=True, drop=True, gap=0.0, nodes=100_000))
    beds = sorted({int(each) for each in wanted.beds if each >= 0})
    fewest = None
    for kept in range(1 << len(beds)):
        dropped = [bed for at, bed in enumerate(beds) if not kept >> at & 1]
        rest = part_of(wanted, ~np.isin(wanted.beds, dropped))
        # what waits for a dropped bed's task can't be done either
        waits = [
            t for t, b, _ in wanted.after.tolist()
            if wanted.beds[b] in dropped and wanted.beds[t] not in dropped
        ]  # fmt: skip
        if not waits and np.isfinite(best_of_all(rest, all_done=True)):
            fewest = len(dropped) if fewest is None else min(fewest, len(dropped))

    assert (solved is None) == (fewest is None)
    if solved is not None:
        assert len(solved.dropped) == fewest


@given(problems())
def test_an_overload_is_true_and_none_of_its_tasks_is_too_many(given_):
    able = earliest_days(given_) <= given_.last
    given_ = replace(given_, bench=np.inf, trays=np.zeros((0, 3), dtype=np.int64))
    found = crowded(given_, able)
    if found is None:
        return
    members = thinned(given_, found)

    assert not np.isfinite(best_of_all(part_of(given_, members), all_done=True))
    for at in np.flatnonzero(members):
        rest = members.copy()
        rest[at] = False
        assert np.isfinite(best_of_all(part_of(given_, rest), all_done=True))


def test_a_wait_of_nine_days_is_nine_days():
    # Thursday at the earliest, and nine days later: Saturday of the week after
    solved = solve_work(problem([1.0, 1.0], first=[3, 0], after=[(1, 0, 9)]), EXACT)

    assert solved.day.tolist() == [3, 12]


def test_of_two_tasks_for_one_place_the_heavier_in_worth_is_kept():
    solved = solve_work(
        problem([3.0, 3.0], last=[6, 6], week_hours=(4.0,), weight=[5.0, 6.0]), EXACT
    )

    assert solved.week.tolist() == [LEFT, 0]
    assert solved.cost == pytest.approx(5.0)


def test_what_waits_for_a_task_left_out_is_left_out():
    solved = solve_work(problem([9.0, 1.0], after=[(1, 0, 0)], week_hours=(4.0, 4.0)), EXACT)

    assert solved.week.tolist() == [LEFT, LEFT]


def test_the_bench_holds_no_more_than_it_holds():
    two = problem(
        [1.0] * 4,
        first=[0, 0, 14, 14],
        last=[6, 6, 20, 20],
        after=[(2, 0, 7), (3, 1, 7)],
        trays=[(3, 0, 2), (3, 1, 3)],
        bench=5.0,
    )
    solved = solve_work(two, EXACT)
    asked = Asked(all_done=True, extra=True)

    assert sorted(solved.week.tolist()) == [LEFT, LEFT, 0, 2]
    assert solve_work(two, asked).more_trays == 1


def test_tasks_that_wait_for_each_other_are_refused():
    with pytest.raises(ValueError, match="wait for each other"):
        earliest_days(problem([1.0, 1.0], after=[(0, 1, 1), (1, 0, 1)]))


@pytest.mark.parametrize(
    ("wrong", "words"),
    [
        ({"hours": (-1.0,)}, "hours"),
        ({"first": [5], "last": [4]}, "last day"),
        ({"first": [0], "last": [30]}, "last day"),
        ({"hours": (1.0, 1.0), "after": [(1, 0, -1)]}, "wait"),
        ({"weight": [1.0, 2.0]}, "weight"),
        ({"late": [6.0]}, "late"),
    ],
)
def test_a_problem_that_makes_no_sense_is_refused(wrong, words):
    with pytest.raises(ValueError, match=words):
        problem(**wrong)


def test_the_same_problem_gives_the_same_schedule():
    rng = np.random.default_rng(4)
    count = 30
    many = problem(
        rng.uniform(0.5, 4, count).tolist(),
        first=rng.integers(0, 20, count).tolist(),
        last=rng.integers(34, 42, count).tolist(),
        after=[(t, int(rng.integers(0, t)), 3) for t in range(1, count, 3)],
        week_hours=(20.0,) * 6,
        weight=rng.uniform(1, 9, count),
        late=np.full(count, 0.05),
    )
    first, second = solve_work(many), solve_work(many)

    assert first.week.tolist() == second.week.tolist()
    assert first.day.tolist() == second.day.tolist()
    assert keeps(many, first.week)
