"""What so many blocks can show, the randomisation test of blocks, and own figures weighed."""

import itertools

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy import stats

from bedwright.trials.credibility import germination_weighed, own_weight, weighed
from bedwright.trials.design import pairs_needed, power_of_pairs
from bedwright.trials.paired import compare_pairs, sign_flip_p
from bedwright.trials.permuted import randomised_blocks
from bedwright.trials.shown import difference_shown, least_p_of_blocks, least_p_of_pairs


@given(st.integers(2, 40), st.floats(0.02, 0.3), st.sampled_from([0.05, 0.1, 0.2]))
def test_the_difference_shown_has_the_chance_that_was_asked_for(pairs, variation, level):
    found = difference_shown(pairs, variation, level=level)

    assert power_of_pairs(pairs, found, variation, level=level) == pytest.approx(0.8, abs=1e-6)


@pytest.mark.parametrize(("variation", "difference"), [(0.05, 0.10), (0.10, 0.20), (0.12, 0.20)])
def test_the_pairs_needed_show_the_difference_and_one_less_does_not(variation, difference):
    pairs = pairs_needed(difference, variation)

    assert difference_shown(pairs, variation) <= difference < difference_shown(pairs - 1, variation)


def test_the_least_p_of_pairs_is_that_of_differences_of_one_sign():
    for pairs in range(1, 10):
        assert least_p_of_pairs(pairs) == sign_flip_p(np.arange(1, pairs + 1))
        assert least_p_of_pairs(pairs) == least_p_of_blocks(pairs, 2)


@given(st.lists(st.lists(st.integers(0, 30), min_size=3, max_size=3), min_size=2, max_size=3))
def test_every_way_of_laying_three_treatments_is_counted(blocks):
    values = np.array(blocks, dtype=float)
    seen = (values.sum(axis=0) ** 2).sum()
    orders = itertools.product(itertools.permutations(range(3)), repeat=len(blocks))
    sums = [
        (sum(row[list(o)] for row, o in zip(values, each, strict=True)) ** 2).sum()
        for each in orders
    ]

    found = randomised_blocks(values)

    assert found.exact
    assert found.p == pytest.approx(np.mean([each >= seen - 1e-9 for each in sums]))


def test_two_treatments_in_blocks_have_the_p_of_the_signs():
    values = np.array([[14.2, 13.1], [15.1, 14.6], [13.8, 13.0], [16.0, 14.7], [14.9, 15.8]])

    assert randomised_blocks(values).p == pytest.approx(sign_flip_p(values[:, 0] - values[:, 1]))


def test_the_randomisation_test_of_blocks_agrees_with_a_statistics_library():
    """scipy.stats.permutation_test with samples paired within blocks."""
    values = np.array([[2.1, 3.2, 4.0], [2.8, 2.9, 3.6], [2.7, 3.1, 2.6], [2.9, 2.2, 3.8]])

    def between(*blocks):
        return float((np.stack(blocks).sum(axis=0) ** 2).sum())

    theirs = stats.permutation_test(
        list(values), between, permutation_type="pairings", n_resamples=np.inf,
        alternative="greater", vectorized=False,
    )  # fmt: skip

    assert randomised_blocks(values).p == pytest.approx(theirs.pvalue)


def test_more_arrangements_than_can_be_counted_are_drawn_alike_from_one_seed():
    values = np.random.default_rng(3).normal(10, 1, (9, 4)) + np.array([0, 0.5, 0, 0])

    one, again = (randomised_blocks(values, seed=5) for _ in range(2))

    assert one == again and not one.exact
    total = values - values.mean(axis=1, keepdims=True)
    f = stats.f_oneway(*total.T).pvalue  # the same order of size as the F of blocks
    assert abs(np.log10(one.p / f)) < 0.7


def test_the_interval_covers_the_truth_as_often_as_it_says():
    generator, truth = np.random.default_rng(11), 0.7
    covered = 0
    for _ in range(600):
        level = generator.normal(0, 3, 6)  # blocks differ; within them the ways differ by 0.7
        first, second = (level + generator.normal(mean, 1, 6) for mean in (truth, 0.0))
        low, high = compare_pairs(first, second, confidence=0.9).interval
        covered += low <= truth <= high

    assert covered / 600 == pytest.approx(0.9, abs=0.03)


def test_nothing_done_is_called_something_no_oftener_than_the_level():
    generator = np.random.default_rng(13)
    called = [randomised_blocks(generator.normal(0, 1, (4, 3))).p <= 0.1 for _ in range(400)]

    assert np.mean(called) == pytest.approx(0.1, abs=0.04)


@given(st.integers(0, 50), st.floats(0.1, 20), st.floats(0, 10), st.floats(0, 10))
def test_own_figures_lie_between_and_gain_weight_with_each_season(seasons, counts, own, table):
    weight = own_weight(seasons, counts)

    assert own_weight(seasons + 1, counts) > weight
    found = weighed(own, table, weight)
    assert min(own, table) - 1e-9 <= found <= max(own, table) + 1e-9


def test_the_credibility_weight_is_that_of_the_best_linear_estimate():
    """Among a x mean + (1 - a) x table the weight n/(n + k) errs least, k = within / between:
    seen on drawn gardens whose truths vary by 1 about the table and seasons by 2 about these."""
    generator, seasons, gardens = np.random.default_rng(5), 3, 200_000
    truth = generator.normal(10, 1, gardens)
    mean = truth + generator.normal(0, 2 / np.sqrt(seasons), gardens)
    shares = np.linspace(0, 1, 101)
    errors = [np.mean((share * mean + (1 - share) * 10 - truth) ** 2) for share in shares]

    assert shares[int(np.argmin(errors))] == pytest.approx(own_weight(seasons, 2**2), abs=0.02)


def test_germination_is_the_mean_of_the_beta_that_the_counts_leave():
    table, counts = 0.75, 50
    beta = stats.beta(table * counts + 41, (1 - table) * counts + 9)

    assert germination_weighed(41, 50, table, counts) == pytest.approx(beta.mean())
    with pytest.raises(ValueError, match="came up of"):
        germination_weighed(51, 50, table, counts)


def test_ways_of_one_mean_lie_no_farther_apart_than_any_other_order():
    values = np.array([[0.1, 0.7, 1.3], [1.3, 0.1, 0.7], [0.7, 1.3, 0.1]])

    assert randomised_blocks(values).p == 1.0
