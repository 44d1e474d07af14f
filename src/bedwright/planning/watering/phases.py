"""A balance whose ground changes within the season, as when a mulch is laid."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np

from bedwright.water.balance import Balance, FloatArray, Timing, daily_balance
from bedwright.water.beds import BedDays, Ground, Refill, Start


@dataclass(frozen=True, eq=False)
class Phase:
    """The ground from a day of the season on, counted from 0."""

    first: int
    ground: Ground


def phased_balance(
    days: BedDays,
    phases: Sequence[Phase],
    start: Start,
    irrigation: FloatArray | Refill,
    *,
    timing: Timing,
) -> Balance:
    """The daily balance of a season, each phase starting where the last one ended.

    Parameters
    ----------
    days : of the season
    phases : in order, the first from day 0
    start : on the eve of the first day
    irrigation : net depths or a rule, of all days
    timing : see :func:`bedwright.water.balance.daily_balance`
    """
    count = days.shape[0]
    ends = [each.first for each in phases[1:]] + [count]
    made = []
    state = start
    for each, end in zip(phases, ends, strict=True):
        found = daily_balance(
            days_between(days, each.first, end), each.ground, state,
            _between(irrigation, each.first, end), timing=timing,
        )  # fmt: skip
        made.append(found)
        state = found.end
    if len(made) == 1:
        return made[0]

    def joined(name: str) -> FloatArray:
        return np.concatenate([getattr(each, name) for each in made])

    return Balance(
        joined("transpiration_m"), joined("evaporation_m"), joined("drainage_m"),
        joined("depletion_m"), joined("irrigation_m"), made[0].start_depletion_m, made[-1].end,
    )  # fmt: skip


def days_between(days: BedDays, first: int, end: int) -> BedDays:
    """Some days of a season, as a season of their own.

    Parameters
    ----------
    days : of the season
    first, end : from this day up to the day before that one
    """
    kept = {name: each if each is None or len(each) == 1 else each[first:end]
            for name, each in vars(days).items()}  # fmt: skip
    return BedDays(**kept)


def phases_from(phases: Sequence[Phase], first: int, end: int) -> list[Phase]:
    """The phases of the days from ``first`` up to the day before ``end``, counted anew."""
    started = [each for each in phases if each.first <= first]
    later = [each for each in phases if first < each.first < end]
    return [Phase(0, started[-1].ground), *(Phase(each.first - first, each.ground)
                                            for each in later)]  # fmt: skip


def _between(irrigation: FloatArray | Refill, first: int, end: int) -> FloatArray | Refill:
    if isinstance(irrigation, Refill):
        return replace(irrigation, allowed=irrigation.allowed[first:end])
    return irrigation[first:end]
