"""Laws of freeze odds, in either hemisphere and any unit."""

import numpy as np
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st
from hypothesis.extra import numpy as hnp

from bedwright.climate.freeze_free_season import (
    chance_of_longer_season,
    freeze_free_seasons,
    length_with_chance_of_longer,
)
from bedwright.climate.freeze_odds import (
    FreezeOdds,
    chance_of_earlier_freeze,
    chance_of_later_freeze,
    day_with_chance_of_earlier_freeze,
    day_with_chance_of_later_freeze,
    freeze_days,
    freeze_odds,
)
from bedwright.climate.freeze_trend import recent_weights
from bedwright.climate.record import DailyRecord, by_season
from bedwright.climate.record_strength import record_strength
from bedwright.climate.season_days import SeasonStart, counted_days
from bedwright.units import to_si
from real_records import champion

CHANCES = np.arange(1, 20) / 20


def winters(seed: int, seasons: int = 25) -> np.ndarray:
    """Invented minima by season from 1 August, coldest in January."""
    noise = np.random.default_rng(seed)
    day = np.arange(366)
    course = 6 + 12 * np.cos(2 * np.pi * (day + 15) / 366)
    return course + noise.normal(0, 4, (seasons, 366))


seeds = st.integers(0, 10_000)


def both(minima: np.ndarray, thresholds: list[float]) -> tuple[FreezeOdds, FreezeOdds]:
    days = freeze_days(minima, np.array(thresholds), missing_allowed=10)
    return freeze_odds(days, "last"), freeze_odds(days, "first")


@given(seeds, st.sampled_from(["normal", "ranks"]))
def test_the_chance_of_a_later_freeze_falls_and_of_an_earlier_one_rises(seed: int, method: str):
    last, first = both(winters(seed), [0.0, -4.0])
    day = np.arange(0, 366)
    later = chance_of_later_freeze(last, day, method)
    earlier = chance_of_earlier_freeze(first, day, method)

    assert np.all(np.diff(later, axis=1) <= 1e-12)
    assert np.all(np.diff(earlier, axis=1) >= -1e-12)
    for each in (later, earlier):
        assert np.all((each >= 0) & (each <= 1))


@given(seeds)
def test_a_date_has_the_chance_for_which_it_was_asked(seed: int):
    last, first = both(winters(seed), [0.0])

    day = day_with_chance_of_later_freeze(last, CHANCES)[0]
    np.testing.assert_allclose(chance_of_later_freeze(last, day)[0], CHANCES)
    day = day_with_chance_of_earlier_freeze(first, CHANCES)[0]
    np.testing.assert_allclose(chance_of_earlier_freeze(first, day)[0], CHANCES)


@given(seeds, st.integers(-20, 20), st.sampled_from(["normal", "ranks"]))
def test_a_record_shifted_by_k_days_shifts_every_date_by_k_days(seed: int, k: int, method: str):
    minima = winters(seed)
    minima[:, :40] = minima[:, -80:] = 20.0  # no freeze crosses the season's ends
    last, first = both(minima, [0.0, -3.0])
    last_k, first_k = both(np.roll(minima, k, axis=1), [0.0, -3.0])

    np.testing.assert_allclose(
        day_with_chance_of_later_freeze(last_k, CHANCES, method),
        day_with_chance_of_later_freeze(last, CHANCES, method) + k,
    )
    np.testing.assert_allclose(
        day_with_chance_of_earlier_freeze(first_k, CHANCES, method),
        day_with_chance_of_earlier_freeze(first, CHANCES, method) + k,
    )


@given(seeds, st.floats(-6, 6), st.floats(0.01, 6))
def test_a_higher_threshold_never_has_an_earlier_last_freeze(seed: int, low: float, more: float):
    days = freeze_days(winters(seed), np.array([low, low + more]), missing_allowed=10)

    cold = ~np.isnan(days.last[0])
    assert np.all(days.last[1, cold] >= days.last[0, cold])
    assert np.all(days.first[1, cold] <= days.first[0, cold])
    later = chance_of_later_freeze(freeze_odds(days, "last"), np.arange(366), "ranks")
    assert np.all(later[1] >= later[0])


