"""The heat of a working day by the hour."""

from functools import cache

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from bedwright.climate.heat_at_work import (
    DayOfHeat,
    adjusted_air_niosh_2016,
    heat_through_day,
)
from bedwright.reference import Library, Row


@cache
def rows() -> tuple[Row, ...]:
    return tuple(Library().rows("heat_at_work"))


def day(**other) -> DayOfHeat:
    usual = {"t_max_c": 34.0, "t_min_c": 15.0, "latitude_deg": 46.0, "day_of_year": 196.0,
             "wind_m_s": 1.0, "humidity_percent": 25.0}  # fmt: skip
    return DayOfHeat(**(usual | other))


@pytest.mark.parametrize(
    ("sky", "humidity", "added"),
    [("full_sun", 30, 13), ("part_cloud", 30, 7), ("shade", 30, 0), ("shade", 10, -8),
     ("shade", 20, -4), ("shade", 40, 3), ("shade", 50, 6), ("shade", 60, 9), ("full_sun", 10, 5)],
)  # fmt: skip
def test_what_sun_and_humidity_add_by_the_printed_schedule(sky: str, humidity: int, added: int):
    """NIOSH 2016-106, Table 6-2: degrees F added to the air."""
    found = adjusted_air_niosh_2016(35.0, humidity, sky, rows())

    assert (found - 35.0) * 1.8 == pytest.approx(added)


def test_the_schedule_says_nothing_of_air_moister_than_it_prints():
    assert np.isnan(adjusted_air_niosh_2016(30.0, 61, "shade", rows()))
    assert adjusted_air_niosh_2016(30.0, 4, "shade", rows()) == pytest.approx(30 - 8 / 1.8)
    with pytest.raises(ValueError, match="full_sun, part_cloud, shade"):
        adjusted_air_niosh_2016(30.0, 30, "hazy", rows())


def test_the_day_runs_from_its_low_to_its_high_and_the_sun_stands_highest_at_noon():
    found = heat_through_day(day(), rows())

    assert found.air_c.max() == pytest.approx(34.0, abs=0.2)
    assert found.air_c.min() == pytest.approx(15.0, abs=0.5)
    assert found.radiation_w_m2.argmax() in (11, 12)
    assert found.radiation_w_m2[0] == 0.0
    # FAO-56 example: a clear sky lets through 0.75 of what is above the air (equation 36 at sea)
    assert found.radiation_w_m2.sum() * 3600 / 1e6 == pytest.approx(0.75 * 41.0, rel=0.02)
    # the vapor of the high is that of all hours: air at half the warmth is moister
    assert found.humidity_percent.min() == pytest.approx(25.0, abs=0.5)


@settings(max_examples=10)
@given(latitude=st.floats(5, 60), day_of_year=st.integers(1, 182), high=st.floats(15, 42))
def test_half_a_year_later_the_other_hemisphere_has_the_same_day(latitude, day_of_year, high):
    # half a turn of the year's angle turns the sun's declination by FAO-56 up to its lag of 1.4 day
    north = heat_through_day(
        day(latitude_deg=latitude, day_of_year=day_of_year, t_max_c=high), rows()
    )
    south = heat_through_day(
        day(latitude_deg=-latitude, day_of_year=day_of_year + 182.5, t_max_c=high), rows()
    )

    # the earth is nearest the sun in January: up to 7 % more sun in the south's summer
    assert south.heat.wbgt_c == pytest.approx(north.heat.wbgt_c, abs=1.0)


@settings(max_examples=10)
@given(high=st.floats(20, 44), humid=st.floats(5, 80), more=st.floats(0.5, 4))
def test_a_hotter_or_a_moister_day_is_worse_in_its_hottest_hour(high, humid, more):
    here = heat_through_day(day(t_max_c=high, humidity_percent=humid), rows()).heat.wbgt_c.max()
    hotter = heat_through_day(day(t_max_c=high + more, humidity_percent=humid), rows())
    moister = heat_through_day(day(t_max_c=high, humidity_percent=humid + more), rows())

    assert hotter.heat.wbgt_c.max() > here
    assert moister.heat.wbgt_c.max() > here


@pytest.mark.parametrize(
    "wrong",
    [{"t_max_c": 10.0}, {"wind_m_s": -1.0}, {"humidity_percent": 0.0}, {"latitude_deg": 80.0}],
)
def test_a_day_that_can_not_be_is_refused(wrong: dict[str, float]):
    with pytest.raises(ValueError, match=r"maximum|wind_m_s|humidity_percent|latitude_deg"):
        day(**wrong)
