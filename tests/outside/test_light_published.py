"""Shadows, light beside rows and light in photons against published and independently reckoned
figures. Sun positions are checked against pvlib in test_sun_against_pvlib.py."""

from __future__ import annotations

import numpy as np
import pytest

from bedwright.climate.day_length import extraterrestrial_radiation_fao56
from bedwright.light.daily import LightSupply, light_at
from bedwright.light.needs import LightFit, LightNeed, light_fit
from bedwright.light.photons import light_from_radiation, photon_flux
from bedwright.light.scene import Scene, Screen
from bedwright.light.shade import beam_transmission
from bedwright.light.shadow import (
    noon_elevation,
    shadow_across_row,
    shadow_length,
    sky_share_beside_wall,
)
from bedwright.light.split import clear_sky_radiation_fao56, diffuse_share_hour_erbs

# Reckoned apart from this program for Phoenix, 33.45 N, and a row 1.8 m high, with Cooper's
# declination 23.45 sin(360 (284 + n) / 365) and the triangle of the sun; printed digits.
LATITUDE, HEIGHT_M = 33.45, 1.8
DAYS = {"Mar": 80, "Jun": 172, "Sep": 264, "Dec": 355}


def cooper(day: int) -> float:
    return 23.45 * np.sin(np.radians(360 * (284 + day) / 365))


def sun(day: int, hour_angle_deg: np.ndarray) -> np.ndarray:
    """Directions (hours, 3) toward the sun, by the formulas of textbooks."""
    north, tilt, turn = np.radians(LATITUDE), np.radians(cooper(day)), np.radians(hour_angle_deg)
    rise = np.sin(north) * np.sin(tilt) + np.cos(north) * np.cos(tilt) * np.cos(turn)
    ahead = np.cos(north) * np.sin(tilt) - np.sin(north) * np.cos(tilt) * np.cos(turn)
    return np.column_stack([-np.cos(tilt) * np.sin(turn), ahead, rise])


