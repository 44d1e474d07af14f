"""The sun's position against the NREL algorithm of pvlib, over a century and all latitudes."""

from __future__ import annotations

from functools import cache

import numpy as np
import pytest

from bedwright.climate.solar import SunSeries, sun_position, sun_series
from bedwright.reference import Library

PROMISED_DEG = 0.01
FOUND_DEG = 0.0015  # what it is: a rise shows that something was lost
AIR_KPA, AIR_C, HORIZON_DEG = 101.325, 10.0, 0.5667


@cache
def series() -> SunSeries:
    library = Library()
    return sun_series(library.rows("sun_terms"), library.rows("delta_t"))


def moments(count: int, first: str = "1950-01-01", last: str = "2051-01-01") -> np.ndarray:
    dice = np.random.default_rng(2026)
    ends = [np.datetime64(each, "ms").astype(np.int64) for each in (first, last)]
    return dice.integers(*ends, count).astype("datetime64[ms]")


def places(count: int) -> tuple[np.ndarray, np.ndarray]:
    dice = np.random.default_rng(811)
    return dice.uniform(-90, 90, count), dice.uniform(-180, 180, count)


def reference(times: np.ndarray, latitude: np.ndarray, longitude: np.ndarray) -> np.ndarray:
    """pvlib's elevation with and without air, and azimuth [deg]."""
    from pvlib import spa

    months = times.astype("datetime64[M]").astype(int)
    delta_t = spa.calculate_deltat(months // 12 + 1970, months % 12 + 1)
    _, _, lifted, bare, azimuth, _ = spa.solar_position_numpy(
        times.astype(np.int64) / 1000, latitude, longitude, 0.0, AIR_KPA * 10, AIR_C, delta_t,
        HORIZON_DEG, numthreads=1,
    )  # fmt: skip
    return np.array([bare, lifted, azimuth])


def apart(
    elevation: np.ndarray, azimuth: np.ndarray, other: np.ndarray, around: np.ndarray
) -> np.ndarray:
    """Angle between two directions [deg], for small ones."""
    turned = (azimuth - around + 180) % 360 - 180
    return np.hypot(elevation - other, turned * np.cos(np.radians(other)))


@pytest.mark.parametrize("count", [2_000, 60_000], ids=["term by term", "between nodes"])
def test_the_direction_of_the_sun_over_a_century_and_all_latitudes(count: int):
    times, (latitude, longitude) = moments(count), places(count)
    bare, _, azimuth = reference(times, latitude, longitude)
    found = sun_position(times, latitude, longitude, series())
    off = apart(found.elevation_deg, found.azimuth_deg, bare, azimuth)

    assert off.max() < FOUND_DEG < PROMISED_DEG


def test_the_height_of_the_sun_as_lifted_by_the_air():
    times, (latitude, longitude) = moments(60_000), places(60_000)
    bare, lifted, _ = reference(times, latitude, longitude)
    found = sun_position(
        times, latitude, longitude, series(), pressure_kpa=AIR_KPA, temperature_c=AIR_C
    )
    edge = np.abs(bare + HORIZON_DEG + 0.26667) < PROMISED_DEG  # lift sets in at one height
    off = np.abs(found.elevation_deg - lifted)

    assert (lifted > bare).sum() > 20_000
    assert off[~edge].max() < FOUND_DEG < PROMISED_DEG


@pytest.mark.parametrize("latitude", [-90, -66.5, -34, 0, 23.4, 46, 66.5, 89.9, 90])
def test_a_year_by_hours_at_one_latitude(latitude: float):
    times = np.datetime64("2026-01-01T00:00:00", "ms") + np.arange(8760) * np.timedelta64(1, "h")
    bare, _, azimuth = reference(times, np.float64(latitude), np.float64(-117.0))
    found = sun_position(times, latitude, -117.0, series())
    off = apart(found.elevation_deg, found.azimuth_deg, bare, azimuth)

    assert off.max() < FOUND_DEG < PROMISED_DEG
