"""The share of the sky's light: beside walls, under cloths, among whatever stands there."""

import numpy as np
import pytest
from hypothesis import given
from light_gardens import crown, long_wall, mixed_scene, scenes, some_points

from bedwright.light.scene import Cloth, Scene
from bedwright.light.shadow import sky_share_beside_wall
from bedwright.light.sky import sky_directions, sky_share

PROMISED = 0.005


def test_the_directions_are_those_of_an_even_sky_on_level_ground():
    found = sky_directions()

    assert np.linalg.norm(found, axis=1) == pytest.approx(1)
    # a level surface takes sin^2 of the elevation up to there, and no bearing more than another
    for degrees in (15, 30, 45, 60, 75):
        below = (found[:, 2] < np.sin(np.radians(degrees))).mean()
        assert below == pytest.approx(np.sin(np.radians(degrees)) ** 2, abs=0.001)
    assert np.abs(found[:, :2].mean(axis=0)).max() < 1e-3


@pytest.mark.parametrize("bearing", [0.0, 30.0, 90.0, 137.0])
@pytest.mark.parametrize("transmission", [0.0, 0.25])
def test_beside_a_long_wall_it_is_that_of_the_formula(bearing: float, transmission: float):
    distance = np.array([0.05, 0.3, 0.6, 0.9, 1.2, 1.8, 3.6, 9.0])
    off = np.radians(bearing + 90)
    points = np.outer(distance, [np.sin(off), np.cos(off), 0.0])
    wall = long_wall(1.8, bearing_deg=bearing, transmission=transmission)
    exact = 1 - (1 - transmission) * (1 - sky_share_beside_wall(distance, 1.8))

    assert np.abs(sky_share(points, wall) - exact).max() < PROMISED


@pytest.mark.parametrize("radius", [0.5, 1.0, 2.0, 5.0])
def test_below_the_middle_of_a_round_cloth_it_is_that_of_a_disk(radius: float):
    height = 2.0
    closed = Scene(cloths=(Cloth(crown(0, 0, radius, 96), height, 0.0),))
    exact = 1 - radius**2 / (radius**2 + height**2)  # view of a disk from below its middle

    assert sky_share(np.zeros((1, 3)), closed)[0] == pytest.approx(exact, abs=PROMISED)


@given(scenes())
def test_no_point_sees_more_than_the_whole_sky(scene: Scene):
    found = sky_share(some_points(10), scene)

    assert found.min() >= 0
    assert found.max() <= 1


def test_an_open_garden_sees_the_whole_sky():
    assert (sky_share(some_points(5), Scene()) == 1).all()


def test_farther_from_a_wall_and_beside_a_lower_one_there_is_more_sky():
    distance = np.linspace(0.1, 6, 25)
    points = np.column_stack([distance, np.zeros((25, 2))])
    found = [sky_share(points, long_wall(height)) for height in (0.9, 1.8, 3.6)]

    assert (np.diff(found, axis=1) >= 0).all()
    assert (np.diff(found, axis=0) <= 0).all()
    # the half of the distance beside the half of the height is the same
    assert sky_share(points / 2, long_wall(0.9)) == pytest.approx(found[1], abs=1e-9)


def test_it_is_the_same_each_time():
    first, again = (sky_share(some_points(30), mixed_scene()) for _ in range(2))

    assert first.tobytes() == again.tobytes()
