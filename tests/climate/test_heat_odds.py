"""Heat ahead, and the weeks in which heat comes and goes."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from hypothesis.extra import numpy as hnp

from bedwright.climate.heat_odds import (
    chance_that_heat_has_come,
    count_odds,
    day_with_chance_that_heat_has_come,
    days_above,
    heat_days,
)
from bedwright.climate.record import by_season
from bedwright.climate.season_days import SeasonStart, counted_days
from real_records import champion

temperatures = hnp.arrays(float, st.integers(1, 60), elements=st.integers(10, 45).map(float))


@given(temperatures, st.integers(1, 30), st.integers(15, 40))
def test_days_above_are_counted_one_by_one(t_c: np.ndarray, ahead: int, limit: int):
    found = days_above(t_c, limit, ahead)

    for at in range(len(t_c)):
        window = t_c[at : at + ahead]
        expected = np.nan if len(window) < ahead else (window > limit).sum()
        np.testing.assert_array_equal(found[at], expected)


@given(temperatures, st.integers(1, 20), st.floats(10, 45), st.floats(0, 10))
def test_a_higher_limit_never_counts_more(t_c: np.ndarray, ahead: int, limit: float, more: float):
    low, high = days_above(t_c, limit, ahead), days_above(t_c, limit + more, ahead)

    there = ~np.isnan(low)
    assert np.all(high[there] <= low[there])


def test_a_missing_day_leaves_its_windows_unknown():
    t_c = np.array([36.0, np.nan, 36, 36, 20])

    np.testing.assert_array_equal(days_above(t_c, 35.0, 2), [np.nan, np.nan, 2, 1, np.nan])


def test_a_day_at_the_limit_is_not_above_it_in_either_unit():
    limit_f = 90.0
    t_c = np.array([(90 - 32) / 1.8, (91 - 32) * 5 / 9])

    np.testing.assert_array_equal(days_above(t_c, (limit_f - 32) * 5 / 9, 1), [0, 1])


def test_the_distribution_over_seasons():
    odds = count_odds(np.array([[0.0, 3], [4, np.nan], [8, 5]]), [0.0, 0.5, 1.0])

    np.testing.assert_array_equal(odds.mean, [4, 4])
    np.testing.assert_array_equal(odds.quantiles, [[0, 3], [4, 4], [8, 5]])
    np.testing.assert_array_equal(odds.seasons, [3, 2])


def test_a_date_without_any_season_is_unknown():
    odds = count_odds(np.full((3, 2), np.nan), [0.5])

    assert np.isnan(odds.mean).all()
    assert np.isnan(odds.quantiles).all()


def heat(text: str):
    """Heat days of seasons of marks: x hot, . mild, ? missing."""
    rows = np.array([list(row) for row in text.split()])
    t_c = np.where(rows == "x", 36.0, np.where(rows == "?", np.nan, 20.0))
    return heat_days(t_c, 35.0, days=5, window=7, missing_allowed=3)


def test_the_heat_has_come_when_five_of_the_last_seven_days_were_hot():
    found = heat("xx..xxx.xx.......... xxxxx...............  .x.x.x.x.x.x.x.x....")

    # first season: days 2-8 hold xxx.x and days 3-9 hold .xxx.xx
    np.testing.assert_array_equal(found.first, [6, 4, np.nan])
    np.testing.assert_array_equal(found.last, [10, 6, np.nan])


@given(st.integers(0, 500), st.integers(-10, 10))
def test_shifted_heat_comes_shifted(seed: int, k: int):
    t_c = 20 + np.random.default_rng(seed).normal(0, 3, (8, 120))
    t_c[:, 40:80] += 16
    one, other = (
        heat_days(each, 35.0, days=5, window=7, missing_allowed=3)
        for each in (t_c, np.roll(t_c, k, axis=1))
    )

    np.testing.assert_array_equal(other.first, one.first + k)
    np.testing.assert_array_equal(other.last, one.last + k)


@given(st.integers(0, 500), st.floats(30, 36), st.floats(0, 4))
def test_a_higher_limit_never_comes_earlier(seed: int, limit: float, more: float):
    t_c = 36 + np.random.default_rng(seed).normal(0, 4, (8, 60))
    low, high = (
        heat_days(t_c, each, days=5, window=7, missing_allowed=3) for each in (limit, limit + more)
    )

    hot = ~np.isnan(high.first)
    assert np.all(high.first[hot] >= low.first[hot])
    assert np.all(high.last[hot] <= low.last[hot])


def test_odds_of_the_first_heat():
    found = heat("xxxxx............... ..xxxxx............. ....................")

    np.testing.assert_allclose(
        chance_that_heat_has_come(found, [3, 4, 6, 19]), np.array([0, 1, 2, 2]) / 3
    )
    days = day_with_chance_that_heat_has_come(found, [1 / 6, 0.5, 0.8])
    np.testing.assert_allclose(days, [4, 6, np.nan])


def test_the_chance_that_the_heat_has_come_rises_with_the_date_at_a_real_station():
    record = champion()
    start = SeasonStart(1)
    years, laid = by_season(record, record.t_max_c, 1, 1)
    found = heat_days(counted_days(laid, years, start), 32.2, days=5, window=7, missing_allowed=10)
    chance = chance_that_heat_has_come(found, np.arange(366.0))

    assert np.all(np.diff(chance) >= 0)
    assert chance[start.day_of(5, 1)] == 0
    assert chance[-1] == pytest.approx(np.mean(~np.isnan(found.first)))
    assert chance[-1] > 0.9
    assert start.month_day(np.nanmedian(found.first))[0] in (6, 7)


def test_numbers_out_of_range_are_named():
    with pytest.raises(ValueError, match="days_ahead"):
        days_above(np.zeros(3), 30.0, 0)
    with pytest.raises(ValueError, match="days"):
        heat_days(np.zeros((2, 9)), 30.0, days=8, window=7, missing_allowed=3)
    with pytest.raises(ValueError, match="shape"):
        count_odds(np.zeros(3), [0.5])
    with pytest.raises(ValueError, match="chance"):
        day_with_chance_that_heat_has_come(heat("xxxxx....."), [0.0])
