"""Reference evapotranspiration of a record: the formula, and what stands in for measurements."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from bedwright.climate import day_length
from bedwright.reference import Library
from bedwright.water import air, radiation
from bedwright.water.evapotranspiration import (
    et0_hargreaves_1985,
    et0_penman_monteith_fao56,
    reference_evapotranspiration,
)
from bedwright.water.weather import Substitute, SubstituteErrors, Weather

ERRORS = SubstituteErrors(0.0004, 0.0008, 0.00025, 0.00095)


def days(count: int = 200, seed: int = 1) -> dict[str, np.ndarray]:
    dice = np.random.default_rng(seed)
    cool = dice.uniform(-10, 25, count)
    above = dice.uniform(10, 42, count)
    return {
        "t_min_c": cool,
        "t_max_c": cool + dice.uniform(0, 25, count),
        "extraterrestrial_mj_m2": above,
        "radiation_guess_mj_m2": above * dice.uniform(0.3, 0.9, count),
        "radiation_mj_m2": above * dice.uniform(0.05, 0.8, count),
        "dew_point_c": cool - dice.uniform(0, 8, count),
        "wind_m_s": dice.uniform(0, 9, count),
    }


def weather(**changed: object) -> Weather:
    given = days() | {"elevation_m": 180.0, "dew_below_minimum_c": 2.0} | changed
    return Weather(**given)  # type: ignore[arg-type]


def by_formulas(given: dict[str, np.ndarray], elevation: float) -> np.ndarray:
    clear = radiation.clear_sky_radiation(given["extraterrestrial_mj_m2"], elevation)
    vapor = air.saturation_vapor_pressure(given["dew_point_c"])
    lost = radiation.net_longwave(
        given["t_max_c"], given["t_min_c"], vapor, given["radiation_mj_m2"] / clear
    )
    net = radiation.net_shortwave(given["radiation_mj_m2"]) - lost
    wind = np.maximum(given["wind_m_s"], 0.5)
    return et0_penman_monteith_fao56(
        given["t_max_c"], given["t_min_c"], vapor, wind, net, 0.0, elevation
    )


@pytest.mark.parametrize("count", [1, 365, 20_000])
def test_a_measured_record_gives_what_the_single_formulas_give(count: int):
    given = days(count)

    found = reference_evapotranspiration(
        Weather(**given, elevation_m=180.0, dew_below_minimum_c=2.0), ERRORS
    )

    assert found.et0_m == pytest.approx(by_formulas(given, 180.0), rel=1e-12, abs=1e-15)
    assert not found.used.any()
    assert not found.error_m.any()


def test_several_places_side_by_side_are_each_worked_at_their_height():
    given = {name: each[:, np.newaxis] for name, each in days(5000).items()}
    heights = np.array([0.0, 180.0, 1500.0])

    found = reference_evapotranspiration(
        Weather(**given, elevation_m=heights, dew_below_minimum_c=2.0), ERRORS
    )

    assert found.et0_m.shape == (5000, 3)
    assert found.et0_m[:, 2] == pytest.approx(
        by_formulas({name: each[:, 0] for name, each in given.items()}, 1500.0), rel=1e-12
    )


@pytest.mark.parametrize(
    ("missing", "flag", "error"),
    [
        ("dew_point_c", Substitute.HUMIDITY, 0.0004),
        ("wind_m_s", Substitute.WIND, 0.0008),
        ("radiation_mj_m2", Substitute.RADIATION, 0.00025),
    ],
)
def test_a_day_without_a_measurement_says_so_and_how_far_it_may_err(
    missing: str, flag: Substitute, error: float
):
    holed = days()[missing].copy()
    holed[3] = np.nan

    found = reference_evapotranspiration(weather(**{missing: holed}), ERRORS)
    never = reference_evapotranspiration(weather(**{missing: None}), ERRORS)

    assert np.flatnonzero(found.used).tolist() == [3]
    assert Substitute(int(found.used[3])) == flag
    assert found.error_m[3] == pytest.approx(error)
    assert set(never.used.tolist()) == {flag}
    assert never.et0_m[3] == pytest.approx(found.et0_m[3], rel=1e-12)


def test_two_substitutes_err_as_two_independent_ones():
    found = reference_evapotranspiration(weather(dew_point_c=None, wind_m_s=None), ERRORS)

    assert found.error_m == pytest.approx(np.full(200, (0.0004**2 + 0.0008**2) ** 0.5))


def test_temperature_alone_is_worked_by_hargreaves():
    given = days()

    found = reference_evapotranspiration(
        weather(dew_point_c=None, wind_m_s=None, radiation_mj_m2=None), ERRORS
    )

    assert found.et0_m == pytest.approx(
        et0_hargreaves_1985(given["t_max_c"], given["t_min_c"], given["extraterrestrial_mj_m2"])
    )
    assert all(each & Substitute.HARGREAVES for each in found.used)
    assert found.error_m == pytest.approx(np.full(200, 0.00095))


def test_humidity_is_taken_from_dew_point_then_both_extremes_then_the_greatest():
    given = days()
    dew = given["dew_point_c"].copy()
    moist, dry = np.full(200, 90.0), np.full(200, 30.0)
    dew[0:3] = np.nan
    dry[1] = np.nan
    moist[2] = np.nan

    found = reference_evapotranspiration(
        weather(dew_point_c=dew, humidity_max_percent=moist, humidity_min_percent=dry), ERRORS
    )

    warm, cool = given["t_max_c"], given["t_min_c"]
    vapor = [
        air.vapor_pressure_of_humidities(warm[0], cool[0], 90, 30),
        air.vapor_pressure_of_greatest_humidity(cool[1], 90),
        air.saturation_vapor_pressure(cool[2] - 2),
    ]
    as_dew = [np.log(float(v) / 0.6108) for v in vapor]
    dew[0:3] = [237.3 * each / (17.27 - each) for each in as_dew]
    same = reference_evapotranspiration(weather(dew_point_c=dew), ERRORS)
    assert found.et0_m == pytest.approx(same.et0_m, rel=1e-9)
    assert np.flatnonzero(found.used).tolist() == [2]


def test_calm_air_counts_as_half_a_meter_a_second_and_a_mast_is_brought_down():
    still = reference_evapotranspiration(weather(wind_m_s=np.zeros(200)), ERRORS)
    slow = reference_evapotranspiration(weather(wind_m_s=np.full(200, 0.5)), ERRORS)
    high = reference_evapotranspiration(
        weather(wind_m_s=np.full(200, 3.2), wind_height_m=10.0), ERRORS
    )
    low = reference_evapotranspiration(
        weather(wind_m_s=np.full(200, float(air.wind_at_two_meters(3.2, 10)))), ERRORS
    )

    assert np.array_equal(still.et0_m, slow.et0_m)
    assert high.et0_m == pytest.approx(low.et0_m, rel=1e-12)


def test_guessed_radiation_is_never_more_than_a_clear_sky_gives():
    above = days()["extraterrestrial_mj_m2"]
    clear = radiation.clear_sky_radiation(above, 180.0)

    guessed = reference_evapotranspiration(
        weather(radiation_mj_m2=None, radiation_guess_mj_m2=above), ERRORS
    )
    measured = reference_evapotranspiration(weather(radiation_mj_m2=clear), ERRORS)

    assert guessed.et0_m == pytest.approx(measured.et0_m, rel=1e-12)


def test_a_day_without_temperature_stays_unknown():
    warm = days()["t_max_c"].copy()
    warm[5] = np.nan

    found = reference_evapotranspiration(weather(t_max_c=warm), ERRORS)

    assert np.flatnonzero(np.isnan(found.et0_m)).tolist() == [5]


@pytest.mark.parametrize(
    ("name", "value"),
    [("t_max_c", 80.0), ("t_min_c", 60.0), ("wind_m_s", -1.0), ("radiation_mj_m2", -3.0),
     ("dew_point_c", 99.0)],
)  # fmt: skip
def test_weather_that_cannot_be_is_named(name: str, value: float):
    with pytest.raises(ValueError, match="must"):
        reference_evapotranspiration(weather(**{name: np.full(200, value)}), ERRORS)


@given(wind=st.floats(0.5, 8), more=st.floats(0.1, 5))
def test_drier_and_windier_air_asks_for_more_water(wind: float, more: float):
    base = {"t_max_c": 38.0, "t_min_c": 18.0, "net_radiation_mj_m2": 15.0, "soil_heat_mj_m2": 0.0,
            "elevation_m": 180.0}  # fmt: skip

    calm = et0_penman_monteith_fao56(**base, vapor_kpa=1.0, wind_m_s=wind)
    windy = et0_penman_monteith_fao56(**base, vapor_kpa=1.0, wind_m_s=wind + more)
    dry = et0_penman_monteith_fao56(**base, vapor_kpa=0.5, wind_m_s=wind)

    assert windy > calm
    assert dry > calm


def test_hour_angle_and_radiation_of_hours_add_up_to_the_day():
    """FAO-56 equations 21 and 28: 24 hours of one are a day of the other."""

    hours = np.arange(24) + 0.5
    angle = 15 * (hours - 12)
    declination = float(day_length.declination_fao56(200))

    total = radiation.hourly_extraterrestrial_radiation(
        46.0, declination, angle, float(day_length.sun_nearness(200))
    ).sum()

    assert total == pytest.approx(
        float(day_length.extraterrestrial_radiation_fao56(46.0, 200)), rel=1e-9
    )


def test_the_tables_know_what_a_substitute_costs(library: Library):
    figures = {
        name: library.parameter(f"et0_error_{name}", "mm")
        for name in ("no_humidity", "no_wind", "no_radiation", "hargreaves")
    }

    assert all(each.low is not None and each.high is not None for each in figures.values())
    assert figures["no_radiation"].value < figures["no_humidity"].value < figures["no_wind"].value
