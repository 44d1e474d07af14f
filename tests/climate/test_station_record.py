"""A record: its seasons, its gaps, how whole it is, and stations that write whole degrees F."""

from datetime import date

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from bedwright.climate.completeness import completeness, longest_gaps
from bedwright.climate.record import (
    DailyRecord,
    by_season,
    share_of_whole_fahrenheit,
    whole_fahrenheit,
)

FIRST_DAYS = st.dates(date(1900, 1, 1), date(2100, 1, 1))


def record(first: str, t_min: list[float] | np.ndarray) -> DailyRecord:
    values = np.asarray(t_min, dtype=float)
    return DailyRecord("X", "x", None, None, None, np.datetime64(first), values + 10, values)


def test_a_record_has_one_date_for_each_day():
    found = record("2024-02-28", [1, 2, 3])

    assert [str(day) for day in found.dates()] == ["2024-02-28", "2024-02-29", "2024-03-01"]


def test_series_of_unlike_length_are_refused():
    with pytest.raises(ValueError, match="equally long"):
        DailyRecord("X", "x", None, None, None, np.datetime64("2024-01-01"), np.ones(2), np.ones(3))


def test_a_record_without_a_day_is_refused():
    with pytest.raises(ValueError, match="at least one day"):
        record("2024-01-01", [])


def test_a_season_from_august_holds_the_winter_in_one_row():
    found = record("2022-08-01", np.arange(730))

    years, laid = by_season(found, found.t_min_c, 8, 1)

    assert years.tolist() == [2022, 2023]
    assert laid[0, 0] == 0
    assert laid[0, 153] == 153  # 1 January 2023
    assert np.isnan(laid[0, 212])  # no 29 February in 2023
    assert laid[1, 212] == 365 + 212  # but in 2024


@given(first=FIRST_DAYS, days=st.integers(1, 1500), month=st.integers(1, 12))
def test_seasons_keep_every_day_once(first, days, month):
    found = record(first.isoformat(), np.arange(days))

    years, laid = by_season(found, found.t_min_c, month, 1)

    assert sorted(laid[~np.isnan(laid)]) == list(range(days))
    assert laid.shape == (len(years), 366)


@given(first=FIRST_DAYS, days=st.integers(1, 1500), month=st.integers(1, 12))
def test_a_column_is_one_date_of_the_calendar(first, days, month):
    found = record(first.isoformat(), np.arange(days))
    dates = np.array([str(day)[5:] for day in found.dates()])

    _, laid = by_season(found, found.t_min_c, month, 1)

    for column in laid.T:
        at = column[~np.isnan(column)].astype(int)
        assert len(set(dates[at])) <= 1


def test_a_season_may_start_on_the_last_day_of_february():
    found = record("2023-01-01", np.arange(800))

    _, laid = by_season(found, found.t_min_c, 2, 29)

    assert np.isnan(laid[1, 0])  # 2023 has no such day
    assert str(found.dates()[int(laid[2, 0])]) == "2024-02-29"


@pytest.mark.parametrize(("month", "day"), [(13, 1), (0, 1), (2, 30), (4, 31), (1, 0)])
def test_a_season_that_starts_on_no_date_is_refused(month, day):
    found = record("2023-01-01", np.arange(5))

    with pytest.raises(ValueError, match="start"):
        by_season(found, found.t_min_c, month, day)


def test_gaps_are_told_the_longest_first():
    nan = np.nan
    found = record("2023-01-01", [nan, 1, nan, nan, 1, nan, nan, nan])

    gaps = longest_gaps(found, found.t_min_c, most=2)

    assert [(str(gap.first_day), gap.days) for gap in gaps] == [
        ("2023-01-06", 3),
        ("2023-01-03", 2),
    ]


def test_a_year_is_as_whole_as_its_days_with_a_value():
    values = np.arange(365 + 366, dtype=float)
    values[:73] = np.nan
    found = record("2023-01-01", values)

    years = completeness(found, found.t_min_c)

    assert years.share().tolist() == [0.8, 1.0]


def test_a_month_counts_all_its_days_even_if_the_record_starts_within():
    found = record("2024-02-20", np.ones(15))

    months = completeness(found, found.t_min_c, "month")

    assert (months.present.tolist(), months.expected.tolist()) == ([10, 5], [29, 31])


def test_another_period_than_year_and_month_is_refused():
    found = record("2024-02-20", np.ones(15))

    with pytest.raises(ValueError, match="year or month"):
        completeness(found, found.t_min_c, "week")


def test_twenty_four_fahrenheit_stored_in_tenths_of_celsius_is_24_again():
    stored = np.array([-4.4])

    assert stored[0] * 9 / 5 + 32 > 24  # why a comparison in C goes wrong
    assert whole_fahrenheit(stored).tolist() == [24]


@given(st.lists(st.integers(-60, 130), min_size=1), st.sampled_from([1, 2]))
def test_whole_degrees_fahrenheit_survive_being_stored_in_celsius(degrees, decimals):
    stored = np.round((np.array(degrees) - 32) * 5 / 9, decimals)

    assert whole_fahrenheit(stored).tolist() == degrees
    assert share_of_whole_fahrenheit(stored) == 1


def test_of_all_tenths_of_celsius_eighteen_in_a_hundred_are_whole_fahrenheit():
    assert share_of_whole_fahrenheit(np.arange(-400, 500) / 10) == pytest.approx(0.18, abs=0.002)


def test_without_values_nothing_is_known_of_how_they_were_written():
    assert np.isnan(share_of_whole_fahrenheit(np.array([np.nan])))
