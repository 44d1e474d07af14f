"""Sowings that follow each other, and the working dates before and after a planting."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from bedwright.crops.stages import day_reached, running_total
from bedwright.guards import not_negative, positive

FloatArray = NDArray[np.float64]
_HAIR = 1e-6  # degC d


@dataclass(frozen=True)
class Succession:
    """Sowings one after the other: days of sowing, of first harvest [index], and the heat that
    runs between a sowing and the one before it [degC d] (0 for the first).
    """

    sown: NDArray[np.int64]
    harvest: NDArray[np.int64]
    heat_between: FloatArray


def sowings_for_even_harvest(
    heat: FloatArray, required: float, first: int, last: int, every_days: int
) -> Succession:
    """Sowings whose first harvests follow each other by even numbers of days.

    Two harvests so many days apart need sowings as far apart in heat as the heat that runs
    between the harvests: wide apart in cool spring, when the harvests fall in warmer weather,
    close together when they fall in cooler weather than the sowings.

    Parameters
    ----------
    heat : daily heat of a usual season [degC d], (days,), 0 or more
    required : heat from sowing to first harvest [degC d], above 0
    first, last : first day of sowing and last on which sowing is possible [index]
    every_days : days between harvests, 1 or more

    Raises ValueError for an input outside its range, or where the first sowing is not ripe within
    the record.
    """
    positive(required=required, every_days=every_days)
    not_negative(heat=heat)
    if not 0 <= first <= last < heat.size:
        raise ValueError(f"first {first} and last {last} must be days of the {heat.size} given")
    total = running_total(heat)
    start = day_reached(total, first, required)
    if np.isnan(start):
        raise ValueError("what is sown on the first day is not ripe within the days given")
    harvests = np.arange(int(start), heat.size, every_days)
    # the latest sowing that still has its heat by the evening of the harvest day
    goal = total[harvests + 1] - required + _HAIR
    sown = np.searchsorted(total, goal, side="right") - 1
    sown[0] = first
    fits = (sown <= last) & (sown >= first)
    sown, harvests = sown[fits].astype(np.int64), harvests[fits].astype(np.int64)
    return Succession(sown, harvests, np.diff(total[sown], prepend=total[sown[0]]))


@dataclass(frozen=True)
class Leads:
    """What has to go before a planting, in days before it (before sowing under cover for
    ``order``); None where there is no such work.
    """

    sow_under_cover: int | None = None
    hardening: int | None = None
    order: int | None = None
    rest: int | None = None
    clearing: int = 0
    drip: int | None = None

    def __post_init__(self) -> None:
        given = {name: value for name, value in vars(self).items() if value is not None}
        not_negative(**given)


@dataclass(frozen=True)
class WorkDates:
    """Days of the work around a planting, on the axis of the planting day; None where there is
    none. ``side_dress`` may be empty.
    """

    order_by: int | None
    sow_under_cover: int | None
    harden_from: int | None
    clear_by: int | None
    spread_by: int | None
    lay_drip_by: int | None
    plant: int
    side_dress: tuple[int, ...]
    first_picking: int | None
    last_picking: int | None


def work_dates(
    plant: int,
    leads: Leads,
    *,
    first_picking: float | None = None,
    last_picking: float | None = None,
    side_dress: Sequence[float] = (),
) -> WorkDates:
    """The days by which each work must be done, backward and forward from a planting.

    Parameters
    ----------
    plant : day of setting out or sowing in place [index]
    leads : days before it
    first_picking, last_picking : expected days after planting [days], or None
    side_dress : expected days after planting on which to side-dress [days]

    What is spread lies for ``leads.rest`` days; the bed is cleared ``leads.clearing`` days before
    that. A lead that does not end on a whole day is none: pickings are rounded to a day.

    Raises ValueError where pickings are out of order, or a side-dressing lies before the planting
    or after the last picking.
    """
    first = None if first_picking is None or np.isnan(first_picking) else round(first_picking)
    last = None if last_picking is None or np.isnan(last_picking) else round(last_picking)
    if first is not None and last is not None and last < first:
        raise ValueError("last_picking is before first_picking")
    dress = [round(each) for each in side_dress]
    if any(each < 0 or (last is not None and each > last) for each in dress):
        raise ValueError("side_dress must lie between planting and last picking")
    sow = _before(plant, leads.sow_under_cover)
    spread = _before(plant, leads.rest)
    return WorkDates(
        order_by=_before(plant if sow is None else sow, leads.order),
        sow_under_cover=sow,
        harden_from=_before(plant, leads.hardening),
        clear_by=(plant if spread is None else spread) - leads.clearing,
        spread_by=spread,
        lay_drip_by=_before(plant, leads.drip),
        plant=plant,
        side_dress=tuple(plant + each for each in dress),
        first_picking=None if first is None else plant + first,
        last_picking=None if last is None else plant + last,
    )


def _before(day: int, lead: int | None) -> int | None:
    return None if lead is None else day - lead
