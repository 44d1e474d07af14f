"""Trials in blocks, and laying a comparison out."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from bedwright.trials.blocks import compare_in_blocks
from bedwright.trials.design import drawn_order, pairs_needed, power_of_pairs
from bedwright.trials.paired import compare_pairs


@given(
    st.lists(st.tuples(st.integers(1, 99), st.integers(1, 99)), min_size=3, max_size=9).filter(
        lambda pairs: len({a - b for a, b in pairs}) > 1
    )
)
def test_two_treatments_in_blocks_are_a_paired_comparison(pairs):
    readings = np.array(pairs, dtype=float)

    blocks = compare_in_blocks(readings)
    paired = compare_pairs(readings[:, 0], readings[:, 1])

    assert blocks.f == pytest.approx(paired.t**2, rel=1e-9, abs=1e-12)
    assert blocks.p == pytest.approx(paired.p, rel=1e-7)
    assert blocks.least == pytest.approx(paired.least)


def test_a_block_that_is_richer_than_the_others_does_not_blur_the_treatments():
    readings = np.array([[3.0, 4.1, 5.0], [3.2, 4.0, 5.3], [2.9, 4.2, 5.1]])

    plain = compare_in_blocks(readings)
    lifted = compare_in_blocks(readings + np.array([[0.0], [20.0], [-1.0]]))

    assert (lifted.f, lifted.least) == pytest.approx((plain.f, plain.least))


@pytest.mark.parametrize("readings", [[[1.0, 2.0]], [[1.0, float("nan")], [2.0, 3.0]]])
def test_an_incomplete_trial_is_refused(readings):
    with pytest.raises(ValueError):
        compare_in_blocks(readings)


def test_more_pairs_show_more():
    power = [power_of_pairs(n, 0.1, 0.08) for n in range(2, 40)]

    assert power == sorted(power)
    assert 0 < power[0] < power[-1] < 1


def test_power_is_the_share_of_drawn_trials_that_show_the_difference():
    generator, pairs, trials = np.random.default_rng(7), 6, 4000
    first = generator.normal(1.15, 0.1, (trials, pairs))
    second = generator.normal(1.0, 0.1, (trials, pairs))

    shown = np.mean(
        [compare_pairs(a, b).p < 0.05 for a, b in zip(first[:1000], second[:1000], strict=True)]
    )

    assert shown == pytest.approx(power_of_pairs(pairs, 0.15, 0.1), abs=0.04)


def test_a_difference_too_small_for_any_garden_has_no_number_of_pairs():
    assert pairs_needed(0.001, 0.3) is None


@given(st.integers(2, 12), st.integers(2, 6), st.integers(0, 2**32))
def test_each_block_holds_each_treatment_once_and_is_drawn_again_alike(blocks, treatments, seed):
    order = drawn_order(blocks, treatments, seed)

    assert (np.sort(order, axis=1) == np.arange(treatments)).all()
    assert (order == drawn_order(blocks, treatments, seed)).all()


def test_every_order_of_two_comes_about_as_often():
    order = drawn_order(100, 2, 1)

    assert 35 <= (order[:, 0] == 0).sum() <= 65
