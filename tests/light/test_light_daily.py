"""The light of a day by months: sums are kept, hemispheres mirror, cells cost little."""

import dataclasses

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from light_gardens import long_wall, mixed_scene, moments, scenes, some_points, supply

from bedwright.climate.day_length import extraterrestrial_radiation_fao56
from bedwright.light.daily import SunMoments, light_at, light_supply
from bedwright.light.scene import Scene

HALF_A_CELL = 0.3  # mol/m2/d of 60: what cells of a degree may cost at a point in a month
ACROSS = np.array([[0.6, 0.0, 0.0], [-0.6, 0.0, 0.0]])


@given(
    st.floats(-60, 60),
    st.sampled_from(["2026-03-18", "2026-06-18", "2026-12-18"]),
    st.floats(0.15, 0.75),
    st.sampled_from(["month", "day"]),
)
def test_over_open_ground_the_day_keeps_its_sum(latitude, first, clearness, split):
    found = supply(latitude, first, 3, clearness, split=split)
    number = 1 + int((np.datetime64(first) - np.datetime64("2026-01-01")).astype(int))
    above = extraterrestrial_radiation_fao56(latitude, number + np.arange(3))

    assert found.open_mol_m2_d[0] == pytest.approx(2.3 * clearness * above.mean())
    assert (found.beam_mol_m2_d >= 0).all()
    assert found.sky_mol_m2_d[0] > 0


@given(scenes(), st.integers(0, 20))
def test_no_point_gets_more_than_open_ground(scene: Scene, seed: int):
    open_sky = supply(46.0, "2026-05-10", 2, cell_deg=4.0)
    found = light_at(some_points(6, seed), scene, open_sky)

    assert (found.light_mol_m2_d <= found.open_mol_m2_d * (1 + 1e-9)).all()
    assert (found.sun_h_d <= found.open_sun_h_d * (1 + 1e-9)).all()
    assert found.light_mol_m2_d.min() >= 0


def test_an_open_garden_gets_the_light_of_open_ground():
    found = light_at(some_points(3), Scene(), supply(46.0, "2026-06-01", 5))

    assert found.light_mol_m2_d == pytest.approx(np.tile(found.open_mol_m2_d, (3, 1)))
    assert found.sun_h_d == pytest.approx(np.tile(found.open_sun_h_d, (3, 1)))


def test_hours_of_sun_over_open_ground_are_those_of_the_day():
    # FAO-56 table 2.7: 12.0 h at the equinox; mid-June at 46 N 15.6 h
    equinox, june = supply(46.0, "2026-03-20", 1), supply(46.0, "2026-06-15", 1)

    assert equinox.sun_h_d.sum() == pytest.approx(12.0, abs=0.2)
    assert june.sun_h_d.sum() == pytest.approx(15.6, abs=0.2)


def test_a_low_sun_is_not_counted_as_hours_and_is_counted_as_light():
    low, high = (supply(46.0, "2026-03-20", 1, least_sun_deg=each) for each in (0.0, 5.0))

    # at 46 degrees the sun of the equinox climbs 5 degrees in 5 / (15 cos 46) hours
    lost = 2 * 5 / (15 * np.cos(np.radians(46)))
    assert low.sun_h_d.sum() - high.sun_h_d.sum() == pytest.approx(lost, abs=0.2)
    assert high.open_mol_m2_d == pytest.approx(low.open_mol_m2_d)


def test_farther_from_a_wall_and_beside_a_lower_one_there_is_more_light():
    distance = np.linspace(0.1, 6, 20)
    points = np.column_stack([distance, np.zeros((20, 2))])
    summer = supply(33.45, "2026-06-18", 5)
    found = [light_at(points, long_wall(each), summer).light_mol_m2_d for each in (0.9, 1.8, 3.6)]

    assert (np.diff(np.array(found), axis=1) >= -1e-9).all()
    assert (np.diff(np.array(found), axis=0) <= 1e-9).all()


def test_both_sides_of_a_north_south_row_get_the_same_in_the_sum_of_a_day():
    found = light_at(ACROSS, long_wall(1.8), supply(33.45, "2026-06-18", 7))
    east, west = found.light_mol_m2_d[:, 0]

    assert east == pytest.approx(west, rel=0.01)


