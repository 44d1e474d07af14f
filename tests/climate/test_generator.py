"""The weather generator gives back what it was fitted to; a wrong one is found out."""

import dataclasses
from collections.abc import Callable
from functools import cache

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from hypothesis.extra import numpy as hnp
from scipy.stats import norm
from weather_moments import moments, z_scores

from bedwright.climate.annual_cycle import MONTH_DAYS, daily_curve, daily_curve_not_negative
from bedwright.climate.carry_over import carry_and_shock, correlations
from bedwright.climate.freeze_odds import (
    day_with_chance_of_later_freeze,
    freeze_days,
    freeze_odds,
)
from bedwright.climate.generator import generate
from bedwright.climate.generator_defaults import (
    GeneratorDefaults,
    generator_defaults,
    radiation_limits,
    weather_statistics,
)
from bedwright.climate.generator_fit import Pooling, fit_weather
from bedwright.climate.monthly import monthly_statistics, stated_monthly
from bedwright.climate.record import DailyRecord, by_season, year_month_day
from bedwright.climate.season_days import SeasonStart, counted_days
from bedwright.climate.weather_statistics import WeatherStatistics, stationary_wet_fraction
from bedwright.reference import Library
from real_records import champion

WET = 0.1  # mm
POOLING = Pooling(wet_days=30, pairs=300)
YEARS = 200
FALSE_ALARM = 0.001  # chance that a right generator fails any of its statistics

WARM = np.array([4.0, 8, 14, 19, 24, 29, 34, 33, 28, 19, 10, 4])
COLD = np.array([-4.0, -2, 1, 4, 8, 12, 15, 14, 9, 3, -1, -4])
RAIN = np.array([22.0, 18, 17, 17, 20, 17, 7, 8, 10, 16, 24, 24])
WET_DAYS = np.array([9.0, 8, 7, 6, 6, 5, 2, 2, 3, 5, 9, 10])


@cache
def fit_of_champion() -> WeatherStatistics:
    return fit_weather(champion(), WET, POOLING)


@pytest.fixture(scope="module")
def fitted() -> WeatherStatistics:
    return fit_of_champion()


@pytest.fixture(scope="module")
def defaults(library: Library) -> GeneratorDefaults:
    return generator_defaults(library.rows("weather_generator"))


def worst_of(statistics: WeatherStatistics, seed: int) -> tuple[float, str]:
    """The largest z of the generated years against the record, and which statistic it is."""
    target = moments(champion(), WET)
    scores = z_scores(moments(generate(statistics, YEARS, seed), WET), target)
    name = max(scores, key=lambda each: np.abs(scores[each]).max())
    return float(np.abs(scores[name]).max()), name


def bound() -> float:
    """Of the largest |z| of all statistics, by Bonferroni."""
    tests = 12 * len(moments(champion(), WET))
    return float(norm.isf(FALSE_ALARM / 2 / tests))


def test_200_years_have_the_statistics_of_the_record_they_were_fitted_to(
    fitted: WeatherStatistics,
):
    """Means, variances, wet days, rain, correlations: 11 statistics x 12 months.

    The standard errors are those of the 200 generated years alone: the record's own sampling
    error is not put in, because the generator is fitted to this record.
    """
    worst, name = worst_of(fitted, seed=20261125)

    assert worst < bound(), name


def test_the_deviations_are_as_large_as_chance_makes_them(fitted: WeatherStatistics):
    scores = z_scores(moments(generate(fitted, YEARS, 4), WET), moments(champion(), WET))
    mean_square = np.mean(np.concatenate(list(scores.values())) ** 2)

    assert 0.6 < mean_square < 2


WRONG: dict[str, Callable[[WeatherStatistics], WeatherStatistics]] = {
    "half a degree too warm": lambda s: dataclasses.replace(s, mean=s.mean + 0.5),
    "spread a twentieth too wide": lambda s: dataclasses.replace(s, sd=1.05 * s.sd),
    "rain goes on too long": lambda s: dataclasses.replace(
        s, p_wet_after_wet=np.minimum(s.p_wet_after_wet + 0.06, 1)
    ),
    "one wet spell in six left out": lambda s: dataclasses.replace(
        s, p_wet_after_dry=5 / 6 * s.p_wet_after_dry
    ),
    "rain a fifth too much": lambda s: dataclasses.replace(
        s, rain_wet_day_mm=1.2 * s.rain_wet_day_mm
    ),
    "no memory": lambda s: dataclasses.replace(s, lag_correlation=0 * s.lag_correlation),
    "memory a tenth too weak": lambda s: dataclasses.replace(
        s, lag_correlation=0.9 * s.lag_correlation
    ),
    "days and nights apart": lambda s: dataclasses.replace(
        s, correlation=np.eye(2) * s.correlation, lag_correlation=np.eye(2) * s.lag_correlation
    ),
    "months one late": lambda s: dataclasses.replace(s, mean=np.roll(s.mean, 1, axis=-1)),
    "wet days like dry ones": lambda s: dataclasses.replace(
        s, mean=np.repeat(s.mean[:, :1], 2, axis=1)
    ),
}


