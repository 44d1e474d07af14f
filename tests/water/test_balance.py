"""The daily balance: it closes, it is the plain one, and it does what a gardener expects."""

import dataclasses
import sys
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from bedwright.water.balance import daily_balance
from bedwright.water.beds import BedDays, Ground, Refill, Start

sys.path.insert(0, str(Path(__file__).parent))
import bed_seasons

# One bed to an example in the normal run; ten in the full one: 10,000 bed-seasons.
BEDS = max(1, settings().max_examples // 100)
CLOSED_M = 1e-9
seeds = st.integers(0, 2**32 - 1)


def steady(days: int = 30, beds: int = 1, **changed: float) -> BedDays:
    """The same day again and again: 6 mm of demand, no rain, a full crop on 60 mm of water."""
    usual = {"et0_m": 0.006, "rain_m": 0.0, "basal": 1.0, "ceiling": 1.2, "cover": 0.8,
             "available_m": 0.060}  # fmt: skip
    return BedDays(
        **{name: np.full((days, beds), each) for name, each in (usual | changed).items()}
    )


LOAM = Ground(0.020, 0.009, 0.4, wetted_share=0.4, drip_under_canopy=1.0)
FULL = Start(0.0, 0.0)
NONE = np.zeros((30, 1))


@given(seed=seeds, refill=st.booleans())
def test_water_is_neither_made_nor_lost_on_any_day(seed: int, refill: bool):
    case = bed_seasons.season(seed, BEDS, refill=refill)

    result = daily_balance(**case)

    assert np.abs(result.residual_m(case["days"])).max() <= CLOSED_M


@given(seed=seeds, refill=st.booleans())
def test_no_flow_is_negative_and_the_root_zone_keeps_within_its_limits(seed: int, refill: bool):
    case = bed_seasons.season(seed, BEDS, refill=refill)

    result = daily_balance(**case)

    for name in ("transpiration_m", "evaporation_m", "drainage_m", "irrigation_m", "depletion_m"):
        assert getattr(result, name).min() >= -1e-15, name
    assert (result.depletion_m - case["days"].available_m).max() <= 1e-12
    stress = result.stress(case["days"])
    assert stress.min() >= -1e-12
    assert stress.max() <= 1 + 1e-12


@given(seed=seeds, refill=st.booleans())
def test_it_is_the_balance_of_the_plain_equations(seed: int, refill: bool):
    case = bed_seasons.season(seed, 3, days=60, refill=refill)

    result = daily_balance(**case)

    for bed in range(3):
        plain = bed_seasons.plain_balance(case, bed)
        for name, field in (
            ("crop", "transpiration_m"), ("bare", "evaporation_m"), ("drained", "drainage_m"),
            ("depletion", "depletion_m"), ("irrigation", "irrigation_m"),
        ):  # fmt: skip
            assert getattr(result, field)[:, bed] == pytest.approx(plain[name], abs=1e-9), name


def test_a_bed_is_worked_alike_alone_and_among_thousands():
    one = bed_seasons.season(7, 1, days=40)
    many = bed_seasons.season(7, 1, days=40)
    count = 5000  # more than one block

    def spread(values: np.ndarray | None) -> np.ndarray | None:
        return None if values is None else np.repeat(values, count, axis=1)

    days = BedDays(**{name: spread(each) for name, each in vars(many["days"]).items()})
    alone = daily_balance(**one)
    among = daily_balance(**(many | {"days": days, "irrigation": spread(many["irrigation"])}))

    for name in ("transpiration_m", "evaporation_m", "drainage_m", "depletion_m"):
        assert np.array_equal(
            getattr(among, name), np.broadcast_to(getattr(alone, name), (40, count))
        ), name


def test_a_column_for_all_beds_serves_as_well_as_one_for_each():
    case = bed_seasons.season(11, 4, days=50)
    days = case["days"]
    shared = dataclasses.replace(days, et0_m=days.et0_m[:, :1], rain_m=days.rain_m[:, :1])
    wide = dataclasses.replace(
        days,
        et0_m=np.repeat(days.et0_m[:, :1], 4, axis=1),
        rain_m=np.repeat(days.rain_m[:, :1], 4, axis=1),
    )

    first = daily_balance(**(case | {"days": shared}))
    second = daily_balance(**(case | {"days": wide}))

    assert np.array_equal(first.depletion_m, second.depletion_m)


@given(seed=seeds, cut=st.integers(1, 59))
def test_a_season_in_two_runs_is_the_season_in_one(seed: int, cut: int):
    case = bed_seasons.season(seed, 2, days=60)
    days = {name: each for name, each in vars(case["days"]).items() if each is not None}

    def part(first: int, end: int | None) -> dict[str, np.ndarray]:
        return {name: each if len(each) == 1 else each[first:end] for name, each in days.items()}

    whole = daily_balance(**case)
    begun = daily_balance(
        **(case | {"days": BedDays(**part(0, cut)), "irrigation": case["irrigation"][:cut]})
    )
    rest = part(cut, None)
    start = begun.end
    if "growth_m" in rest:  # what roots reach on the first day of a run is part of its start
        start = dataclasses.replace(start, depletion_m=start.depletion_m + rest["growth_m"][0])
        rest["growth_m"] = rest["growth_m"].copy()
        rest["growth_m"][0] = 0.0
    ended = daily_balance(
        **(case | {"days": BedDays(**rest), "irrigation": case["irrigation"][cut:],
                   "start": start})
    )  # fmt: skip

    assert ended.depletion_m == pytest.approx(whole.depletion_m[cut:], abs=1e-12)


def test_a_dry_bed_stops_at_wilting_point_and_its_crop_stands_still():
    result = daily_balance(steady(60), LOAM, FULL, np.zeros((60, 1)), timing="early")

    assert result.depletion_m[-1, 0] == pytest.approx(0.060, abs=0.002)
    assert result.transpiration_m[-1, 0] < 0.0003


def test_rain_on_full_soil_drains_to_the_last_drop_when_it_comes_early():
    days = steady(1, et0_m=0.0, rain_m=0.030)

    result = daily_balance(days, LOAM, FULL, np.zeros((1, 1)), timing="early")

    assert result.drainage_m.item() == pytest.approx(0.030)


def test_late_rain_is_first_used_by_the_day_it_falls_on():
    days = steady(1, rain_m=0.030)

    late = daily_balance(days, LOAM, FULL, np.zeros((1, 1)), timing="late")

    used = (late.transpiration_m + late.evaporation_m).item()
    assert late.drainage_m.item() == pytest.approx(0.030 - used)


def test_refilling_every_day_keeps_a_bed_free_of_stress_and_drains_nothing():
    rule = Refill(np.ones((30, 1), dtype=bool), trigger_share=0.0)

    result = daily_balance(steady(), LOAM, FULL, rule, timing="early")

    assert result.stress(steady()).min() == pytest.approx(1.0)
    assert result.drainage_m.max() == pytest.approx(0.0, abs=1e-15)


def test_refilling_waits_for_the_readily_available_water_to_be_used():
    rule = Refill(np.ones((30, 1), dtype=bool), trigger_share=1.0)

    result = daily_balance(steady(), LOAM, FULL, rule, timing="early")

    runs = np.flatnonzero(result.irrigation_m[:, 0])
    before = np.concatenate([[0.0], result.depletion_m[:-1, 0]])[runs]
    assert len(runs) > 2
    assert before.min() >= 0.4 * 0.060
    assert result.irrigation_m[runs, 0] == pytest.approx(before)


def test_a_leaching_share_drains_that_share_of_what_is_applied():
    rule = Refill(np.ones((30, 1), dtype=bool), trigger_share=0.0, leaching_share=0.2)

    result = daily_balance(steady(), LOAM, FULL, rule, timing="early")

    applied, drained = result.irrigation_m.sum(), result.drainage_m.sum()
    assert drained == pytest.approx(0.2 * applied)


def test_salt_takes_its_share_of_transpiration_and_not_of_evaporation():
    rule = Refill(np.ones((30, 1), dtype=bool), trigger_share=0.0)
    salty = dataclasses.replace(steady(), salt_stress=np.full((1, 1), 0.75))

    clean = daily_balance(steady(), LOAM, FULL, rule, timing="early")
    result = daily_balance(salty, LOAM, FULL, rule, timing="early")

    assert result.transpiration_m == pytest.approx(0.75 * clean.transpiration_m)
    assert result.evaporation_m == pytest.approx(clean.evaporation_m)


def test_straw_takes_half_of_evaporation_while_the_surface_is_wet():
    rule = Refill(np.ones((30, 1), dtype=bool), trigger_share=0.0)
    straw = dataclasses.replace(LOAM, evaporation_factor=0.5)

    bare = daily_balance(steady(), LOAM, FULL, rule, timing="early")
    result = daily_balance(steady(), straw, FULL, rule, timing="early")

    assert result.evaporation_m == pytest.approx(0.5 * bare.evaporation_m)


def test_a_plastic_sheet_lets_only_its_open_ground_evaporate():
    rule = Refill(np.ones((30, 1), dtype=bool), trigger_share=0.0)
    days = steady(cover=0.1, basal=0.2)
    sheet = dataclasses.replace(LOAM, open_share=0.05)

    result = daily_balance(days, sheet, FULL, rule, timing="early")

    assert result.evaporation_m[0, 0] == pytest.approx(0.05 * 1.2 * 0.006)


@pytest.mark.parametrize(("outranks", "share"), [(True, 1.0), (False, 0.4)])
def test_on_a_day_with_rain_and_drip_the_wetted_share_follows_the_stated_rule(
    outranks: bool, share: float
):
    """Errata of FAO-56 against its printed text; seen on the next day, that has no water."""
    days = steady(2, cover=0.0, basal=0.15)
    rain = days.rain_m.copy()
    rain[0] = 0.010
    days = dataclasses.replace(days, rain_m=rain)
    water = np.array([[0.005], [0.0]])

    result = daily_balance(days, LOAM, FULL, water, timing="early", rain_outranks_drip=outranks)

    assert result.evaporation_m[1, 0] == pytest.approx(min(1.05, share * 1.2) * 0.006)


def test_light_rain_does_not_count_as_wetting_all_the_ground():
    days = steady(3, cover=0.0, basal=0.15)
    rain = days.rain_m.copy()
    rain[1] = 0.002
    water = np.array([[0.005], [0.0], [0.0]])

    result = daily_balance(
        dataclasses.replace(days, rain_m=rain), LOAM, FULL, water, timing="early"
    )

    assert result.evaporation_m[1, 0] == pytest.approx(0.4 * 1.2 * 0.006)


@pytest.mark.parametrize(
    ("changed", "message"),
    [
        ({"rain_m": -0.001}, "rain_m is -0.001"),
        ({"et0_m": np.nan}, "et0_m is nan"),
        ({"cover": 1.0}, "cover is 1; it must lie from 0 to 0.99"),
        ({"available_m": 0.0}, "available_m is 0"),
    ],
)
def test_a_day_that_cannot_be_is_named(changed: dict[str, float], message: str):
    with pytest.raises(ValueError, match=message):
        steady(**changed)


def test_roots_that_shrink_are_an_error_for_a_new_crop_is_a_new_run():
    days = steady(3)
    shrinking = np.array([[0.06], [0.05], [0.05]])

    with pytest.raises(ValueError, match="a new crop is a new run"):
        dataclasses.replace(days, available_m=shrinking)


@pytest.mark.parametrize(
    ("start", "timing", "message"),
    [
        (Start(0.070, 0.0), "early", "0.01 m more than the root zone holds"),
        (Start(0.0, 0.030), "early", "more than the surface layer holds"),
        (Start(-0.001, 0.0), "early", "depletion_m"),
        (FULL, "noon", "timing is 'noon'; it must be early or late"),
    ],
)
def test_a_state_that_cannot_be_and_another_timing_are_errors(
    start: Start, timing: str, message: str
):
    with pytest.raises(ValueError, match=message):
        daily_balance(steady(), LOAM, start, NONE, timing=timing)  # type: ignore[arg-type]


def test_water_that_is_taken_out_is_no_irrigation():
    with pytest.raises(ValueError, match=r"irrigation_m is -0\.001"):
        daily_balance(steady(), LOAM, FULL, NONE - 0.001, timing="early")
