"""A plain CSV whose header names the columns with their units, by days or by hours."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np

from bedwright.climate.faults import Fault, WeatherError
from bedwright.climate.formats.assemble import (
    Gathered,
    Station,
    WeatherFile,
    assembled,
    refuse_all_broken,
    tell_broken_cells,
    tell_broken_lines,
)
from bedwright.climate.formats.cells import BoolArray, Cells, Lines
from bedwright.climate.formats.columns import WATTS, Column, columns_of, looks_like_header
from bedwright.climate.formats.dates import NO_DAY, Times, day_numbers, times
from bedwright.climate.formats.hours import readings_per_day, reduced
from bedwright.climate.limits import WeatherLimits
from bedwright.climate.record import FloatArray, IntArray

_LOOK_AT = 40  # lines in which the header must stand
_SEPARATORS = (b";", b"\t", b",")
_BLANKS = re.compile(rb"[ \t]+")
_DECIMAL_COMMA = re.compile(rb"[;\t ]\s*\"?-?\d+,\d+\"?\s*(?:[;\t \n]|$)")
_DAY_MINUTES = 1440
_WANT = "a date and as many cells as the header has"
# How a day's readings of a column become the elements of the record.
_OF_HOURS: Mapping[str, tuple[tuple[str, str], ...]] = {
    "t_max_c": (("t_max_c", "max"),),
    "t_min_c": (("t_min_c", "min"),),
    "t_mean_c": (("t_mean_c", "mean"), ("t_max_c", "max"), ("t_min_c", "min")),
    "rain_mm": (("rain_mm", "sum"),),
    "radiation_mj_m2": (("radiation_mj_m2", "sum"),),
    "humidity_max_percent": (("humidity_max_percent", "max"),),
    "humidity_min_percent": (("humidity_min_percent", "min"),),
    "humidity_percent": (("humidity_max_percent", "max"), ("humidity_min_percent", "min")),
    "wind_m_s": (("wind_m_s", "mean"),),
}


@dataclass(frozen=True)
class Header:
    """Where the header stands, its cells, and how cells are separated."""

    line: int
    cells: tuple[str, ...]
    separator: bytes
    text: bytes  # the file, with one separator between cells


def find_header(text: bytes) -> Header | None:
    """The first line that names a date and a temperature, or None."""
    start = text[:20_000].split(b"\n")[:_LOOK_AT]
    for number, line in enumerate(start, 1):
        for separator in _SEPARATORS:
            cells = _split(line, separator)
            if looks_like_header(cells):
                return Header(number, tuple(cells), separator, text)
        cells = _split(_BLANKS.sub(b"\t", line.strip()), b"\t")
        if looks_like_header(cells):
            packed = b"\n".join(_BLANKS.sub(b"\t", each.strip()) for each in text.split(b"\n"))
            return Header(number, tuple(cells), b"\t", packed)
    return None


def _split(line: bytes, separator: bytes) -> list[str]:
    return [
        each.strip().strip('"')
        for each in line.decode("utf-8", "replace").split(separator.decode())
    ]


def read_plain(
    header: Header, limits: WeatherLimits, name: str, units: str | None = None
) -> WeatherFile:
    """The record of a CSV with named columns.

    Raises WeatherError for a file that can't be used.
    """
    columns, ignored = columns_of(header.cells, units)
    gathered = Gathered()
    lines = Lines(header.text, skip=header.line)
    cells = Cells(lines, header.separator)
    _refuse_comma_for_both(header, cells)
    by_role = {column.role: column for column in columns}
    when = _when(cells, by_role)
    right = (when.days != NO_DAY) & (cells.counts == len(header.cells))
    tell_broken_lines(gathered, lines, ~right, _WANT)
    refuse_all_broken(gathered, bool(np.any(right)))
    if when.order != "year_first":
        gathered.tell("weather_date_order", order=when.order)
    if when.zoned:
        gathered.tell("weather_times_with_zone")
    decimal = _decimal(gathered, header)
    values = {
        column.role: (column, _column(gathered, cells, column, right, decimal))
        for column in columns
        if column.role in _OF_HOURS
    }
    hourly = bool(np.median(when.minutes[right]) >= 0) and _several_a_day(when.days[right])
    if hourly:
        _add_hours(gathered, when, right, values, limits)
    else:
        _add_days(gathered, when, right, values, ignored)
    if ignored:
        gathered.tell("weather_columns_ignored", columns=", ".join(ignored)[:200])
    shown = ", ".join(dict.fromkeys(each.unit for each in columns if each.unit))
    return assembled(gathered, Station("", name), "named_columns", shown, len(lines))


def _refuse_comma_for_both(header: Header, cells: Cells) -> None:
    """Raise WeatherError where decimals stand behind the same comma that separates cells."""
    more = cells.counts > len(header.cells)
    if header.separator == b"," and len(cells) and np.mean(more) > 0.5:
        first = int(np.flatnonzero(more)[0])
        raise WeatherError(
            Fault(
                code="weather_comma_for_both",
                data={
                    "line": int(cells.lines.numbers[first]),
                    "count": int(np.sum(more)),
                    "text": cells.lines.text(first),
                },
            )
        )


def _decimal(gathered: Gathered, header: Header) -> bytes:
    sample = header.text[:200_000].split(b"\n", header.line)[-1]
    if header.separator != b"," and _DECIMAL_COMMA.search(sample):
        gathered.tell("weather_decimal_comma")
        return b","
    return b"."


def _when(cells: Cells, by_role: Mapping[str, Column]) -> Times:
    """The day and time of each row. Raises WeatherError where they can't be told."""
    if "date" in by_role:
        found = times(*cells.characters(by_role["date"].at))
    else:
        year = _whole(cells, by_role["year"])
        if {"month", "day_of_month"} <= by_role.keys():
            day = _whole(cells, by_role["day_of_month"])
            days = day_numbers(year, _whole(cells, by_role["month"]), day)
        elif "day_of_year" in by_role:
            one = np.ones_like(year)
            day = _whole(cells, by_role["day_of_year"])
            first, after = day_numbers(year, one, one), day_numbers(year + 1, one, one)
            days = np.where((day >= 1) & (first + day - 1 < after), first + day - 1, NO_DAY)
            days[first == NO_DAY] = NO_DAY
        else:
            raise WeatherError(Fault(code="weather_no_date_column"))
        found = Times(days, np.full(len(days), -1, dtype=np.int64))
    if "hour" not in by_role:
        return found
    hour, wrong = cells.numbers(by_role["hour"].at)
    hour = np.where(hour > 24, hour / 100, hour)  # 1400 is 14
    right = ~wrong & (hour >= 0) & (hour <= 24)
    minutes = np.where(right, np.rint(np.where(right, hour, 0) * 60), -1).astype(np.int64)
    return Times(np.where(right, found.days, NO_DAY), minutes, found.zoned, found.order)


