"""Days of a season: counted from its start, over the turn of the year and over 29 February."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from bedwright.climate.record import DailyRecord, by_season
from bedwright.climate.season_days import SeasonStart, counted_days, first_and_last

COMMON_DATES = [
    (int(str(each)[5:7]), int(str(each)[8:10]))
    for each in np.arange(np.datetime64("2001-01-01"), np.datetime64("2002-01-01"))
]
dates = st.sampled_from(COMMON_DATES)


@given(dates, dates)
def test_a_date_and_its_count_are_one(start: tuple[int, int], date: tuple[int, int]):
    season = SeasonStart(*start)
    count = season.day_of(*date)

    assert 0 <= count <= 364
    assert season.month_day(count) == date
    assert season.day_of(*start) == 0


def test_counts_may_lie_in_the_season_before():
    assert SeasonStart(1).month_day(-14) == (12, 18)
    assert SeasonStart(8).month_day(0.5) == (8, 2)


@pytest.mark.parametrize(("month", "day"), [(2, 29), (4, 31), (13, 1), (0, 1)])
def test_a_season_starts_on_a_date_of_every_year(month: int, day: int):
    with pytest.raises(ValueError, match=r"date of every year|must lie from 1 to 12"):
        SeasonStart(month, day)


@given(dates, st.integers(1890, 2100))
def test_a_season_is_as_long_as_the_calendar_says(start: tuple[int, int], year: int):
    begin, end = (np.datetime64(f"{at}-{start[0]:02d}-{start[1]:02d}") for at in (year, year + 1))

    assert SeasonStart(*start).lengths(np.array([year])) == (end - begin).astype(int)


@given(dates)
def test_counted_days_are_the_days_that_follow_the_start(start: tuple[int, int]):
    first = np.datetime64("1995-03-07")
    values = np.arange(3000.0)
    record = DailyRecord("", "", None, None, None, first, values, values)
    season = SeasonStart(*start)
    years, laid = by_season(record, values, *start)
    counted = counted_days(laid, years, season)

    for year, row in zip(years, counted, strict=True):
        begin = (np.datetime64(f"{year}-{start[0]:02d}-{start[1]:02d}") - first).astype(int)
        expected = begin + np.arange(366.0)
        length = int(season.lengths(np.array([year]))[0])
        outside = (expected < 0) | (expected >= 3000) | (np.arange(366) >= length)
        np.testing.assert_array_equal(row, np.where(outside, np.nan, expected))


def events(text: str) -> tuple[np.ndarray, np.ndarray]:
    """Seasons from rows of marks: x event, . none, ? missing."""
    marks = np.array([list(row) for row in text.split()])
    return marks == "x", marks != "?"


def test_first_and_last_event_of_each_season():
    ends = first_and_last(*events("..x.x... .x...... ........"), missing_allowed=1)

    np.testing.assert_array_equal(ends.first, [2, 1, np.nan])
    np.testing.assert_array_equal(ends.last, [4, 1, np.nan])
    assert ends.first_known.all()
    assert ends.last_known.all()


def test_a_gap_where_the_last_event_may_hide_leaves_the_season_out():
    ends = first_and_last(*events("....x... .x??.... .x.....? ??......"), missing_allowed=2)

    np.testing.assert_array_equal(ends.last, [4, np.nan, 1, np.nan])
    np.testing.assert_array_equal(ends.last_known, [True, False, True, True])


def test_a_gap_after_the_first_event_does_not_touch_it():
    ends = first_and_last(*events("..x.x... .x??????"), missing_allowed=1)

    np.testing.assert_array_equal(ends.first, [2, 1])
    np.testing.assert_array_equal(ends.last_known, [True, False])


def test_where_no_season_had_the_event_a_gap_anywhere_leaves_it_out():
    ends = first_and_last(*events("........ ..??...."), missing_allowed=2)

    np.testing.assert_array_equal(ends.last_known, [True, False])
    np.testing.assert_array_equal(ends.first_known, [True, False])


def test_shapes_that_do_not_agree_are_named():
    with pytest.raises(ValueError, match="shape"):
        first_and_last(np.zeros((2, 5), bool), np.ones((2, 6), bool), 1)
    with pytest.raises(ValueError, match="366"):
        counted_days(np.zeros((2, 365)), np.array([2001, 2002]), SeasonStart(8))
