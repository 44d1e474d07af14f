"""The search for a rotation: no rule is broken, the best is the best, and it repeats itself."""

import dataclasses
import sys

import numpy as np
import plain_rotation as plain
import pytest
from hypothesis import Phase, example, given, settings
from hypothesis import strategies as st
from random_rotations import problem_of, seeds

from bedwright.planning.rotation import solve as search
from bedwright.planning.rotation.alternatives import alternatives
from bedwright.planning.rotation.clash import clash
from bedwright.planning.rotation.neighbors import nearer, nearness_of
from bedwright.planning.rotation.problem import KeepApart, RotationProblem, Wish
from bedwright.planning.rotation.solve import Infeasible, SolveLimits, improve, solve

_FULL = settings().max_examples >= 1000
# A failing garden is short enough to read as it is: to shrink it takes minutes and helps little.
_CASES = settings(max_examples=500 if _FULL else 50, phases=(Phase.explicit, Phase.generate))
_EXACT = SolveLimits(gap=0.0, nodes=100_000)
_SMALL = st.tuples(seeds, st.integers(1, 3), st.integers(1, 2), st.integers(1, 4))


@pytest.fixture
def always_searched(monkeypatch):
    """Small rotations go through lists of sequences too, which leaves them to the plain program."""
    monkeypatch.setattr(search, "_PLAIN", 0)
    monkeypatch.setattr(search, "_PLAIN_SUCCESSIONS", 0)


def small(case) -> RotationProblem:
    seed, units, years, crops = case
    return problem_of(seed, units=units, years=years, crops=crops if years < 3 else 3)


def medium(seed: int) -> RotationProblem:
    return problem_of(
        seed, units=2 + seed % 7, years=2 + seed % 3, crops=4 + seed % 5, required=0.1
    )


@given(seed=seeds)
@_CASES
def test_no_plan_of_a_random_garden_breaks_a_rule(seed):
    problem = medium(seed)

    found = solve(problem)

    if isinstance(found, Infeasible):
        assert any(wish.required for wish in problem.wishes)
        return
    plan = [plain.sorted_options(problem, row) for row in found.chosen]
    assert plain.faults(problem, found.chosen) == []
    assert found.objective == pytest.approx(plain.value(problem, plan), abs=1e-6)
    assert found.bound >= found.objective - 1e-6
    given_ = [
        sum(w.amount[u][o] for u, row in enumerate(plan) for o in row) for w in problem.wishes
    ]
    lacking = [max(0.0, w.wanted - g) for w, g in zip(problem.wishes, given_, strict=True)]
    assert found.short == pytest.approx(lacking, abs=1e-6)


@pytest.mark.usefixtures("always_searched")
@given(seed=seeds)
@_CASES
def test_no_plan_on_the_way_breaks_a_rule_and_each_is_better(seed):
    problem = medium(seed)
    last = -np.inf

    for step in improve(problem, SolveLimits(gap=0.02, nodes=30)):
        if isinstance(step, Infeasible):
            assert not step.proven or solve_plain(problem) is None
            continue
        assert plain.faults(problem, step.solution.chosen) == []
        assert step.solution.objective >= last - 1e-6
        assert step.solution.bound >= step.solution.objective - 1e-6
        last = step.solution.objective


def solve_plain(problem):
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(search, "_PLAIN", sys.maxsize)
        patch.setattr(search, "_PLAIN_SUCCESSIONS", sys.maxsize)
        found = solve(problem, _EXACT)
    return None if isinstance(found, Infeasible) else found


@given(case=_SMALL)
@_CASES
def test_the_best_plan_is_the_best_of_all_plans(case):
    problem = small(case)
    best = plain.best_value(problem)

    found = solve(problem, _EXACT)

    if best is None:
        assert found == Infeasible(proven=True)
    else:
        assert found.objective == pytest.approx(best, abs=1e-5)
        assert found.bound == pytest.approx(best, abs=1e-4)


@pytest.mark.usefixtures("always_searched")
@given(case=_SMALL)
@_CASES
def test_the_bound_of_the_search_by_sequences_holds(case):
    problem = small(case)
    best = plain.best_value(problem)

    found = solve(problem, SolveLimits(gap=0.001, nodes=200))

    if best is None:
        assert found == Infeasible(proven=True)
    else:
        assert plain.faults(problem, found.chosen) == []
        assert found.objective <= best + 1e-6
        assert found.bound >= best - 1e-5


