"""The best date for the risk that a gardener accepts, and what a week earlier or later costs."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from bedwright.crops.summary import DateSummary
from bedwright.guards import positive, within

FloatArray = NDArray[np.float64]
BoolArray = NDArray[np.bool_]


@dataclass(frozen=True)
class Choice:
    """One crop's chosen date, by its place among the dates; None where no date will do.

    ``why`` says what ruled: ``set_days`` (most days of good set), ``harvest`` (earliest harvest);
    or, where there is no date, what every date fails on: ``kill``, ``soil``, ``lost``,
    ``bolting``, ``together`` (no single one) or ``unknown``.
    """

    at: int | None
    why: str


@dataclass(frozen=True)
class WeekCost:
    """What changes at a date some days off the chosen one: that date's figure less the chosen.

    ``days`` is the shift really made (the nearest candidate). ``harvest`` is how many calendar
    days later the first harvest comes on average. NaN where a figure is not known.
    """

    at: int
    days: int
    killed: float
    lost: float
    bolted: float
    set_days: float
    harvest_days: float
    harvest: float


@dataclass(frozen=True)
class Limits:
    """What is accepted: the risk of spring kill, the share of years that may be lost or bolt,
    and the share of years in which the soil must be warm enough; all 0 to 1.
    """

    kill: float = 0.1
    lost: float = 0.2
    bolted: float = 0.2
    soil: float = 0.5

    def __post_init__(self) -> None:
        within(0.0, 1.0, kill=self.kill, lost=self.lost, bolted=self.bolted, soil=self.soil)


def acceptable(dates: DateSummary, limits: Limits) -> BoolArray:
    """Whether each date keeps within every limit, (dates,). What is not known does not forbid,
    but for the kill and the loss: a date that no year can speak of is not acceptable.
    """
    return np.asarray(np.logical_and.reduce(list(_passes(dates, limits).values())))


def best_date(
    dates: DateSummary,
    limits: Limits,
    offsets: NDArray[np.int_],
    *,
    among: BoolArray | None = None,
) -> Choice:
    """The acceptable date with the most days of good set; for a crop without fruit the one with
    the earliest expected harvest. Ties go to the earlier date.

    Parameters
    ----------
    dates : one crop's summary, (dates,)
    limits : what is accepted
    offsets : the dates as days on any one calendar axis, (dates,), rising
    among : dates to choose among (a turn of the year), or None for all

    Raises ValueError where the offsets are not those of the dates.
    """
    _check(dates, offsets)
    allowed = np.ones(offsets.shape, dtype=np.bool_) if among is None else among
    passes = {name: each & allowed for name, each in _passes(dates, limits).items()}
    good = np.logical_and.reduce(list(passes.values()))
    fruits = not np.all(np.isnan(dates.set_days.mean))
    worth = dates.set_days.mean if fruits else -(offsets + dates.first_harvest.mean)
    good &= ~np.isnan(worth)
    if good.any():
        at = int(np.argmax(np.where(good, worth, -np.inf)))
        return Choice(at, "set_days" if fruits else "harvest")
    if not (allowed & (dates.years > 0)).any():
        return Choice(None, "unknown")
    failed = [name for name, each in passes.items() if not each.any()]
    return Choice(None, failed[0] if failed else "together")


def shifted(dates: DateSummary, chosen: int, offsets: NDArray[np.int_], days: int) -> WeekCost:
    """What a date so many days later (earlier: below 0) changes against the chosen one.

    Parameters
    ----------
    dates : one crop's summary, (dates,)
    chosen : place of the chosen date
    offsets : the dates as days on any one calendar axis, (dates,), rising
    days : shift [days]; the candidate nearest to it is taken

    Raises ValueError where the offsets are not those of the dates, IndexError for a place that
    is none.
    """
    _check(dates, offsets)
    at = int(np.argmin(np.abs(offsets - (offsets[chosen] + days))))

    def change(values: FloatArray) -> float:
        return float(values[at] - values[chosen])

    return WeekCost(
        at=at,
        days=int(offsets[at] - offsets[chosen]),
        killed=change(dates.killed),
        lost=change(dates.lost),
        bolted=change(dates.bolted.mean),
        set_days=change(dates.set_days.mean),
        harvest_days=change(dates.harvest_days.mean),
        harvest=change(offsets + dates.first_harvest.mean),
    )


def last_worth_planting(
    dates: DateSummary, limits: Limits, offsets: NDArray[np.int_], least_harvest_days: float
) -> int | None:
    """The latest date on which the years lost stay within the limit and the picking lasts.

    Parameters
    ----------
    dates : one crop's summary, (dates,)
    limits : of these the share of years that may be lost
    offsets : the dates as days on any one calendar axis, (dates,), rising
    least_harvest_days : expected days of picking that make it worth the while [days], above 0

    Returns the place of the date, None where no date will do.
    """
    _check(dates, offsets)
    positive(least_harvest_days=least_harvest_days)
    with np.errstate(invalid="ignore"):
        worth = (dates.lost <= limits.lost) & (dates.harvest_days.mean >= least_harvest_days)
    return int(np.flatnonzero(worth)[-1]) if worth.any() else None


def _passes(dates: DateSummary, limits: Limits) -> dict[str, BoolArray]:
    with np.errstate(invalid="ignore"):
        return {
            "kill": np.asarray(dates.killed <= limits.kill),
            "lost": np.asarray(dates.lost <= limits.lost),
            "soil": np.asarray((dates.soil_warm >= limits.soil) | np.isnan(dates.soil_warm)),
            "bolting": np.asarray(
                (dates.bolted.mean <= limits.bolted) | np.isnan(dates.bolted.mean)
            ),
        }


def _check(dates: DateSummary, offsets: NDArray[np.int_]) -> None:
    if offsets.shape != dates.killed.shape or np.any(np.diff(offsets) <= 0):
        raise ValueError("offsets must be as many as the dates, and rising")
