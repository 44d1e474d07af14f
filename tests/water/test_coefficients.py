"""Coefficients over stages, surface and cover; the crop's rows; the season's days."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from bedwright.reference import Library
from bedwright.water import coefficients, root_zone, surface, watering
from bedwright.water.coefficients import Stages
from bedwright.water.crop_water import Plants, SeasonWeather, crop_days, crop_water, plants_of
from bedwright.water.root_zone import BedLayers

share = st.floats(0, 1)


def test_a_stage_of_no_length_is_a_step_and_one_never_reached_never_comes():
    stages = Stages([10, 10], [10, 30], [20, np.inf], [20, np.inf])

    curve = coefficients.stage_coefficient(np.arange(0, 60), stages, 0.2, 1.0, 0.5)

    assert curve[10].tolist() == [0.2, 0.2]
    assert curve[11, 0] == 1.0
    assert curve[21, 0] == 0.5
    assert curve[-1, 1] == 1.0


@pytest.mark.parametrize("ends", [(10, 5, 20, 30), (10, np.nan, 20, 30)])
def test_stages_out_of_order_or_not_known_are_errors(ends: tuple[float, ...]):
    with pytest.raises(ValueError, match="development_end"):
        Stages(*ends)


@given(day=st.floats(-10, 200))
def test_a_coefficient_stays_between_its_tabled_values(day: float):
    found = coefficients.stage_coefficient([day], Stages(20, 50, 90, 120), 0.15, 1.10, 0.60)

    assert 0.15 <= found.item() <= 1.10


def test_an_end_value_below_0_45_is_not_adjusted():
    assert float(coefficients.end_adjusted(0.35, 5, 20, 0.4)) == 0.35
    assert float(coefficients.end_adjusted(0.60, 5, 20, 0.4)) > 0.60


@pytest.mark.parametrize(
    ("wind", "moist", "tall"), [(0.2, 45, 1), (9, 45, 1), (2, 5, 1), (2, 95, 1), (2, 45, 30)]
)
def test_climates_beyond_the_books_limits_count_as_the_limit(
    wind: float, moist: float, tall: float
):
    held = coefficients.climate_adjusted(
        1.1, np.clip(wind, 1, 6), np.clip(moist, 20, 80), np.clip(tall, 0.1, 10)
    )

    assert float(coefficients.climate_adjusted(1.1, wind, moist, tall)) == float(held)


@given(basal=st.floats(0, 1.4), base=st.floats(1, 2.5), tall=st.floats(0, 3))
def test_the_ceiling_always_leaves_room_over_the_crop(basal: float, base: float, tall: float):
    top = float(coefficients.most_coefficient(basal, 2, 30, tall, base))

    assert top >= basal + 0.05 - 1e-12
    assert 0 <= float(coefficients.cover_share(basal, top, 0.15, tall)) <= 0.99


@given(cover=share, wetted=share, drip=st.sampled_from([0, 1]))
def test_what_is_wetted_and_open_is_no_more_than_either(cover: float, wetted: float, drip: int):
    few = float(surface.exposed_wetted_share(cover, wetted, drip))

    assert 0 <= few <= min(1 - cover, wetted) + 1e-12


def test_a_single_row_in_dry_ground_may_use_more_but_never_beyond_the_ceiling():
    assert float(coefficients.oasis_ceiling(1, 0.6, 0.75)) == pytest.approx(2.0)
    assert float(coefficients.oasis_ceiling(1, 2.0, 0.75)) == 2.5


def test_two_crops_alike_share_a_bed_as_one():
    assert float(coefficients.shared_bed_coefficient(0.3, 0.5, 1.0, 0.5, 1.0)) == pytest.approx(1.0)


def test_a_sheet_with_holes_evaporates_from_them_and_from_the_ground_beside_it():
    assert float(surface.open_share_of_sheet(0.8, 0.02, 3)) == pytest.approx(0.2 + 0.8 * 0.06)
    assert float(surface.open_share_of_sheet(1.0, 0.0, 3)) == 0.01


def test_a_bed_wetted_every_day_takes_all_that_bare_ground_can():
    assert float(surface.initial_coefficient(1, 0.005, 0.010, 0.006)) == pytest.approx(1.15)


# Root zone ----------------------------------------------------------------------------------------


def test_roots_stop_at_the_floor_of_a_raised_bed_and_pass_into_ground_that_is_open():
    closed = BedLayers(0.15, depth_m=0.30)
    opened = BedLayers(0.15, depth_m=0.30, below=0.12)

    assert float(closed.roots_m(0.80)) == pytest.approx(0.30)
    assert float(opened.roots_m(0.80)) == pytest.approx(0.80)
    assert float(closed.available_m(0.80)) == pytest.approx(0.045)
    assert float(opened.available_m(0.80)) == pytest.approx(0.045 + 0.060)


def test_growing_roots_reach_the_shortage_of_dry_ground():
    roots = np.array([[0.2], [0.3], [0.5]])

    assert BedLayers(0.15).growth_m(roots, 0.4)[:, 0] == pytest.approx([0.0, 0.006, 0.012])


def test_a_tensiometer_and_a_feel_reading_set_the_depletion():
    """33 kPa is full, 1500 kPa is wilting, between them it falls."""
    left = root_zone.available_share_of_tension(np.array([0, 33, 60, 1500, 3000]), 0.31, 0.11)

    assert left[[0, 1]] == pytest.approx([1, 1])
    assert 0.6 < left[2] < 0.95
    assert left[[3, 4]] == pytest.approx([0, 0], abs=1e-12)
    assert float(watering.filling_depth(0.060, 0.375)) == pytest.approx(0.0375)


def test_feel_classes_meet_without_gap(library: Library):
    ends = [library.parameter(f"feel_{word}", "-") for word in
            ("dry", "slightly_moist", "moist", "wet")]  # fmt: skip

    assert [each.low for each in ends] == [0, 0.25, 0.5, 0.75]
    assert [each.high for each in ends] == [0.25, 0.5, 0.75, 1]


@given(now=st.floats(0, 0.2), held=st.floats(0.01, 0.2), part=st.floats(0, 0.9))
def test_stress_begins_where_the_readily_available_water_ends(now: float, held: float, part: float):
    ks = float(root_zone.drought_stress(now, held, part))

    assert 0 <= ks <= 1
    if now <= part * held:
        assert ks == pytest.approx(1)


def test_a_crop_that_stands_still_yields_nothing_and_an_unstressed_one_all():
    assert root_zone.yield_kept([0.0, 0.5, 1.0], 1.15) == pytest.approx([0, 1 - 1.15 / 2, 1])


# The table ----------------------------------------------------------------------------------------


def test_every_crop_of_the_table_has_coefficients_roots_and_depletion(library: Library):
    rows = library.rows("crop_water")
    for crop in {row["crop"] for row in rows}:
        found = crop_water(rows, crop)

        assert found.kcb[0] <= found.kcb[2] <= found.kcb[1]
        assert found.kcb[1] <= found.kc[1] <= 1.25
        assert found.root_depth_m[0] <= found.root_depth_m[1]
        assert 0.1 <= found.depletion_share <= 0.8
        if found.stage_shares is not None:
            assert 0 < found.stage_shares[0] < found.stage_shares[1] < found.stage_shares[2] < 1


def test_a_trellised_cucumber_uses_more_than_one_on_the_ground(library: Library):
    """FAO-56 Tables 12 and 17: 1.00 and 0.95; on a trellis 1.15 and 1.10."""
    rows = library.rows("crop_water")

    ground, trellis = crop_water(rows, "cucumber"), crop_water(rows, "cucumber", "trellised")

    assert (ground.kc[1], ground.kcb[1]) == (1.00, 0.95)
    assert (trellis.kc[1], trellis.kcb[1], trellis.height_m) == (1.15, 1.10, 1.75)


def test_a_crop_the_table_does_not_know_is_an_error(library: Library):
    with pytest.raises(LookupError, match="'mandrake'"):
        crop_water(library.rows("crop_water"), "mandrake")


def test_soils_of_the_table_hold_more_than_they_wilt_at(library: Library):
    held: dict[tuple[str, str], float] = {
        (row["texture"], row["property"]): row.typical()
        for row in library.rows("soil_water")
        if row.used
    }
    textures = {texture for texture, _ in held}
    known = {row["texture"] for row in library.rows("textures")}

    assert textures == known
    for texture in textures:
        assert held[texture, "field_capacity"] > held[texture, "wilting_point"] > 0


def test_a_seasons_days_grow_height_and_roots_once_and_never_shrink_them(library: Library):
    crop = crop_water(library.rows("crop_water"), "tomato")
    weather = SeasonWeather(np.full((140, 1), 0.006), np.zeros((140, 1)), 2.0, 30.0)

    days = crop_days(
        np.arange(140), Stages(30, 70, 110, 135), plants_of(crop, 1.15, 0.70),
        BedLayers(0.16, depth_m=0.45), weather,
    )  # fmt: skip

    assert np.all(np.diff(days.available_m[:, 0]) >= 0)
    assert days.available_m[0, 0] == pytest.approx(0.2 * 0.16)
    assert days.available_m[-1, 0] == pytest.approx(0.45 * 0.16)
    assert days.basal[[0, 90, 139], 0] == pytest.approx([0.15, 1.15, 0.70])


def test_plants_that_shrink_are_an_error():
    with pytest.raises(ValueError, match="height_m"):
        Plants((0.15, 1.0, 0.8), (0.5, 0.3), (0.2, 0.4))


# Water on particular days -------------------------------------------------------------------------


def test_rain_fills_only_what_is_missing_and_a_drizzle_counts_for_nothing():
    assert watering.rain_credit([0.012, 0.0007, 0.004], 0.004, 0.009) == pytest.approx(
        [0.009, 0.0, 0.004]
    )
    assert float(watering.days_off_after_rain(0.009, 1.0, 0.004)) == 2


def test_seed_is_wetted_often_enough_that_its_surface_never_dries():
    runs = watering.germination_runs_per_day(np.array([0.002, 0.007, 0.010]), 0.008, 0.5)

    assert runs.tolist() == [1, 3, 3]
    assert watering.germination_depth(0.007, 3) == pytest.approx(1.15 * 0.007 / 3)
    assert float(watering.germination_runs_per_day(0.010, 0.008, 0.5, 0.5)) == 2
