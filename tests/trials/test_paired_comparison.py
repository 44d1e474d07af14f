"""Two ways side by side: what the pairs say."""

import itertools

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy import stats

from bedwright.trials.paired import compare_pairs, sign_flip_p

READING = st.floats(0.1, 100, allow_nan=False).map(lambda x: round(x, 2))
PAIRS = st.lists(st.tuples(READING, READING), min_size=2, max_size=12).filter(
    lambda pairs: len({round(a - b, 6) for a, b in pairs}) > 1
)


@given(PAIRS)
def test_the_paired_t_is_that_of_a_statistics_library(pairs):
    first, second = zip(*pairs, strict=True)

    found = compare_pairs(first, second, confidence=0.9)

    theirs = stats.ttest_rel(first, second)
    assert (found.t, found.p) == pytest.approx((theirs.statistic, theirs.pvalue), rel=1e-9)
    interval = theirs.confidence_interval(0.9)
    assert found.interval == pytest.approx((interval.low, interval.high), rel=1e-7, abs=1e-9)


@given(PAIRS)
def test_the_randomisation_test_counts_every_way_the_signs_could_fall(pairs):
    differences = [round(a - b, 2) for a, b in pairs]

    seen = abs(sum(differences)) - 1e-6
    signs = list(itertools.product((-1, 1), repeat=len(differences)))
    far = sum(
        abs(sum(s * d for s, d in zip(each, differences, strict=True))) >= seen for each in signs
    )
    assert sign_flip_p(differences) == pytest.approx(min(1.0, far / len(signs)))


@given(PAIRS)
def test_naming_the_ways_the_other_way_round_turns_the_sign_and_nothing_else(pairs):
    first, second = zip(*pairs, strict=True)

    one, other = compare_pairs(first, second), compare_pairs(second, first)

    assert (one.mean, one.p, one.p_signs) == pytest.approx((-other.mean, other.p, other.p_signs))


def test_fewer_than_six_pairs_can_never_reach_five_in_a_hundred_by_signs_alone():
    least = {n: sign_flip_p(np.arange(1, n + 1)) for n in (4, 5, 6)}

    assert least == {4: 0.125, 5: 0.0625, 6: 0.03125}


def test_forty_pairs_are_counted_as_exactly_as_six():
    assert sign_flip_p(np.ones(40)) == pytest.approx(2 / 2**40)


@pytest.mark.parametrize(
    ("first", "second", "words"),
    [
        ([1, 2, 3], [1, 2], "each pair needs both"),
        ([1], [2], "one pair shows no spread"),
        ([1, 2], [0, 1], "no spread to judge"),
        ([1, float("nan")], [0, 2], "missing or not finite"),
    ],
)
def test_what_cannot_be_compared_is_told(first, second, words):
    with pytest.raises(ValueError, match=words):
        compare_pairs(first, second)
