"""Chill, growing degree hours and hours of heat: what cold does, what warmth undoes."""

from __future__ import annotations

from functools import cache

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from bedwright.climate.chill import (
    DynamicConstants,
    chill_hours,
    chill_portions,
    chill_units_utah,
    dynamic_constants,
    growing_degree_hours,
    hours_above,
    hours_above_sine,
)
from bedwright.reference import Library

SEASONS = st.lists(st.floats(-15, 35), min_size=24, max_size=200).map(np.array)


@cache
def constants() -> DynamicConstants:
    return dynamic_constants(Library().rows("parameters"))


def test_at_a_steady_6_c_a_portion_is_fixed_every_28_hours():
    """The pace of the dynamic model near its best temperature, by its constants."""
    found = chill_portions(np.full(300, 6.0), constants())

    assert set(np.diff(np.flatnonzero(np.diff(found) > 0))) == {28}


@pytest.mark.parametrize("steady", [-5.0, 18.0, 25.0])
def test_neither_hard_frost_nor_warmth_fixes_a_portion(steady: float):
    assert chill_portions(np.full(500, steady), constants())[-1] < 0.01


@given(season=SEASONS)
def test_portions_once_fixed_are_never_lost(season: np.ndarray):
    assert np.all(np.diff(chill_portions(season, constants())) >= 0)


def test_a_warm_afternoon_undoes_chill_that_is_not_fixed_yet():
    cold = np.full(40, 6.0)
    warmed = cold.copy()
    warmed[18:26] = 24.0

    assert chill_portions(warmed, constants())[-1] < chill_portions(cold, constants())[-1]


def test_portions_of_many_seasons_are_those_of_each():
    dice = np.random.default_rng(3)
    seasons = dice.normal(8, 5, (4, 300))
    found = chill_portions(seasons, constants())

    for season, portions in zip(seasons, found, strict=True):
        assert portions == pytest.approx(chill_portions(season, constants()))


def test_from_a_missing_hour_on_the_portions_are_not_known():
    season = np.full(100, 6.0)
    season[60] = np.nan
    found = chill_portions(season, constants())

    assert not np.isnan(found[:60]).any()
    assert np.isnan(found[60:]).all()


@given(season=SEASONS)
def test_chill_hours_are_those_from_0_to_7_2_c(season: np.ndarray):
    assert chill_hours(season).sum() == sum(0 <= each <= 7.2 for each in season)


@pytest.mark.parametrize(
    ("temperature", "unit"),
    [(1.4, 0), (1.5, 0.5), (2.4, 0.5), (2.5, 1), (9.1, 1), (9.2, 0.5), (12.4, 0.5), (12.5, 0),
     (15.9, 0), (16.0, -0.5), (18.0, -0.5), (18.1, -1)],
)  # fmt: skip
def test_utah_units_change_at_their_limits(temperature: float, unit: float):
    assert chill_units_utah(temperature) == unit


@given(temperature=st.floats(-20, 25), more=st.floats(0, 5))
def test_warmth_up_to_25_c_counts_more_degree_hours(temperature: float, more: float):
    warmer = min(temperature + more, 25)

    assert growing_degree_hours(warmer) >= growing_degree_hours(temperature) - 1e-9


@given(temperature=st.floats(25, 50), more=st.floats(0, 5))
def test_heat_beyond_25_c_counts_fewer_degree_hours(temperature: float, more: float):
    assert growing_degree_hours(temperature + more) <= growing_degree_hours(temperature) + 1e-9


@given(low=st.floats(-10, 30), spread=st.floats(0.5, 25), limit=st.floats(-10, 55))
def test_hours_above_a_limit_are_those_counted_on_a_fine_sine(low, spread, limit):
    steps = 600
    turn = 2 * np.pi * (np.arange(24 * steps) + 0.5) / (24 * steps)
    day = low + spread / 2 * (1 + np.sin(turn))

    assert hours_above_sine(low + spread, low, limit) == pytest.approx(
        hours_above(day, limit, steps_per_hour=steps), abs=0.01
    )


def test_a_day_with_a_missing_hour_has_no_count():
    day = np.full((2, 24), 36.0)
    day[0, 3] = np.nan

    assert np.isnan(hours_above(day, 35.0)[0])
    assert hours_above(day, 35.0)[1] == 24


@pytest.mark.parametrize("count", [chill_hours, chill_units_utah, growing_degree_hours])
def test_a_missing_hour_is_not_zero(count):
    assert np.isnan(count(np.array([np.nan]))).all()


@pytest.mark.parametrize("count", [chill_hours, chill_units_utah, growing_degree_hours])
def test_degrees_fahrenheit_by_mistake_are_refused(count):
    with pytest.raises(ValueError, match="temperature_c"):
        count(np.array([32.0, 95.0]))


def test_a_table_without_the_constants_is_refused():
    with pytest.raises(LookupError, match="chill_dynamic_e0"):
        dynamic_constants([])
