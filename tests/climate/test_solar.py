"""The sun: what must hold whatever the numbers, and what is refused."""

from __future__ import annotations

import dataclasses
from functools import cache

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from bedwright.climate.solar import (
    SunSeries,
    days_since_2000,
    refraction_deg,
    sun_path,
    sun_position,
    sun_series,
)
from bedwright.reference import Library

YEAR = np.datetime64("2026-01-01T00:00:00", "ms") + np.arange(8760) * np.timedelta64(1, "h")
MINUTES = st.integers(0, 525_599)
LATITUDES, LONGITUDES = st.floats(-89, 89), st.floats(-180, 180)


@cache
def series() -> SunSeries:
    library = Library()
    return sun_series(library.rows("sun_terms"), library.rows("delta_t"))


def at(minute: int) -> np.datetime64:
    return YEAR[0] + np.timedelta64(minute, "m")


def test_days_are_counted_from_noon():
    assert days_since_2000(np.datetime64("2000-01-01T12:00")) == 0
    assert days_since_2000(np.datetime64("2000-01-02T00:00")) == 0.5


@given(minute=MINUTES, latitude=LATITUDES, longitude=LONGITUDES)
def test_one_moment_and_many_give_the_same_sun(minute: int, latitude: float, longitude: float):
    alone = sun_position(at(minute), latitude, longitude, series())
    times = np.append(YEAR, at(minute))
    among = sun_position(times, latitude, longitude, series())

    assert among.elevation_deg[-1] == pytest.approx(alone.elevation_deg, abs=0.001)


def test_long_runs_are_cut_into_parts_without_a_seam():
    times = YEAR[0] + np.arange(40_000) * np.timedelta64(10, "m")
    whole = sun_position(times, 46, -117, series(), pressure_kpa=99)
    part = sun_position(times[16_000:17_000], 46, -117, series(), pressure_kpa=99)

    assert whole.elevation_deg[16_000:17_000] == pytest.approx(part.elevation_deg, abs=0.001)


def test_times_and_places_broadcast():
    found = sun_position(YEAR[:24], np.array([[-34.0], [46.0]]), 18.0, series())

    assert found.elevation_deg.shape == found.azimuth_deg.shape == (2, 24)


def test_no_moment_at_all_gives_no_position():
    assert sun_position(YEAR[:0], 46, -117, series()).elevation_deg.shape == (0,)


@given(minute=MINUTES, latitude=LATITUDES, longitude=st.floats(-165, 165))
def test_an_hour_of_time_is_fifteen_degrees_of_longitude(
    minute: int, latitude: float, longitude: float
):
    here = sun_position(at(minute), latitude, longitude, series())
    there = sun_position(at(minute) + np.timedelta64(1, "h"), latitude, longitude - 15, series())

    assert there.elevation_deg == pytest.approx(here.elevation_deg, abs=0.025)  # the hour's drift


def test_the_sun_stays_inside_the_tropics_and_within_17_minutes_of_the_clock():
    path = sun_path(YEAR, series())

    assert 23.43 < path.declination_deg.max() < 23.45
    assert -23.45 < path.declination_deg.min() < -23.43
    assert 16.3 < path.equation_of_time_min.max() < 16.6
    assert -14.4 < path.equation_of_time_min.min() < -14.1


@pytest.mark.parametrize(("latitude", "azimuth"), [(46, 180), (-46, 0)])
def test_the_sun_stands_in_the_south_at_noon_and_in_the_north_below_the_equator(
    latitude: float, azimuth: float
):
    times = np.datetime64("2026-03-01T00:00:00", "ms") + np.arange(1440) * np.timedelta64(1, "m")
    found = sun_position(times, latitude, 0.0, series())
    highest = found.azimuth_deg[found.elevation_deg.argmax()]

    assert abs((highest - azimuth + 180) % 360 - 180) < 0.5


def test_morning_sun_is_in_the_east():
    found = sun_position(np.datetime64("2026-03-20T06:30"), 0.0, 0.0, series())

    assert 89 < found.azimuth_deg < 91


@given(low=st.floats(-0.8, 89), more=st.floats(0.01, 1), kpa=st.floats(60, 105))
def test_the_air_lifts_a_low_sun_more_than_a_high_one(low: float, more: float, kpa: float):
    assert refraction_deg(low, kpa, 10) > refraction_deg(low + more, kpa, 10)


def test_the_air_lifts_nothing_that_is_out_of_sight():
    assert refraction_deg(-0.84, 101, 10) == 0
    assert refraction_deg(-0.83, 101, 10) > 0.5


@pytest.mark.parametrize(
    ("change", "message"),
    [({"latitude_deg": 91}, "latitude_deg is 91"), ({"longitude_deg": -181}, "longitude_deg is"),
     ({"times_utc": np.datetime64("1899-01-01")}, "1900 to 2100"),
     ({"times_utc": np.datetime64("NaT")}, "not a time"),
     ({"pressure_kpa": -1}, "pressure_kpa is -1"), ({"temperature_c": 99}, "temperature_c is 99"),
     ({"latitude_deg": np.nan}, "latitude_deg")],
)  # fmt: skip
def test_a_place_or_time_that_is_none_is_refused(change: dict, message: str):
    given_ = {
        "times_utc": YEAR[:3], "latitude_deg": 46, "longitude_deg": -117, "series": series(),
        "pressure_kpa": 100,
    }  # fmt: skip
    with pytest.raises(ValueError, match=message):
        sun_position(**given_ | change)


def test_a_table_without_a_series_is_refused():
    library = Library()
    rows = [row for row in library.rows("sun_terms") if row["series"] != "nutation"]

    with pytest.raises(ValueError, match="no rows for nutation"):
        sun_series(rows, library.rows("delta_t"))


@pytest.mark.parametrize("column", ["wave", "amplitude_unit", "argument_unit"])
def test_a_word_of_the_table_that_is_not_known_is_refused(column: str):
    library = Library()
    first, *others = library.rows("sun_terms")
    wrong = dataclasses.replace(first, words=first.words | {column: "furlong"})

    with pytest.raises(ValueError, match="line 2: 'furlong' is not known"):
        sun_series([wrong, *others], library.rows("delta_t"))