@pytest.mark.parametrize("wrong", WRONG)
def test_a_wrong_generator_is_found_out(wrong: str, fitted: WeatherStatistics):
    worst, _ = worst_of(WRONG[wrong](fitted), seed=20261125)

    assert worst > bound()


@pytest.mark.full
@pytest.mark.parametrize("seed", range(1, 21))
def test_no_seed_is_picked(seed: int, fitted: WeatherStatistics):
    worst, name = worst_of(fitted, seed)

    assert worst < bound() + 0.5, name  # twenty families: the bound of one alone would be unfair


@given(st.integers(0, 2**40))
def test_a_seed_is_a_weather(seed: int):
    statistics = fit_of_champion()
    one, two = (generate(statistics, 1, seed) for _ in range(2))
    other = generate(statistics, 1, seed + 1)

    for name, values in one.elements().items():
        np.testing.assert_array_equal(values, two.elements()[name])
        assert not np.array_equal(values, other.elements()[name])
    assert (one.made_by, one.days) == (
        "generator",
        (one.dates()[-1] - one.dates()[0]).astype(int) + 1,
    )


def test_more_years_keep_the_sense_of_a_record(fitted: WeatherStatistics):
    record = generate(fitted, 3, 5, first_year=2023, name="invented", latitude_deg=46.0)

    assert str(record.first_day) == "2023-01-01"
    assert record.days == 365 + 366 + 365
    assert record.latitude_deg == 46.0
    assert np.all(record.t_min_c <= record.t_max_c)
    assert not np.isnan(np.stack(list(record.elements().values()))).any()
    rained = record.rain_mm > 0
    assert np.all(record.rain_mm[rained] >= WET)
    assert record.radiation_mj_m2 is None


def test_there_is_no_seam_between_years(fitted: WeatherStatistics):
    record = generate(fitted, 800, 9)
    _, month, day = year_month_day(record.dates())
    scale = record.t_max_c - daily_curve(fitted.mean[0].mean(axis=0))[0]
    new_year = np.flatnonzero((month == 1) & (day == 1))[1:]
    mid_january = new_year[:-1] + 14
    seams, inside = (np.corrcoef(scale[at], scale[at - 1])[0, 1] for at in (new_year, mid_january))

    assert seams == pytest.approx(inside, abs=4 * 0.03)


def test_the_record_of_dry_days_has_no_rain_and_one_without_rain_knows_none(
    defaults: GeneratorDefaults,
):
    dry = weather_statistics(stated_monthly(WARM, COLD, np.zeros(12), np.zeros(12)), defaults)
    unknown = weather_statistics(stated_monthly(WARM, COLD), defaults)

    assert np.all(generate(dry, 2, 1).rain_mm == 0)
    assert generate(unknown, 2, 1).rain_mm is None
    assert "no_rain_stated" in unknown.assumptions


def test_generated_springs_are_alike_so_their_late_frosts_come_too_early(
    fitted: WeatherStatistics,
):
    """A limit of the scheme, held here so that it is known: real years differ more."""
    found = []
    for record in (champion(), generate(fitted, YEARS, 1)):
        years, laid = by_season(record, record.t_min_c, 8, 1)
        seasons = counted_days(laid, years, SeasonStart(8))
        odds = freeze_odds(freeze_days(seasons, [0.0], missing_allowed=10), "last")
        found.append(day_with_chance_of_later_freeze(odds, [0.1, 0.5])[0])
    risky, usual = found[1] - found[0]

    assert abs(usual) < 5
    assert -9 < risky < -4


# Fitting -----------------------------------------------------------------------------------------


def test_missing_days_do_not_move_the_fit(fitted: WeatherStatistics):
    record = champion()
    noise = np.random.default_rng(1)
    t_max, rain = record.t_max_c.copy(), record.rain_mm.copy()
    t_max[noise.random(len(t_max)) < 0.05] = np.nan
    rain[noise.random(len(rain)) < 0.05] = np.nan
    gappy = fit_weather(dataclasses.replace(record, t_max_c=t_max, rain_mm=rain), WET, POOLING)

    np.testing.assert_allclose(gappy.mean, fitted.mean, atol=0.8)
    np.testing.assert_allclose(gappy.p_wet_after_dry, fitted.p_wet_after_dry, atol=0.03)
    assert np.abs(gappy.lag_correlation - fitted.lag_correlation).mean() < 0.03


