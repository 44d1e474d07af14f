"""Salt in the root zone: none is lost or made, and it follows the water."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from bedwright.reference import Library
from bedwright.water import salt

UPTAKE = (0.4, 0.3, 0.2, 0.1)
SHAPE = (60, 3)


def run(water, drained, ec, start=2.0, held=0.18):
    whole = [np.broadcast_to(np.asarray(each, dtype=float), SHAPE) for each in (water, drained, ec)]
    return salt.root_zone_salt(start, *whole, held, UPTAKE)


@given(seed=st.integers(0, 2**32 - 1))
def test_salt_in_the_soil_is_what_was_brought_less_what_was_leached(seed: int):
    dice = np.random.default_rng(seed)
    water = dice.exponential(0.03, SHAPE)
    drained = water * dice.uniform(0, 1.2, SHAPE) * (dice.random(SHAPE) < 0.5)
    ec = dice.uniform(0, 4, SHAPE)
    held, start = dice.uniform(0.03, 0.4, 3), dice.uniform(0, 8, 3)

    result = salt.root_zone_salt(start, water, drained, ec, held, UPTAKE, dice.uniform(0.05, 1, 3))

    now = result.profile_ds_m.mean(axis=0) * held
    assert now == pytest.approx(
        2 * start * held + result.brought.sum(axis=0) - result.leached.sum(axis=0), abs=1e-9
    )
    assert result.ec_e_ds_m[-1] == pytest.approx(result.profile_ds_m.mean(axis=0) / 2)
    assert result.profile_ds_m.min() >= 0
    assert result.leached.min() >= 0


def test_without_drainage_salt_only_gathers():
    result = run(0.03, 0.0, 1.2)

    assert np.all(np.diff(result.ec_e_ds_m, axis=0) > 0)
    assert result.leached.max() <= 1e-12
    # 1.2 dS/m in 30 mm spread through 180 mm of soil water, halved for the extract
    assert np.diff(result.ec_e_ds_m, axis=0) == pytest.approx(
        np.full((59, 3), 1.2 * 0.030 / 0.180 / 2)
    )


@given(share=st.floats(0.02, 0.5), more=st.floats(0.05, 0.4))
def test_more_drainage_never_leaves_more_salt(share: float, more: float):
    little = run(0.03, 0.03 * share, 1.5)
    much = run(0.03, 0.03 * min(share + more, 1.0), 1.5)

    assert np.all(much.ec_e_ds_m <= little.ec_e_ds_m + 1e-12)


@given(ec=st.floats(0, 3), more=st.floats(0.1, 3))
def test_saltier_water_never_leaves_less_salt(ec: float, more: float):
    assert np.all(run(0.03, 0.004, ec + more).ec_e_ds_m > run(0.03, 0.004, ec).ec_e_ds_m)


def test_salt_lies_deeper_where_the_crop_has_taken_the_water():
    result = run(0.05, 0.0075, 1.0, start=0.5)

    assert np.all(np.diff(result.profile_ds_m[:, 0]) > 0)


def test_rain_alone_washes_the_top_first():
    result = run(0.03, 0.02, 0.0, start=4.0)

    assert np.all(result.profile_ds_m[0] < result.profile_ds_m[-1])
    assert np.all(np.diff(result.ec_e_ds_m, axis=0) < 0)


def test_ten_years_with_leaching_settle_and_without_do_not():
    """A season of 600 mm at 1.3 dS/m and a winter rain, twice a year, on 0.6 m of silt loam."""
    steps = 20
    water = np.tile([[0.6], [0.08]], (steps // 2, 2))
    drained = np.tile([[0.0, 0.09], [0.0, 0.04]], (steps // 2, 1))
    ec = np.tile([[1.3], [0.0]], (steps // 2, 2))

    years = salt.root_zone_salt(1.5, water, drained, ec, 0.18, UPTAKE).ec_e_ds_m[1::2]

    gained = np.diff(years, axis=0)
    assert gained[-1, 0] == pytest.approx(gained[0, 0])  # the same again each year
    assert abs(gained[-1, 1]) < 0.1 * abs(gained[0, 1])
    assert years[-1, 0] > 4 * years[-1, 1]


def test_shares_of_uptake_must_make_one():
    one = np.ones((1, 1))
    with pytest.raises(ValueError, match="sum_of_quarters"):
        salt.root_zone_salt(1, one, one, one, 0.1, (0.5, 0.4))


def test_steps_and_beds_are_needed():
    with pytest.raises(ValueError, match=r"must be \(steps, beds\)"):
        salt.root_zone_salt(1, np.ones(3), np.ones(3), np.ones(3), 0.1, UPTAKE)


def test_the_tables_name_the_uptake_by_quarters(library: Library):
    quarters = [library.parameter(f"water_uptake_quarter_{k}", "fraction").value for k in
                (1, 2, 3, 4)]  # fmt: skip

    assert tuple(quarters) == UPTAKE


def test_no_water_is_needed_where_the_soil_is_clean_already():
    assert float(salt.reclamation_depth(2, 3, 0.3, 0.1)) == 0.0


def test_a_drainage_fresher_than_the_water_cannot_be():
    with pytest.raises(ValueError, match="drainage_less_water"):
        salt.leaching_requirement_by_drainage(2.0, 1.5)
