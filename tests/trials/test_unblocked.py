"""Ways drawn over whole beds without blocks."""

import itertools

import numpy as np
import pytest
from hypothesis import example, given
from hypothesis import strategies as st
from scipy import stats

from bedwright.trials.design import power_of_contrast
from bedwright.trials.shown import contrast_shown
from bedwright.trials.unblocked import (
    compare_groups,
    drawn_over,
    least_p_of_groups,
    randomised_groups,
)

READING = st.floats(0.1, 100, allow_nan=False).map(lambda x: round(x, 2))
GROUP = st.lists(READING, min_size=2, max_size=7).filter(lambda values: len(set(values)) > 1)


@given(GROUP, GROUP)
def test_the_pooled_t_is_that_of_a_statistics_library(first, second):
    found = compare_groups([first, second], level=0.1)

    theirs = stats.ttest_ind(first, second)
    assert (found.t, found.p) == pytest.approx((theirs.statistic, theirs.pvalue), rel=1e-6)
    interval = theirs.confidence_interval(0.9)
    assert found.interval == pytest.approx((interval.low, interval.high), rel=1e-7, abs=1e-9)
    assert found.f == pytest.approx(found.t**2)


@given(st.lists(GROUP, min_size=3, max_size=5))
@example([[1.0, 1.0, 1.0, 8.62]] * 3)
@example([[1.0, 1.0, 1.0, 1.0, 32.0, 93.0]] * 3)
def test_the_one_way_analysis_is_that_of_a_statistics_library(groups):
    found = compare_groups(groups)

    theirs = stats.f_oneway(*groups)
    if theirs.statistic < 0:  # of ways all alike its rounding leaves no F, and no p
        assert (found.f, found.p) == pytest.approx((0.0, 1.0), abs=1e-9)
    else:
        assert (found.f, found.p) == pytest.approx((theirs.statistic, theirs.pvalue), rel=1e-6)
    spreads = stats.bartlett(*groups).pvalue
    assert found.p_spreads == pytest.approx(1.0 if np.isnan(spreads) else spreads)


def test_two_means_of_many_beds_differ_at_less_than_those_of_few():
    groups = [[1.0, 2.0], [2.0, 4.0, 3.0, 5.0], [2.5, 3.5, 6.0, 1.0]]

    found = compare_groups(groups, level=0.05)

    # by hand: t(0.975, 7) = 2.3646, error = (0.5 + 5 + 13.25)/7
    assert found.error == pytest.approx((0.5 + 5 + 13.25) / 7)
    assert found.least[1, 2] == pytest.approx(2.364624 * (found.error * 2 / 4) ** 0.5)
    assert found.least[0, 1] == pytest.approx(2.364624 * (found.error * 3 / 4) ** 0.5)
    assert (found.least == found.least.T).all() and not np.diag(found.least).any()


@given(
    st.lists(st.lists(st.integers(0, 20), min_size=1, max_size=3), min_size=2, max_size=3).filter(
        lambda groups: len(set(itertools.chain(*groups))) > 1
    )
)
@example([[0, 0, 10], [0, 0, 10], [0, 3, 7]])  # means alike: none lies less far apart
def test_every_way_of_sharing_out_the_beds_is_counted(groups):
    pooled = np.array(list(itertools.chain(*groups)), dtype=float)
    sizes = [len(each) for each in groups]
    names = np.repeat(np.arange(len(groups)), sizes)

    def apart(labels) -> float:
        labels = np.array(labels)
        return sum(
            pooled[labels == at].sum() ** 2 / size for at, size in enumerate(sizes)
        )  # the mean of all counts alike in each

    every = [apart(each) for each in set(itertools.permutations(names.tolist()))]

    found = randomised_groups([np.array(each, dtype=float) for each in groups])

    assert (found.exact, found.arrangements) == (True, len(every))
    assert found.p == pytest.approx(np.mean([each >= apart(names) - 1e-7 for each in every]))


def test_the_randomisation_test_of_two_agrees_with_a_statistics_library():
    first, second = np.array([14.2, 15.1, 13.8, 16.0]), np.array([13.1, 14.6, 13.0, 14.7, 14.8])

    theirs = stats.permutation_test(
        (first, second), lambda a, b: abs(a.mean() - b.mean()), n_resamples=np.inf,
        alternative="greater", vectorized=False,
    )  # fmt: skip

    assert randomised_groups([first, second]).p == pytest.approx(theirs.pvalue)


def test_more_divisions_than_can_be_counted_are_drawn_alike_from_one_seed():
    generator = np.random.default_rng(3)
    groups = [generator.normal(mean, 1, 12) for mean in (10, 10.8)]

    one, again = (randomised_groups(groups, seed=5) for _ in range(2))

    assert one == again and not one.exact
    assert one.p == pytest.approx(compare_groups(groups).p, abs=0.02)


@pytest.mark.parametrize(
    ("counts", "least"), [((3, 3), 2 / 20), ((4, 4), 2 / 70), ((2, 5), 1 / 21), ((2, 2, 2), 6 / 90)]
)
def test_the_least_p_of_beds_is_that_of_ways_quite_apart(counts, least):
    groups = [[100.0 * 3**at + n for n in range(size)] for at, size in enumerate(counts)]

    assert least_p_of_groups(counts) == pytest.approx(least)
    assert randomised_groups(groups).p == pytest.approx(least)


@given(st.lists(st.integers(1, 9), min_size=2, max_size=8), st.integers(0, 2**32 - 1))
def test_each_way_gets_as_many_beds_as_were_asked_for(counts, seed):
    drawn = drawn_over(counts, seed)

    assert np.bincount(drawn, minlength=len(counts)).tolist() == counts
    assert (drawn == drawn_over(counts, seed)).all()


def test_each_bed_gets_each_way_about_as_often():
    drawn = np.array([drawn_over((2, 4), seed) for seed in range(600)])

    assert (drawn == 0).mean(axis=0) == pytest.approx(1 / 3, abs=0.07)


def test_the_power_of_two_groups_is_the_share_of_drawn_trials_that_show_the_difference():
    generator, trials = np.random.default_rng(7), 600
    shown = np.mean(
        [
            compare_groups([generator.normal(1.15, 0.1, 6), generator.normal(1, 0.1, 4)]).p < 0.05
            for _ in range(trials)
        ]
    )

    assert shown == pytest.approx(
        power_of_contrast(0.15, 0.1 * (1 / 6 + 1 / 4) ** 0.5, 8), abs=0.05
    )
    found = contrast_shown(0.1, 8)
    assert power_of_contrast(found, 0.1, 8) == pytest.approx(0.8, abs=1e-6)


@pytest.mark.parametrize(
    ("groups", "words"),
    [
        ([[1, 2]], "2 ways or more"),
        ([[1, 2], []], "1 reading or more"),
        ([[1], [2]], "leave no error"),
        ([[1, 1], [2, 2]], "no error to judge"),
        ([[1, float("nan")], [2, 3]], "missing or not finite"),
    ],
)
def test_what_cannot_be_judged_is_told(groups, words):
    with pytest.raises(ValueError, match=words):
        compare_groups(groups)
