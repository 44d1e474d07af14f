"""Is a record to be believed? Each check finds its fault, and leaves a sound record alone."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from bedwright.climate.checks import checked
from bedwright.climate.faults import Fault, WeatherError
from bedwright.climate.limits import WeatherLimits, weather_limits
from bedwright.climate.record import DailyRecord, FloatArray
from bedwright.climate.steps import pettitt_step, yearly_departures
from bedwright.reference import Library

LIMITS = weather_limits(Library().rows("weather_limits"))


def record(years: int = 12, seed: int = 1, trend_c: float = 0.0) -> DailyRecord:
    """Invented years of a temperate place: a yearly wave and weather that lasts some days."""
    dice = np.random.default_rng(seed)
    days = years * 365
    noise = dice.normal(0, 3, days)
    for at in range(1, days):
        noise[at] += 0.6 * noise[at - 1]
    at = np.arange(days)
    mean = 10 - 11 * np.cos(2 * np.pi * at / 365.25) + noise + trend_c * at / days
    half = dice.uniform(3, 8, days)
    rain = np.where(dice.random(days) < 0.3, np.round(dice.gamma(0.7, 8, days), 1), 0.0)
    return DailyRecord(
        "X", "x", None, None, None, np.datetime64("1990-01-01"),
        np.round(mean + half, 1), np.round(mean - half, 1), None, rain,
    )  # fmt: skip


def with_values(found: DailyRecord, name: str, first: int, values: FloatArray | list[float]):
    changed = found.elements()[name].copy()
    changed[first : first + len(values)] = values
    return found.with_elements({name: changed})


def only(found: tuple[Fault, ...], code: str) -> Fault:
    (fault,) = (each for each in found if each.code == code)
    return fault


@pytest.mark.parametrize("seed", range(1, 9))
def test_a_sound_record_is_left_as_it_is(seed: int):
    found = record(seed=seed)

    made = checked(found, LIMITS)

    assert made.faults == ()
    assert all(
        np.array_equal(values, made.record.elements()[name])
        for name, values in found.elements().items()
    )


@pytest.mark.parametrize(
    ("name", "value"),
    [("t_max_c", 62.0), ("t_min_c", -95.0), ("rain_mm", -1.0), ("rain_mm", 2500.0)],
)
def test_a_value_that_no_place_has_is_dropped_and_told_with_its_date(name: str, value: float):
    made = checked(with_values(record(), name, 400, [value]), LIMITS)

    fault = only(made.faults, "weather_impossible")
    assert (str(fault.day), fault.value, fault.data["element"]) == ("1991-02-05", value, name)
    assert np.isnan(made.record.elements()[name][400])


def test_many_impossible_values_are_told_in_one_fault():
    found = record()
    for at in range(0, 4000, 400):
        found = with_values(found, "t_max_c", at, [70.0])

    fault = only(checked(found, LIMITS).faults, "weather_impossible_many")

    assert (str(fault.day), fault.data["count"]) == ("1990-01-01", 10)


def test_fahrenheit_called_celsius_is_refused():
    found = record()
    wrong = found.with_elements({"t_max_c": found.t_max_c * 9 / 5 + 32})

    with pytest.raises(WeatherError) as caught:
        checked(wrong, LIMITS)

    assert caught.value.faults[-1].code == "weather_unit_looks_wrong"


def test_a_minimum_above_the_maximum_drops_both():
    found = record()
    made = checked(with_values(found, "t_min_c", 500, [found.t_max_c[500] + 0.1]), LIMITS)

    fault = only(made.faults, "weather_min_above_max")
    assert str(fault.day) == "1991-05-16"
    assert np.isnan([made.record.t_max_c[500], made.record.t_min_c[500]]).all()
    assert not np.isnan(made.record.t_max_c[[499, 501]]).any()


def test_columns_taken_for_each_other_are_read_the_other_way_round():
    found = record()
    swapped = found.with_elements({"t_max_c": found.t_min_c, "t_min_c": found.t_max_c})

    made = checked(swapped, LIMITS)

    assert [each.code for each in made.faults] == ["weather_columns_swapped"]
    assert np.array_equal(made.record.t_max_c, found.t_max_c)


def test_a_night_far_below_every_day_around_it_is_dropped():
    found = record()
    made = checked(with_values(found, "t_min_c", 560, [-40.0]), LIMITS)

    fault = only(made.faults, "weather_out_of_line")
    assert (fault.value, fault.data["element"]) == (-40.0, "t_min_c")
    assert np.isnan(made.record.t_min_c[560])


@given(days=st.integers(2, 60), first=st.integers(0, 4000))
def test_a_stuck_thermometer_is_found_from_twenty_days_on(days: int, first: int):
    found = record()
    value = found.t_max_c[first] + 0.05
    nights = np.minimum(found.t_min_c[first : first + days], value - 1)
    stuck = with_values(found, "t_max_c", first, [value] * days)
    stuck = with_values(stuck, "t_min_c", first, nights)

    faults = [each for each in checked(stuck, LIMITS).faults if each.code == "weather_stuck"]

    assert [each.data["days"] for each in faults] == ([days] if days >= 20 else [])


def test_dry_weeks_are_no_stuck_gauge():
    made = checked(with_values(record(), "rain_mm", 100, [0.0] * 90), LIMITS)

    assert made.faults == ()


@given(days=st.integers(5, 400), was=st.integers(0, 1000), at=st.integers(2000, 3500))
def test_a_block_that_stands_twice_is_found_with_both_its_dates(days: int, was: int, at: int):
    found = record()
    for name in ("t_max_c", "t_min_c"):
        found = with_values(found, name, at, found.elements()[name][was : was + days])

    faults = [
        each for each in checked(found, LIMITS).faults if each.code == "weather_block_repeated"
    ]

    if days < LIMITS.repeated_days:
        assert faults == []
    else:
        (fault,) = faults
        assert abs(int(fault.data["days"]) - days) <= 1  # the neighbor may be alike by chance
        assert str(fault.data["first_day"]) in {
            str(found.dates()[was]), str(found.dates()[max(was - 1, 0)])
        }  # fmt: skip


def test_whole_degrees_fahrenheit_are_noticed():
    found = record()
    whole = {
        name: np.round((np.rint(found.elements()[name] * 9 / 5 + 32) - 32) * 5 / 9, 1)
        for name in ("t_max_c", "t_min_c")
    }

    made = checked(found.with_elements(whole), LIMITS)

    assert made.whole_fahrenheit
    assert not checked(found, LIMITS).whole_fahrenheit


# Jumps of the station's level --------------------------------------------------------------------


@pytest.mark.parametrize("jump", [-1.8, 1.8])
def test_a_moved_station_is_told_with_its_year_and_size(jump: float):
    found = record(30)
    at = int(np.flatnonzero(found.dates() == np.datetime64("2004-01-01"))[0])

    fault = only(
        checked(with_values(found, "t_min_c", at, found.t_min_c[at:] + jump), LIMITS).faults,
        "weather_station_step",
    )

    assert fault.data["element"] == "t_min_c"
    assert abs(fault.day.year - 2004) <= 1
    assert fault.value == pytest.approx(jump, abs=0.4)


def test_a_steady_warming_is_no_moved_station():
    told = [
        each.code
        for seed in range(8)
        for each in checked(record(40, seed, trend_c=3.0), LIMITS).faults
    ]

    assert told == []


def test_a_gap_in_the_winter_does_not_look_like_a_jump():
    found = record(30)
    year = np.arange(found.days) // 365
    season = np.arange(found.days) % 365
    holes = (year >= 15) & (season < 55)
    series = {
        name: np.where(holes, np.nan, found.elements()[name]) for name in ("t_max_c", "t_min_c")
    }

    assert checked(found.with_elements(series), LIMITS).faults == ()


def test_the_step_of_a_small_series_by_hand():
    """Ranks 1 2 3 4 5 6: U = 2(1+2+3) - 3 x 7 = -9; chance 2 exp(-6 x 81 / (216 + 36))."""
    found = pettitt_step(np.array([1.0, 2, 3, 11, 12, 13]))

    assert (found.at, found.statistic, found.change) == (3, 9, 10)
    assert found.chance == pytest.approx(2 * np.exp(-486 / 252))


@given(st.lists(st.floats(-50, 50), min_size=6, max_size=60), st.floats(0.1, 5), st.floats(-9, 9))
def test_the_test_knows_nothing_of_units(values: list[float], scale: float, shift: float):
    plain = pettitt_step(np.round(values, 3))
    other = pettitt_step(np.round(np.round(values, 3) * scale + shift, 9))

    assert (other.at, other.statistic) == (plain.at, plain.statistic)


def test_chance_alone_rarely_passes_the_test():
    """Of 2000 series without a jump no more than the stated share is told."""
    dice = np.random.default_rng(7)
    chances = [pettitt_step(dice.standard_normal(40), 5).chance for _ in range(2000)]

    assert np.mean(np.array(chances) < LIMITS.step_chance) <= LIMITS.step_chance


def test_too_short_a_series_has_no_step():
    with pytest.raises(ValueError, match="on either side"):
        pettitt_step(np.ones(9), 5)


def test_years_with_too_many_missing_days_are_left_out():
    found = record(3)
    values = found.t_min_c.copy()
    values[400:470] = np.nan

    years, _ = yearly_departures(found, values, 60)

    assert years.tolist() == [1990, 1992]


def test_limits_come_from_the_table():
    assert isinstance(LIMITS, WeatherLimits)
    assert LIMITS.impossible["t_max_c"] == (-89.4, 57.7)
    assert LIMITS.stuck_days == 20
