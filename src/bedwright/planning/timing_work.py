"""The work that a planting date asks for before and after it, and sowings that follow it."""

from __future__ import annotations

import math
from datetime import date, timedelta

import numpy as np
from numpy.typing import NDArray

from bedwright.crops.sowings import Leads, sowings_for_even_harvest, work_dates
from bedwright.crops.stages import degree_days_held
from bedwright.crops.timing_tables import TimingTables
from bedwright.crops.windows import Crop
from bedwright.planning.timing_model import DateOutlook
from bedwright.planning.weather import GardenWeather
from bedwright.reference import Library

_YEAR, _WEEK = 365, 7  # days
_WHICH = ("first", "second", "third")  # side-dressing


def work_days(
    planting: DateOutlook, crop: str, tables: TimingTables, library: Library
) -> tuple[tuple[str, date], ...]:
    """The days by which each work about a planting is to be done, in the calendar's order.

    Side-dressings fall on the guides' days, counted from the stage that these name; one that is
    due before the planting, or so late that it feeds no fruit that is picked, falls away. Those
    of a bed follow its nitrogen, which the season plan reckons.
    """
    set_out = tables.words[(crop, "start")]["word"] == "set_out"
    sow_ahead = tables.days(crop, "sow_ahead") if set_out else math.nan
    raised = not math.isnan(sow_ahead)
    leads = Leads(
        sow_under_cover=round(sow_ahead) if raised else None,
        hardening=round(tables.days(crop, "hardening_days")) if raised else None,
        order=_days(library, "order_ahead"),
        rest=_days(library, "habit_rest"),
        clearing=_days(library, "clearing_ahead"),
        drip=_days(library, "drip_ahead"),
    )
    first, last = planting.first_harvest, planting.last_harvest
    found = work_dates(
        0,
        leads,
        first_picking=None if first is None else first.mean,
        last_picking=None if last is None else last.mean,
        side_dress=_side_dressings(planting, crop, tables),
    )
    days = [
        (code, getattr(found, code))
        for code in (
            "order_by",
            "sow_under_cover",
            "clear_by",
            "spread_by",
            "harden_from",
            "lay_drip_by",
            "plant",
        )
    ]
    days += [("side_dress", each) for each in found.side_dress]
    days += [("first_picking", found.first_picking), ("last_picking", found.last_picking)]
    known = [(code, day) for code, day in days if day is not None]
    return tuple(
        (code, planting.on + timedelta(days=day))
        for code, day in sorted(known, key=lambda each: each[1])
    )


def _side_dressings(planting: DateOutlook, crop: str, tables: TimingTables) -> list[float]:
    """Days after planting, in order."""
    last = planting.last_harvest
    if last is None:
        return []
    stages = {
        "planting": 0.0,
        "emergence": None if planting.emergence is None else planting.emergence.mean,
        "flower": None if planting.first_flower is None else planting.first_flower.mean,
        "harvest": None if planting.first_harvest is None else planting.first_harvest.mean,
    }
    days = [
        begin + tables.days(crop, f"side_dress_from_{stage}", condition=which)
        for stage, begin in stages.items()
        if begin is not None
        for which in _WHICH
    ]
    ripening = tables.days(crop, "fruit_days") if planting.set_days is not None else 0.0
    latest = last.mean - (0.0 if math.isnan(ripening) else ripening)
    return sorted(each for each in days if not math.isnan(each) and 0 <= each < latest)


def _days(library: Library, key: str) -> int:
    return round(library.parameter(key, "day").value)


def sowings(
    crop: Crop, weather: GardenWeather, first: int, last: int, weeks: int | None
) -> NDArray[np.int64]:
    """Days of sowings [from the season's start] whose pickings follow each other for some weeks.

    Parameters
    ----------
    crop : what it needs
    weather : of the garden; a usual season's heat is the mean of its years
    first, last : first sowing, and last that is worth it [days from the season's start]
    weeks : for which picking is to go on; None for one sowing

    The picking of each lasts for the crop's usual span; one sowing alone where that is enough.
    """
    alone = np.array([first], dtype=np.int64)
    span = max(round(crop.span_days), 1)
    if weeks is None or weeks * _WEEK <= span or last < first:
        return alone
    days = weather.days
    daily = degree_days_held(days.t_max_c, days.t_min_c, crop.base_c, crop.upper_c)
    usual = np.tile(np.nanmean(weather.by_season(daily), axis=0), 3)
    # a sowing before the season's start lies in the season before: shift both by a year
    shift = _YEAR if first < 0 else 0
    try:
        found = sowings_for_even_harvest(
            usual, crop.heat_to_harvest, first + shift, last + shift, span
        )
    except ValueError:  # not ripe in this climate: nothing can follow it
        return alone
    return np.asarray(found.sown[: math.ceil(weeks * _WEEK / span)] - shift)
