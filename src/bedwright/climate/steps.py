"""Does the level of a station jump, as when it is moved or its thermometer is changed?

The test of Pettitt (1979) on the yearly means of the departures from each month's usual value.
A jump is told only if it is large, unlikely to be chance and fits better than a steady trend.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType

import numpy as np

from bedwright.climate.faults import Fault, day_of
from bedwright.climate.limits import WeatherLimits
from bedwright.climate.record import DailyRecord, FloatArray, IntArray, year_month_day

_MONTHS = 12


@dataclass(frozen=True)
class Step:
    """The likeliest jump in a series: its place, its size and the chance of one by accident.

    ``at`` is the index of the first value after it, ``statistic`` the largest rank sum |U|.
    """

    at: int
    change: float
    statistic: float
    chance: float


def pettitt_step(values: FloatArray, edge: int = 1) -> Step:
    """The likeliest single jump in a series by ranks.

    Parameters
    ----------
    values : without missing ones, in order of time, at least twice ``edge`` [any unit]
    edge : fewest values on either side of the jump, 1 and up

    Notes
    -----
    U_k = 2 (r_1 + ... + r_k) - k (n + 1) with the ranks r; the chance is about
    2 exp(-6 max|U|^2 / (n^3 + n^2)), good below 0.5.

    Raises ValueError for too short a series.
    """
    count = len(values)
    if edge < 1 or count < 2 * edge:
        raise ValueError(f"a step needs {edge} values on either side; there are {count}")
    _, which, times = np.unique(values, return_inverse=True, return_counts=True)
    ranks = (np.cumsum(times) - (times - 1) / 2)[which]
    place = np.arange(1, count + 1)
    sums = np.abs(2 * np.cumsum(ranks) - place * (count + 1))
    inner = sums[edge - 1 : count - edge]
    at = int(np.argmax(inner)) + edge
    largest = float(inner.max())
    chance = min(1.0, 2 * float(np.exp(-6 * largest**2 / (count**3 + count**2))))
    change = float(np.mean(values[at:]) - np.mean(values[:at]))
    return Step(at, change, largest, chance)


def yearly_departures(
    record: DailyRecord, values: FloatArray, missing_days: int
) -> tuple[IntArray, FloatArray]:
    """Years and the mean departure of their days from what the months usually have.

    Parameters
    ----------
    record : for the dates
    values : one per day [C], NaN where missing
    missing_days : a year with more missing days is left out
    """
    year, month, _ = year_month_day(record.dates())
    known = ~np.isnan(values)
    counts = np.bincount(month[known] - 1, minlength=_MONTHS)
    sums = np.bincount(month[known] - 1, weights=values[known], minlength=_MONTHS)
    usual = np.divide(sums, counts, out=np.full(_MONTHS, np.nan), where=counts > 0)
    departure = values[known] - usual[month[known] - 1]
    first = int(year[0])
    days = np.bincount(year - first)
    present = np.bincount(year[known] - first, minlength=len(days))
    total = np.bincount(year[known] - first, weights=departure, minlength=len(days))
    whole = (present > 0) & (365 - present <= missing_days)
    return np.flatnonzero(whole) + first, total[whole] / present[whole]


def station_steps(
    record: DailyRecord, series: Mapping[str, FloatArray], limits: WeatherLimits
) -> list[Fault]:
    """Each jump of the level of the maxima or minima, with its first year and its size.

    Parameters
    ----------
    record : for the dates
    series : with ``t_max_c`` and ``t_min_c`` [C]
    limits : ``step_c``, ``step_chance``, ``step_years`` and ``month_missing_days``
    """
    faults: list[Fault] = []
    for name in ("t_max_c", "t_min_c"):
        years, means = yearly_departures(record, series[name], _MONTHS * limits.month_missing_days)
        for at, step in sorted(_steps(means, 0, limits)):
            faults.append(
                Fault(
                    code="weather_station_step",
                    day=day_of(np.datetime64(f"{years[at]}-01-01")),
                    value=step.change,
                    data=MappingProxyType({"element": name, "chance": step.chance}),
                )
            )
    return faults


def _steps(means: FloatArray, offset: int, limits: WeatherLimits) -> list[tuple[int, Step]]:
    if len(means) < 2 * limits.step_years:
        return []
    step = pettitt_step(means, limits.step_years)
    small = abs(step.change) < limits.step_c
    if small or step.chance >= limits.step_chance or not _better_than_trend(means, step.at):
        return []
    before = _steps(means[: step.at], offset, limits)
    after = _steps(means[step.at :], offset + step.at, limits)
    return [*before, (offset + step.at, step), *after]


def _better_than_trend(means: FloatArray, at: int) -> bool:
    """Whether two levels leave less unexplained than a straight line does."""
    left = sum(float(np.sum((part - np.mean(part)) ** 2)) for part in (means[:at], means[at:]))
    time = np.arange(len(means), dtype=np.float64)
    line = np.polynomial.Polynomial.fit(time, means, 1)
    return left < float(np.sum((means - line(time)) ** 2))