@given(case=_SMALL)
@example(case=(749308, 2, 2, 1))  # the solver failed on it with its presolving
@_CASES
def test_a_clash_can_be_met_without_any_one_of_its_wishes(case):
    seed, units, years, crops = case
    problem = problem_of(seed, units=units, years=years, crops=crops, required=0.9)

    found = clash(problem, SolveLimits())

    possible = plain.best_value(problem) is not None
    assert (found is None) == possible
    if found is not None:
        assert found.minimal
        assert not can(problem, found.wishes)
        for each in found.given_up:
            rest = [n for n in found.wishes if n != each.wish]
            assert can(problem, rest)  # with it every smaller part can
            assert each.possible == pytest.approx(most_of(problem, rest, each.wish), abs=1e-5)
            assert each.exact
            assert each.objective == best_without(problem, each.wish)


def only(problem, wishes):
    kept = tuple(
        problem.wishes[n]
        if problem.wishes[n].required
        else dataclasses.replace(problem.wishes[n], wanted=0.0)
        for n in wishes
    )
    return dataclasses.replace(problem, wishes=kept)


def can(problem, wishes) -> bool:
    return next(plain.plans(only(problem, wishes)), None) is not None


def most_of(problem, wishes, number) -> float:
    wish = problem.wishes[number]
    gives = [
        sum(wish.amount[u][o] for u, options in enumerate(plan) for o in options)
        for plan in plain.plans(only(problem, wishes))
    ]
    return min(wish.wanted, max(gives))


def best_without(problem, number):
    rest = tuple(wish for n, wish in enumerate(problem.wishes) if n != number)
    best = plain.best_value(dataclasses.replace(problem, wishes=rest))
    return None if best is None else pytest.approx(best, rel=0.006, abs=0.006)


@given(case=_SMALL)
@_CASES
def test_the_other_contents_of_a_unit_are_the_best_ones(case):
    problem = small(case)
    found = solve(problem, _EXACT)
    if isinstance(found, Infeasible):
        return
    plan = [plain.sorted_options(problem, row) for row in found.chosen]
    here = plan[0]
    costs = sorted(
        found.objective - plain.value(problem, [other, *plan[1:]])
        for other in plain.contents(problem, 0)
        if other != here and not plain.faults(problem, as_rows(problem, [other, *plan[1:]]))
    )

    others = alternatives(problem, found.chosen, 0, count=3)

    assert [each.cost for each in others] == pytest.approx(costs[:3], abs=1e-5)
    for each in others:
        ordered = sorted(each.options, key=lambda o: problem.starts[o])
        assert plain.faults(problem, as_rows(problem, [ordered, *plan[1:]])) == []


def as_rows(problem, plan):
    return [[o in options for o in range(problem.options)] for options in plan]


@given(seed=seeds)
@settings(_CASES, max_examples=100 if _FULL else 10)
def test_the_second_step_brings_crops_together_and_keeps_its_floor(seed):
    problem = medium(seed)
    found = solve(problem)
    if isinstance(found, Infeasible):
        return

    closer = nearer(problem, found.chosen, found.objective - 0.05 * abs(found.objective))

    assert plain.faults(problem, closer.chosen) == []
    assert closer.objective >= found.objective - 0.05 * abs(found.objective) - 1e-6
    assert closer.gain >= 0
    assert closer.nearness == pytest.approx(together(problem, closer.chosen))
    assert nearness_of(problem, found.chosen) == pytest.approx(together(problem, found.chosen))


def together(problem, chosen) -> float:
    plan = [plain.sorted_options(problem, row) for row in chosen]
    return sum(
        problem.nearness[u][v]
        for u in range(len(plan))
        for v in range(u + 1, len(plan))
        for one in plan[u]
        for other in plan[v]
        if problem.crop[one] == problem.crop[other] and plain.share_a_day(problem, one, other)
    )


