"""Frost finds plants that are up, and a cover takes degrees off it while it lies."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from bedwright.crops.frost_damage import Cover, FrostAhead, frost_kill_share, frost_nights

nights = st.lists(st.floats(-8, 8), min_size=1, max_size=50)


def test_28_f_recorded_in_tenths_of_a_degree_is_28_f():
    assert frost_nights(np.array([-2.2, -2.1]), (28 - 32) / 1.8).tolist() == [True, False]


def test_an_unknown_night_or_limit_is_no_frost():
    assert not frost_nights(np.array([np.nan]), 0.0).any()
    assert not frost_nights(np.array([-20.0]), np.nan).any()


@given(nights, st.floats(-4, 2), st.floats(0, 6), st.integers(0, 49), st.integers(0, 60))
def test_a_cover_never_brings_the_killing_night_forward(t_min, limit, protection, start, off):
    t_min = np.array(t_min)
    exposed, cover_off = np.array([float(start)]), np.array([float(max(start, off))])
    bare = FrostAhead.of(t_min, limit, 0.0).first(exposed, cover_off)
    covered = FrostAhead.of(t_min, limit, protection).first(exposed, cover_off)

    assert covered >= bare


def test_the_cover_helps_until_it_comes_off():
    t_min = np.array([5.0, -1.0, 5.0, -1.0, 5.0])
    ahead = FrostAhead.of(t_min, 0.0, 2.0)

    assert ahead.first(np.array([0.0]), np.array([2.0])) == 3
    assert ahead.first(np.array([0.0]), np.array([1.0])) == 1
    assert ahead.first(np.array([0.0]), np.array([5.0])) == 5  # no killing night in the record
    assert ahead.first(np.array([np.nan]), np.array([np.nan])) == 5  # never up, never killed


def test_a_night_too_cold_for_the_cover_kills_under_it():
    ahead = FrostAhead.of(np.array([5.0, -1.0, -4.0, 5.0]), 0.0, 2.0)

    assert ahead.first(np.array([0.0]), np.array([4.0])) == 2


@given(st.floats(-5, 5), st.floats(0, 4))
def test_more_protection_never_raises_the_chance_of_a_kill(t_min, protection):
    bare = frost_kill_share(t_min, -0.6, 0.6, 0.0)

    assert frost_kill_share(t_min, -0.6, 0.6, protection) <= bare


def test_a_cover_with_less_than_no_protection_is_refused():
    with pytest.raises(ValueError, match="frost_k is -1"):
        Cover(frost_k=-1)
    with pytest.raises(ValueError, match="hot_days"):
        Cover(hot_days=0)
    with pytest.raises(ValueError, match="kill_high must be above kill_low"):
        frost_kill_share(0.0, 1.0, 1.0, 0.0)
