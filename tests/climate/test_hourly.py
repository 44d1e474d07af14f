"""Hourly temperatures: they give back the day's extremes, join up, and say what is missing."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from bedwright.climate.hourly import (
    PartonLogan,
    hourly_temperatures,
    parton_logan,
    temperature_goudriaan_van_laar_1994,
    temperature_linvill_1990,
    temperature_parton_logan_1981,
)
from bedwright.reference import Library

CLOSED = {
    temperature_linvill_1990: 2.0,  # h by which the maximum lags behind noon
    temperature_goudriaan_van_laar_1994: 1.5,
}
CURVES = st.sampled_from(sorted(CLOSED, key=lambda each: each.__name__))
LOWS, RANGES = st.floats(-20, 25), st.floats(0, 25)
RISES, LENGTHS = st.floats(3, 9), st.floats(6, 18)


@given(
    curve=CURVES, low=LOWS, spread=RANGES, share=st.floats(0, 1), rise=RISES, length=LENGTHS,
)  # fmt: skip
def test_the_curve_gives_back_the_maximum_and_both_minima(curve, low, spread, share, rise, length):
    high = low + spread
    after = high - share * spread
    ends = (high, low, after, rise, rise + length)

    assert curve(rise, *ends) == pytest.approx(low, abs=1e-9)
    assert curve(rise + length / 2 + CLOSED[curve], *ends) == pytest.approx(high, abs=1e-9)
    assert curve(rise + 24, *ends) == pytest.approx(after, abs=1e-9)


@given(
    curve=CURVES, low=LOWS, spread=RANGES, share=st.floats(0, 1), rise=RISES, length=LENGTHS,
)  # fmt: skip
def test_no_hour_lies_outside_the_extremes(curve, low, spread, share, rise, length):
    high = low + spread
    after = high - share * spread
    found = curve(np.linspace(rise, rise + 24, 500), high, low, after, rise, rise + length)

    assert found.max() <= high + 1e-9
    assert found.min() >= min(low, after) - 1e-9


@given(curve=CURVES, low=LOWS, spread=RANGES, rise=RISES, length=LENGTHS)
def test_the_curve_has_no_step(curve, low, spread, rise, length):
    hours = np.linspace(rise, rise + 24, 24 * 60 * 4)
    found = curve(hours, low + spread, low, low + spread / 3, rise, rise + length)

    assert np.abs(np.diff(found)).max() <= spread / 40 + 1e-9  # a quarter of a minute


@given(low=LOWS, spread=RANGES, rise=RISES, length=LENGTHS)
def test_the_published_exponential_of_parton_and_logan_misses_a_known_share(
    low, spread, rise, length
):
    place = PartonLogan(max_lag_h=1.86, min_lag_h=-0.17, night_decay=2.2)
    ends = (low + spread, low, low, rise, rise + length)
    dusk, dawn = (
        temperature_parton_logan_1981(hour, *ends, place) for hour in (rise + length, rise + 24)
    )

    assert dawn - low == pytest.approx((dusk - low) * np.exp(-2.2), abs=1e-9)


@given(data=st.data(), curve=CURVES, days=st.integers(1, 8))
def test_steady_days_have_their_own_extremes_in_every_row(data, curve, days):
    low = data.draw(LOWS)
    high = low + data.draw(RANGES)
    found = hourly_temperatures(
        np.full(days, high), np.full(days, low), 6.0, 18.0, curve=curve, steps_per_hour=2
    )

    assert found.shape == (days, 48)
    assert found.min(axis=1) == pytest.approx(np.full(days, low), abs=1e-9)
    assert found.max(axis=1) == pytest.approx(np.full(days, high), abs=1e-9)


@given(curve=CURVES, seed=st.integers(0, 1000))
def test_each_day_reaches_its_maximum_and_the_morning_its_minimum(curve, seed):
    dice = np.random.default_rng(seed)
    low = dice.normal(10, 4, (3, 40))
    high = low + dice.uniform(4, 20, low.shape)
    found = hourly_temperatures(high, low, 6.0, 18.0, curve=curve, steps_per_hour=2)

    # a night after a hot day may be warmer than all of a cold one: the maximum is of daylight
    assert found[..., 12:].max(axis=-1) == pytest.approx(high, abs=1e-9)
    assert found[..., 12] == pytest.approx(low, abs=1e-9)


def test_years_and_days_and_their_own_sunrises():
    low = np.zeros((2, 365))
    rise = 6 + 1.5 * np.cos(2 * np.pi * np.arange(365) / 365)
    found = hourly_temperatures(low + 10, low, rise, 24 - rise)

    assert found.shape == (2, 365, 24)


def test_a_missing_day_is_missing_only_where_it_is_needed():
    high = np.array([20.0, 20, np.nan, 20, 20])
    found = hourly_temperatures(high, high - 10, 6.0, 18.0)

    assert np.isnan(found[2, 6:]).all()
    assert np.isnan(found[3, :6]).all()
    assert not np.isnan(found[[0, 4]]).any()
    assert not np.isnan(found[3, 6:]).any()


def test_a_night_that_stays_warmer_than_the_day_was_is_held_level():
    found = hourly_temperatures(np.array([10.0, 25]), np.array([5.0, 15]), 6.0, 18.0)

    assert found[0].max() <= 10
    assert found[1, 6] == 15


@pytest.mark.parametrize(
    ("ends", "message"),
    [((10, 12, 8, 6, 18), "t_max_c lies 2 below t_min_c"),
     ((10, 5, 12, 6, 18), "t_max_c lies 2 below t_min_next_c"),
     ((20, 5, 5, 10, 12), "day_length_h is 2"), ((20, 5, 5, np.nan, 18), "day_length_h")],
)  # fmt: skip
def test_extremes_and_days_that_cannot_be_are_refused(ends: tuple, message: str):
    with pytest.raises(ValueError, match=message):
        temperature_linvill_1990(12, *ends)


@pytest.mark.parametrize("hour", [5, 31])
def test_an_hour_of_another_day_is_refused(hour: float):
    with pytest.raises(ValueError, match="hour_since_sunrise_h"):
        temperature_goudriaan_van_laar_1994(hour, 20, 5, 5, 6, 18)


def test_a_place_without_parameters_is_refused():
    with pytest.raises(LookupError, match="parton_logan_atlantis_max_lag"):
        parton_logan(Library().rows("parameters"), "atlantis")
