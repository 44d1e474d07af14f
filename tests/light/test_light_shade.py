"""The beam among things in its way: which laws hold whatever stands there."""

import dataclasses

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from light_gardens import box, long_wall, mixed_scene, scenes, some_directions, some_points

from bedwright.light.scene import Cloth, Prism, Scene, Screen
from bedwright.light.shade import beam_transmission, sun_directions

POINTS, TOWARD = some_points(16), some_directions(140)


def at(east: float, north: float = 0.0, up: float = 0.0) -> np.ndarray:
    return np.array([[east, north, up]])


def through(scene: Scene, elevation: float, azimuth: float, point: np.ndarray) -> float:
    toward = sun_directions(np.array([elevation]), np.array([azimuth]))
    return float(beam_transmission(point, toward, scene)[0, 0])


def test_directions_point_east_north_and_up():
    found = sun_directions(np.array([0.0, 0, 0, 90]), np.array([0.0, 90, 180, 0]))

    assert found == pytest.approx(np.array([[0, 1, 0], [1, 0, 0], [0, -1, 0], [0, 0, 1]]))


@given(scenes())
def test_no_point_gets_more_than_the_open_sun_nor_less_than_none(scene: Scene):
    found = beam_transmission(POINTS, TOWARD, scene)

    assert found.min() >= 0
    assert found.max() <= 1


@given(scenes(), scenes())
def test_things_on_the_way_multiply(first: Scene, second: Scene):
    both = Scene(
        first.prisms + second.prisms,
        first.screens + second.screens,
        first.cloths + second.cloths,
    )
    apart = [beam_transmission(POINTS, TOWARD, each) for each in (first, second)]

    assert beam_transmission(POINTS, TOWARD, both) == pytest.approx(apart[0] * apart[1])


@given(scenes(), st.integers(1, 140))
def test_a_direction_is_the_same_alone_and_among_others(scene: Scene, count: int):
    among = beam_transmission(POINTS, TOWARD, scene)[:, count - 1]
    alone = beam_transmission(POINTS, TOWARD[count - 1 : count], scene)[:, 0]

    assert among == pytest.approx(alone, abs=1e-12)


def opaque(scene: Scene) -> Scene:
    def closed(each):
        return dataclasses.replace(each, transmission=0.0)

    return Scene(
        tuple(map(closed, scene.prisms)),
        tuple(map(closed, scene.screens)),
        tuple(map(closed, scene.cloths)),
    )


@given(scenes())
def test_what_is_closed_lets_no_more_through_than_what_is_porous(scene: Scene):
    porous = beam_transmission(POINTS, TOWARD, scene)

    assert (beam_transmission(POINTS, TOWARD, opaque(scene)) <= porous + 1e-12).all()


@given(scenes(), st.floats(1.0, 3.0))
def test_a_higher_screen_takes_no_less(scene: Scene, factor: float):
    raised = tuple(dataclasses.replace(s, top_m=s.top_m * factor) for s in scene.screens)
    higher = dataclasses.replace(scene, screens=raised)
    found = beam_transmission(POINTS, TOWARD, scene)

    assert (beam_transmission(POINTS, TOWARD, higher) <= found + 1e-12).all()


@given(scenes(), st.sampled_from([0.25, 0.5, 2.0, 4.0]))
def test_only_the_ratio_of_distance_to_height_counts(scene: Scene, scale: float):
    def prism(each: Prism) -> Prism:
        return Prism(
            each.footprint * scale,
            each.base_m * scale,
            each.top_m * scale,
            each.transmission,
            each.extinction_per_m / scale,
        )

    grown = Scene(
        tuple(map(prism, scene.prisms)),
        tuple(
            Screen(
                s.start * scale, s.end * scale, s.base_m * scale, s.top_m * scale, s.transmission
            )
            for s in scene.screens
        ),
        tuple(Cloth(c.footprint * scale, c.height_m * scale, c.transmission) for c in scene.cloths),
    )
    found = beam_transmission(POINTS * scale, TOWARD, grown)

    assert found == pytest.approx(beam_transmission(POINTS, TOWARD, scene), abs=1e-9)


@given(scenes(), st.booleans())
def test_a_mirrored_garden_under_a_mirrored_sun_is_the_same(scene: Scene, east: bool):
    flip = np.array([-1.0, 1.0]) if east else np.array([1.0, -1.0])
    turned = Scene(
        tuple(dataclasses.replace(p, footprint=p.footprint * flip) for p in scene.prisms),
        tuple(
            dataclasses.replace(s, start=s.start * flip, end=s.end * flip) for s in scene.screens
        ),
        tuple(dataclasses.replace(c, footprint=c.footprint * flip) for c in scene.cloths),
    )
    whole = np.append(flip, 1.0)
    found = beam_transmission(POINTS * whole, TOWARD * whole, turned)

    assert found == pytest.approx(beam_transmission(POINTS, TOWARD, scene), abs=1e-9)


