"""People at work in heat: hours for light, moderate and heavy work, rests, and water to drink."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

import numpy as np
from numpy.typing import NDArray

from bedwright.climate.heat_at_work import DayOfHeat, HoursOfHeat, heat_through_day
from bedwright.climate.human_heat import (
    heat_index_rothfusz_1990,
    work_minutes_niosh_2016,
    work_rest,
)
from bedwright.climate.record import DailyRecord, FloatArray
from bedwright.reference import Library, Row
from bedwright.reference.library import figure_of
from bedwright.water.air import air_pressure_fao56
from bedwright.working import Figure

CLASSES = ("light", "moderate", "heavy")
_HOUR_MIN, _STEP_MIN = 60.0, 5.0
_INDEX_FROM_C = 27.0  # heat_index_rothfusz_1990: below it the index means nothing
_HOT_SHARE = 0.9  # of a month's days are no hotter than its hot day: judgement
_RANGE_C = (-20.0, 50.0)  # no forecast is higher; colder air is as far from any limit of heat
_YEAR, _MIDDLE = 2027, 15  # any common year; the middle of a month
_POLAR_DEG = 66.0  # DayOfHeat: beyond it the sun may not set


@dataclass(frozen=True)
class WorkHour:
    """One hour of work in the sun, by the sun's time.

    ``minutes`` are those of work in the hour, the rest of it resting in the shade, for light,
    moderate and heavy work by people used to the heat; ``new_minutes`` for others. 60 is work
    without set rests, 0 that no schedule is safe. The fewer minutes of two ways count:
    ``by_wbgt`` those by the wet bulb globe temperature, ``by_air`` those by the schedule of air
    temperature, None where the air is moister than it tells of.
    """

    hour: int
    air_c: float
    humidity_percent: float
    wbgt_c: float
    adjusted_c: float | None
    minutes: tuple[float, float, float]
    new_minutes: tuple[float, float, float]
    by_wbgt: tuple[float, float, float]
    by_air: tuple[float, float, float] | None


@dataclass(frozen=True)
class WorkDay:
    """A day's hours of light. ``index_c`` is the heat index of the hottest hour, None below 27 C:
    beside the WBGT for comparison, never to go by.
    """

    t_max_c: float
    t_min_c: float
    humidity_percent: float | None
    wind_m_s: float
    hours: tuple[WorkHour, ...]
    index_c: float | None

    def spans(self, workload: str) -> tuple[tuple[int, int], ...]:
        """Hours for a class of work without set rests, as (from, to) by the sun's time."""
        at = CLASSES.index(workload)
        free = [each.hour for each in self.hours if each.minutes[at] >= _HOUR_MIN]
        found: list[tuple[int, int]] = []
        for hour in free:
            if found and found[-1][1] == hour:
                found[-1] = (found[-1][0], hour + 1)
            else:
                found.append((hour, hour + 1))
        return tuple(found)

    @property
    def shortened(self) -> bool:
        """Whether the heat shortens any hour of heavy work for people used to it."""
        return any(each.minutes[-1] < _HOUR_MIN for each in self.hours)


@dataclass(frozen=True)
class MonthWork:
    """Work in a month (1 to 12): on a day of its usual high, and of one day in ten."""

    month: int
    usual: WorkDay
    hot: WorkDay

    @property
    def day(self) -> date:
        """The month's middle in a common year, for the sun and the clock."""
        return date(_YEAR, self.month, _MIDDLE)


@dataclass(frozen=True)
class Drinking:
    """Water to drink at work in heat: ``cup`` [m3] every so many minutes, at most an hour and a
    day [m3]; ``new_worker`` and ``returning`` are shares of a usual day's work on each day.
    """

    cup: Figure
    every_min: Figure
    most_an_hour: Figure
    most_a_day: Figure
    new_worker: tuple[float, ...]
    returning: tuple[float, ...]


def heat_for_work(day: DayOfHeat, library: Library) -> WorkDay:
    """Work and rest through a day in full sun under a clear sky.

    Parameters
    ----------
    day : forecast or usual weather, its latitude and day of the year
    library : the tables

    The fewer minutes of the WBGT's limits and of the schedule by air temperature count, rounded
    down to five; fewer than the schedule's shortest count as none.
    """
    rows = library.rows("heat_at_work")
    schedule = library.rows("work_rest")
    least = _row(rows, "schedule", "least_work").typical()
    through = heat_through_day(day, rows)
    watts = [library.parameter(f"work_heat_{each}", "W").value for each in CLASSES]
    used, new = (
        np.stack([work_minutes_niosh_2016(through.heat.wbgt_c, each, known) for each in watts])
        for known in (True, False)
    )
    hours = tuple(
        _hour(at, through, used[:, at], new[:, at], schedule, least)
        for at in range(len(through.hour_h))
        if through.radiation_w_m2[at] > 0
    )
    top = max(hours, key=lambda each: each.air_c)
    index = None
    if top.air_c >= _INDEX_FROM_C:
        index = float(heat_index_rothfusz_1990(top.air_c, top.humidity_percent))
    return WorkDay(day.t_max_c, day.t_min_c, day.humidity_percent, day.wind_m_s, hours, index)


