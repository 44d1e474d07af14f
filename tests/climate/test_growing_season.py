"""The season without a freeze and the thermal season, with gaps and leap days told apart."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from bedwright.climate.growing_season import (
    GrowingSeason,
    longest_run_without_freeze,
    thermal_season,
)

LEAP = 59


def minima(freezes: list[int], days: int = 365) -> np.ndarray:
    found = np.full(days, 8.0)
    found[freezes] = -1.0
    return found


def only(season: GrowingSeason) -> tuple[float, float, float]:
    return float(season.first_day[0]), float(season.last_day[0]), float(season.length_d[0])


def warmth(day: np.ndarray) -> np.ndarray:
    return 10 - 15 * np.cos(2 * np.pi * (day - 15) / 365)


def thermal(means: np.ndarray, **more: int) -> GrowingSeason:
    return thermal_season(means, base_c=5, run_days=6, middle_column=182, **more)


def test_the_season_lies_between_the_last_and_the_first_freeze():
    assert only(longest_run_without_freeze(minima([0, 40, 100, 280, 300]))) == (101, 279, 179)


def test_a_minimum_at_the_threshold_is_a_freeze():
    days = minima([])
    days[200] = 0.0

    assert only(longest_run_without_freeze(days)) == (0, 199, 200)


def test_of_two_equal_runs_the_first_is_taken():
    assert only(longest_run_without_freeze(minima([3], days=7))) == (0, 2, 3)


def test_a_place_without_freezes_has_the_whole_year_and_one_of_ice_has_none():
    found = longest_run_without_freeze(np.stack([minima([]), minima(list(range(365)))]))

    assert found.length_d.tolist() == [365, 0]
    assert found.first_day[0] == 0
    assert np.isnan(found.first_day[1]) and np.isnan(found.last_day[1])


def test_a_gap_in_the_season_leaves_it_unknown_and_one_in_winter_does_not():
    summer, winter = minima([100, 280]), minima([100, 280])
    summer[200], winter[50] = np.nan, np.nan

    assert np.isnan(longest_run_without_freeze(summer).length_d).all()
    assert only(longest_run_without_freeze(winter)) == (101, 279, 179)


def test_a_gap_beside_the_last_freeze_leaves_the_begin_unknown_but_not_the_end():
    days = minima([100, 280])
    days[101] = np.nan
    first, last, length = only(longest_run_without_freeze(days))

    assert np.isnan(first) and np.isnan(length)
    assert last == 279


def test_the_leap_day_that_common_years_lack_is_neither_gap_nor_day():
    days = np.insert(minima([40, 100]), LEAP, np.nan)[None, :]
    days[0, 41:101] = 8.0
    days[0, LEAP] = np.nan
    days[0, 102:] = -1.0
    days[0, :40] = -1.0
    days[0, 101] = -1.0

    assert only(longest_run_without_freeze(days, leap_column=LEAP)) == (41, 100, 59)
    assert np.isnan(longest_run_without_freeze(days).length_d).all()


@given(seed=st.integers(0, 500), higher=st.floats(0, 5))
def test_a_higher_threshold_never_makes_the_season_longer(seed, higher):
    days = np.random.default_rng(seed).normal(5, 5, (5, 365))
    low = longest_run_without_freeze(days, 0.0)
    high = longest_run_without_freeze(days, higher)

    assert np.all(high.length_d <= low.length_d)


@given(shift=st.integers(-40, 40))
def test_a_shifted_year_shifts_the_season(shift):
    days = minima([100, 280])
    first, last, length = only(longest_run_without_freeze(np.roll(days, shift)))

    assert (first, last, length) == (101 + shift, 279 + shift, 179)


def test_the_thermal_season_of_a_smooth_year():
    means = warmth(np.arange(365.0))
    first, last, length = only(thermal(means))

    assert means[int(first)] > 5 >= means[int(first) - 1]
    assert means[int(last)] >= 5 > means[int(last) + 1]
    assert length == last - first + 1


def test_a_short_warm_spell_in_winter_does_not_begin_the_season():
    means = warmth(np.arange(365.0))
    short, lasting = means.copy(), means.copy()
    short[20:25], lasting[20:26] = 9.0, 9.0

    assert only(thermal(short)) == only(thermal(means))
    assert thermal(lasting).first_day[0] == 20


def test_a_year_that_stays_warm_has_no_end_and_one_that_stays_cold_no_begin():
    found = thermal(np.stack([np.full(365, 20.0), np.full(365, -5.0)]))

    assert found.length_d.tolist() == [365, 0]
    assert found.last_day[0] == 364
    assert np.isnan(found.first_day[1])


def test_a_gap_that_could_begin_the_season_leaves_it_unknown():
    means = warmth(np.arange(365.0))
    gap = means.copy()
    gap[10:16] = np.nan
    single = means.copy()
    single[200] = np.nan

    assert np.isnan(thermal(gap).first_day[0])
    assert thermal(gap).last_day[0] == thermal(means).last_day[0]
    assert only(thermal(single)) == only(thermal(means))


@pytest.mark.parametrize(
    ("call", "message"),
    [(lambda: longest_run_without_freeze(minima([]), 40), "threshold_c is 40"),
     (lambda: longest_run_without_freeze(np.empty((2, 0))), "days is 0"),
     (lambda: longest_run_without_freeze(minima([]), leap_column=0), "leap_column is 0"),
     (lambda: thermal_season(minima([]), base_c=5, run_days=0, middle_column=182), "run_days"),
     (lambda: thermal_season(minima([]), base_c=5, run_days=6, middle_column=400), "middle_col")],
)  # fmt: skip
def test_what_cannot_be_is_refused_by_name(call, message: str):
    with pytest.raises(ValueError, match=message):
        call()
