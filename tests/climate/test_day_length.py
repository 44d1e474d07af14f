"""The length of the day by three definitions, in both hemispheres and where the sun stays up."""

from __future__ import annotations

from functools import cache

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from bedwright.climate.day_length import (
    day_length,
    declination_fao56,
    extraterrestrial_radiation_fao56,
    radiation_from_range_fao56,
    radiation_from_sunshine_fao56,
    sun_times,
)
from bedwright.climate.solar import SunSeries, sun_path, sun_series
from bedwright.reference import Library

LATITUDES, DECLINATIONS = st.floats(-60, 60), st.floats(-23.44, 23.44)
HALF_A_YEAR = 183  # days: the shift of the seasons between the hemispheres that fits best


@cache
def series() -> SunSeries:
    library = Library()
    return sun_series(library.rows("sun_terms"), library.rows("delta_t"))


@given(latitude=LATITUDES, declination=DECLINATIONS)
def test_a_lower_sun_that_still_counts_makes_a_longer_day(latitude: float, declination: float):
    center, edge, dim = (day_length(latitude, declination, z) for z in (90, 90.833, 91.54))

    assert center < edge < dim


@given(latitude=LATITUDES, declination=DECLINATIONS, zenith=st.floats(85, 100))
def test_the_day_is_the_same_under_the_mirrored_sun(
    latitude: float, declination: float, zenith: float
):
    here = day_length(latitude, declination, zenith)

    assert day_length(-latitude, -declination, zenith) == pytest.approx(here)


@given(latitude=LATITUDES)
def test_at_the_equinox_the_day_has_twelve_hours(latitude: float):
    assert day_length(latitude, 0.0, 90) == pytest.approx(12)


@given(latitude=LATITUDES, declination=DECLINATIONS)
def test_summer_and_winter_days_make_24_hours(latitude: float, declination: float):
    both = day_length(latitude, declination, 90) + day_length(latitude, -declination, 90)

    assert both == pytest.approx(24)


@pytest.mark.parametrize(
    ("latitude", "minutes"), [(0, 0.0), (20, 4.8), (40, 11.1), (50, 15.8), (60, 23.0)]
)
def test_half_a_year_later_the_other_hemisphere_has_nearly_the_same_day(
    latitude: float, minutes: float
):
    """The sun's own asymmetry: the path round the sun is not a circle, so the southern day of
    183 days later differs by up to 11 minutes at 40 degrees, 23 at 60.
    """
    noons = np.datetime64("2001-01-01T12") + np.arange(365 * 20) * np.timedelta64(24, "h")
    later = noons + np.timedelta64(HALF_A_YEAR * 24, "h")
    north = day_length(latitude, sun_path(noons, series()).declination_deg, 90.833)
    south = day_length(-latitude, sun_path(later, series()).declination_deg, 90.833)

    assert 60 * np.abs(north - south).max() == pytest.approx(minutes, abs=0.15)


def test_the_southern_summer_gets_seven_percent_more_radiation():
    """December's sun is nearer: 1.033 against 0.967 of the mean."""
    southern = extraterrestrial_radiation_fao56(-30, 356)
    northern = extraterrestrial_radiation_fao56(30, 173)

    assert southern / northern == pytest.approx(1.033 / 0.967, abs=0.005)


@pytest.mark.parametrize(("latitude", "hours"), [(70, 24), (-70, 0), (90, 24), (-90, 0)])
def test_where_the_sun_does_not_set_or_rise(latitude: float, hours: float):
    found = sun_times(np.datetime64("2026-06-21"), latitude, 20, series(), zenith_deg=90.833)

    assert found.length_h == hours
    assert np.isnan(found.rise_h) and np.isnan(found.set_h)
    assert np.isfinite(found.transit_h)
    assert (extraterrestrial_radiation_fao56(latitude, 172) > 0) == (hours == 24)


@given(day=st.integers(0, 36_000), latitude=LATITUDES, longitude=st.floats(-179, 179))
def test_the_sun_rises_before_noon_and_sets_after_it(day: int, latitude: float, longitude: float):
    date = np.datetime64("1950-01-01") + day
    found = sun_times(
        date, latitude, longitude, series(), zenith_deg=90.833, utc_offset_h=longitude / 15
    )

    assert 0 < found.rise_h < found.transit_h < found.set_h < 24
    assert found.transit_h == pytest.approx(12, abs=0.3)
    assert found.length_h == pytest.approx(found.set_h - found.rise_h)


def test_the_clock_moves_with_its_offset():
    dates = np.array(["2026-04-01", "2026-10-01"], dtype="datetime64[D]")
    here, there = (
        sun_times(dates, 46, -117, series(), zenith_deg=90.833, utc_offset_h=offset)
        for offset in (-8, -7)
    )

    assert there.rise_h - here.rise_h == pytest.approx([1, 1], abs=1e-6)


def test_the_declination_of_fao_is_up_to_1_3_degrees_low_in_fall():
    """Found against the sun's path of a leap year: fit for radiation, not for limits of hours."""
    days = np.arange(1, 367)
    noons = np.datetime64("2024-01-01T12") + (days - 1) * np.timedelta64(24, "h")
    off = declination_fao56(days) - sun_path(noons, series()).declination_deg

    assert off.min() == pytest.approx(-1.26, abs=0.01)
    assert off.max() == pytest.approx(0.06, abs=0.01)
    assert 270 < days[off.argmin()] < 310


@given(spread=st.floats(0, 30), more=st.floats(0.1, 5))
def test_a_wider_range_of_temperature_means_more_sun(spread: float, more: float):
    less, much = (radiation_from_range_fao56(each, 35, 0.16) for each in (spread, spread + more))

    assert less < much


def test_an_unknown_range_leaves_radiation_unknown():
    assert np.isnan(radiation_from_range_fao56(np.array([np.nan]), 35, 0.16)).all()


@pytest.mark.parametrize(
    ("call", "message"),
    [(lambda: day_length(91, 0, 90), "latitude_deg"), (lambda: day_length(0, 30, 90), "declin"),
     (lambda: day_length(0, 0, 120), "zenith_deg"), (lambda: declination_fao56(0), "day_of_year"),
     (lambda: radiation_from_sunshine_fao56(13, 12, 30), "share_of_the_day"),
     (lambda: radiation_from_range_fao56(-1, 30, 0.16), "t_range_c"),
     (lambda: radiation_from_range_fao56(10, 30, 1.6), "coefficient")],
)  # fmt: skip
def test_what_cannot_be_is_refused_by_name(call, message: str):
    with pytest.raises(ValueError, match=message):
        call()
