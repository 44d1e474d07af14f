"""A stage is reached on the day on which its heat is together."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from bedwright.crops.stages import (
    day_reached,
    degree_days_held,
    heat_of_days_to_maturity,
    next_day,
    running_total,
    sum_between,
)

daily = st.lists(st.integers(0, 12), min_size=1, max_size=60)


@given(daily, st.integers(0, 59), st.integers(0, 200))
def test_the_day_reached_is_the_first_whose_sum_is_enough(heat, start, required):
    reached = day_reached(running_total(np.array(heat, float)), start, required)

    sums = np.cumsum(heat[start:]) if start < len(heat) else []
    enough = [start + at for at, total in enumerate(sums) if total >= required]
    assert (enough[0] if enough else None) == (None if np.isnan(reached) else int(reached))


def test_nothing_required_is_reached_on_the_day_itself_even_after_days_without_heat():
    assert day_reached(running_total(np.array([0.0, 0.0, 0.0, 5.0])), 2, 0.0) == 2


def test_a_start_outside_the_record_reaches_nothing():
    total = running_total(np.ones(5))

    assert np.isnan(day_reached(total, np.array([-1.0, 5.0, np.nan]), 1.0)).all()


def test_days_without_a_reading_add_no_heat():
    assert running_total(np.array([1.0, np.nan, 2.0])).tolist() == [0, 1, 1, 3]


def test_a_sum_stays_inside_the_record_and_is_none_backward():
    total = running_total(np.ones(5))

    assert sum_between(total, [-3, 2, 4], [2, 99, 1]).tolist() == [2, 3, 0]
    assert np.isnan(sum_between(total, np.nan, 3))


@given(st.lists(st.booleans(), min_size=1, max_size=40))
def test_the_next_flagged_day_is_the_nearest_ahead(flags):
    ahead = next_day(np.array(flags))

    for day in range(len(flags) + 1):
        rest = [at for at in range(day, len(flags)) if flags[at]]
        assert ahead[day] == (rest[0] if rest else len(flags))


def test_a_day_colder_than_the_base_gives_no_heat_and_a_hot_one_no_more_than_the_limit():
    assert degree_days_held(8.0, -2.0, 10.0, 30.0) == 0
    assert degree_days_held(45.0, 32.0, 10.0, 30.0) == 20


@given(st.floats(-10, 40), st.floats(0, 20), st.floats(0, 10), st.floats(0, 10))
def test_a_warmer_day_never_gives_less_heat(t_min, width, more_by_day, more_by_night):
    bare = degree_days_held(t_min + width, t_min, 10.0, 30.0)

    assert degree_days_held(t_min + width + more_by_day, t_min + more_by_night, 10.0, 30.0) >= bare


def test_an_upper_limit_at_the_base_is_refused():
    with pytest.raises(ValueError, match="upper must be above base"):
        degree_days_held(20.0, 10.0, 10.0, 10.0)


def test_days_that_hold_at_the_base_temperature_are_refused():
    with pytest.raises(ValueError, match="mean_temperature must be above base"):
        heat_of_days_to_maturity(70, 10.0, 10.0)
    with pytest.raises(ValueError, match="days is -1"):
        heat_of_days_to_maturity(-1, 20.0, 10.0)