@pytest.mark.parametrize("shift", [-12, 5])
def test_a_warmer_record_has_a_warmer_fit_and_nothing_else(shift: int):
    record = champion()
    warmer = dataclasses.replace(
        record, t_max_c=record.t_max_c + shift, t_min_c=record.t_min_c + shift
    )
    one, other = (fit_weather(each, WET, POOLING) for each in (record, warmer))

    np.testing.assert_allclose(other.mean, one.mean + shift)
    np.testing.assert_allclose(other.sd, one.sd)
    np.testing.assert_allclose(other.lag_correlation, one.lag_correlation, atol=1e-9)


def test_months_with_few_wet_days_borrow_from_their_neighbors():
    record = champion()
    _, month, _ = year_month_day(record.dates())
    rain = np.where(month == 6, 0.0, record.rain_mm)
    rain[np.flatnonzero(month == 6)[:3]] = 4.0
    found = fit_weather(dataclasses.replace(record, rain_mm=rain), WET, POOLING)
    plain = fit_weather(record, WET, POOLING)

    assert found.p_wet_after_dry[5] < 0.005
    assert found.rain_wet_day_mm[5] == pytest.approx(plain.rain_wet_day_mm[[4, 6]].mean(), rel=0.1)
    gap = found.mean[0, 0] - found.mean[0, 1]
    assert min(gap[4], gap[6]) - 1 < gap[5] < max(gap[4], gap[6]) + 1


def test_what_cannot_be_fitted_is_told():
    record = champion()
    with pytest.raises(ValueError, match="no rain"):
        fit_weather(dataclasses.replace(record, rain_mm=None), WET, POOLING)
    short = {name: values[:100] for name, values in record.elements().items()}
    with pytest.raises(ValueError, match=r"month\(s\) \[4, 5, 6, 7"):
        fit_weather(DailyRecord("", "", None, None, None, record.first_day, **short), WET, POOLING)
    dry = dataclasses.replace(record, rain_mm=np.zeros(record.days))
    with pytest.raises(ValueError, match="days of a kind"):
        fit_weather(dry, WET, POOLING)


def test_radiation_is_generated_with_its_statistics():
    """Champion's record has none: radiation is made of its temperature range, so that it hangs
    together with temperatures and rain."""
    record = champion()
    day = np.arange(record.days) * 2 * np.pi / 365.25
    noise = np.random.default_rng(2).normal(0, 1.5, record.days)
    sun = 16 - 8 * np.cos(day) + 0.25 * (record.t_max_c - record.t_min_c) + noise
    sunny = dataclasses.replace(record, radiation_mj_m2=sun)
    statistics = fit_weather(sunny, WET, POOLING)
    generated = generate(statistics, YEARS, 3)
    scores = z_scores(moments(generated, WET), moments(sunny, WET))

    assert statistics.has_radiation
    assert max(np.abs(each).max() for each in scores.values()) < bound() + 0.2
    assert scores["radiation with the day before"].shape == (12,)


def test_radiation_is_held_between_its_limits(defaults: GeneratorDefaults):
    outside = 26 - 14 * np.cos(np.arange(365) * 2 * np.pi / 365)
    least, most = radiation_limits(outside, defaults)
    radiation = np.array([5.0, 8, 13, 18, 22, 25, 27, 23, 18, 11, 6, 4])
    statistics = weather_statistics(
        stated_monthly(WARM, COLD, RAIN, WET_DAYS, radiation), defaults, latitude_deg=46.0
    )
    record = generate(statistics, 20, 1, radiation_limits_mj_m2=(least, most))
    _, month, day = year_month_day(record.dates())
    place = np.concatenate(([0], np.cumsum(MONTH_DAYS)))[month - 1] + np.minimum(
        day, MONTH_DAYS[month - 1]
    ) - 1  # fmt: skip

    assert np.all(record.radiation_mj_m2 >= least[place])
    assert np.all(record.radiation_mj_m2 <= most[place])
    np.testing.assert_allclose(most, 0.8 * outside)
    np.testing.assert_allclose(least, 0.2 * most)


# Stated statistics -------------------------------------------------------------------------------


def test_a_garden_without_a_record_gets_back_what_it_states(defaults: GeneratorDefaults):
    statistics = weather_statistics(stated_monthly(WARM, COLD, RAIN, WET_DAYS), defaults)
    found = monthly_statistics(generate(statistics, 400, 1), WET)
    monthly_mean = np.sqrt(400)

    # a month's mean of one year spreads by 2 to 3 K, its rain by its own size
    np.testing.assert_allclose(found.t_max_c, WARM, atol=4 * 3 / monthly_mean)
    np.testing.assert_allclose(found.t_min_c, COLD, atol=4 * 3 / monthly_mean)
    np.testing.assert_allclose(found.wet_fraction, WET_DAYS / MONTH_DAYS, atol=0.03)
    np.testing.assert_allclose(found.rain_mm, RAIN, rtol=0.25)
    assert set(statistics.assumptions) == {
        "no_change_between_years", "rain_goes_on_by_rule", "rain_spread_by_rule",
        "temperature_spread_by_rule", "wet_days_cooler_by_rule", "carry_over_published",
    }  # fmt: skip