@given(seeds, st.integers(20, 40), st.sampled_from(["none", "whole_f"]))
def test_the_unit_of_a_threshold_changes_nothing(seed: int, threshold_f: int, rounding: str):
    minima = np.round(winters(seed), 1)
    minima[3, 150:160] = (threshold_f - 32) * 5 / 9  # at the threshold, not below
    through_kelvin = to_si(float(threshold_f), "F", "temperature") - 273.15
    straight = (threshold_f - 32) * 5 / 9

    found = [
        freeze_days(minima, np.array([each]), missing_allowed=10, rounding=rounding)
        for each in (through_kelvin, straight)
    ]
    np.testing.assert_array_equal(found[0].last, found[1].last)
    np.testing.assert_array_equal(found[0].first, found[1].first)


def test_24_f_stored_as_tenths_of_c_is_a_freeze_only_to_the_whole_degree():
    minima = np.full((3, 366), 10.0)
    minima[:, 200] = -4.4
    threshold = np.array([(24 - 32) * 5 / 9])

    whole = freeze_days(minima, threshold, missing_allowed=10, rounding="whole_f")
    assert whole.last.tolist() == [[200, 200, 200]]
    assert np.isnan(freeze_days(minima, threshold, missing_allowed=10).last).all()


def test_the_south_is_the_north_half_a_year_later():
    """Champion's record moved by 184 days: 1 August becomes 1 February.

    Seasons of the two hold 29 February at different times, which is worth a day at most.
    """
    north = champion()
    moved = north.first_day + np.timedelta64(184, "D")
    south = DailyRecord("", "", -40.4, None, None, moved, north.t_max_c, north.t_min_c)

    def dates(record: DailyRecord, start: SeasonStart) -> np.ndarray:
        years, laid = by_season(record, record.t_min_c, start.month, start.day)
        days = freeze_days(
            counted_days(laid, years, start), np.array([0.0, -2.2]), missing_allowed=10
        )
        last, first = freeze_odds(days, "last"), freeze_odds(days, "first")
        return np.concatenate(
            [
                day_with_chance_of_later_freeze(last, CHANCES),
                day_with_chance_of_earlier_freeze(first, CHANCES),
            ]
        )

    august, february = SeasonStart(8), SeasonStart(2)
    difference = dates(south, february) - dates(north, august)
    assert np.abs(difference).max() < 1.2
    spring = february.month_day(dates(south, february)[0, 9])
    assert spring[0] in (10, 11)


def test_a_winter_without_a_freeze_is_counted_not_left_out():
    minima = np.full((10, 366), 10.0)
    minima[:6, 180] = -1.0
    minima[5, 185] = -1.0
    last, _ = both(minima, [0.0])

    assert (last.seasons[0], last.freeze_seasons[0], last.freeze_share[0]) == (10, 6, 0.6)
    assert chance_of_later_freeze(last, [-1000.0])[0, 0] == pytest.approx(0.6)
    days = day_with_chance_of_later_freeze(last, [0.59, 0.6, 0.7])[0]
    assert np.isfinite(days[0])
    assert np.isnan(days[1:]).all()


def test_where_it_never_freezes_the_chance_is_nothing_and_one_freeze_tells_no_spread():
    minima = np.full((12, 366), 10.0)
    minima[4, 180] = -1.0
    last, _ = both(minima, [0.0, -5.0])

    chance = chance_of_later_freeze(last, [100.0])[:, 0]
    assert np.isnan(chance[0])
    assert chance[1] == 0


def test_a_season_with_days_missing_in_spring_is_left_out_and_told():
    minima = winters(1)
    minima[4, 200:330] = np.nan
    last, _ = both(minima, [0.0])
    strength = record_strength(last, seasons_enough=30, seasons_least=10, events_least=5)[0]

    assert last.seasons[0] == 24
    assert strength.left_out == 1
    assert strength.code == "short"


@pytest.mark.parametrize(
    ("seasons", "freezing", "code"),
    [(30, 30, "enough"), (29, 29, "short"), (9, 9, "too_short"), (30, 4, "few_events"),
     (30, 0, "no_events")],
)  # fmt: skip
def test_how_well_a_statement_is_founded(seasons: int, freezing: int, code: str):
    minima = np.full((seasons, 366), 10.0)
    minima[np.arange(freezing), 180 + np.arange(freezing) % 7] = -1.0
    last, _ = both(minima, [0.0])
    strength = record_strength(last, seasons_enough=30, seasons_least=10, events_least=5)[0]

    assert strength.code == code
    assert strength.rarest_chance == pytest.approx(1 / (seasons + 1))


