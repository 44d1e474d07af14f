"""Fruit set, cold and emergence answer temperature as their tables say."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from bedwright.crops.bolting import BoltingRule, bolting_risk
from bedwright.crops.emergence import (
    EmergenceTable,
    emergence_day,
    emergence_days_mixed,
    soil_ready,
)
from bedwright.crops.fruit_set import SetResponse, set_score
from bedwright.crops.responses import response_trapezoid, response_yan_hunt_1999, share_between

TOMATO = SetResponse("mean", 6, 21, 26, 33)
temperature = st.floats(-20, 60)


@given(temperature, st.lists(st.floats(-10, 50), min_size=4, max_size=4))
def test_a_response_is_a_share_and_best_between_the_optima(t, ends):
    base, best, still, ceiling = sorted(ends)
    score = float(response_trapezoid(t, base, best, still, ceiling))

    assert 0 <= score <= 1
    if best <= t <= still and base < best and still < ceiling:
        assert score == 1
    if t <= base or t >= ceiling:
        assert score == 0 or base == best or still == ceiling


@given(temperature)
def test_kelvins_and_degrees_celsius_give_the_same_response(t):
    celsius = response_trapezoid(t, 6, 21, 26, 33)
    kelvins = response_trapezoid(t + 273.15, 279.15, 294.15, 299.15, 306.15)

    assert float(celsius) == pytest.approx(float(kelvins), abs=1e-9)


def test_cardinal_temperatures_out_of_order_are_refused():
    with pytest.raises(ValueError, match="rising order"):
        response_trapezoid(20, 10, 8, 26, 33)
    with pytest.raises(ValueError, match="rising order"):
        response_yan_hunt_1999(20, 28, 28, 0)
    with pytest.raises(ValueError, match="not in rising order"):
        SetResponse("mean", 6, 30, 26, 33)
    with pytest.raises(ValueError, match="driver is 'noon'"):
        SetResponse("noon", 6, 21, 26, 33)  # type: ignore[arg-type]
    with pytest.raises(ValueError, match="low must not be above high"):
        share_between(1, 3, 2)


def test_each_driver_takes_its_own_temperature():
    t_max, t_min = np.array([36.0]), np.array([16.0])
    hours = np.array([[16.0, 26.0, 36.0, 26.0]])

    def score(driver: str) -> float:
        response = SetResponse(driver, 6, 21, 26, 33)  # type: ignore[arg-type]
        return float(set_score([response], t_max, t_min, hourly_c=hours)[0])

    assert score("mean") == 1
    assert score("max") == 0
    assert score("night") == pytest.approx(10 / 15)
    assert score("hourly") == pytest.approx((10 / 15 + 1 + 0 + 1) / 4)


def test_responses_of_one_crop_are_multiplied():
    t_max, t_min = np.array([34.0]), np.array([22.0])
    hot_night = SetResponse("night", 0, 10, 20, 24)

    both = set_score([TOMATO, hot_night], t_max, t_min)

    assert both[0] == pytest.approx((33 - 28) / 7 * 0.5)


def test_a_day_without_a_reading_has_no_score_and_hours_must_be_given_where_they_are_taken():
    assert np.isnan(set_score([TOMATO], np.array([np.nan]), np.array([10.0]))[0])
    with pytest.raises(ValueError, match="hourly"):
        set_score([SetResponse("hourly", 6, 21, 26, 33)], np.array([30.0]), np.array([10.0]))
    with pytest.raises(ValueError, match="no response"):
        set_score([], np.array([30.0]), np.array([10.0]))


# Emergence --------------------------------------------------------------------------------------

SEED = EmergenceTable.of({10.0: 40.0, 15.0: 14.0, 20.0: 8.0, 25.0: 6.0}, (0.0, 5.0, 40.0))


def test_seed_comes_up_after_the_days_of_the_table_where_the_soil_stays_alike():
    for soil, days in ((15.0, 14), (20.0, 8), (25.0, 6)):
        assert emergence_day(SEED, np.full(60, soil), 10) == 10 + days - 1


def test_seed_in_soil_at_which_none_emerged_does_not_come_up():
    assert np.isnan(emergence_day(SEED, np.full(400, 5.0), 0))
    assert np.isnan(emergence_day(SEED, np.full(400, 40.0), 0))


def test_below_the_coldest_row_the_line_of_the_two_coldest_goes_on_down_to_nothing():
    table = EmergenceTable.of({10.0: 15.0, 15.0: 9.0, 20.0: 6.0})
    nothing_at = 10 - (1 / 15) / ((1 / 9 - 1 / 15) / 5)

    assert table.rates(np.array([nothing_at - 1, nothing_at]))[0] == 0
    assert 0 < table.rates(np.array([nothing_at + 1]))[0] < 1 / 15
    assert table.rates(np.array([30.0]))[0] == pytest.approx(1 / 6)


def test_potatoes_come_up_by_heat_where_no_days_were_counted():
    table = EmergenceTable.of_heat(3.0, 170.0)

    assert emergence_day(table, np.full(60, 13.0), 0) == 16  # 17 days of 10 K


def test_a_table_of_emergence_needs_two_temperatures():
    with pytest.raises(ValueError, match="two temperatures"):
        EmergenceTable.of({20.0: 8.0})
    with pytest.raises(ValueError, match="days_first is 0"):
        emergence_days_mixed(0, 6, 0.5)
    with pytest.raises(ValueError, match="share_first"):
        emergence_days_mixed(14, 6, 1.5)


def test_one_cool_day_or_one_without_a_reading_holds_planting_up():
    soil = np.array([15.0, 18.0, 18.0, 18.0, 15.0, 18.0, np.nan, 18.0, 18.0])

    ready = soil_ready(soil, np.arange(10), 16.0, 3)

    assert np.array_equal(
        ready, [np.nan] * 3 + [0, 1, 0, 0, np.nan, np.nan, np.nan], equal_nan=True
    )
    assert np.isnan(soil_ready(soil, 4, np.nan, 3))


# Bolting ----------------------------------------------------------------------------------------

COLD = BoltingRule(cold_c=(-1, 6.5, 6.5, 16), cold_days=(16.8, 44.8), juvenile_days=20)


def risk(rule: BoltingRule, t_mean: float, days: int, hours: float | None = None) -> float:
    light = None if hours is None else np.full(200, hours)
    starts, ends = np.array([[0.0]]), np.array([[float(days)]])
    return float(bolting_risk(rule, np.full(200, t_mean), light, starts, ends)[0, 0])


def test_cold_counts_only_after_the_young_stage():
    assert risk(COLD, 6.5, 20 + 16) == 0
    assert risk(COLD, 6.5, 20 + 31) == pytest.approx((31 - 16.8) / 28)
    assert risk(COLD, 6.5, 20 + 60) == 1


def test_warm_weather_makes_no_cold_and_what_is_not_known_makes_no_risk():
    assert risk(COLD, 18.0, 150) == 0
    assert risk(BoltingRule(), 3.0, 150, 16.0) == 0


def test_heat_and_long_days_count_by_days():
    lettuce = BoltingRule(heat_c=25, heat_days=(14, 28))
    spinach = BoltingRule(day_length_h=13, long_days=(14, 42))

    assert risk(lettuce, 26, 21) == 0.5
    assert risk(lettuce, 25, 60) == 0
    assert risk(spinach, 15, 28, 14.0) == 0.5
    assert risk(spinach, 15, 28) == 0  # without day lengths nothing is said


def test_a_planting_that_is_not_followed_has_no_risk_of_bolting():
    starts = np.array([[np.nan]])

    assert np.isnan(bolting_risk(COLD, np.full(9, 5.0), None, starts, starts)).all()
