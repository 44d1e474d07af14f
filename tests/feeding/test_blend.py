"""The blend keeps what it promises, is the cheapest, and names what it cannot keep."""

import dataclasses

import numpy as np
import pytest
from blend_cases import Case, brute_force, burden, cases, faults_of
from hypothesis import assume, given
from hypothesis import strategies as st

from bedwright.feeding.blend import Blend, Candidates, Demand, blend

ROUNDING = 2e-6  # the program stops within a millionth of the best, and so does its LP


def solve(case: Case) -> Blend:
    return blend(case.candidates, case.demands, case.most_materials)


def bags(*cost: float, most: float = 4.0, least: float = 0.0, later: bool = False) -> Candidates:
    n = len(cost)
    keys = tuple(f"bag {at}" for at in range(n))
    return Candidates(
        keys, np.array(cost), np.full(n, most), np.full(n, least), np.full(n, later, dtype=bool)
    )


def need(key: str, *content: float, lower: float, upper: float | None = None) -> Demand:
    each = np.array(content)
    return Demand(key, "need", each, each, lower=lower, upper=upper)


def limit(key: str, *content: float, upper: float) -> Demand:
    each = np.array(content)
    return Demand(key, "limit", each, each, upper=upper)


@given(case=cases())
def test_no_blend_breaks_a_limit_or_misses_a_need_without_saying_so(case: Case):
    found = solve(case)

    assert faults_of(case, found) == []


@given(case=cases(most_candidates=6, can_be_met=False))
def test_demands_named_as_clashing_clash_by_themselves(case: Case):
    found = solve(case)
    assume(found.clash)

    assert solve(case.only(found.clash)).clash


@given(case=cases(most_candidates=4, can_be_met=False))
def test_a_clash_is_gone_when_any_one_of_its_demands_is_given_up(case: Case):
    found = solve(case)
    assume(found.clash)

    rest = [solve(case.only(found.clash).without(key)) for key in found.clash]
    assert [each.clash for each in rest] == [()] * len(rest)


@given(case=cases(most_candidates=3, most_later=2, most_demands=6))
def test_a_small_blend_costs_what_brute_force_finds(case: Case):
    best = brute_force(case)
    # On the edge of what fits, either answer is right.
    assume((brute_force(case, 1e-5) is None) == (brute_force(case, -1e-5) is None))

    found = solve(case)

    assert found.meets_everything == (best is not None)
    if best is not None:
        assert burden(case, found.preplant, found.later) == pytest.approx(best, rel=ROUNDING)


@given(case=cases(most_candidates=2, most_later=1, most_demands=6, can_be_met=False))
def test_a_small_clash_is_one_by_brute_force_too(case: Case):
    found = solve(case)
    assume(found.clash)
    clashing = case.only(found.clash)

    assert brute_force(clashing, -1e-6) is None
    for key in found.clash:
        assert brute_force(clashing.without(key), 1e-6) is not None


@given(
    case=cases(most_candidates=5, can_be_met=True), which=st.integers(0, 4), times=st.integers(2, 9)
)
def test_a_dearer_bag_never_makes_the_blend_cheaper(case: Case, which: int, times: int):
    cost = case.candidates.cost.copy()
    cost[which % len(cost)] *= times
    dearer = dataclasses.replace(case.candidates, cost=cost)

    before, after = solve(case), blend(dearer, case.demands, case.most_materials)
    rounding = 1e-5 * max(cost) * float(np.sum(after.preplant + after.later))

    assert before.meets_everything
    assert after.cost >= before.cost - rounding


@given(case=cases(most_candidates=5, can_be_met=True), share=st.integers(1, 90))
def test_asking_less_never_costs_more(case: Case, share: int):
    less = tuple(
        dataclasses.replace(
            each,
            lower=None if each.lower is None else each.lower * (1 - share / 100),
            upper=None if each.upper is None else each.upper * (1 + share / 100),
        )
        for each in case.demands
    )

    before, after = solve(case), blend(case.candidates, less, case.most_materials)
    rounding = 1e-5 * max(case.candidates.cost) * float(np.sum(before.preplant + before.later))

    assert before.meets_everything
    assert after.meets_everything
    assert after.cost <= before.cost + rounding


@given(case=cases(most_candidates=5, can_be_met=True))
def test_one_more_bag_allowed_never_costs_more(case: Case):
    before = solve(case)
    after = blend(case.candidates, case.demands, case.most_materials + 1)
    rounding = 1e-5 * max(case.candidates.cost) * float(np.sum(before.preplant + before.later))

    assert before.meets_everything
    assert after.cost <= before.cost + rounding


@given(case=cases(most_candidates=6))
def test_the_same_demands_give_the_same_blend_to_the_last_bit(case: Case):
    first, again = solve(case), solve(case)

    assert first.preplant.tobytes() == again.preplant.tobytes()
    assert first.later.tobytes() == again.later.tobytes()


@given(case=cases(most_candidates=6))
def test_the_order_of_the_bags_on_the_shelf_changes_no_cost(case: Case):
    turned = Case(
        dataclasses.replace(
            case.candidates,
            keys=case.candidates.keys[::-1],
            cost=case.candidates.cost[::-1],
            most=case.candidates.most[::-1],
            least=case.candidates.least[::-1],
            later=case.candidates.later[::-1],
        ),
        tuple(
            dataclasses.replace(each, preplant=each.preplant[::-1], later=each.later[::-1])
            for each in case.demands
        ),
        case.most_materials,
    )

    one, other = solve(case), solve(turned)

    assert bool(one.clash) == bool(other.clash)
    if not one.clash:
        assert burden(case, one.preplant, one.later) == pytest.approx(
            burden(turned, other.preplant, other.later), rel=1e-5, abs=1e-9
        )


