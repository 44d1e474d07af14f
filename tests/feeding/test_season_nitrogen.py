"""Nitrogen through a season: nothing is made, nothing is lost from the account."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from bedwright.feeding import response
from bedwright.feeding.release import Pools, SeasonNitrogen, Weeks, rates_by_week, season_nitrogen
from bedwright.feeding.uptake import UptakeCurve, season_length, uptake_by_week, uptake_curve
from bedwright.reference import Library

LIBRARY = Library()
share = st.floats(0, 1)
mass = st.floats(0, 0.1)
rate = st.floats(0, 3)


@st.composite
def seasons(draw: st.DrawFn) -> SeasonNitrogen:
    cases, materials, weeks = (draw(st.integers(1, 3)), draw(st.integers(0, 4)),
                               draw(st.integers(1, 40)))  # fmt: skip

    def array(values: st.SearchStrategy[float], *shape: int) -> np.ndarray:
        count = math.prod(shape)
        flat = (
            draw(st.lists(values, min_size=count, max_size=count))
            if count < 60
            else (np.resize(draw(st.lists(values, min_size=17, max_size=17)), count))
        )
        return np.array(flat, dtype=float).reshape(shape)

    two, three, by_week = (cases, materials), (cases, materials, weeks), (cases, weeks)
    return season_nitrogen(
        Pools(
            mineral=array(mass, *two),
            fast=array(mass, *two),
            slow=array(mass, *two),
            tie_up=array(mass, *two),
            fast_rate=array(rate, *three),
            slow_rate=array(rate, *three),
            wetted=array(share, *two),
            ammonia=array(share, *two),
            surface_ammonia=array(share, *two),
            spread=array(st.integers(0, weeks - 1), materials).astype(int),
        ),
        Weeks(
            demand=array(mass, *by_week),
            income=array(mass, *by_week),
            leached=array(share, *by_week),
            return_rate=array(rate, *by_week),
        ),
    )


@given(seasons())
def test_the_balance_of_nitrogen_closes_over_any_season(season: SeasonNitrogen):
    assert np.abs(season.residual).max() < 1e-9


@given(seasons())
def test_no_flow_and_no_store_is_ever_negative(season: SeasonNitrogen):
    for name in ("brought", "freed", "ammonia", "bound", "returned", "uptake", "short", "leached",
                 "in_soil", "pools_left", "bound_left", "wanted_to_bind"):  # fmt: skip
        assert getattr(season, name).min(initial=0.0) >= -1e-15, name


@given(seasons())
def test_what_a_week_adds_less_what_leaves_is_what_the_soil_holds(season: SeasonNitrogen):
    came = (season.available - season.uptake - season.leached).cumsum(axis=1)

    assert season.in_soil == pytest.approx(came, abs=1e-12)


def one(pools: dict[str, float], weeks: int = 10, **by_week: float) -> SeasonNitrogen:
    """One material spread in the first week, rates steady."""
    cell, line = np.ones((1, 1)), np.ones((1, weeks))
    steady = np.ones((1, 1, weeks))
    names = ("mineral", "fast", "slow", "tie_up", "ammonia", "surface_ammonia")
    return season_nitrogen(
        Pools(
            **{name: cell * pools.get(name, 0.0) for name in names},
            fast_rate=steady * pools.get("k_fast", 0.0),
            slow_rate=steady * pools.get("k_slow", 0.0),
            wetted=cell * pools.get("wetted", 1.0),
            spread=np.array([int(pools.get("week", 0))]),
        ),
        Weeks(
            **{
                name: line * by_week.get(name, 0.0)
                for name in ("demand", "income", "leached", "return_rate")
            }
        ),
    )


def test_two_pools_free_what_the_formula_says():
    season = one({"fast": 0.62, "slow": 0.38, "k_fast": 0.75, "k_slow": 0.01}, weeks=8)

    out = 0.62 * (1 - math.exp(-0.75 * 8)) + 0.38 * (1 - math.exp(-0.01 * 8))
    assert season.freed.sum() == pytest.approx(out, abs=1e-12)


def test_in_a_drip_watered_bed_the_dry_share_keeps_its_nitrogen():
    wet = one({"fast": 1.0, "k_fast": 1.0})
    drip = one({"fast": 1.0, "k_fast": 1.0, "wetted": 0.4})

    assert drip.freed.sum() == pytest.approx(0.4 * wet.freed.sum(), abs=1e-12)
    assert drip.pools_left[0, 0] == pytest.approx(0.6 + 0.4 * wet.pools_left[0, 0], abs=1e-12)


def test_straw_binds_nitrogen_first_and_gives_it_back_later():
    straw = {"tie_up": 0.02, "k_fast": 0.5}
    season = one(straw, weeks=30, income=0.005, return_rate=0.05)

    assert season.bound[0, :4].sum() > season.returned[0, :4].sum()
    assert season.returned[0, 20:].sum() > season.bound[0, 20:].sum()


def test_rotting_cannot_bind_what_the_soil_does_not_hold():
    season = one({"tie_up": 0.02, "k_fast": 0.5})

    assert season.bound.sum() == 0
    assert season.wanted_to_bind[0] == pytest.approx(0.02)


def test_what_goes_to_the_air_never_reaches_the_soil():
    season = one({"mineral": 1.0, "ammonia": 0.3, "fast": 1.0, "k_fast": 1.0,
                  "surface_ammonia": 0.25}, weeks=1)  # fmt: skip

    gone = 0.3 + 0.25 * (1 - math.exp(-1.0))
    assert season.ammonia.sum() == pytest.approx(gone)
    assert season.in_soil[0, 0] == pytest.approx(1 + 1 - math.exp(-1.0) - gone)


def test_a_later_dressing_gives_nothing_before_its_day():
    season = one({"mineral": 1.0, "fast": 1.0, "k_fast": 1.0, "week": 4})

    assert season.available[0, :4].sum() == 0
    assert season.brought[0, 0, 4] == 1


def test_drainage_takes_its_share_of_what_the_crop_left():
    season = one({"mineral": 1.0}, weeks=1, demand=0.2, leached=0.1)

    assert season.leached[0, 0] == pytest.approx(0.08)


def test_arrays_that_do_not_fit_are_named():
    with pytest.raises(ValueError, match="wetted is"):
        season_nitrogen(
            Pools(*(np.zeros((1, 1)),) * 4, *(np.zeros((1, 1, 2)),) * 2, np.zeros((1, 2)),
                  np.zeros((1, 1)), np.zeros((1, 1)), np.array([0])),
            Weeks(*(np.zeros((1, 2)),) * 4),
        )  # fmt: skip


def test_a_share_of_more_than_all_is_refused():
    with pytest.raises(ValueError, match="ammonia"):
        one({"mineral": 1.0, "ammonia": 1.5})


@given(st.floats(0, 45), st.floats(0.1, 10))
def test_warmer_soil_never_frees_less(celsius: float, warmer: float):
    cell = np.ones((1, 1))
    kelvin = 273.15 + np.array([celsius, celsius + warmer])
    cold, warm = rates_by_week(cell, cell * 1.72, cell * 298.15, kelvin, np.ones(2))[0, 0]

    assert warm > cold


def test_dry_soil_frees_nothing_and_full_soil_half():
    factor = response.moisture_factor_ceres
    args = {"air_dry": 0.05, "drained_limit": 0.25, "saturation": 0.45}

    assert factor(0.05, **args) == 0
    assert factor(0.25, **args) == 1
    assert factor(0.45, **args) == 0.5
    assert factor(0.15, **args) == pytest.approx(0.5)


def test_all_the_water_gone_takes_two_thirds_of_the_nitrate():
    assert response.leached_share(75.0, 75.0) == pytest.approx(1 - 1 / math.e)
    assert response.leached_share(0.0, 75.0) == 0


# Uptake.


@pytest.mark.parametrize("row", LIBRARY.rows("crops"), ids=lambda row: row["crop"])
def test_every_crop_has_an_uptake_curve_that_rises_to_all_of_its_nitrogen(row):
    curve = uptake_curve(LIBRARY, row["crop"], row["kind"])

    assert (np.diff(curve.taken) >= 0).all() and (np.diff(curve.season) > 0).all()
    assert (curve.taken[0], curve.taken[-1]) == (0, 1)


@given(st.floats(0, 0.1), st.floats(20, 250), st.integers(0, 8))
def test_the_weeks_add_up_to_the_seasons_uptake(total: float, days: float, rest: int):
    curve = uptake_curve(LIBRARY, "lettuce", "leafy")
    since = 7.0 * np.arange(-rest, math.ceil(days / 7))
    weekly = uptake_by_week(total, curve, days, since)

    assert weekly.sum() == pytest.approx(total, abs=1e-12)
    assert weekly[:rest].sum() == 0


def test_lettuce_takes_most_of_its_nitrogen_in_its_last_month():
    curve = uptake_curve(LIBRARY, "lettuce", "leafy")
    before = float(np.interp(1 - 30 / 67, curve.season, curve.taken))

    assert 0.70 <= 1 - before <= 0.80  # cdfa_n_lettuce


def test_peppers_take_pounds_a_day_as_the_university_prints():
    curve = uptake_curve(LIBRARY, "pepper_sweet", "fruiting")
    days, total = 81, 230.0  # lb/ac, middle of 200 to 260 over three thirds of 27 days
    daily = np.diff(np.interp(np.arange(days + 1) / days, curve.season, curve.taken)) * total

    assert daily[:26].max() <= 1.05
    assert 4 <= daily[28:53].mean() <= 5
    assert daily[55:].max() <= 3.05


def test_a_crop_without_a_known_season_says_that_its_length_is_assumed():
    known, unknown = season_length(LIBRARY, "broccoli"), season_length(LIBRARY, "basil")

    assert (known.value, known.origin) == (65, "table")
    assert unknown.origin == "assumed" and unknown.low is not None


def test_a_season_of_no_days_is_refused():
    curve = UptakeCurve("x", np.array([0.0, 1.0]), np.array([0.0, 1.0]), ())

    with pytest.raises(ValueError, match="season_days"):
        uptake_by_week(1.0, curve, 0.0, np.array([0.0]))
