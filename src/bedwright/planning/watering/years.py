"""A planting's water through all years of the record: needs by week, and where the water goes."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from bedwright.climate.record import FloatArray, IntArray
from bedwright.planning.watering.ground import BedSoil
from bedwright.planning.watering.phases import Phase, phased_balance
from bedwright.planning.watering.stand import Stand
from bedwright.planning.watering.weather_days import WaterWeather
from bedwright.water.balance import Balance
from bedwright.water.beds import BedDays, Refill, Start

_WEEK = 7
_LOW, _HIGH = 10, 90  # percentiles: one year in ten


@dataclass(frozen=True)
class Spread:
    """Mean over the years, and what one year in ten stays below and above [m]."""

    mean: float
    low: float
    high: float


@dataclass(frozen=True, eq=False)
class StandYears:
    """What the years say of a planting under even runs.

    ``places`` are the days' in the record, (days, years). Of each day, usual, (days,) [m]:
    ``need_m`` is what a daily refill brings (``need_years_m`` of every year), ``ready_m`` what the
    roots hold that costs the crop nothing (RAW), ``use_m`` transpiration and evaporation,
    ``et0_m`` reference evapotranspiration. ``gap_days`` from run to run is such that they never
    lack more; ``on`` are the days that run, (days, 1).
    ``days`` and ``even`` are those of the middling year alone, (days, 1), which keeps a plan small.
    ``transpiration``, ``evaporation``, ``drainage``, ``irrigation``, ``rain`` are of the season;
    ``drained_m`` what drains in each week of it, (3, weeks): in a year of much drainage (one in
    ten has more), on the mean, in a year of little.
    ``stressed_days`` is the mean number of days on which the crop gets less than it asks.
    """

    places: IntArray
    days: BedDays
    phases: tuple[Phase, ...]
    even: Balance
    need_m: FloatArray
    need_years_m: FloatArray
    ready_m: FloatArray
    gap_days: IntArray
    on: NDArray[np.bool_]
    use_m: FloatArray
    et0_m: FloatArray
    transpiration: Spread
    evaporation: Spread
    drainage: Spread
    irrigation: Spread
    rain: Spread
    drained_m: FloatArray
    stressed_days: float

    @property
    def middling_year(self) -> int:
        """The column of ``days`` and ``even`` that is the year with middling irrigation."""
        return 0

    def week_need(self, first: int) -> Spread:
        """Net water of the week from a day of the season on [m]; days past its end count nothing.

        Parameters
        ----------
        first : day of the season, from 0
        """
        return _spread(self.need_years_m[first : first + _WEEK].sum(axis=0))


def stand_years(
    stand: Stand,
    soil: BedSoil,
    weather: WaterWeather,
    wetted_share: float,
    leaching_share: float,
    *,
    drip: bool,
) -> StandYears:
    """The balance of a planting in every whole year of the record.

    Parameters
    ----------
    stand, soil, weather : of the bed and the garden
    wetted_share : of the bed by its lines [-]
    leaching_share : of the water applied that is to drain [-]
    drip : whether lines lie under the plants

    The soil is full at the start, as the filling before planting leaves it. Lines run in the
    morning, before the day's use. Raises ValueError where no year of the record is whole.
    """
    places = weather.seasons(stand.start, stand.days)
    days = stand.bed_days(
        soil,
        weather.et0_m[places],
        weather.rain_m[places],
        float(weather.wind_m_s[places].mean()),
        float(weather.humidity_min_percent[places].mean()),
    )
    phases = stand.phases(soil, wetted_share, drip=drip)
    start = Start(0.0, 0.0)
    daily = phased_balance(days, phases, start, Refill(np.ones((stand.days, 1), dtype=bool), 0.0),
                           timing="early")  # fmt: skip
    use = daily.transpiration_m + daily.evaporation_m
    held = np.broadcast_to(days.available_m, use.shape).mean(axis=1)
    ready = held * stand.depletion_share
    gaps = _gaps(stand.gap_days, ready, use.mean(axis=1))
    on = even_days(gaps)
    even = phased_balance(days, phases, start, Refill(on, 0.0, leaching_share=leaching_share),
                          timing="early")  # fmt: skip
    total = even.irrigation_m.sum(axis=0)
    middling = slice(at := int(np.argsort(total, kind="stable")[len(total) // 2]), at + 1)
    return StandYears(
        places=places,
        days=_days_of(days, middling),
        phases=phases,
        even=_year_of(even, middling),
        need_m=daily.irrigation_m.mean(axis=1),
        need_years_m=daily.irrigation_m,
        ready_m=ready,
        gap_days=gaps,
        on=on,
        use_m=use.mean(axis=1),
        et0_m=days.et0_m.mean(axis=1),
        transpiration=_spread(even.transpiration_m.sum(axis=0)),
        evaporation=_spread(even.evaporation_m.sum(axis=0)),
        drainage=_spread(even.drainage_m.sum(axis=0)),
        irrigation=_spread(total),
        rain=_spread(np.broadcast_to(days.rain_m, use.shape).sum(axis=0)),
        drained_m=_by_week(even.drainage_m),
        stressed_days=float((even.stress(days) < 1 - 1e-9).sum(axis=0).mean()),
    )


def _days_of(days: BedDays, year: slice) -> BedDays:
    """The days of one year, (days, 1); a copy, so that the others can be let go.

    A stand's days have neither salt stress nor newly reached dry soil: those stay None.
    """
    et0, rain, basal, ceiling, cover, held = (
        (each if each.shape[1] == 1 else each[:, year]).copy()
        for each in (days.et0_m, days.rain_m, days.basal, days.ceiling, days.cover,
                     days.available_m)
    )  # fmt: skip
    return BedDays(et0, rain, basal, ceiling, cover, held)


def _year_of(even: Balance, year: slice) -> Balance:
    flows = [
        each[:, year].copy()
        for each in (even.transpiration_m, even.evaporation_m, even.drainage_m, even.depletion_m,
                     even.irrigation_m)
    ]  # fmt: skip
    shape = np.shape(even.end.depletion_m)
    ends = [
        np.broadcast_to(np.asarray(each), shape)[year].copy()
        for each in (even.end.depletion_m, even.end.surface_depletion_m, even.end.all_wetted)
    ]  # fmt: skip
    wetted = even.end.wetted_share
    last = None if wetted is None else np.broadcast_to(np.asarray(wetted), shape)[year].copy()
    return Balance(flows[0], flows[1], flows[2], flows[3], flows[4],
                   even.start_depletion_m[year].copy(),
                   Start(ends[0], ends[1], ends[2], last))  # fmt: skip


def _by_week(drainage_m: FloatArray) -> FloatArray:
    """What drains in each week, (3, weeks): in a wet year, on the mean, in a dry year."""
    weeks = np.add.reduceat(drainage_m, np.arange(0, len(drainage_m), _WEEK), axis=0)
    order = np.argsort(weeks.sum(axis=0), kind="stable")
    little, much = (order[round(each / 100 * (len(order) - 1))] for each in (_LOW, _HIGH))
    return np.stack([weeks[:, much], weeks.mean(axis=1), weeks[:, little]])


def even_days(gap_days: IntArray) -> NDArray[np.bool_]:
    """Days of even runs, (days, 1): a run as soon as the last lies a day's gap back.

    Parameters
    ----------
    gap_days : the gap that each day allows [d], (days,), 1 and up
    """
    on = np.zeros((len(gap_days), 1), dtype=np.bool_)
    last = -1
    for day, gap in enumerate(gap_days):
        if day - last >= gap:
            on[day], last = True, day
    return on


def _gaps(most_days: float, ready_m: FloatArray, use_m: FloatArray) -> IntArray:
    """Whole days between runs: within the crop's bound and what its roots hold at no cost."""
    lasts = np.floor(ready_m / np.maximum(use_m, 1e-6))
    return np.clip(lasts, 1, max(1, round(most_days))).astype(np.int64)


def _spread(values: FloatArray) -> Spread:
    low, high = np.percentile(values, [_LOW, _HIGH])
    return Spread(float(values.mean()), float(low), float(high))
