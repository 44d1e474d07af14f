"""Daily-summaries CSV: a header with STATION and DATE, a column per element, flags beside it.

Files of the agency's access folder hold tenths of C and mm. Answers of its data service hold the
units of the request: tenths (none asked), metric (C, mm) or standard (F, inch). The file doesn't
say which, so the units are told or inferred, and an inference is told as an assumption.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np

from bedwright.climate.faults import Fault, WeatherError
from bedwright.climate.formats.assemble import (
    Gathered,
    Station,
    WeatherFile,
    assembled,
    one_station,
    refuse_all_broken,
    tell_broken_cells,
    tell_broken_lines,
)
from bedwright.climate.formats.cells import BoolArray, Cells, Lines
from bedwright.climate.formats.dates import NO_DAY, iso_days
from bedwright.climate.formats.ghcn import PRESUMED_ZERO, drop_multi_day_rain
from bedwright.climate.limits import WeatherLimits
from bedwright.climate.record import FloatArray

UNITS = ("tenths", "metric", "standard")
_POINT, _COMMA, _BLANK = b"., "
_TEMPERATURES = ("TMAX", "TMIN", "TAVG")
_NATIVE_MISSING = -999.0
_TAIL = 0.01  # the hottest and coldest hundredth decide the units, not a single slip: judgement
_FAHRENHEIT = (5 / 9, -32 * 5 / 9)
_INCH_MM, _MILE_PER_HOUR_M_S = 25.4, 0.44704  # exact by definition
_ELEMENTS: Mapping[str, tuple[str, tuple[float, float]]] = {  # and its standard unit as ours
    "TMAX": ("t_max_c", _FAHRENHEIT),
    "TMIN": ("t_min_c", _FAHRENHEIT),
    "TAVG": ("t_mean_c", _FAHRENHEIT),
    "PRCP": ("rain_mm", (_INCH_MM, 0.0)),
    "AWND": ("wind_m_s", (_MILE_PER_HOUR_M_S, 0.0)),
}
_WANT = "a date like 2027-03-01 and as many cells as the header has"


@dataclass(frozen=True, eq=False)
class _Column:
    """An element's column: its place, its values as they stand, what is wrong with them."""

    at: int
    values: FloatArray
    wrong: BoolArray
    pointed: bool


def read_summaries(text: bytes, limits: WeatherLimits, units: str | None = None) -> WeatherFile:
    """The record of a daily-summaries CSV.

    Raises WeatherError for a file that can't be used, also where its units can't be told.
    """
    header_line = Lines(text)
    header = [
        each.strip().strip('"').strip().upper() for each in header_line.text(0, 20_000).split(",")
    ]
    lines = Lines(text, skip=int(header_line.numbers[0]))
    cells = Cells(lines, b",")
    gathered = Gathered()
    days = iso_days(*cells.characters(header.index("DATE")))
    right = (days != NO_DAY) & (cells.counts == len(header))
    tell_broken_lines(gathered, lines, ~right, _WANT)
    refuse_all_broken(gathered, bool(np.any(right)))
    station = _station(cells, header, right)
    columns = {
        name: _column(gathered, cells, header.index(name), name, right)
        for name in (*_ELEMENTS, "MDPR", "DAPR")
        if name in header
    }
    units = units or _inferred_units(gathered, columns, limits)
    for name, column in columns.items():
        if name not in _ELEMENTS:
            continue
        element, standard = _ELEMENTS[name]
        kept = _checked(gathered, cells, header, name, element, column, days)
        gathered.add(element, days[right], _converted(kept, units, standard)[right])
    if "MDPR" in columns:
        counts = columns.get("DAPR")
        spans = np.full(len(days), np.nan) if counts is None else counts.values
        total = right & ~np.isnan(columns["MDPR"].values)
        drop_multi_day_rain(gathered, days[total], days[right], spans[right])
    return assembled(gathered, station, "daily_summaries", units, len(lines))


