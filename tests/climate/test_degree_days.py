"""Degree days: what rises, what falls, which method counts more, and what stays unknown."""

from __future__ import annotations

from itertools import pairwise

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from bedwright.climate.degree_days import (
    CutOff,
    Method,
    degree_days,
    heat_units_reduced_ceiling,
    next_minimum,
)

LOWS, RANGES, LIMITS = st.floats(-30, 35), st.floats(0, 30), st.floats(-5, 25)
METHODS = st.sampled_from(Method)
SLACK = 1e-9


def counted(low: float, spread: float, lower: float, method: Method, **more) -> float:
    return float(
        degree_days(low + spread, low, lower_c=lower, method=method, t_min_next_c=low, **more)
    )


@given(low=LOWS, spread=RANGES, lower=LIMITS, more=st.floats(0, 10), method=METHODS)
def test_a_higher_base_never_counts_more(low, spread, lower, more, method):
    assert counted(low, spread, lower + more, method) <= counted(low, spread, lower, method) + SLACK


@given(low=LOWS, spread=RANGES, lower=LIMITS, more=st.floats(0, 10), method=METHODS)
def test_a_warmer_day_never_counts_less(low, spread, lower, more, method):
    for upper in (None, lower + 15):
        cool = counted(low, spread, lower, method, upper_c=upper)
        assert counted(low + more, spread, lower, method, upper_c=upper) >= cool - SLACK


@given(low=LOWS, spread=RANGES, lower=LIMITS)
def test_without_an_upper_limit_the_methods_stand_in_one_order(low, spread, lower):
    """Clipped extremes count most, then the sine, the triangle, and the clipped mean."""
    order = (Method.AVERAGE_CLIPPED, Method.SINE, Method.TRIANGLE, Method.AVERAGE)
    found = [counted(low, spread, lower, method) for method in order]

    assert all(more >= less - SLACK for more, less in pairwise(found))


@given(low=LOWS, spread=RANGES, above=st.floats(0, 20), method=METHODS)
def test_where_the_whole_day_is_above_the_base_all_methods_agree(low, spread, above, method):
    assert counted(low, spread, low - above, method) == pytest.approx(spread / 2 + above, abs=1e-6)


@given(low=LOWS, spread=RANGES, above=st.floats(0, 20), method=METHODS)
def test_where_the_whole_day_is_below_the_base_nothing_counts(low, spread, above, method):
    assert counted(low, spread, low + spread + above, method) == pytest.approx(0, abs=SLACK)


@given(
    low=LOWS, spread=RANGES, lower=LIMITS, room=st.floats(1, 30),
    method=st.sampled_from([Method.SINE, Method.TRIANGLE, Method.DOUBLE_SINE]),
)  # fmt: skip
def test_the_cut_offs_stand_in_one_order(low, spread, lower, room, method):
    none, level, less, gone = (
        counted(low, spread, lower, method, **more)
        for more in (
            {},
            {"upper_c": lower + room, "cut_off": CutOff.HORIZONTAL},
            {"upper_c": lower + room, "cut_off": CutOff.INTERMEDIATE},
            {"upper_c": lower + room, "cut_off": CutOff.VERTICAL},
        )
    )

    assert none >= level - SLACK
    assert level >= less - SLACK
    assert level >= gone - SLACK >= -2 * SLACK


@given(low=LOWS, spread=RANGES, lower=LIMITS, room=st.floats(1, 30), method=METHODS)
def test_a_day_counts_at_most_the_room_between_the_limits(low, spread, lower, room, method):
    found = counted(low, spread, lower, method, upper_c=lower + room)

    assert -SLACK <= found <= room + SLACK


