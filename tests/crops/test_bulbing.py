"""Bulbs swell in long days, after enough leaf."""

import numpy as np
import pytest
from crop_weather import TURN, YEAR

from bedwright.crops.bulbing import BulbingRule
from bedwright.crops.timing_tables import TimingTables
from bedwright.crops.windows import Crop, Weather, planting_outcomes
from bedwright.reference import Library

LIBRARY = Library()
TABLES = ("crop_timing", "crop_habits", "emergence", "fruit_set_responses", "protection")
TIMING = TimingTables.of(*(LIBRARY.rows(table) for table in TABLES))
DAYS = np.arange(3 * YEAR)
MEAN = 11.5 - 11.0 * np.cos(2 * np.pi * (DAYS - 20) / YEAR)
LENGTH = 12.2 - 3.4 * np.cos(2 * np.pi * (DAYS + 10) / YEAR)  # longest on day 172


def first_harvest(rule: BulbingRule, *starts: int, length: np.ndarray | None = LENGTH):
    weather = Weather(MEAN + 7, MEAN - 7, MEAN, day_length_h=length)
    crop = Crop(base_c=-20.0, upper_c=60.0, heat_to_harvest=3800.0, bulbing=rule)
    found = planting_outcomes(weather, crop, None, np.array([starts]).T, np.array([TURN]))
    return found.first_harvest[:, 0], found.lost[:, 0]


def rule(**changes: float) -> BulbingRule:
    """A long-day bulb; heat is counted above -20 C here, so that every day adds."""
    usual = {"day_length_h": 14.0, "leaf_heat": 1200.0, "bulb_heat": 2600.0, "ripening_days": 21.0}
    return BulbingRule(**(usual | changes))


def test_an_onion_set_out_in_spring_swells_from_the_first_long_day_on():
    early, later = first_harvest(rule(), 55, 62)[0]
    long = int(np.argmax(LENGTH >= 14))
    total = np.cumsum(MEAN + 20)

    assert early == later  # both have leaf enough by then: the day decides
    assert early == np.searchsorted(total, total[long - 1] + 2600)


def test_without_leaf_enough_it_waits_though_the_days_are_long():
    early, late = first_harvest(rule(), 60, 120)[0]

    assert late > early
    assert np.isnan(first_harvest(rule(leaf_heat=4000.0), 60)[0][0])


def test_an_onion_set_out_at_midsummer_makes_no_bulb_before_the_days_are_short_again():
    harvest, lost = first_harvest(rule(), 60, 180, 200)

    assert np.isnan(harvest).tolist() == [False, True, True]
    assert lost.tolist() == [0, 1, 1]


def test_a_bulb_that_is_not_grown_when_the_days_grow_too_short_is_lost():
    assert not np.isnan(first_harvest(rule(), 60)[0][0])
    assert np.isnan(first_harvest(rule(bulb_heat=6000.0), 60)[0][0])


def test_a_short_day_onion_set_out_in_long_days_stays_small():
    short = rule(day_length_h=11.0, longest_h=13.0)
    autumn, june = first_harvest(short, 300, 150)[0]

    assert not np.isnan(autumn)
    assert np.isnan(june)


def test_where_the_length_of_days_is_not_known_heat_alone_counts():
    assert not np.isnan(first_harvest(rule(), 180, length=None)[0][0])


@pytest.mark.parametrize(
    ("latitude_deg", "kind", "hours"),
    [(29, "short", 11), (34, "intermediate", 13), (-34, "intermediate", 13), (46, "long", 14)],
)  # fmt: skip
def test_latitude_tells_the_type_of_onion_north_and_south(
    latitude_deg: float, kind: str, hours: float
):
    # Oregon State University Extension, 2006: short days from 11 h, intermediate from 13 h, long
    # from 14 h on.
    assert TIMING.day_type("onion", latitude_deg) == kind
    bulbing = TIMING.crop("onion", day_type=kind).bulbing
    assert bulbing is not None
    assert bulbing.day_length_h == pytest.approx(hours)


def test_onions_have_made_600_degree_days_of_leaf_before_they_swell():
    # Lancaster and others 1996, Annals of Botany 78: 600 degree days and 13.75 h, both needed.
    bulbing = TIMING.crop("onion", day_type="long").bulbing
    assert bulbing is not None
    assert bulbing.leaf_heat == pytest.approx(600)
    assert abs(bulbing.day_length_h - 13.75) <= 0.25


def test_garlic_waits_for_days_between_12_and_14_hours():
    # del Pozo and González 2005: no bulb at 12 h, all plants at over 14 h.
    bulbing = TIMING.crop("garlic", day_type=TIMING.day_type("garlic", 46.0)).bulbing
    assert bulbing is not None
    assert 12 < bulbing.day_length_h < 14


def test_what_makes_no_bulb_does_not_wait_for_days():
    assert TIMING.day_type("leek", 46.0) is None
    assert TIMING.crop("leek").bulbing is None
