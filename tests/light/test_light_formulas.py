"""Shadows, photons, and the parts of the day's radiation, each formula alone."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from bedwright.light import photons, shadow, split


@given(st.floats(0.1, 90), st.floats(0.1, 10))
def test_a_shadow_across_the_row_is_never_longer_than_the_shadow(elevation, height):
    bearings = np.arange(0.0, 360.0, 15)
    across = shadow.shadow_across_row(height, elevation, bearings, 20.0)

    assert (across <= shadow.shadow_length(height, elevation) * (1 + 1e-12)).all()
    assert across[0] > 0


def test_at_an_equinox_an_east_west_row_casts_the_same_width_all_day():
    latitude, hour = np.radians(33.45), np.radians(np.arange(-80, 81, 10))
    rise = np.cos(latitude) * np.cos(hour)  # declination 0
    ahead, aside = -np.sin(latitude) * np.cos(hour), -np.sin(hour)
    azimuth = np.degrees(np.arctan2(aside, ahead)) % 360
    found = shadow.shadow_across_row(1.8, np.degrees(np.arcsin(rise)), azimuth, 90.0)

    assert found == pytest.approx(1.8 * np.tan(latitude))


@pytest.mark.parametrize(("declination", "noon_is"), [(-15.0, "least"), (15.0, "most")])
def test_the_noon_shadow_of_an_east_west_row_is_its_least_in_winter_and_its_most_in_summer(
    declination, noon_is
):
    latitude, tilt = np.radians(33.45), np.radians(declination)
    hour = np.radians(np.arange(-60, 61, 5.0))
    rise = np.sin(latitude) * np.sin(tilt) + np.cos(latitude) * np.cos(tilt) * np.cos(hour)
    ahead = np.cos(latitude) * np.sin(tilt) - np.sin(latitude) * np.cos(tilt) * np.cos(hour)
    azimuth = np.degrees(np.arctan2(-np.cos(tilt) * np.sin(hour), ahead)) % 360
    width = shadow.shadow_across_row(1.8, np.degrees(np.arcsin(rise)), azimuth, 90.0)

    assert width[hour.size // 2] == pytest.approx(
        width[ahead < 0].min() if noon_is == "least" else width[ahead < 0].max()
    )


def test_the_sky_beside_a_wall_runs_from_half_to_all():
    found = shadow.sky_share_beside_wall(np.array([0.0, 1.8, 1e6]), 1.8)

    assert found == pytest.approx([0.5, (1 + np.cos(np.pi / 4)) / 2, 1.0])
    with pytest.raises(ValueError, match="slant_m is 0"):
        shadow.sky_share_beside_wall(0.0, 0.0)


def test_light_of_a_day_is_the_same_by_flux_and_by_energy():
    flux = photons.photon_flux(30e6 / 86_400, 0.5, 4.6)

    assert photons.light_of_day(flux, 24) == pytest.approx(
        photons.light_from_radiation(30, 0.5, 4.6)
    )


@pytest.mark.parametrize("sunset", [60.0, 75.0, 90.0, 105.0, 115.0])
def test_the_hours_of_a_day_make_the_day(sunset: float):
    hours = np.arange(-180, 180, 1.0) + 0.5
    whole = split.hourly_share_of_day(hours, sunset).sum() / 15
    sky = split.hourly_share_of_sky(hours, sunset).sum() / 15

    assert sky == pytest.approx(1, abs=1e-3)
    assert whole == pytest.approx(1, abs=0.01)  # fitted coefficients: not quite
    assert split.hourly_share_of_sky(sunset + 1, sunset) == 0


@pytest.mark.parametrize("sunset", [70.0, 100.0])
@pytest.mark.parametrize("share", [split.diffuse_share_day_erbs, split.diffuse_share_month_erbs])
def test_the_clearer_the_less_comes_from_the_sky(share, sunset: float):
    found = share(np.linspace(0, 1, 201), sunset)

    assert found[0] == pytest.approx(1)
    assert (np.diff(found) <= 0.004).all()  # the fits join with small steps
    assert found[-1] < 0.2


@pytest.mark.parametrize(
    ("make", "said"),
    [
        (lambda: shadow.shadow_length(-1, 30), "height_m is -1"),
        (lambda: shadow.shadow_length(1, 0), "elevation_deg is 0"),
        (lambda: shadow.shadow_length(1, 91), "elevation_deg is 91"),
        (lambda: shadow.noon_elevation(91, 0), "latitude_deg is 91"),
        (lambda: photons.photon_flux(-1, 0.5, 4.6), "radiation_w_m2 is -1"),
        (lambda: photons.photon_flux(1, 50, 4.6), "par_share is 50"),
        (lambda: photons.light_from_radiation(300, 0.5, 4.6), "radiation_mj_m2 is 300"),
        (lambda: photons.light_of_day(1, 25), "hours is 25"),
        (lambda: split.diffuse_share_hour_erbs(1.1), "clearness is 1.1"),
        (lambda: split.diffuse_share_month_erbs(np.nan, 90), "clearness is nan"),
        (lambda: split.hourly_share_of_sky(0, 0), "sunset_deg is 0"),
    ],
)
def test_inputs_beyond_their_range_are_named(make, said):
    with pytest.raises(ValueError, match=said):
        make()
