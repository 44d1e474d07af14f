"""Sowings in succession, and the work before and after a planting."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from bedwright.crops.sowings import Leads, sowings_for_even_harvest, work_dates
from bedwright.crops.stages import running_total

SEASON = 10 * np.sin(np.pi * np.arange(240) / 240)  # degree days of a season, none at its ends


@given(st.floats(200, 700), st.integers(0, 90), st.integers(1, 21))
def test_harvests_of_a_succession_are_even_and_each_sowing_is_ripe_on_its_day(
    required, first, every
):
    made = sowings_for_even_harvest(SEASON, required, first, 180, every)
    total = running_total(SEASON)

    assert made.sown[0] == first
    assert np.all(np.diff(made.harvest) == every)
    assert np.all(np.diff(made.sown) >= 0)
    assert np.all((made.sown >= first) & (made.sown <= 180))
    ripe = total[made.harvest + 1] - total[made.sown]
    assert np.all(ripe >= required - 1e-5)
    later = total[made.harvest + 1] - total[np.minimum(made.sown + 1, 239)]
    assert np.all(later[1:] < required + 1e-5)  # a day later would not be ripe in time


def test_sowings_stand_as_far_apart_in_heat_as_their_harvests():
    made = sowings_for_even_harvest(np.full(240, 8.0), 480.0, 10, 100, 7)

    assert np.all(np.diff(made.sown) == 7)
    assert made.heat_between.tolist() == [0.0] + [56.0] * (made.sown.size - 1)


def test_in_warming_weather_weekly_harvests_want_sowings_more_than_a_week_apart():
    made = sowings_for_even_harvest(SEASON, 400.0, 10, 60, 7)

    assert np.diff(made.sown)[0] > 7


def test_what_never_ripens_or_lies_outside_the_days_is_refused():
    with pytest.raises(ValueError, match="not ripe"):
        sowings_for_even_harvest(SEASON, 5000.0, 10, 60, 7)
    with pytest.raises(ValueError, match="must be days of the 240"):
        sowings_for_even_harvest(SEASON, 400.0, 60, 10, 7)
    with pytest.raises(ValueError, match="required"):
        sowings_for_even_harvest(SEASON, 0.0, 10, 60, 7)
    with pytest.raises(ValueError, match="every_days"):
        sowings_for_even_harvest(SEASON, 10.0, 10, 60, 0)


LEADS = Leads(sow_under_cover=49, hardening=10, order=21, rest=14, clearing=2, drip=1)


def test_the_work_is_reckoned_back_and_forth_from_the_planting():
    told = work_dates(140, LEADS, first_picking=70.4, last_picking=126, side_dress=(31.6, 63))

    assert told.sow_under_cover == 140 - 49
    assert told.order_by == 140 - 49 - 21
    assert told.harden_from == 130
    assert told.spread_by == 126
    assert told.clear_by == 124
    assert told.lay_drip_by == 139
    assert told.side_dress == (140 + 32, 140 + 63)
    assert (told.first_picking, told.last_picking) == (210, 266)


def test_what_is_sown_in_place_is_ordered_for_its_own_day_and_has_no_work_that_it_does_not_need():
    told = work_dates(140, Leads(order=21))

    assert told.order_by == 119
    assert (told.sow_under_cover, told.harden_from, told.spread_by) == (None, None, None)
    assert told.clear_by == 140
    assert (told.first_picking, told.last_picking, told.side_dress) == (None, None, ())
    assert work_dates(140, Leads(), first_picking=np.nan).first_picking is None


@given(st.integers(-400, 400), st.integers(-400, 400))
def test_work_dates_move_with_the_planting(day, shift):
    a, b = (work_dates(at, LEADS, first_picking=70, last_picking=90) for at in (day, day + shift))

    assert b.order_by - a.order_by == shift
    assert b.last_picking - a.last_picking == shift
    assert a.order_by <= a.sow_under_cover <= a.clear_by <= a.spread_by <= a.lay_drip_by <= a.plant


def test_dates_that_make_no_sense_are_refused():
    with pytest.raises(ValueError, match="before first_picking"):
        work_dates(140, LEADS, first_picking=90, last_picking=70)
    for day in (-1, 71):
        with pytest.raises(ValueError, match="between planting and last picking"):
            work_dates(140, LEADS, last_picking=70, side_dress=(day,))
    with pytest.raises(ValueError, match="rest is -1"):
        Leads(rest=-1)
