"""Heat for people: what makes it worse, and that the careful side is taken."""

from __future__ import annotations

from functools import cache

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from bedwright.climate.human_heat import (
    heat_index_rothfusz_1990,
    humidity_from_minimum,
    wbgt_in_sun,
    wbgt_liljegren_2008,
    wbgt_limit_niosh_2016,
    work_minutes_niosh_2016,
    work_rest,
)
from bedwright.reference import Library, Row

AIR, HUMID, SUN = st.floats(10, 45), st.floats(5, 90), st.floats(0, 900)
WIND, ZENITH = st.floats(0.2, 6), st.floats(5, 80)
WATTS = st.floats(160, 520)


@cache
def rows() -> tuple[Row, ...]:
    return tuple(Library().rows("work_rest"))


def wbgt(air: float, humid: float, sun: float, wind: float, zenith: float) -> float:
    return float(wbgt_liljegren_2008(air, humid, sun, wind, zenith).wbgt_c)


@given(air=AIR, humid=HUMID, sun=SUN, wind=WIND, zenith=ZENITH, more=st.floats(0.5, 5))
def test_hotter_air_and_moister_air_are_worse(air, humid, sun, wind, zenith, more):
    here = wbgt(air, humid, sun, wind, zenith)

    assert wbgt(air + more, humid, sun, wind, zenith) > here
    assert wbgt(air, humid + more, sun, wind, zenith) > here


@given(air=AIR, humid=HUMID, wind=WIND, share=st.floats(0.2, 0.6))
def test_a_day_in_the_sun_is_worse_than_one_in_the_shade(air, humid, wind, share):
    assert wbgt(air, humid, 1367 * share * np.cos(0.5), wind, np.degrees(0.5)) > (
        wbgt(air, humid, 0.0, wind, np.degrees(0.5)) + 1
    )


@given(air=AIR, humid=HUMID, wind=st.floats(0.2, 4))
def test_a_breeze_helps_in_the_sun(air, humid, wind):
    assert wbgt(air, humid, 800, wind + 1, 25) < wbgt(air, humid, 800, wind, 25)


def test_the_globe_is_hotter_and_the_wick_cooler_than_dry_air_in_the_sun():
    found = wbgt_liljegren_2008(40, 15, 950, 2, 20)

    assert found.globe_c > 50
    assert found.wet_bulb_c < 25


def test_dry_heat_in_the_sun_limits_heavy_work_while_the_heat_index_reads_below_the_air():
    """40 C, 15 %, full sun: the index says 38 C; by WBGT heavy work gets a quarter of the hour."""
    index = heat_index_rothfusz_1990(40, 15)
    minutes = work_minutes_niosh_2016(wbgt(40, 15, 950, 2, 20), 415, True)

    assert index < 40
    assert 10 < minutes < 20


def test_weather_in_arrays_keeps_its_shape():
    found = wbgt_liljegren_2008(np.full((2, 3), 30.0), 40, 500, 1, 40)

    assert found.wbgt_c.shape == found.globe_c.shape == found.wet_bulb_c.shape == (2, 3)
    assert found.wbgt_c == pytest.approx(wbgt_in_sun(found.wet_bulb_c, found.globe_c, 30))


@given(minimum=st.floats(-5, 30), spread=st.floats(0, 25))
def test_humidity_taken_from_the_minimum_falls_as_the_day_warms(minimum, spread):
    found = humidity_from_minimum(minimum + spread, minimum)

    assert 0 < found <= 100
    assert humidity_from_minimum(minimum, minimum) == 100
    assert humidity_from_minimum(minimum + spread + 1, minimum) < found


@given(watts=WATTS)
def test_people_not_used_to_heat_have_the_lower_limit(watts):
    assert wbgt_limit_niosh_2016(watts, False) < wbgt_limit_niosh_2016(watts, True)


@given(watts=WATTS, air=st.floats(15, 40), more=st.floats(0.1, 5))
def test_heat_and_hard_work_take_minutes_away(watts, air, more):
    for used in (True, False):
        found = work_minutes_niosh_2016(air, watts, used)
        assert 0 <= found <= 60
        assert work_minutes_niosh_2016(air + more, watts, used) <= found
        assert work_minutes_niosh_2016(air, watts + 10 * more, used) <= found
    assert work_minutes_niosh_2016(air, watts, False) <= work_minutes_niosh_2016(air, watts, True)


@given(watts=WATTS)
def test_up_to_the_limit_the_whole_hour_is_for_work(watts):
    for used in (True, False):
        limit = wbgt_limit_niosh_2016(watts, used)
        assert work_minutes_niosh_2016(limit, watts, used) == pytest.approx(60)
        assert work_minutes_niosh_2016(limit + 0.5, watts, used) < 60


def test_the_answer_of_a_word_is_that_of_a_truth():
    assert wbgt_limit_niosh_2016(300, "yes") == wbgt_limit_niosh_2016(300, True)
    assert wbgt_limit_niosh_2016(300, "no") == wbgt_limit_niosh_2016(300, False)


def work_of(fahrenheit: float, workload: str) -> float:
    found = work_rest((fahrenheit - 32) / 1.8, workload, rows())
    return {"normal": 60.0, "caution": 0.0}.get(found.advice) or found.work_min or 0.0


@given(fahrenheit=st.integers(80, 120), more=st.integers(0, 10))
def test_by_the_table_heat_and_harder_work_take_minutes_away(fahrenheit, more):
    for workload in ("light", "moderate", "heavy"):
        assert work_of(fahrenheit + more, workload) <= work_of(fahrenheit, workload)
    light, moderate, heavy = (work_of(fahrenheit, each) for each in ("light", "moderate", "heavy"))
    assert light >= moderate >= heavy


def test_work_and_rest_of_the_table_fill_the_hour():
    for row in rows():
        if row["advice"] == "rest":
            assert float(row["work_min"]) + float(row["rest_min"]) == 60


def test_a_part_of_a_degree_is_rounded_to_the_careful_side():
    assert work_rest((95.1 - 32) / 1.8, "heavy", rows()).work_min == 45
    assert work_rest((96.1 - 32) / 1.8, "heavy", rows()).work_min == 40


def test_beyond_the_table_there_is_no_safe_schedule():
    assert work_rest(50, "light", rows()).advice == "caution"
    assert work_rest(20, "heavy", rows()).advice == "normal"


@pytest.mark.parametrize(
    ("call", "message"),
    [(lambda: work_rest(30, "lifting", rows()), "heavy, light, moderate"),
     (lambda: wbgt_limit_niosh_2016(300, "maybe"), "must be yes or no"),
     (lambda: work_minutes_niosh_2016(30, 50, True), "work_w is 50"),
     (lambda: wbgt_liljegren_2008(104, 15, 900, 1, 20), "air_c is 104"),
     (lambda: wbgt_liljegren_2008(40, 0.15, 900, 1, 20), "humidity_percent"),
     (lambda: wbgt_liljegren_2008(40, 15, np.nan, 1, 20), "radiation_w_m2"),
     (lambda: heat_index_rothfusz_1990(20, 50), "air_c is 20")],
)  # fmt: skip
def test_what_cannot_be_is_refused_by_name(call, message: str):
    with pytest.raises(ValueError, match=message):
        call()