def test_equal_weights_are_no_weights_and_a_late_half_is_the_late_half_alone():
    days = freeze_days(winters(2), np.array([0.0]), missing_allowed=10)
    plain = freeze_odds(days, "last")
    even = freeze_odds(days, "last", np.full(25, 0.3))
    late = freeze_odds(days, "last", np.repeat([0.0, 1.0], [10, 15]))
    alone = freeze_odds(freeze_days(winters(2)[10:], np.array([0.0]), missing_allowed=10), "last")

    for one, other in ((plain, even), (late, alone)):
        for name in ("seasons", "freeze_seasons", "freeze_share", "mean_day", "sd_day"):
            assert getattr(one, name)[0] == pytest.approx(getattr(other, name)[0])


def test_recent_years_weigh_more_and_count_as_fewer_seasons():
    minima = winters(3)
    minima[:12, 285] = -5.0  # late freezes long ago
    minima[:, 290:] = 10.0
    days = freeze_days(minima, np.array([0.0]), missing_allowed=10)
    plain = freeze_odds(days, "last")
    recent = freeze_odds(days, "last", recent_weights(np.arange(1996, 2021), 8.0))

    assert recent.mean_day[0] < plain.mean_day[0]
    assert recent.seasons[0] < 20


@given(
    hnp.arrays(float, 12, elements=st.integers(100, 300).map(float)),
    st.floats(0.05, 0.95),
)
def test_by_ranks_a_date_lies_among_the_recorded_ones(last_day: np.ndarray, chance: float):
    minima = np.full((12, 366), 10.0)
    minima[np.arange(12), last_day.astype(int)] = -1
    last, _ = both(minima, [0.0])
    day = day_with_chance_of_later_freeze(last, [chance], "ranks")[0, 0]

    assume(np.isfinite(day))
    assert last_day.min() <= day <= last_day.max()
    assert np.isnan(day_with_chance_of_later_freeze(last, [0.001], "ranks")[0, 0])


def test_the_senses_do_not_mix():
    last, first = both(winters(4), [0.0])

    with pytest.raises(ValueError, match="give those of the last"):
        chance_of_later_freeze(first, [200.0])
    with pytest.raises(ValueError, match="give those of the first"):
        day_with_chance_of_earlier_freeze(last, [0.5])
    with pytest.raises(ValueError, match="method"):
        chance_of_later_freeze(last, [200.0], "guess")
    with pytest.raises(ValueError, match="chance"):
        day_with_chance_of_later_freeze(last, [1.0])
    with pytest.raises(ValueError, match="which"):
        freeze_odds(freeze_days(winters(4), [0.0], missing_allowed=10), "spring")
    with pytest.raises(ValueError, match="rounding"):
        freeze_days(winters(4), [0.0], missing_allowed=10, rounding="half")


def test_the_freeze_free_season_runs_from_last_to_first_freeze():
    minima = np.full((3, 366), 10.0)
    minima[[0, 1, 2], [250, 260, 255]] = -1.0  # last freezes of the springs
    minima[[0, 1, 2], [80, 90, 70]] = -1.0  # first freezes of the autumns before
    days = freeze_days(minima, [0.0], missing_allowed=10)
    seasons = freeze_free_seasons(days, np.array([365, 366, 365]))

    assert seasons.length.tolist() == [[90 + 365 - 250, 70 + 366 - 260]]
    assert seasons.mean_length[0] == pytest.approx((205 + 176) / 2)


@given(seeds)
def test_longer_seasons_are_rarer_and_the_length_has_its_chance(seed: int):
    days = freeze_days(winters(seed), [0.0], missing_allowed=10)
    seasons = freeze_free_seasons(days, np.full(25, 365))
    lengths = length_with_chance_of_longer(seasons, CHANCES)[0]

    assert np.all(np.diff(lengths) < 0)
    np.testing.assert_allclose(chance_of_longer_season(seasons, lengths)[0], CHANCES)


def test_a_season_that_no_freeze_ends_is_longer_than_any():
    minima = np.full((11, 366), 10.0)
    minima[:6, 200] = minima[:6, 90] = -1.0
    minima[2, 210] = -1.0
    days = freeze_days(minima, [0.0], missing_allowed=10)
    seasons = freeze_free_seasons(days, np.full(11, 365))

    assert seasons.ended_share[0] == pytest.approx(0.5)
    assert chance_of_longer_season(seasons, [360.0])[0, 0] == pytest.approx(0.5)
    assert np.isnan(length_with_chance_of_longer(seasons, [0.4])[0, 0])
    assert np.isfinite(length_with_chance_of_longer(seasons, [0.6])[0, 0])
