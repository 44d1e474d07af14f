"""A garden against its station: fitted from few readings it is rough, and says so."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from bedwright.climate.site_offset import garden_minima, site_offset


def readings(nights: int, seed: int, carried: float = 0.0) -> tuple[np.ndarray, np.ndarray]:
    """A garden 2 K colder, single nights spread 1.5 K, with a share carried to the next."""
    noise = np.random.default_rng(seed)
    station = noise.normal(4, 5, nights)
    off = np.zeros(nights)
    for night in range(nights):
        before = off[night - 1] if night else noise.normal()
        off[night] = carried * before + np.sqrt(1 - carried**2) * noise.normal()
    return station - 2 + 1.5 * off, station


def fitted(garden: np.ndarray, station: np.ndarray):
    return site_offset(garden, station, level=0.9, nights_enough=21)


@given(st.integers(0, 1000), st.floats(-5, 5))
def test_a_garden_that_is_always_so_much_colder_is_found_exactly(seed: int, colder: float):
    station = np.random.default_rng(seed).normal(4, 5, 25)
    found = fitted(station - colder, station)

    assert found.offset_c == pytest.approx(-colder)
    assert found.low_c == pytest.approx(found.high_c)


def test_the_band_holds_the_true_correction_nine_times_of_ten():
    times = 800
    inside = [
        found.low_c <= -2 <= found.high_c
        for found in (fitted(*readings(21, seed)) for seed in range(times))
    ]

    assert np.mean(inside) > 0.9 - 0.045


def test_nights_that_carry_over_tell_less():
    alone, carried = (
        np.mean([fitted(*readings(28, seed, c)).effective_nights for seed in range(60)])
        for c in (0.0, 0.7)
    )

    assert carried < 0.5 * alone


def test_few_readings_are_rough():
    widths = []
    for nights in (60, 21, 5, 2):
        found = [fitted(*readings(nights, seed)) for seed in range(40)]
        widths.append(np.median([each.high_c - each.low_c for each in found]))
        assert {each.code for each in found} == {"enough" if nights >= 21 else "few"}

    assert widths == sorted(widths)


def test_one_night_tells_no_spread_and_none_tells_nothing():
    one = fitted(np.array([1.0, np.nan]), np.array([3.0, 2.0]))
    none = fitted(np.array([np.nan]), np.array([2.0]))

    assert (one.offset_c, one.nights, one.code) == (-2.0, 1, "few")
    assert np.isnan(one.low_c)
    assert none.code == "none"
    assert np.isnan(none.offset_c)


def test_the_gardens_nights_are_the_stations_moved_and_spread():
    offset = fitted(*readings(40, 3))
    station = np.random.default_rng(4).normal(3, 6, 2000)
    drawn = garden_minima(station, offset, draws=300, seed=1)
    difference = drawn - station

    assert drawn.shape == (300, 2000)
    assert difference.mean() == pytest.approx(offset.offset_c, abs=0.1)
    assert difference.std() >= offset.sd_c
    np.testing.assert_array_equal(drawn, garden_minima(station, offset, draws=300, seed=1))
    assert np.isnan(garden_minima([np.nan, 1.0], offset, draws=2, seed=1)[:, 0]).all()


def test_what_cannot_be_drawn_is_told():
    one = fitted(np.array([1.0]), np.array([3.0]))

    with pytest.raises(ValueError, match="do not tell how the nights spread"):
        garden_minima([1.0], one, draws=5, seed=1)
    with pytest.raises(ValueError, match="readings of the garden"):
        fitted(np.zeros(3), np.zeros(4))
    with pytest.raises(ValueError, match="level"):
        site_offset(np.zeros(3), np.zeros(3), level=0.0, nights_enough=21)