def months_of_work(
    record: DailyRecord, elevation_m: float | None, library: Library
) -> tuple[MonthWork, ...]:
    """The months in which the heat shortens heavy work, on a hot day at least.

    Parameters
    ----------
    record : the garden's days
    elevation_m : of the garden [m]; None is taken as sea level, which is on the careful side
    library : the tables

    None of them where the record does not know its latitude, or beyond the polar circles.
    """
    if record.latitude_deg is None or abs(record.latitude_deg) > _POLAR_DEG:
        return ()
    month = record.dates().astype("datetime64[M]").astype(np.int64) % 12 + 1
    found = []
    for number in range(1, 13):
        those = (month == number) & np.isfinite(record.t_max_c) & np.isfinite(record.t_min_c)
        if not those.any():
            continue
        high = record.t_max_c[those]
        hot_c = float(np.quantile(high, _HOT_SHARE))
        days = [
            heat_for_work(_day(record, those, picked, number, elevation_m, library), library)
            for picked in (np.ones(high.shape, dtype=bool), high >= hot_c)
        ]
        if days[1].shortened:
            found.append(MonthWork(number, days[0], days[1]))
    return tuple(found)


def drinking(library: Library) -> Drinking:
    """What to drink at work in heat, and how people get used to it."""
    rows = library.rows("heat_at_work")

    def figure(name: str, unit: str) -> Figure:
        return figure_of(name, _row(rows, "water", name), unit)

    first, more = (
        _row(rows, "new_worker", each).typical() / 100 for each in ("day_1", "each_day_more")
    )
    days = round((1 - first) / more) + 1
    back = sorted(
        (row["condition"], row.typical() / 100)
        for row in rows
        if row["property"] == "returning_worker"
    )
    return Drinking(
        figure("drink", "m3"),
        figure("every", "min"),
        figure("most_an_hour", "m3"),
        figure("most_a_day", "m3"),
        tuple(min(first + more * at, 1.0) for at in range(days)),
        tuple(share for _, share in back),
    )


def day_of(
    t_max_c: float,
    t_min_c: float,
    humidity_percent: float | None,
    wind_m_s: float | None,
    *,
    latitude_deg: float,
    on: date,
    elevation_m: float | None,
    library: Library,
) -> DayOfHeat:
    """A day's weather as :func:`heat_for_work` takes it.

    Parameters
    ----------
    t_max_c, t_min_c : of the air [C], brought into -20 to 50
    humidity_percent : at the high [%]; None takes the minimum for the dew point
    wind_m_s : at 2 m [m/s]; None takes the table's calm
    latitude_deg : north positive [deg], -66 to 66
    on : the day
    elevation_m : [m]; None is sea level
    library : the tables

    Raises ValueError for a number outside its range.
    """
    calm = library.parameter("work_wind_calm", "m/s").value
    high, low = (min(max(each, _RANGE_C[0]), _RANGE_C[1]) for each in (t_max_c, t_min_c))
    return DayOfHeat(
        t_max_c=high,
        t_min_c=low,
        latitude_deg=latitude_deg,
        day_of_year=float((on - date(on.year, 1, 1)).days + 1),
        wind_m_s=calm if wind_m_s is None else wind_m_s,
        humidity_percent=humidity_percent,
        pressure_kpa=float(air_pressure_fao56(elevation_m or 0.0)),
    )


def _day(
    record: DailyRecord,
    those: NDArray[np.bool_],
    picked: NDArray[np.bool_],
    month: int,
    elevation_m: float | None,
    library: Library,
) -> DayOfHeat:
    def mean(series: FloatArray | None) -> float | None:
        if series is None:
            return None
        values = series[those][picked]
        return None if np.isnan(values).all() else float(np.nanmean(values))

    high, low = mean(record.t_max_c), mean(record.t_min_c)
    assert high is not None and low is not None and record.latitude_deg is not None
    return day_of(
        high,
        min(low, high),
        mean(record.humidity_min_percent),
        mean(record.wind_m_s),
        latitude_deg=record.latitude_deg,
        on=date(_YEAR, month, _MIDDLE),
        elevation_m=elevation_m,
        library=library,
    )


def _hour(
    at: int,
    through: HoursOfHeat,
    used: FloatArray,
    new: FloatArray,
    schedule: Sequence[Row],
    least: float,
) -> WorkHour:
    adjusted = float(through.adjusted_c[at])
    known = not np.isnan(adjusted)
    by_air = [_by_air(adjusted, each, schedule) for each in CLASSES] if known else None

    def fewer(minutes: FloatArray) -> tuple[float, float, float]:
        most = minutes if by_air is None else np.minimum(minutes, by_air)
        down = np.floor(most / _STEP_MIN + 1e-9) * _STEP_MIN
        return _three(np.where(down < least, 0.0, down))

    return WorkHour(
        hour=at,
        air_c=float(through.air_c[at]),
        humidity_percent=float(through.humidity_percent[at]),
        wbgt_c=float(through.heat.wbgt_c[at]),
        adjusted_c=adjusted if known else None,
        minutes=fewer(used),
        new_minutes=fewer(new),
        by_wbgt=_three(used),
        by_air=None if by_air is None else (by_air[0], by_air[1], by_air[2]),
    )


def _by_air(adjusted_c: float, workload: str, schedule: Sequence[Row]) -> float:
    found = work_rest(min(adjusted_c, 60.0), workload, schedule)
    if found.advice == "normal":
        return _HOUR_MIN
    return 0.0 if found.work_min is None else found.work_min


def _three(values: FloatArray) -> tuple[float, float, float]:
    light, moderate, heavy = (float(each) for each in values)
    return light, moderate, heavy


def _row(rows: Sequence[Row], property_: str, condition: str) -> Row:
    for row in rows:
        if (row["property"], row["condition"]) == (property_, condition) and row.used:
            return row
    raise LookupError(f"heat_at_work.csv holds no {property_} {condition} in use")