@pytest.mark.parametrize("elevation", [10.0, 33.1, 60.0])
def test_a_wall_shades_as_far_as_its_shadow_is_long(elevation: float):
    wall = long_wall(1.8, bearing_deg=90)
    reach = 1.8 / np.tan(np.radians(elevation))

    assert through(wall, elevation, 180, at(0, 0.99 * reach)) == 0
    assert through(wall, elevation, 180, at(0, 1.01 * reach)) == 1
    assert through(wall, elevation, 180, at(0, -0.01)) == 1  # on its sunny side


def test_light_passes_under_what_does_not_reach_the_ground():
    hung = Scene(screens=(Screen(np.array([-9.0, 0]), np.array([9.0, 0]), 1.0, 2.0),))

    # 1 m behind it: below 45 degrees under it, above 63.4 degrees over it
    assert [through(hung, each, 180, at(0, 1)) for each in (40, 50, 60, 66)] == [1, 0, 0, 1]
    assert through(hung, 40, 180, at(0, 1, 0.5)) == 0  # from higher up it hangs lower


def test_under_a_crown_the_zenith_is_dark_and_the_low_sun_is_not():
    tree = Scene(prisms=(Prism(box(-2, -2, 2, 2), 2.0, 6.0),))

    assert through(tree, 90, 0, at(0)) == 0
    assert through(tree, 50, 90, at(0)) == 0
    assert through(tree, 40, 90, at(0)) == 1  # passes under: 2 m / 2 m is 45 degrees
    assert through(tree, 89, 90, at(2.5)) == 1


def test_foliage_takes_by_the_length_of_the_way():
    hedge = Scene(prisms=(Prism(box(1, -50, 2, 50), 0.0, 40.0, 1.0, 0.8),))
    level, steep = through(hedge, 1, 90, at(0)), through(hedge, 60, 90, at(0))

    assert level == pytest.approx(np.exp(-0.8 / np.cos(np.radians(1))))
    assert steep == pytest.approx(np.exp(-0.8 * 2))  # 1 m wide, at 60 degrees 2 m of way
    # slantwise in plan
    assert through(hedge, 1, 150, at(0)) == pytest.approx(np.exp(-1.6 / np.cos(np.radians(1))))
    # inside it only the rest of the way counts
    assert through(hedge, 1, 90, at(1.5)) == pytest.approx(np.exp(-0.4 / np.cos(np.radians(1))))


def test_an_angled_building_takes_the_beam_on_both_its_wings_and_not_in_its_corner():
    corner = np.array([[0, 0], [6, 0], [6, 2], [2, 2], [2, 6], [0, 6]], float)
    ell = Scene(prisms=(Prism(corner, 0.0, 3.0, 1.0, 1.0),))
    toward = through(ell, 0.01, 225, at(7, 7))  # out of the corner's middle, along its diagonal

    assert through(ell, 60, 225, at(4, 4)) == 1
    assert toward == pytest.approx(np.exp(-2 * np.sqrt(2)), rel=1e-3)
    # through both wings, and the open corner between them: 1 m off the outer corner's diagonal
    assert through(ell, 0.01, 135, at(-1, 5)) == pytest.approx(np.exp(-np.sqrt(2) * 4), rel=1e-3)


def test_a_cloth_shades_where_its_shadow_falls_and_nowhere_else():
    net = Scene(cloths=(Cloth(box(-2, -2, 2, 2), 2.0, 0.3),))

    assert through(net, 90, 0, at(0)) == 0.3
    assert through(net, 90, 0, at(2.5)) == 1
    assert through(net, 45, 180, at(0, 3)) == 0.3  # the shadow lies 2 m to the north
    assert through(net, 45, 180, at(0, -1)) == 1
    assert through(net, 45, 180, at(0, 3, 2.5)) == 1  # above the cloth


def test_a_row_does_not_shade_itself_but_its_neighbor():
    row = Screen(np.array([-5.0, 0]), np.array([5.0, 0]), 0.0, 1.8, tag="row 1")
    toward = sun_directions(np.array([30.0]), np.array([180.0]))
    points = np.array([[0, 0.2, 0], [0, 0.2, 0]])
    found = beam_transmission(points, toward, Scene(screens=(row,)), own=["row 1", "row 2"])

    assert found.ravel().tolist() == [1, 0]


def test_without_anything_in_the_way_all_of_the_beam_is_there():
    assert (beam_transmission(POINTS, TOWARD, Scene()) == 1).all()
    assert beam_transmission(POINTS, TOWARD[:0], mixed_scene()).shape == (16, 0)
    assert beam_transmission(POINTS[:0], TOWARD, mixed_scene()).shape == (0, 140)


@pytest.mark.parametrize(
    ("points", "directions", "own", "said"),
    [
        (np.zeros((2, 2)), TOWARD, None, "points has shape"),
        (POINTS, TOWARD[:, :2], None, "directions has shape"),
        (POINTS * np.nan, TOWARD, None, "all numbers"),
        (-POINTS, TOWARD, None, "below the ground"),
        (POINTS, -TOWARD, None, "above the horizon"),
        (POINTS, 2 * TOWARD, None, "not unit vectors"),
        (POINTS, TOWARD, ["one"], "1 tags for 16 points"),
    ],
)
def test_what_cannot_be_a_point_or_a_direction_is_refused(points, directions, own, said):
    with pytest.raises(ValueError, match=said):
        beam_transmission(points, directions, mixed_scene(), own=own)
