"""Hours, rests and water for people at work in heat."""

from functools import cache

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from bedwright.climate.heat_at_work import DayOfHeat
from bedwright.climate.record import DailyRecord
from bedwright.planning.summer.people import (
    CLASSES,
    WorkDay,
    drinking,
    heat_for_work,
    months_of_work,
)
from bedwright.reference import Library

LIBRARY = Library()


@cache
def work(high: float, *, latitude: float = 33.1, day: float = 196.0, **other: float) -> WorkDay:
    usual = {"t_max_c": high, "t_min_c": high - 15, "latitude_deg": latitude,
             "day_of_year": day, "wind_m_s": 1.5, "humidity_percent": 15.0}  # fmt: skip
    return heat_for_work(DayOfHeat(**(usual | other)), LIBRARY)


def test_a_mild_day_asks_for_no_set_rests():
    mild = work(20.0)

    assert not mild.shortened
    assert mild.index_c is None
    for each in CLASSES:
        assert len(mild.spans(each)) == 1


def test_a_desert_afternoon_stops_heavy_work_and_leaves_the_morning():
    hot = work(42.0)
    top = max(hot.hours, key=lambda each: each.air_c)

    assert top.minutes[2] == 0.0
    assert hot.hours[1].minutes[0] == 60.0
    assert hot.index_c is not None and hot.index_c < 45


def test_the_fewer_minutes_of_both_ways_count_in_steps_of_five_and_never_below_the_least():
    """NIOSH's schedule prints no work of less than 15 minutes in an hour."""
    seen = set()
    for each in work(38.0).hours:
        for at in range(3):
            least = min(each.by_wbgt[at], 60.0 if each.by_air is None else each.by_air[at])
            assert each.minutes[at] <= least
            assert each.minutes[at] % 5 == 0
            assert each.minutes[at] == 0 or each.minutes[at] >= 15
            assert each.new_minutes[at] <= each.minutes[at]
            seen.add(each.minutes[at])
        assert each.minutes[0] >= each.minutes[1] >= each.minutes[2]
    assert len(seen) > 3


@settings(max_examples=8)
@given(high=st.floats(15, 44), more=st.floats(0.5, 4))
def test_no_hotter_day_leaves_more_minutes(high: float, more: float):
    cool, warm = work(high), work(high + more)

    for one, other in zip(cool.hours, warm.hours, strict=True):
        assert all(b <= a for a, b in zip(one.minutes, other.minutes, strict=True))


def test_the_south_has_its_heat_in_january_and_the_north_in_july():
    days = np.arange(np.datetime64("2019-01-01"), np.datetime64("2021-01-01"))
    day = (days - days[0]).astype(float)
    for latitude, peak in ((46.0, 200.0), (-34.0, 17.0)):
        high = 22 + 12 * np.cos(2 * np.pi * (day - peak) / 365.25)
        record = DailyRecord("x", "x", latitude, 0.0, 0.0, days[0], high, high - 14)
        months = {each.month for each in months_of_work(record, None, LIBRARY)}
        assert (7 in months) == (latitude > 0)
        assert (1 in months) == (latitude < 0)
    nowhere = DailyRecord("x", "x", None, None, None, days[0], high, high - 14)
    assert months_of_work(nowhere, None, LIBRARY) == ()


def test_what_to_drink_and_how_the_first_days_go():
    """NIOSH 2016-106 Table 8-1: a cup every 15 to 20 minutes, at most 1.5 quarts an hour; NIOSH
    2014: 20 % more each day, and 50, 60, 80, 100 % for those who come back.
    """
    found = drinking(LIBRARY)

    assert found.cup.value == pytest.approx(8 * 29.5735e-6, rel=1e-4)
    assert (found.every_min.least, found.every_min.most) == (15, 20)
    assert found.most_an_hour.value == pytest.approx(6 * found.cup.value)
    assert found.new_worker == pytest.approx((0.2, 0.4, 0.6, 0.8, 1.0))
    assert found.returning == pytest.approx((0.5, 0.6, 0.8, 1.0))


@pytest.mark.parametrize("coldest", [-45.0, -22.0])
def test_a_winter_colder_than_any_heat_is_reckoned_for_stops_nothing(coldest: float):
    days = np.arange(np.datetime64("2019-01-01"), np.datetime64("2020-01-01"))
    high = coldest + (30 - coldest) * np.sin(np.pi * np.arange(days.size) / days.size) ** 2
    record = DailyRecord("x", "x", 64.8, 0.0, 0.0, days[0], high, high - 14)
    months = {each.month for each in months_of_work(record, None, LIBRARY)}

    assert 7 in months
    assert not months & {1, 2, 11, 12}