def _whole(cells: Cells, column: Column) -> IntArray:
    values, _ = cells.numbers(column.at)
    right = ~np.isnan(values) & (values == np.rint(values)) & (np.abs(values) < 1e6)
    return np.where(right, values, -1).astype(np.int64)


def _column(
    gathered: Gathered, cells: Cells, column: Column, right: BoolArray, decimal: bytes
) -> FloatArray:
    values, wrong = cells.numbers(column.at, decimal)
    tell_broken_cells(gathered, cells, column.at, wrong & right, column.text)
    values[values <= -999] = np.nan  # the codes for missing
    return values * column.conversion[0] + column.conversion[1]


def _several_a_day(days: IntArray) -> bool:
    return len(days) >= 2 * len(np.unique(days))


def _add_days(
    gathered: Gathered,
    when: Times,
    right: BoolArray,
    values: Mapping[str, tuple[Column, FloatArray]],
    ignored: list[str],
) -> None:
    for role, (column, found) in values.items():
        if role == "humidity_percent":  # a day's mean gives neither its highest nor its lowest
            ignored.append(column.text)
            continue
        gathered.add(role, when.days[right], found[right])


def _add_hours(
    gathered: Gathered,
    when: Times,
    right: BoolArray,
    values: Mapping[str, tuple[Column, FloatArray]],
    limits: WeatherLimits,
) -> None:
    days, minutes = when.days[right], np.maximum(when.minutes[right], 0)
    readings = readings_per_day(days, minutes)
    gathered.tell("weather_hours_reduced", readings=readings)
    for role, (column, found) in values.items():
        for element, how in _OF_HOURS[role]:
            if element in values and element != role:
                continue  # the file states the extreme itself
            stated_how = "mean" if column.unit == WATTS else how
            made = reduced(days, found[right], stated_how, readings, limits.hours_share)
            gathered.add(element, made.days, made.values)
            if made.too_few:
                gathered.tell("weather_hours_too_few", element=element, count=made.too_few)
