"""Is a station's record to be believed? What is impossible is dropped, what is doubtful is told."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType

import numpy as np

from bedwright.climate.faults import Fault, WeatherError, day_of, told
from bedwright.climate.formats.cells import BoolArray
from bedwright.climate.limits import WeatherLimits
from bedwright.climate.record import (
    DailyRecord,
    FloatArray,
    IntArray,
    share_of_whole_fahrenheit,
)
from bedwright.climate.steps import station_steps

_STUCK = ("t_max_c", "t_min_c", "t_mean_c", "rain_mm", "radiation_mj_m2")
_FEW = 5  # so few impossible values are slips, whatever their share: judgement
_PARTS = 100  # values are compared to the hundredth
_LEAST_CHANGES = 0.25  # a run with fewer changes from day to day is stuck, not copied: judgement
_MIX = np.uint64(0x9E3779B97F4A7C15)  # an odd number that scatters the bits of a run's mark


@dataclass(frozen=True, eq=False)
class Checked:
    """A record after its checks, what they found, and whether its station writes whole F."""

    record: DailyRecord
    faults: tuple[Fault, ...]
    whole_fahrenheit: bool


def checked(record: DailyRecord, limits: WeatherLimits) -> Checked:
    """The record without what can't be true, and everything that is to be told of it.

    Dropped: impossible values, both temperatures of a day whose minimum lies above its maximum,
    a temperature that its neighbors rule out, the values of a stuck sensor. Told only, for
    nobody can say which side is right: blocks that stand twice, jumps of the station's level.

    Parameters
    ----------
    record : as read
    limits : the thresholds of ``weather_limits.csv``

    Raises WeatherError where so many values are impossible that the unit must be wrong.
    """
    faults: list[Fault] = []
    record = _unswapped(record, limits, faults)
    series = {name: values.copy() for name, values in record.elements().items()}
    _drop_impossible(record, series, limits, faults)
    _drop_crossed(record, series, faults)
    _drop_lagged(record, series, limits, faults)
    for name in _STUCK:
        if name in series:
            _drop_stuck(record, name, series[name], limits, faults)
    faults += repeated_blocks(record, series, limits.repeated_days)
    faults += station_steps(record, series, limits)
    share = share_of_whole_fahrenheit(series["t_min_c"])
    whole = bool(share >= limits.whole_fahrenheit_share)
    if whole:
        faults.append(_fault("weather_whole_fahrenheit", share=share))
    return Checked(record.with_elements(series), tuple(faults), whole)


def _fault(code: str, **data: float | str) -> Fault:
    return Fault(code, None, None, MappingProxyType(dict(data)))


def _unswapped(record: DailyRecord, limits: WeatherLimits, faults: list[Fault]) -> DailyRecord:
    both = ~np.isnan(record.t_max_c) & ~np.isnan(record.t_min_c)
    above = both & (record.t_min_c > record.t_max_c)
    if not np.any(both) or np.sum(above) < limits.swapped_share * np.sum(both):
        return record
    at = int(np.flatnonzero(above)[0])
    faults.append(
        Fault(
            code="weather_columns_swapped",
            day=day_of(record.dates()[at]),
            value=float(record.t_min_c[at]),
            data=MappingProxyType({"share": float(np.sum(above) / np.sum(both))}),
        )
    )
    return record.with_elements({"t_max_c": record.t_min_c, "t_min_c": record.t_max_c})


def _drop_impossible(
    record: DailyRecord,
    series: Mapping[str, FloatArray],
    limits: WeatherLimits,
    faults: list[Fault],
) -> None:
    dates = record.dates()
    for name, values in series.items():
        low, high = limits.impossible[name]
        out = (values < low) | (values > high)
        count, known = int(np.sum(out)), int(np.sum(~np.isnan(values)))
        if count > max(_FEW, limits.impossible_share * known):
            raise WeatherError(
                *faults,
                Fault(
                    code="weather_unit_looks_wrong",
                    day=day_of(dates[out][0]),
                    value=float(values[out][0]),
                    data=MappingProxyType({"element": name, "count": count, "known": known}),
                ),
            )
        faults += told(
            "weather_impossible",
            "weather_impossible_many",
            dates[out],
            values[out],
            element=name,
            low=low,
            high=high,
        )
        values[out] = np.nan
        if name.startswith("humidity"):
            np.minimum(values, 100, out=values)


def _drop_crossed(
    record: DailyRecord, series: Mapping[str, FloatArray], faults: list[Fault]
) -> None:
    high, low = series["t_max_c"], series["t_min_c"]
    crossed = low > high
    if np.any(crossed):
        faults += told(
            "weather_min_above_max",
            "weather_min_above_max_many",
            record.dates()[crossed],
            low[crossed],
        )
    high[crossed] = np.nan
    low[crossed] = np.nan


def _drop_lagged(
    record: DailyRecord,
    series: Mapping[str, FloatArray],
    limits: WeatherLimits,
    faults: list[Fault],
) -> None:
    high, low = series["t_max_c"], series["t_min_c"]
    warmest_night = _of_neighbors(low, np.fmax)
    coldest_day = _of_neighbors(high, np.fmin)
    too_high = high >= warmest_night + limits.lagged_range_c
    too_low = low <= coldest_day - limits.lagged_range_c
    for name, values, out in (("t_max_c", high, too_high), ("t_min_c", low, too_low)):
        faults += told(
            "weather_out_of_line",
            "weather_out_of_line_many",
            record.dates()[out],
            values[out],
            element=name,
            range_c=limits.lagged_range_c,
        )
        values[out] = np.nan


def _of_neighbors(values: FloatArray, pick: np.ufunc) -> FloatArray:
    """The highest or lowest of each day and the days before and after it; NaN if all missing."""
    padded = np.concatenate(([np.nan], values, [np.nan]))
    return np.asarray(pick(pick(padded[:-2], padded[1:-1]), padded[2:]), dtype=np.float64)


def _drop_stuck(
    record: DailyRecord,
    name: str,
    values: FloatArray,
    limits: WeatherLimits,
    faults: list[Fault],
) -> None:
    """The same value on many readings one after the other; for rain, on many wet days."""
    read = np.flatnonzero(values > 0) if name == "rain_mm" else np.flatnonzero(~np.isnan(values))
    if not len(read):
        return
    new_run = (np.diff(values[read]) != 0) | (np.diff(read) > limits.stuck_days)
    starts = np.flatnonzero(np.concatenate(([True], new_run)))
    lengths = np.diff(np.concatenate((starts, [len(read)])))
    dates = record.dates()
    for start, length in zip(starts, lengths, strict=True):
        if length >= limits.stuck_days:
            run = read[start : start + length]
            faults.append(
                Fault(
                    code="weather_stuck",
                    day=day_of(dates[run[0]]),
                    value=float(values[run[0]]),
                    data=MappingProxyType({"element": name, "days": int(length)}),
                )
            )
            values[run] = np.nan


def repeated_blocks(
    record: DailyRecord, series: Mapping[str, FloatArray], least_days: int
) -> list[Fault]:
    """Runs of days whose maxima and minima stand once more, value by value, at other dates.

    Parameters
    ----------
    record : for the dates
    series : with ``t_max_c`` and ``t_min_c`` [C]
    least_days : the shortest run that counts [days], 2 and up
    """
    high, low = series["t_max_c"], series["t_min_c"]
    if len(high) <= least_days:
        return []
    known = ~np.isnan(high) & ~np.isnan(low)
    keys = np.where(known, np.rint(high * _PARTS) * 100_003 + np.rint(low * _PARTS), 0.0)
    marks = keys.astype(np.int64).astype(np.uint64)
    weights = np.cumprod(np.full(least_days, _MIX, dtype=np.uint64), dtype=np.uint64)
    windows = np.lib.stride_tricks.sliding_window_view(marks, least_days) @ weights
    changes = np.concatenate(([0], np.cumsum(np.diff(keys) != 0)))
    whole = np.concatenate(([0], np.cumsum(known)))
    usable = whole[least_days:] - whole[:-least_days] == least_days
    usable &= changes[least_days - 1 :] - changes[: len(usable)] >= _LEAST_CHANGES * least_days
    return _told_blocks(record, keys, _copies(windows, usable), least_days)


def _copies(
    windows: np.ndarray[tuple[int], np.dtype[np.uint64]], usable: BoolArray
) -> tuple[IntArray, IntArray]:
    """The places of windows that stand before already, and where each stood first."""
    places = np.flatnonzero(usable)
    _, first, which = np.unique(windows[places], return_index=True, return_inverse=True)
    origin = places[first[which]]
    copy = origin != places
    return places[copy], origin[copy]


def _told_blocks(
    record: DailyRecord,
    keys: FloatArray,
    copies: tuple[IntArray, IntArray],
    least_days: int,
) -> list[Fault]:
    place, origin = copies
    if not len(place):
        return []
    breaks = (np.diff(place) != 1) | (np.diff(origin) != 1)
    starts = np.flatnonzero(np.concatenate(([True], breaks)))
    counts = np.diff(np.concatenate((starts, [len(place)])))
    dates = record.dates()
    faults = []
    for start, count in zip(starts, counts, strict=True):
        at, was, days = int(place[start]), int(origin[start]), int(count) + least_days - 1
        if np.array_equal(keys[at : at + least_days], keys[was : was + least_days]):
            faults.append(
                Fault(
                    code="weather_block_repeated",
                    day=day_of(dates[at]),
                    value=float(record.t_max_c[at]),
                    data=MappingProxyType(
                        {"days": days, "first_day": day_of(dates[was]).isoformat()}
                    ),
                )
            )
    return faults