def two_beds(**changes) -> RotationProblem:
    """Two beds, two crops of one family, one year."""
    none = np.zeros((2, 2))
    given_ = {
        "starts": np.array([0, 100]), "ends": np.array([50, 150]), "years": np.array([0, 0]),
        "allowed": np.ones((2, 2), dtype=bool), "worth": np.array([[1.0, 3.0], [1.0, 3.0]]),
        "apart": (KeepApart("family", np.array([True, True]), np.array([0, 0])),), "wishes": (),
        "crop": np.array([0, 1]), "nearness": none,
    }  # fmt: skip
    return RotationProblem(**(given_ | changes))


def test_the_better_of_two_crops_that_keep_apart_stands_on_each_bed():
    found = solve(two_beds(), _EXACT)

    assert found.chosen.tolist() == [[False, True], [False, True]]
    assert (found.objective, found.gap, found.repeatable) == (6.0, 0.0, True)


def test_a_year_between_means_a_whole_year_without_the_family():
    years = np.array([0, 2])
    apart = (KeepApart("family", np.array([True, True]), np.array([1, 2])),)
    problem = two_beds(
        starts=np.array([0, 730]), ends=np.array([50, 780]), years=years, apart=apart
    )

    found = solve(problem, _EXACT)

    # One full year away is kept by years 0 and 2, two are not.
    assert found.chosen.tolist() == [[True, True], [False, True]]


def test_a_required_wish_is_met_at_a_loss():
    wish = Wish("both early", np.array([[1.0, 0.0], [1.0, 0.0]]), 2.0, np.inf, 0.0, True)

    found = solve(two_beds(wishes=(wish,)), _EXACT)

    assert found.chosen[:, 0].all()
    assert found.objective == 2.0


def test_a_wish_of_too_little_weight_stays_short():
    wish = Wish("both early", np.array([[1.0, 0.0], [1.0, 0.0]]), 2.0, np.inf, 1.5, False)

    found = solve(two_beds(wishes=(wish,)), _EXACT)

    assert found.objective == 3.0
    assert found.short.tolist() == [2.0]


def test_two_pins_on_one_bed_clash_and_a_third_wish_stays_out():
    pins = [np.zeros((2, 2)) for _ in range(3)]
    pins[0][0, 0] = pins[1][0, 1] = pins[2][1, 1] = 1.0
    wishes = tuple(Wish(f"pin {n}", a, 1.0, np.inf, 0.0, True) for n, a in enumerate(pins))

    found = clash(two_beds(wishes=wishes), SolveLimits())

    assert found.wishes == (0, 1)
    assert [(each.possible, each.objective) for each in found.given_up] == [(0.0, 6.0), (0.0, 4.0)]


def test_a_garden_without_beds_or_options_has_an_empty_plan():
    nothing = np.zeros((0, 2))
    apart = (KeepApart("family", np.array([True, True]), np.zeros(0, dtype=int)),)
    no_beds = two_beds(allowed=nothing > 0, worth=nothing, apart=apart, nearness=None)
    barred = two_beds(allowed=np.zeros((2, 2), dtype=bool))

    assert solve(no_beds).objective == 0.0
    assert solve(barred).objective == 0.0


@pytest.mark.usefixtures("always_searched")
@pytest.mark.parametrize("seed", range(3))
def test_the_same_garden_gets_the_same_plan(seed):
    limits = SolveLimits(gap=0.0, nodes=40)

    one, other = (solve(medium(seed + 100), limits) for _ in range(2))

    assert one.repeatable
    assert (one.objective, one.bound) == (other.objective, other.bound)
    assert (one.chosen == other.chosen).all()


@pytest.mark.parametrize(
    ("changes", "said"),
    [
        ({"ends": np.array([0, 150])}, "option 0 ends at or before its start"),
        ({"worth": np.ones((2, 3))}, "worth has shape"),
        ({"worth": np.full((2, 2), np.nan)}, "worth holds a value"),
        ({"beside": ((0, 2),)}, "beside names"),
        ({"crop": None}, "nearness needs"),
        ({"wishes": (Wish("w", -np.ones((2, 2)), 1, 2, 0, True),)}, "amount of w is below 0"),
        ({"wishes": (Wish("w", np.ones((2, 2)), 3, 2, 0, True),)}, "w wants 3 and at most 2"),
    ],
)
def test_a_wrong_number_is_named(changes, said):
    with pytest.raises(ValueError, match=said):
        two_beds(**changes)
