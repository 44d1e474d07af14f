"""Shadows on the ground are where the beam does not come."""

import numpy as np
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st
from light_gardens import box, cloths, prisms, screens

from bedwright.drawings.geometry import contains, signed_area
from bedwright.light.ground import ground_shadow
from bedwright.light.scene import Cloth, Prism, Scene, Screen
from bedwright.light.shade import beam_transmission, sun_directions


def scene_of(thing) -> Scene:
    if isinstance(thing, Prism):
        return Scene(prisms=(thing,))
    return Scene(screens=(thing,)) if isinstance(thing, Screen) else Scene(cloths=(thing,))


def ringed(outline: np.ndarray) -> tuple[tuple[float, float], ...]:
    return tuple((float(x), float(y)) for x, y in outline)


@given(st.one_of(prisms(), screens(), cloths()), st.floats(8, 80), st.floats(0, 360))
def test_a_shadow_covers_what_the_beam_does_not_reach(thing, elevation, azimuth):
    assume(thing.transmission < 0.999)
    parts = [ringed(each) for each in ground_shadow(thing, elevation, azimuth)]
    assume(parts)
    reach = np.vstack(parts)
    low, high = reach.min(axis=0) - 0.5, reach.max(axis=0) + 0.5
    dice = np.random.default_rng(1)
    places = np.column_stack([dice.uniform(low, high, (150, 2)), np.zeros(150)])
    toward = sun_directions(np.array([elevation]), np.array([azimuth]))
    dark = beam_transmission(places, toward, scene_of(thing))[:, 0] < 1
    covered = [any(contains(part, (x, y)) for part in parts) for x, y, _ in places]

    assert (dark == np.array(covered)).mean() > 0.98  # points on an edge may fall to either side


@given(st.one_of(prisms(), screens(), cloths()), st.floats(2, 89), st.floats(0, 360))
def test_all_outlines_run_the_same_way_round(thing, elevation, azimuth):
    for each in ground_shadow(thing, elevation, azimuth):
        assert signed_area(ringed(each)) > 0


def test_a_fence_under_a_sun_along_it_casts_a_shadow_without_width():
    fence = Screen(np.array([0.0, 0.0]), np.array([0.0, 9.0]), 0.0, 1.5)

    assert ground_shadow(fence, 30, 0) == ()
    assert len(ground_shadow(fence, 30, 90)) == 1


def test_a_cloths_shadow_is_its_outline_moved():
    cloth = Cloth(box(0, 0, 2, 3), 2.0, 0.5)
    (found,) = ground_shadow(cloth, 45, 180)

    assert found == pytest.approx(box(0, 2, 2, 5))


@pytest.mark.parametrize("elevation", [0.0, -5.0, 91.0])
def test_a_sun_too_low_for_shadows_to_end_is_refused(elevation):
    with pytest.raises(ValueError, match="elevation_deg is"):
        ground_shadow(Cloth(box(0, 0, 1, 1), 2.0, 0.5), elevation, 0.0)