@pytest.mark.parametrize(("north", "south"), [("2026-06-21", "2026-12-21")])
def test_the_hemispheres_mirror_but_for_the_suns_own_path(north: str, south: str):
    scene = mixed_scene()
    flip = np.array([1.0, -1.0])
    mirrored = Scene(
        tuple(dataclasses.replace(p, footprint=p.footprint * flip) for p in scene.prisms),
        tuple(
            dataclasses.replace(s, start=s.start * flip, end=s.end * flip) for s in scene.screens
        ),
        tuple(dataclasses.replace(c, footprint=c.footprint * flip) for c in scene.cloths),
    )
    points = some_points(20)
    here = light_at(points, scene, supply(40.0, north, 1, cell_deg=None))
    there = light_at(points * [1, -1, 1], mirrored, supply(-40.0, south, 1, cell_deg=None))
    share = here.light_mol_m2_d / here.open_mol_m2_d
    other = there.light_mol_m2_d / there.open_mol_m2_d

    assert share == pytest.approx(other, abs=0.01)
    # the earth is nearer to the sun in January: by the square of 1.017 / 0.983
    more = there.open_mol_m2_d / here.open_mol_m2_d
    assert more[0] == pytest.approx((1.017 / 0.983) ** 2, abs=0.01)


def test_cells_of_a_degree_cost_little():
    points = some_points(60)
    exact = light_at(points, mixed_scene(), supply(46.0, "2026-04-01", 60, cell_deg=None))
    found = light_at(points, mixed_scene(), supply(46.0, "2026-04-01", 60, cell_deg=1.0))
    off = np.abs(found.light_mol_m2_d - exact.light_mol_m2_d)

    assert off.max() < HALF_A_CELL
    assert off.mean() < HALF_A_CELL / 5
    assert found.open_mol_m2_d == pytest.approx(exact.open_mol_m2_d)


def test_each_period_may_have_its_own_scene():
    sun, _ = moments(46.0, "2026-06-30", 2)
    above = extraterrestrial_radiation_fao56(46.0, np.array([181, 182]))
    both = light_supply(sun, 0.6 * above, above, np.array([0, 1]), mol_per_mj=2.3)
    bare, wall = Scene(), long_wall(1.8)
    found = light_at(ACROSS, [bare, wall], both)
    alone = light_at(ACROSS, wall, both)

    assert found.light_mol_m2_d[:, 0] == pytest.approx(both.open_mol_m2_d[0])
    assert found.light_mol_m2_d[:, 1] == pytest.approx(alone.light_mol_m2_d[:, 1])
    with pytest.raises(ValueError, match="1 scenes for 2 periods"):
        light_at(ACROSS, [bare], both)


def test_clear_days_bring_more_of_their_light_from_the_sun_than_gray_ones():
    shares = []
    for clearness in (0.2, 0.4, 0.6, 0.75):
        found = supply(46.0, "2026-06-18", 3, clearness, split="day")
        shares.append(float(found.sky_mol_m2_d[0] / found.open_mol_m2_d[0]))

    assert shares == sorted(shares, reverse=True)
    assert shares[0] > 0.9
    assert shares[-1] == pytest.approx(0.175)  # erbs_1982, from 0.722 on


def sun(**more) -> SunMoments:
    given = {
        "elevation_deg": np.array([10.0, 20.0]),
        "azimuth_deg": np.array([90.0, 180.0]),
        "day": np.array([0, 0]),
        "step_h": 1.0,
        "latitude_deg": 46.0,
    }
    return SunMoments(**(given | more))


def one(values: float) -> np.ndarray:
    return np.array([values])


@pytest.mark.parametrize(
    ("make", "said"),
    [
        (lambda: sun(day=np.array([0])), "must be alike"),
        (lambda: sun(step_h=0.0), "step_h is 0"),
        (lambda: sun(latitude_deg=91.0), "latitude_deg is 91"),
        (lambda: light_supply(sun(), one(20), one(40), one(0)[:0], mol_per_mj=2.3), "have shapes"),
        (lambda: light_supply(sun(), one(45), one(40), one(0), mol_per_mj=2.3), "more than extra"),
        (lambda: light_supply(sun(), one(20), one(40), one(1), mol_per_mj=2.3), "without gaps"),
        (lambda: light_supply(sun(), one(20), one(40), one(0), mol_per_mj=23), "mol_per_mj is 23"),
        (
            lambda: light_supply(sun(day=np.array([0, 1])), one(20), one(40), one(0), mol_per_mj=2),
            "day is",
        ),
        (
            lambda: light_supply(
                sun(elevation_deg=np.array([-1.0, -2.0])), one(2), one(4), one(0), mol_per_mj=2
            ),
            "no moment with the sun up",
        ),
        (
            lambda: light_supply(sun(), one(20), one(40), one(0), mol_per_mj=2, cell_deg=20),
            "cell_deg is 20",
        ),
    ],
)
def test_what_cannot_be_a_supply_of_light_is_refused(make, said):
    with pytest.raises(ValueError, match=said):
        make()


def test_a_night_that_lasts_the_day_has_no_light():
    found = light_supply(
        sun(elevation_deg=np.array([-1.0, -2.0])), one(0), one(0), one(0), mol_per_mj=2.3
    )

    assert found.open_mol_m2_d.tolist() == [0]
    assert light_at(ACROSS, mixed_scene(), found).light_mol_m2_d.tolist() == [[0], [0]]
