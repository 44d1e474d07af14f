"""Trends over the decades, and the weight of recent years."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from bedwright.climate.freeze_trend import Trend, effective_seasons, recent_weights, trend

YEARS = np.arange(1951, 2021)


def of(values: np.ndarray, years: np.ndarray = YEARS) -> Trend:
    return trend(years, values, significance=0.05, seasons_least=10)


@given(st.floats(-1, 1).filter(lambda slope: abs(slope) > 0.05), st.integers(0, 1000))
def test_a_clear_trend_is_found_with_its_size_and_sense(slope: float, seed: int):
    noise = np.random.default_rng(seed).normal(0, 0.5, len(YEARS))
    found = of(250 + slope * (YEARS - 1951) + noise)

    assert found.code == ("later" if slope > 0 else "earlier")
    assert found.per_decade == pytest.approx(10 * slope, abs=0.5)
    assert found.low <= found.per_decade <= found.high


def test_chance_is_called_a_trend_about_once_in_twenty():
    noise = np.random.default_rng(1)
    codes = [of(noise.normal(250, 12, 70)).code for _ in range(600)]
    share = np.mean([code != "no_clear_trend" for code in codes])

    assert 0.05 - 4 * 0.009 < share < 0.05 + 4 * 0.009


@given(st.integers(0, 1000), st.integers(-300, 300))
def test_shifting_all_dates_leaves_the_trend_alone(seed: int, k: int):
    values = np.random.default_rng(seed).integers(200, 280, 40).astype(float)
    one, other = of(values, YEARS[:40]), of(values + k, YEARS[:40])

    assert one == other


def test_a_mirrored_record_has_the_mirrored_trend():
    values = np.random.default_rng(5).normal(0, 5, 70) + 0.2 * (YEARS - 1951)
    one, other = of(values), of(-values)

    assert (one.code, other.code) == ("later", "earlier")
    assert one.p_value == pytest.approx(other.p_value)
    assert one.low == pytest.approx(-other.high)


def test_the_slope_of_theil_and_sen_is_the_median_of_all_slopes():
    values = np.array([3.0, 1, 4, 1, 5, 9, 2, 6, 5, 3, 5])
    years = np.arange(2000, 2011)
    slopes = [
        (values[j] - values[i]) / (j - i) for i in range(len(values)) for j in range(i + 1, 11)
    ]

    assert of(values, years).per_decade == pytest.approx(10 * np.median(slopes))


def test_seasons_without_a_date_are_left_out_and_too_few_say_nothing():
    values = np.where(np.arange(70) % 8 == 0, 250.0, np.nan)
    found = of(values)

    assert (found.seasons, found.code) == (9, "too_short")
    assert np.isnan(found.per_decade)
    assert of(np.full(70, 250.0)).code == "no_clear_trend"


def test_weights_halve_with_every_half_life():
    weights = recent_weights(np.array([2000, 2010, 2020]), 10.0)

    np.testing.assert_allclose(weights, [0.25, 0.5, 1])


@given(st.lists(st.floats(0.01, 10), min_size=1, max_size=50))
def test_effective_seasons_are_never_more_than_there_are(weights: list[float]):
    found = effective_seasons(np.array(weights))

    assert 1 - 1e-9 <= found <= len(weights) + 1e-9
    assert effective_seasons(np.ones(len(weights))) == pytest.approx(len(weights))


def test_inputs_out_of_range_are_named():
    with pytest.raises(ValueError, match="significance"):
        trend(YEARS, YEARS * 1.0, significance=0.0, seasons_least=10)
    with pytest.raises(ValueError, match="seasons_least"):
        trend(YEARS, YEARS * 1.0, significance=0.05, seasons_least=2)
    with pytest.raises(ValueError, match="years for"):
        of(np.zeros(3))
    with pytest.raises(ValueError, match="half_life_years"):
        recent_weights(YEARS, 0.0)