@given(low=LOWS, spread=st.floats(0.1, 30), lower=LIMITS, room=st.floats(1, 30))
def test_the_sine_is_what_a_fine_sum_over_the_day_gives(low, spread, lower, room):
    day = low + spread / 2 * (1 + np.sin(2 * np.pi * (np.arange(20_000) + 0.5) / 20_000))
    upper = lower + room
    sums = {
        CutOff.HORIZONTAL: np.clip(day, lower, upper) - lower,
        CutOff.INTERMEDIATE: np.clip(day, lower, upper) - lower - np.maximum(day - upper, 0),
        CutOff.VERTICAL: np.where(day > upper, 0, np.maximum(day - lower, 0)),
    }
    for cut, values in sums.items():
        found = counted(low, spread, lower, Method.SINE, upper_c=upper, cut_off=cut)
        assert found == pytest.approx(values.mean(), abs=0.01)


@given(low=LOWS, spread=RANGES, lower=LIMITS, after=st.floats(-10, 10))
def test_a_double_method_is_the_mean_of_two_half_days(low, spread, lower, after):
    high = low + spread
    following = min(low + after, high)
    for double, single in (("double_sine", "sine"), ("double_triangle", "triangle")):
        both = degree_days(high, low, lower_c=lower, method=double, t_min_next_c=following)
        first = degree_days(high, low, lower_c=lower, method=single)
        second = degree_days(high, following, lower_c=lower, method=single)
        assert both == pytest.approx((first + second) / 2)


def test_years_and_days_keep_their_shape():
    low = np.arange(12.0).reshape(3, 4)

    assert degree_days(low + 10, low, lower_c=8, method="sine").shape == (3, 4)


def test_the_next_minimum_of_the_last_day_is_not_known():
    found = next_minimum(np.array([[1.0, 2.0, 3.0], [4.0, 5.0, 6.0]]))

    assert found[:, :2].tolist() == [[2, 3], [5, 6]]
    assert np.isnan(found[:, 2]).all()


@pytest.mark.parametrize(
    ("method", "cut_off"),
    [
        (method, cut)
        for method in Method
        for cut in CutOff
        if cut is CutOff.HORIZONTAL or not method.startswith("average")
    ],
)
def test_a_missing_day_stays_missing_and_is_not_zero(method: Method, cut_off: CutOff):
    low = np.array([5.0, np.nan, 5.0])
    high = np.array([25.0, 25.0, np.nan])
    found = degree_days(
        high, low, lower_c=10, upper_c=20, method=method, cut_off=cut_off, t_min_next_c=low
    )

    assert np.isnan(found).tolist() == [False, True, True]


@pytest.mark.parametrize("spread", [0.0, 1e-12])
def test_a_day_without_a_range_counts_its_level(spread: float):
    for method in Method:
        for upper in (None, 18.0):
            found = counted(15, spread, 10, method, upper_c=upper)
            assert found == pytest.approx(5)
        assert counted(20, spread, 10, method, upper_c=18) == pytest.approx(8)


@given(high=st.floats(15.5, 48))
def test_the_reduced_ceiling_counts_the_same_at_equal_distance_from_it(high: float):
    mirrored = 64 - high
    found = [
        heat_units_reduced_ceiling(each, base_c=15.5, ceiling_c=32) for each in (high, mirrored)
    ]

    assert found[0] == pytest.approx(found[1], abs=1e-9)


@pytest.mark.parametrize(
    ("change", "message"),
    [({"t_min_c": 31}, "t_max_c lies 1 below t_min_c"), ({"upper_c": 5}, "upper_c is 5"),
     ({"method": "guess"}, "guess"), ({"cut_off": "diagonal"}, "diagonal"),
     ({"method": "double_sine"}, "needs t_min_next_c"),
     ({"method": "average", "upper_c": 30, "cut_off": "vertical"}, "only the horizontal")],
)  # fmt: skip
def test_what_cannot_be_is_refused_by_name(change: dict, message: str):
    with pytest.raises(ValueError, match=message):
        degree_days(**{"t_max_c": 30, "t_min_c": 10, "lower_c": 12} | change)


def test_a_ceiling_below_the_base_is_refused():
    with pytest.raises(ValueError, match="ceiling_c is 10"):
        heat_units_reduced_ceiling(30, base_c=15, ceiling_c=10)