def angles(directions: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
    around = np.degrees(np.arctan2(directions[:, 0], directions[:, 1])) % 360
    return np.degrees(np.arcsin(directions[:, 2])), around


@pytest.mark.parametrize(
    ("month", "elevation", "length"),
    [("Mar", 56.15, 1.207), ("Jun", 80.00, 0.317), ("Sep", 56.35, 1.198), ("Dec", 33.10, 2.761)],
)
def test_noon_shadows_at_phoenix(month: str, elevation: float, length: float):
    found = noon_elevation(LATITUDE, cooper(DAYS[month]))

    assert found == pytest.approx(elevation, abs=0.005)
    assert shadow_length(HEIGHT_M, found) == pytest.approx(length, abs=0.0005)


@pytest.mark.parametrize(
    ("month", "elevation", "azimuths", "length", "across_ns", "across_ew"),
    [
        ("Mar", 35.88, (119.23, 240.77), 2.488, 2.172, 1.215),
        ("Jun", 49.52, (92.25, 267.75), 1.536, 1.535, 0.060),
        ("Dec", 18.78, (136.75, 223.25), 5.294, 3.627, 3.856),
    ],
)
def test_shadows_at_nine_and_at_three(month, elevation, azimuths, length, across_ns, across_ew):
    up, around = angles(sun(DAYS[month], np.array([-45.0, 45.0])))

    assert up == pytest.approx(elevation, abs=0.005)
    assert around == pytest.approx(azimuths, abs=0.005)
    assert shadow_length(HEIGHT_M, up) == pytest.approx(length, abs=0.0015)
    assert shadow_across_row(HEIGHT_M, up, around, 0.0) == pytest.approx(across_ns, abs=0.001)
    assert shadow_across_row(HEIGHT_M, up, around, 90.0) == pytest.approx(across_ew, abs=0.001)


def test_the_width_of_an_east_west_rows_shadow_at_the_equinox():
    assert shadow_length(HEIGHT_M, noon_elevation(LATITUDE, 0.0)) == pytest.approx(1.189, abs=5e-4)


def test_how_far_off_a_bed_keeps_the_noon_sun_of_midwinter():
    # 1.53 times the height at 33.45 N: height / tan(66.55 - latitude)
    assert shadow_length(1.0, noon_elevation(LATITUDE, -23.45)) == pytest.approx(1.53, abs=0.005)


# Share of a clear day's beam on level ground that a long closed wall takes, at these distances;
# beam weighted by sin(elevation) 0.7^(1 / sin(elevation)) in steps of 0.25 degrees of hour angle.
DISTANCES = np.array([0.3, 0.6, 0.9, 1.2, 1.8])
LOST = [
    ("Mar", "east", [0.419, 0.345, 0.276, 0.221, 0.138]),
    ("Jun", "east", [0.412, 0.330, 0.259, 0.200, 0.118]),
    ("Dec", "east", [0.427, 0.357, 0.293, 0.239, 0.155]),
    ("Mar", "north", [1, 1, 1, 1, 0]),
    ("Jun", "north", [0.223, 0, 0, 0, 0]),
    ("Dec", "north", [1, 1, 1, 1, 1]),
    ("Mar", "south", [0, 0, 0, 0, 0]),
    ("Jun", "south", [0.125, 0.070, 0.042, 0.028, 0.013]),
    ("Dec", "south", [0, 0, 0, 0, 0]),
]
SIDES = {"east": (1, 0), "west": (-1, 0), "north": (0, 1), "south": (0, -1)}


def clear_day(month: str) -> tuple[np.ndarray, np.ndarray]:
    """Directions of the sun and the weights of their beams."""
    directions = sun(DAYS[month], np.arange(-180, 180, 0.25))
    up = directions[directions[:, 2] > 0]
    weights = up[:, 2] * 0.7 ** (1 / up[:, 2])
    return up, weights / weights.sum()


def wall(side: str, transmission: float = 0.0) -> tuple[np.ndarray, Scene]:
    """Points at the distances on one side of a long wall, and the wall."""
    off = np.array(SIDES[side], dtype=float)
    end = 1e5 * np.array([off[1], off[0]])
    points = np.column_stack([np.outer(DISTANCES, off), np.zeros(DISTANCES.size)])
    return points, Scene(screens=(Screen(-end, end, 0.0, HEIGHT_M, transmission),))


@pytest.mark.parametrize(("month", "side", "lost"), LOST)
def test_the_beam_of_a_clear_day_that_a_wall_takes(month: str, side: str, lost: list[float]):
    directions, weights = clear_day(month)
    points, scene = wall(side)
    found = 1 - beam_transmission(points, directions, scene) @ weights

    assert found == pytest.approx(np.array(lost), abs=0.0006)


@pytest.mark.parametrize("month", ["Mar", "Jun", "Dec"])
def test_both_sides_of_a_north_south_wall_lose_the_same_and_half_of_it_at_the_wall(month: str):
    directions, weights = clear_day(month)
    east, west = (
        beam_transmission(points, directions, scene) @ weights
        for points, scene in (wall("east"), wall("west"))
    )
    points, scene = wall("east")
    touching = beam_transmission(points[:1] * 1e-4, directions, scene) @ weights

    assert east == pytest.approx(west, abs=1e-6)
    assert touching[0] == pytest.approx(0.5, abs=0.002)  # the moment of noon has one side


def test_the_sky_beside_a_wall():
    # The hemisphere integrated numerically gives 0.6581 at 0.6 m
    distances = np.array([0.3, 0.6, 0.9, 1.2, 1.8, 3.6])
    expected = [0.582, 0.658, 0.724, 0.777, 0.854, 0.947]
    found = sky_share_beside_wall(distances, HEIGHT_M)

    assert found == pytest.approx(np.array(expected), abs=0.0005)
    assert found[1] == pytest.approx(0.6581, abs=5e-5)


def under_a_trellis(month: str, side: str, dli: float, beam_share: float, opacity: float) -> float:
    directions, weights = clear_day(month)
    points, scene = wall(side, 1 - opacity)
    supply = LightSupply(
        directions,
        (dli * beam_share * weights)[:, None],
        np.zeros((len(weights), 1)),
        np.array([dli * (1 - beam_share)]),
    )
    return float(light_at(points[1:2], scene, supply).light_mol_m2_d[0, 0])


def test_a_summer_day_under_a_trellis():
    # 60 mol, beam 0.85, north-south, 0.6 m off, opacity 0.75: 51 (1 - 0.3304 x 0.75) = 38.36 and
    # 9 (1 - 0.3419 x 0.75) = 6.69 make 45.05; closed 40.07
    assert under_a_trellis("Jun", "east", 60, 0.85, 0.75) == pytest.approx(45.05, abs=0.02)
    assert under_a_trellis("Jun", "east", 60, 0.85, 1.0) == pytest.approx(40.07, abs=0.02)


def test_a_winter_day_north_of_a_trellis_is_too_dark_for_lettuce():
    found = under_a_trellis("Dec", "north", 25, 0.75, 0.75)
    lettuce = LightNeed(12.0, 17.0)  # leafy greens at least 12 mol (Plants 13: 652)

    assert found == pytest.approx(9.33, abs=0.02)
    assert under_a_trellis("Dec", "north", 25, 0.75, 1.0) == pytest.approx(4.11, abs=0.02)
    assert str(light_fit(found, lettuce)) == LightFit.DARK


def test_photons_of_500_watts():
    # bigleaf 0.8.2, manual page Rg.to.PPFD: 500 W/m2 is 1150 umol/m2/s
    assert photon_flux(500, 0.5, 4.6) == pytest.approx(1150)


def test_photons_of_30_megajoules_by_both_pairs_of_factors():
    assert light_from_radiation(30, 0.5, 4.6) == pytest.approx(69.0)
    assert light_from_radiation(30, 0.45, 4.57) == pytest.approx(61.7, abs=0.05)


def test_the_most_that_was_measured_at_tucson_lies_between_the_two_pairs_of_factors():
    # Kania and Giacomelli, 13 years at Tucson (32.3 N, 730 m): at most 70.3 mol/m2/d. Clear sky in
    # June by FAO-56.
    above = extraterrestrial_radiation_fao56(32.3, np.arange(152, 182))
    clear = clear_sky_radiation_fao56(above, 730)

    low, high = (
        float(light_from_radiation(clear.max(), *pair)) for pair in ((0.45, 4.57), (0.5, 4.6))
    )
    assert low < 70.3 < high


@pytest.mark.parametrize(
    ("clearness", "share"), [(0.2, 0.982), (0.5, 0.6591), (0.7, 0.2440), (0.85, 0.165)]
)
def test_the_sky_share_of_an_hour(clearness: float, share: float):
    # Erbs, Klein and Duffie 1982, equation 1, reckoned by hand
    assert diffuse_share_hour_erbs(clearness) == pytest.approx(share, abs=5e-5)


def test_the_radiation_of_a_cloudless_day_at_uccle():
    # FAO-56 example 18: 100 m above the sea, 41.09 above the air, 30.90 MJ/m2/d
    assert clear_sky_radiation_fao56(41.09, 100) == pytest.approx(30.90, abs=0.005)