def _column(gathered: Gathered, cells: Cells, at: int, name: str, right: BoolArray) -> _Column:
    characters, _ = cells.characters(at)
    values, wrong = cells.numbers(at)
    wrong = wrong & right
    tell_broken_cells(gathered, cells, at, wrong, name)
    values[~right | (values <= _NATIVE_MISSING)] = np.nan
    return _Column(at, values, wrong, bool(np.any(characters[right] == _POINT)))


def _checked(
    gathered: Gathered,
    cells: Cells,
    header: list[str],
    name: str,
    element: str,
    column: _Column,
    days: np.ndarray[tuple[int], np.dtype[np.int64]],
) -> FloatArray:
    """The values without those whose attributes hold a quality flag or only presume a zero."""
    flags = f"{name}_ATTRIBUTES"
    if flags not in header:
        return column.values
    characters, _ = cells.characters(header.index(flags))
    if characters.shape[1] < 2:
        return column.values
    commas = characters == _COMMA
    first = np.argmax(commas, axis=1)
    behind = np.minimum(first + 1, characters.shape[1] - 1)
    quality = np.take_along_axis(characters, behind[:, None], axis=1)[:, 0]
    known = ~np.isnan(column.values)
    failed = known & np.any(commas, axis=1) & ~np.isin(quality, (0, _COMMA, _BLANK))
    gathered.flagged(element, days, failed)
    presumed = known & ~failed & (first > 0) & (characters[:, 0] == PRESUMED_ZERO)
    if np.any(presumed):
        gathered.tell("weather_presumed_zero", element=element, count=int(np.sum(presumed)))
    return np.where(failed | presumed, np.nan, column.values)


def _converted(values: FloatArray, units: str, standard: tuple[float, float]) -> FloatArray:
    if units == "tenths":
        return values / 10
    if units == "standard":
        return values * standard[0] + standard[1]
    return values


def _inferred_units(
    gathered: Gathered, columns: Mapping[str, _Column], limits: WeatherLimits
) -> str:
    """The units that the values must have been written in. Raises WeatherError where unclear."""
    stated = [columns[name] for name in _TEMPERATURES if name in columns]
    values = np.concatenate([each.values for each in stated] or [np.empty(0)])
    values = values[~np.isnan(values)]
    if not len(values):
        raise WeatherError(*gathered.faults, Fault(code="weather_no_temperature"))
    coldest, hottest = np.quantile(values, (_TAIL, 1 - _TAIL))
    lowest_c, highest_c = limits.impossible["t_max_c"]
    lowest_f, highest_f = (each * 9 / 5 + 32 for each in (lowest_c, highest_c))
    if any(each.pointed for each in stated):
        found = ("standard", "above_celsius") if hottest > highest_c else ("metric", "decimals")
    elif hottest > highest_f or coldest < lowest_f:
        found = ("tenths", "beyond_fahrenheit")
    elif "PRCP" in columns and columns["PRCP"].pointed:
        found = ("standard", "whole_beside_decimal_rain")
    elif max(np.sum(~np.isnan(each.values)) for each in stated) >= limits.units_days:
        found = ("standard", "whole_within_fahrenheit")
    else:
        raise WeatherError(
            Fault(
                code="weather_units_not_clear",
                data={"low": float(coldest), "high": float(hottest)},
            )
        )
    gathered.tell("weather_units_assumed", units=found[0], reason=found[1])
    return found[0]


def _station(cells: Cells, header: list[str], right: BoolArray) -> Station:
    row = int(np.flatnonzero(right)[0])

    def text(name: str) -> str:
        return cells.cell(row, header.index(name)) if name in header else ""

    def number(name: str) -> float | None:
        try:
            value = float(text(name))
        except ValueError:
            return None
        return value if np.isfinite(value) and value > _NATIVE_MISSING else None

    key = ""
    if "STATION" in header:
        characters, _ = cells.characters(header.index("STATION"))
        rows = np.ascontiguousarray(characters[right])
        width = max(rows.shape[1], 1)
        names = np.unique(rows.view(f"S{width}")) if rows.shape[1] else np.array([b""])
        key = one_station([bytes(each).decode("utf-8", "replace") for each in names])
    return Station(
        key.removeprefix("GHCND:"),
        text("NAME"),
        number("LATITUDE"),
        number("LONGITUDE"),
        number("ELEVATION"),
    )