def test_a_need_of_nitrogen_takes_so_many_pounds_of_the_cheaper_nitrogen():
    # 0.012 kg N/m2: 0.1 kg of a 12 % bag at 1.00, or 0.2 kg of a 6 % bag at 0.40.
    found = blend(bags(1.0, 0.4), (need("n", 0.12, 0.06, lower=0.012),), 2)

    assert found.preplant == pytest.approx([0.0, 0.2])
    assert found.cost == pytest.approx(0.08)


def test_equal_cost_gives_the_lighter_blend():
    found = blend(bags(1.0, 2.0), (need("n", 0.06, 0.12, lower=0.012),), 2)

    assert found.preplant + found.later == pytest.approx([0.0, 0.1])


def test_nothing_is_spread_where_nothing_is_asked():
    found = blend(bags(1.0, 1.0), (limit("salt", 0.3, 0.4, upper=0.01),), 3)

    assert (found.cost, found.clash) == (0.0, ())
    assert not found.preplant.any()


def test_what_may_go_on_later_is_only_what_is_fit_for_it():
    later_only = Demand("n_later", "need", np.zeros(2), np.array([0.2, 0.1]), lower=0.01)
    shed = dataclasses.replace(bags(1.0, 5.0), later=np.array([False, True]))

    found = blend(shed, (later_only,), 2)

    assert found.later == pytest.approx([0.0, 0.1])


def test_a_least_dose_is_given_whole_or_not_at_all():
    # 0.001 kg of the strong bag would do, but no hand spreads less than 0.01 kg of it.
    shed = dataclasses.replace(bags(1.0, 1.0), least=np.array([0.01, 0.0]))

    found = blend(shed, (need("n", 0.4, 0.04, lower=0.0004),), 1)

    assert found.preplant + found.later == pytest.approx([0.01, 0.0]) or (
        found.preplant + found.later == pytest.approx([0.0, 0.01])
    )
    assert found.supplied["n"] >= 0.0004 * (1 - 1e-6)


def test_one_bag_only_is_one_bag_only():
    demands = (need("n", 0.1, 0.0, lower=0.01), need("k", 0.0, 0.5, lower=0.01))

    alone, both = blend(bags(1.0, 1.0), demands, 1), blend(bags(1.0, 1.0), demands, 2)

    assert both.clash == ()
    assert set(alone.clash) == {"n", "k"}
    assert np.count_nonzero(alone.preplant + alone.later) <= 1


def test_a_salt_limit_wins_over_a_compost_wish_and_both_are_named():
    compost = Demand("compost_depth", "wish", np.ones(1), np.zeros(1), lower=20.0)
    shed = bags(0.1, most=250.0)

    found = blend(shed, (compost, limit("salt_ceiling", 0.01, upper=0.05)), 3)

    assert set(found.clash) == {"compost_depth", "salt_ceiling"}
    assert found.preplant + found.later == pytest.approx([5.0])
    assert found.shortfall == pytest.approx({"compost_depth": 15.0})


def test_the_price_of_a_need_is_what_one_unit_more_of_it_costs():
    demand = need("n", 0.12, lower=0.012)
    more = dataclasses.replace(demand, lower=0.013)

    found = blend(bags(2.4), (demand,), 1)
    step = blend(bags(2.4), (more,), 1).cost - found.cost

    assert found.prices["n"] == pytest.approx(step / 0.001, rel=1e-4)


def test_a_binding_ceiling_has_a_price_below_nothing():
    # The cheap bag alone would pass the ceiling for salt; the dear one makes up the rest.
    demands = (
        need("n", 0.1, 0.1, lower=0.01),
        limit("salt", 1.0, 0.1, upper=0.05),
    )

    found = blend(bags(1.0, 3.0), demands, 2)

    assert set(found.binding) == {"n", "salt"}
    assert found.prices["salt"] < 0 < found.prices["n"]


def test_an_empty_shed_says_which_need_it_leaves():
    found = blend(bags(), (need("n", lower=0.01),), 3)

    assert found.clash == ("n",)
    assert found.shortfall == {"n": 0.01}


def test_an_empty_shed_meets_a_bed_that_asks_for_nothing():
    found = blend(bags(), (limit("salt", upper=0.01),), 3)

    assert found.meets_everything
    assert not found.shortfall


@pytest.mark.parametrize(
    ("shed", "demands", "most", "words"),
    [
        (bags(1.0), (), 0, "most_materials"),
        (bags(-1.0), (), 1, "costs"),
        (bags(float("nan")), (), 1, "costs"),
        (bags(1.0), (need("n", 0.1, 0.2, lower=0.01),), 1, "n: contents"),
        (bags(1.0), (need("n", float("inf"), lower=0.01),), 1, "n: contents"),
        (bags(1.0), (need("n", 0.1, lower=0.02, upper=0.01),), 1, "above upper"),
    ],
)
def test_a_blend_of_nonsense_is_refused_by_name(shed, demands, most, words):
    with pytest.raises(ValueError, match=words):
        blend(shed, demands, most)


def test_a_limit_that_an_empty_bed_breaks_is_refused():
    wrong = Demand("salt", "limit", np.ones(1), np.ones(1), lower=0.1, upper=0.2)

    with pytest.raises(ValueError, match="salt: a limit with a lower bound"):
        blend(bags(1.0), (wrong,), 1)
