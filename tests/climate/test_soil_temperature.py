"""Soil temperature: depth delays and dampens, cover slows, gaps are not filled."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from bedwright.climate.soil_temperature import (
    Ground,
    annual_wave,
    damping_depth,
    damping_depth_swat,
    depth_factor_swat,
    soil_temperature_kusuda_1965,
    soil_temperature_swat,
    surface_temperature_swat,
)

DAYS = np.arange(1, 731)
BARE = Ground(damping_depth_m=2.0, cover_kg_ha=0.0, albedo=0.2)
HAY = Ground(damping_depth_m=2.0, cover_kg_ha=15_000.0, albedo=0.2)


def air(day: np.ndarray) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
    """Two years of a hot, dry place: maximum, minimum, radiation."""
    wave = -np.cos(2 * np.pi * (day - 15) / 365)
    return 20 + 12 * wave + 8, 20 + 12 * wave - 8, 18 + 10 * wave


def soil(ground: Ground, depth: float, **more: float) -> np.ndarray:
    high, low, sun = air(DAYS)
    return soil_temperature_swat(high, low, sun, depth, ground=ground, annual_mean_c=20, **more)


@given(depth=st.floats(0, 3), more=st.floats(0.05, 2), swing=st.floats(1, 20))
def test_the_yearly_wave_is_smaller_and_later_further_down(depth, more, swing):
    above, below = (
        annual_wave(DAYS, soil_temperature_kusuda_1965(DAYS, each, 15, swing, 20, 2.2))
        for each in (depth, depth + more)
    )

    assert below.amplitude_c == pytest.approx(above.amplitude_c * np.exp(-more / 2.2), rel=1e-6)
    lag = (below.warmest_day - above.warmest_day) % 365
    assert lag == pytest.approx(more / 2.2 * 365 / (2 * np.pi), abs=1e-3)


@given(
    mean=st.floats(-5, 30), swing=st.floats(1, 20), coldest=st.floats(1, 365),
)  # fmt: skip
def test_a_fitted_wave_gives_back_what_made_it(mean, swing, coldest):
    found = annual_wave(DAYS, soil_temperature_kusuda_1965(DAYS, 0.0, mean, swing, coldest, 2.0))

    assert found.mean_c == pytest.approx(mean, abs=1e-6)
    assert found.amplitude_c == pytest.approx(swing, rel=1e-6)
    assert (found.warmest_day - coldest) % 365 == pytest.approx(182.5, abs=1e-3)


@given(days=st.floats(1, 400))
def test_damping_depth_grows_with_the_root_of_the_period(days):
    assert damping_depth(0.04, 4 * days) == pytest.approx(2 * damping_depth(0.04, days))


@given(density=st.floats(0.8, 1.7), water=st.floats(0, 0.15), more=st.floats(0.001, 0.05))
def test_wetter_soil_carries_heat_deeper_as_long_as_it_is_not_full(density, water, more):
    dry, wet = (damping_depth_swat(density, each, 1.0) for each in (water, water + more))

    if wet.water_factor < 1:
        assert wet.value > dry.value


@given(depth=st.floats(0, 3), more=st.floats(0.01, 1))
def test_the_yearly_mean_rules_more_the_deeper(depth, more):
    assert 0 <= depth_factor_swat(depth, 2.0) < depth_factor_swat(depth + more, 2.0) < 1


def test_the_soil_swings_less_further_down():
    swings = [
        annual_wave(DAYS[365:], soil(BARE, depth)[365:]).amplitude_c for depth in (0.02, 0.1, 0.5)
    ]

    assert swings[0] > swings[1] > swings[2] > 0


def test_under_hay_the_soil_is_warm_later_in_spring_and_cool_later_in_fall():
    bare, hay = (annual_wave(DAYS[365:], soil(each, 0.1)[365:]) for each in (BARE, HAY))

    assert hay.warmest_day > bare.warmest_day + 5
    assert hay.amplitude_c < bare.amplitude_c


@given(cover=st.floats(1, 30_000), more=st.floats(1, 5_000))
def test_more_cover_keeps_the_surface_nearer_to_the_soil_of_yesterday(cover, more):
    thin, thick = (
        surface_temperature_swat(38, 18, 25, 10, each, 0.2) for each in (cover, cover + more)
    )

    assert 10 < thick <= thin


@given(sun=st.floats(0, 35), more=st.floats(0.1, 5))
def test_more_sun_warms_the_surface(sun, more):
    dull, bright = (
        surface_temperature_swat(30, 10, each, 15, 500, 0.2) for each in (sun, sun + more)
    )

    assert bright > dull


def test_several_depths_are_those_of_each():
    high, low, sun = air(DAYS)
    many = soil_temperature_swat(
        high, low, sun, np.array([0.05, 0.3]), ground=BARE, annual_mean_c=20
    )

    assert many.shape == (2, 730)
    for found, depth in zip(many, (0.05, 0.3), strict=True):
        np.testing.assert_allclose(found, soil(BARE, depth))


def test_years_side_by_side_are_those_of_each():
    high, low, sun = (np.stack([each, each + 1]) for each in air(DAYS))
    both = soil_temperature_swat(high, low, sun, 0.1, ground=HAY, annual_mean_c=20)

    np.testing.assert_allclose(both[0], soil(HAY, 0.1))


def test_the_first_days_without_a_known_start_are_not_known():
    found = soil(BARE, 0.1)

    assert np.isnan(found[:20]).all()
    assert not np.isnan(found[20:]).any()
    assert not np.isnan(soil(BARE, 0.1, start_c=8.0)).any()


@given(start=st.floats(-5, 40))
def test_what_is_told_after_twenty_days_hardly_hangs_on_the_start(start: float):
    high, low, sun = (each[:40] for each in air(DAYS))
    begun, unknown = (
        soil_temperature_swat(high, low, sun, 0.1, ground=BARE, annual_mean_c=20, start_c=each)
        for each in (start, None)
    )

    assert begun[20:] == pytest.approx(unknown[20:], abs=0.5)


def test_after_a_missing_day_the_soil_is_not_known_for_twenty_more():
    high, low, sun = air(DAYS)
    high[100] = np.nan
    found = soil_temperature_swat(high, low, sun, 0.1, ground=BARE, annual_mean_c=20, start_c=8)

    assert np.flatnonzero(np.isnan(found)).tolist() == list(range(100, 121))


def test_a_wave_wants_a_year_of_days():
    with pytest.raises(ValueError, match="holds 100 days"):
        annual_wave(DAYS[:100], np.ones(100))


@pytest.mark.parametrize(
    ("call", "message"),
    [(lambda: Ground(0, 0, 0.2), "damping_depth_m"), (lambda: Ground(2, -1, 0.2), "cover_kg_ha"),
     (lambda: Ground(2, 0, 1.2), "albedo"), (lambda: damping_depth_swat(5, 0.1, 1), "bulk_dens"),
     (lambda: damping_depth(0, 365), "diffusivity"), (lambda: soil(BARE, 0.0), "depth_m"),
     (lambda: soil_temperature_kusuda_1965(1, -1, 1, 1, 1, 1), "depth_m")],
)  # fmt: skip
def test_ground_that_cannot_be_is_refused_by_name(call, message: str):
    with pytest.raises(ValueError, match=message):
        call()