def test_what_is_stated_is_not_assumed(defaults: GeneratorDefaults):
    known = monthly_statistics(champion(), WET)
    statistics = weather_statistics(known, defaults)
    found = monthly_statistics(generate(statistics, 400, 1), WET)

    assert not {"rain_goes_on_by_rule", "rain_spread_by_rule", "temperature_spread_by_rule"} & set(
        statistics.assumptions
    )
    np.testing.assert_allclose(found.t_max_sd_c, known.t_max_sd_c, rtol=0.05)
    np.testing.assert_allclose(found.t_min_sd_c, known.t_min_sd_c, rtol=0.05)
    np.testing.assert_allclose(found.p_wet_after_wet, known.p_wet_after_wet, atol=0.06)
    np.testing.assert_allclose(found.t_min_lag, known.t_min_lag, atol=0.06)


def test_the_rule_for_rain_going_on_keeps_the_wet_fraction(defaults: GeneratorDefaults):
    statistics = weather_statistics(stated_monthly(WARM, COLD, RAIN, WET_DAYS), defaults)

    np.testing.assert_allclose(statistics.wet_fraction, WET_DAYS / MONTH_DAYS)
    np.testing.assert_allclose(statistics.p_wet_after_dry, 0.75 * WET_DAYS / MONTH_DAYS)


def test_radiation_needs_the_latitude(defaults: GeneratorDefaults):
    stated = stated_monthly(WARM, COLD, RAIN, WET_DAYS, np.full(12, 15.0))

    with pytest.raises(ValueError, match="latitude_deg"):
        weather_statistics(stated, defaults)


def test_a_table_with_a_hole_in_a_matrix_is_told(library: Library):
    rows = [row for row in library.rows("weather_generator") if row["other"] != "t_min"]

    with pytest.raises(LookupError, match="no whole matrix carry"):
        generator_defaults(rows)


# The parts ---------------------------------------------------------------------------------------

monthly_values = hnp.arrays(float, 12, elements=st.floats(-20, 40))


@given(monthly_values)
def test_a_daily_curve_keeps_the_mean_of_each_month(monthly: np.ndarray):
    parts = np.split(daily_curve(monthly), np.cumsum(MONTH_DAYS)[:-1])

    np.testing.assert_allclose([each.mean() for each in parts], monthly, atol=1e-8)


@given(hnp.arrays(float, 12, elements=st.just(0.0) | st.floats(1e-6, 40)))
def test_a_curve_of_amounts_is_never_below_nothing(monthly: np.ndarray):
    curve = daily_curve_not_negative(monthly)
    parts = np.split(curve, np.cumsum(MONTH_DAYS)[:-1])

    assert np.all(curve >= 0)
    np.testing.assert_allclose([each.mean() for each in parts], monthly, atol=1e-8)


@given(monthly_values)
def test_the_curve_is_smooth_where_the_years_meet(monthly: np.ndarray):
    curve = daily_curve(monthly)
    steps = np.abs(np.diff(np.concatenate([curve, curve[:1]])))

    assert steps[-1] <= 3 * steps[:-1].max() + 1e-9


def test_months_that_are_no_numbers_are_named():
    with pytest.raises(ValueError, match="last must be 12"):
        daily_curve(np.zeros(11))
    with pytest.raises(ValueError, match="not a number"):
        daily_curve(np.full(12, np.nan))
    with pytest.raises(ValueError, match="less than 0"):
        daily_curve_not_negative(np.full(12, -1.0))


@given(st.floats(0, 1), st.floats(0.01, 1))
def test_a_chain_of_wet_days_stays_at_its_wet_fraction(after_wet: float, after_dry: float):
    wet = stationary_wet_fraction(np.array(after_wet), np.array(after_dry))

    assert wet * after_wet + (1 - wet) * after_dry == pytest.approx(float(wet))


@given(hnp.arrays(float, (3, 3), elements=st.floats(-0.3, 0.3)),
       hnp.arrays(float, (3, 3), elements=st.floats(-1, 1)))  # fmt: skip
def test_carry_and_shock_are_found_again_from_their_correlations(carry, shock):
    shock = np.tril(shock) + 1.5 * np.eye(3)
    now, lag = correlations(carry, shock)
    found_carry, found_shock = carry_and_shock(now, now, lag)

    np.testing.assert_allclose(found_carry, carry, atol=1e-7)
    np.testing.assert_allclose(found_shock @ found_shock.T, shock @ shock.T, atol=1e-7)


def test_a_carry_that_grows_is_told():
    with pytest.raises(ValueError, match="grows without end"):
        correlations(np.eye(2), np.eye(2))
