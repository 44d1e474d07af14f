"""What is said of a planting date: its odds, and the work before and after it."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from typing import Literal

import numpy as np

from bedwright.crops.choice import WeekCost
from bedwright.crops.summary import Band, DateSummary
from bedwright.planning.findings import Finding
from bedwright.planning.weather import GardenWeather

Turn = Literal["spring", "late summer"]
TURNS: tuple[Turn, Turn] = ("spring", "late summer")


@dataclass(frozen=True)
class Spread:
    """Mean over the years, and what one year in ten stays below and above [days]."""

    mean: float
    low: float
    high: float


@dataclass(frozen=True)
class DateOutlook:
    """What the years say of planting on a day; None where they can't tell.

    Risks are shares of ``years``. ``killed_range`` is the risk at the hardy and the tender end of
    the killing minimum; ``soil_warm`` the share of years in which the soil is warm enough;
    ``bolted`` the share of plants. ``first_flower``, ``first_harvest``, ``last_harvest`` and
    ``cover_off`` are days after planting, of the years in which they came; ``set_days`` and
    ``harvest_days`` count lost years as 0. ``emergence`` are days after sowing, 0 where set out.
    ``too_hot`` and ``too_cool`` are the shares of the days from the first flower to the last whose
    fruit is picked that are above and below the best temperatures for fruit set.
    """

    on: date
    years: int
    killed: float | None
    killed_range: tuple[float | None, float | None]
    damaged: float | None
    lost: float | None
    soil_warm: float | None
    bolted: float | None
    set_days: Spread | None
    harvest_days: Spread | None
    first_flower: Spread | None
    first_harvest: Spread | None
    last_harvest: Spread | None
    cover_off: Spread | None
    hot_days: Spread | None
    emergence: Spread | None = None
    too_hot: float | None = None
    too_cool: float | None = None


@dataclass(frozen=True)
class Judged:
    """A date with the dates a week to either side, and what these change.

    ``work`` are days of work by their code, such as ``sow_under_cover``, in the calendar's order.
    ``sowings`` are the days of sowings that follow each other, the date's own the first.
    """

    chosen: DateOutlook
    earlier: DateOutlook
    later: DateOutlook
    earlier_cost: WeekCost
    later_cost: WeekCost
    work: tuple[tuple[str, date], ...]
    sowings: tuple[date, ...]


@dataclass(frozen=True)
class TurnDates:
    """The best date of one turn of the year; ``best`` is None where no date will do.

    ``why`` is what ruled, or what every date fails on (see :class:`bedwright.crops.choice.Choice`).
    ``window`` runs over the dates that are nearly as good, without a break; ``best`` is the first
    of these whose worth is close to the most. ``last_worth`` is the last date worth planting.
    ``soil_warm_from`` is the first from which the soil is warm enough in half of the years.
    ``goes_on`` says that this turn only goes on with the dates of the turn before it. ``before``
    and ``after`` are the candidate dates next to the window, None at the turn's ends.
    """

    turn: Turn
    why: str
    best: Judged | None
    window: tuple[date, date] | None
    last_worth: date | None
    soil_warm_from: date | None
    goes_on: bool
    before: DateOutlook | None = None
    after: DateOutlook | None = None


@dataclass(frozen=True)
class DatesCurve:
    """Days of good set by date of planting: mean, and what one year in ten stays below, above."""

    dates: tuple[date, ...]
    mean: tuple[float, ...]
    low: tuple[float, ...]
    high: tuple[float, ...]


@dataclass(frozen=True)
class WantDates:
    """One want's dates. ``asked`` is the turn that the want is for, None where it says nothing.

    ``start`` is sown, set_out or pieces; ``cover`` a key of ``protection.csv``, None for no cover.
    ``soil_needed_c`` [C] is NaN where it is not known. ``stated`` judges the want's own date;
    ``risk`` is the accepted one [-], ``weeks`` those for which is to be picked; ``site_doubt_k``
    [K] widens ``killed_range`` of every date, 0 where the garden's nights are taken as known.
    ``beds`` are those for which it is planned still, ``lost`` tells of those on which it failed.
    """

    want: int
    crop: str
    name: str
    beds: tuple[str, ...]
    start: str
    cover: str | None
    soil_needed_c: float
    asked: Turn | None
    risk: float
    weeks: int | None
    turns: tuple[TurnDates, ...]
    stated: Judged | None
    curve: DatesCurve | None
    findings: tuple[Finding, ...]
    site_doubt_k: float = 0.0
    lost: tuple[Finding, ...] = ()

    @property
    def best(self) -> DateOutlook | None:
        """The best date of the turn that is asked for, else of the first turn that has one."""
        turns = [each for each in self.turns if self.asked in (None, each.turn)]
        return next((each.best.chosen for each in turns if each.best is not None), None)

    @property
    def taken(self) -> DateOutlook | None:
        """The date that the plan goes by: the gardener's own, else the best one."""
        return self.best if self.stated is None else self.stated.chosen


@dataclass(frozen=True, eq=False)
class GardenDates:
    """The dates of all wants, with the weather behind them; ``risk`` is the accepted one [-]."""

    weather: GardenWeather | None
    risk: float
    wants: tuple[WantDates, ...]
    findings: tuple[Finding, ...]


def outlook(dates: DateSummary, at: int, on: date) -> DateOutlook:
    """One of the dates of a summary.

    Parameters
    ----------
    dates : one crop's summary, (dates,)
    at : the place of the date among them
    on : the day that stands for it
    """
    return DateOutlook(
        on=on,
        years=int(dates.years[at]),
        killed=_known(dates.killed[at]),
        killed_range=(_known(dates.killed_range[0][at]), _known(dates.killed_range[1][at])),
        damaged=_known(dates.damaged[at]),
        lost=_known(dates.lost[at]),
        soil_warm=_known(dates.soil_warm[at]),
        bolted=_known(dates.bolted.mean[at]),
        set_days=_spread(dates.set_days, at),
        harvest_days=_spread(dates.harvest_days, at),
        first_flower=_spread(dates.first_flower, at),
        first_harvest=_spread(dates.first_harvest, at),
        last_harvest=_spread(dates.last_harvest, at),
        cover_off=_spread(dates.cover_off, at),
        hot_days=_spread(dates.hot_days, at),
        emergence=_spread(dates.emergence, at),
    )


def _known(value: float) -> float | None:
    return None if np.isnan(value) else float(value)


def _spread(band: Band, at: int) -> Spread | None:
    if np.isnan(band.mean[at]):
        return None
    return Spread(float(band.mean[at]), float(band.low[at]), float(band.high[at]))
