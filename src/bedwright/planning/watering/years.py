"""A planting's water through all years of the record: needs by week, and where the water goes."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from bedwright.climate.record import FloatArray, IntArray
from bedwright.planning.watering.ground import BedSoil
from bedwright.planning.watering.stand import Stand
from bedwright.planning.watering.weather_days import WaterWeather
from bedwright.water.balance import Balance, daily_balance
from bedwright.water.beds import BedDays, Ground, Refill, Start

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

    ``days`` are those of the balance, (days, years), ``places`` theirs in the record. Of each day,
    usual, (days,) [m]: ``need_m`` is what a daily refill brings (``need_years_m`` of every year),
    ``ready_m`` what the roots hold that costs the crop nothing (RAW), ``use_m`` transpiration and
    evaporation. ``gap_days`` from run to run is such that they never lack more; ``on`` are
    the days that run, (days, 1).
    ``transpiration``, ``evaporation``, ``drainage``, ``irrigation``, ``rain`` are of the season;
    ``stressed_days`` its mean number of days on which the crop gets less than it asks.
    """

    places: IntArray
    days: BedDays
    ground: Ground
    even: Balance
    need_m: FloatArray
    need_years_m: FloatArray
    ready_m: FloatArray
    gap_days: IntArray
    on: NDArray[np.bool_]
    use_m: FloatArray
    transpiration: Spread
    evaporation: Spread
    drainage: Spread
    irrigation: Spread
    rain: Spread
    stressed_days: float

    @property
    def middling_year(self) -> int:
        """The year (its place) whose irrigation is in the middle."""
        total = self.even.irrigation_m.sum(axis=0)
        return int(np.argsort(total, kind="stable")[len(total) // 2])

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
    ground = soil.ground(stand.water.depletion_share, wetted_share, drip=drip)
    start = Start(0.0, 0.0)
    daily = daily_balance(days, ground, start, Refill(np.ones((stand.days, 1), dtype=bool), 0.0),
                          timing="early")  # fmt: skip
    use = daily.transpiration_m + daily.evaporation_m
    held = np.broadcast_to(days.available_m, use.shape).mean(axis=1)
    ready = held * stand.water.depletion_share
    gaps = _gaps(stand.gap_days, ready, use.mean(axis=1))
    on = even_days(gaps)
    even = daily_balance(days, ground, start, Refill(on, 0.0, leaching_share=leaching_share),
                         timing="early")  # fmt: skip
    return StandYears(
        places=places,
        days=days,
        ground=ground,
        even=even,
        need_m=daily.irrigation_m.mean(axis=1),
        need_years_m=daily.irrigation_m,
        ready_m=ready,
        gap_days=gaps,
        on=on,
        use_m=use.mean(axis=1),
        transpiration=_spread(even.transpiration_m.sum(axis=0)),
        evaporation=_spread(even.evaporation_m.sum(axis=0)),
        drainage=_spread(even.drainage_m.sum(axis=0)),
        irrigation=_spread(even.irrigation_m.sum(axis=0)),
        rain=_spread(np.broadcast_to(days.rain_m, use.shape).sum(axis=0)),
        stressed_days=float((even.stress(days) < 1 - 1e-9).sum(axis=0).mean()),
    )


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
