"""A weather file and its record as text, in the reader's units."""

from __future__ import annotations

import calendar
from collections.abc import Iterator, Mapping, Sequence
from pathlib import Path

import numpy as np

from bedwright.climate.checks import Checked, checked
from bedwright.climate.faults import Fault, WeatherError
from bedwright.climate.formats import WeatherFile, read_weather
from bedwright.climate.limits import weather_limits
from bedwright.climate.record import DailyRecord
from bedwright.climate.season_outline import SeasonOutline
from bedwright.climate.summary import ElementSummary, FreezeDays, MonthSummary, WeatherSummary
from bedwright.garden import Document
from bedwright.garden.faults import Fault as DocumentFault
from bedwright.reference import Library
from bedwright.reports.season_text import outline_lines
from bedwright.reports.words_weather import (
    SERVICE_REFUSALS,
    WEATHER_CHECK,
    WEATHER_DATE_ORDERS,
    WEATHER_ELEMENTS,
    WEATHER_FORMATS,
    WEATHER_READING,
    WEATHER_REFUSALS,
    WEATHER_UNIT_REASONS,
    WEATHER_UNITS,
)
from bedwright.units import UnitSystem
from bedwright.units.show import plain

_WORDS = {**WEATHER_REFUSALS, **WEATHER_READING, **WEATHER_CHECK}
_MM_PER_INCH, _M_S_PER_MPH = 25.4, 0.44704  # exact by definition
_CHANGES = frozenset({"weather_station_step"})  # their value is a difference
_YEARS = frozenset({"weather_station_step"})  # their day stands for its year
_SHARES = ("share",)


def shown(value: float, element: str, system: UnitSystem) -> str:
    """A value of an element in the reader's units."""
    us = system is UnitSystem.US
    if element.startswith("t_"):
        return f"{value * 9 / 5 + 32:.0f} F" if us else f"{value:.1f} C"
    if element == "rain_mm":
        return f"{value / _MM_PER_INCH:.2f} in" if us else f"{value:.1f} mm"
    if element == "wind_m_s":
        return f"{value / _M_S_PER_MPH:.1f} mph" if us else f"{value:.1f} m/s"
    if element.startswith("humidity"):
        return f"{value:.0f} %"
    return f"{value:.1f} MJ/m2"


def _difference(value_c: float, system: UnitSystem, sign: str = "") -> str:
    if system is UnitSystem.US:
        return f"{value_c * 9 / 5:{sign}.1f} F"
    return f"{value_c:{sign}.1f} C"


def said(fault: Fault, system: UnitSystem) -> str:
    """A fault in a sentence."""
    element = str(fault.data.get("element", "t_min_c"))
    values: dict[str, object] = dict(fault.data)
    for name in _SHARES:
        if isinstance(values.get(name), float):
            values[name] = f"{float(fault.data[name]) * 100:.0f} %"
    for name in ("low", "high"):
        if isinstance(values.get(name), float):
            values[name] = plain(float(fault.data[name]))
    if fault.value is not None:
        change = fault.code in _CHANGES
        value = (
            _difference(fault.value, system, "+") if change else shown(fault.value, element, system)
        )
        values["value"] = value
    if fault.day is not None:
        values["day"] = str(fault.day.year) if fault.code in _YEARS else fault.day.isoformat()
    if "range_c" in values:
        values["range_c"] = _difference(float(fault.data["range_c"]), system)
    values["element"] = WEATHER_ELEMENTS.get(element, element)
    _in_words(values)
    return _WORDS[fault.code].format(**values)


def _in_words(values: dict[str, object]) -> None:
    for name, words in (
        ("units", WEATHER_UNITS),
        ("reason", WEATHER_UNIT_REASONS),
        ("order", WEATHER_DATE_ORDERS),
    ):
        if name in values:
            values[name] = words[str(values[name])]
    if "fits" in values:
        fits = [_unit(each) for each in str(values["fits"]).split(", ")]
        values["fits"], values["first_fit"] = ", ".join(fits), fits[0]


def _unit(unit: str) -> str:
    return unit.upper() if len(unit) == 1 else unit.replace("mj/", "MJ/").replace("w/", "W/")


def refusal(faults: Sequence[Fault], name: str, system: UnitSystem) -> str:
    """Why a file can't be used, one line for each reason."""
    return "\n".join(f"bedwright: {name}: {said(each, system)}" for each in faults)


def weather_file_faults(document: Document, folder: Path, library: Library) -> list[DocumentFault]:
    """What makes the weather file of a garden document unusable, as faults with its name."""
    stated = document.garden.weather
    if stated is None or stated.file is None or document.weather is None:
        return []
    limits = weather_limits(library.rows("weather_limits"))
    try:
        checked(read_weather(document.weather, stated.file, limits, stated.units).record, limits)
    except WeatherError as error:
        system = document.garden.garden.units
        return [
            DocumentFault(
                str(folder / stated.file),
                int(each.data.get("line", 0)),
                "",
                said(each, system).rstrip("."),
            )
            for each in error.faults
        ]
    return []


def service_refusal(code: str, data: Mapping[str, object]) -> str:
    """Why a fetch failed."""
    return f"bedwright: {SERVICE_REFUSALS[code].format(**data)}"


def file_text(file: WeatherFile, made: Checked, name: str, system: UnitSystem) -> str:
    """What a weather file is and what is to be known of it."""
    record = made.record
    dates = record.dates()
    units = WEATHER_UNITS.get(file.units) or ", ".join(
        _unit(each) for each in file.units.split(", ")
    )
    lines = [
        f"{name}: {WEATHER_FORMATS[file.format]}; units: {units}.",
        f"Station: {_station(record, system)}",
        f"Days: {dates[0]} to {dates[-1]} ({record.days}), from {file.lines} lines.",
    ]
    for element, values in record.elements().items():
        present = int(np.sum(~np.isnan(values)))
        lines.append(
            f"  {WEATHER_ELEMENTS[element]}: {present} days, {record.days - present} missing"
        )
    found = [said(each, system) for each in (*file.faults, *made.faults)]
    lines += ["", "To know:", *(f"- {each}" for each in found)] if found else []
    return "\n".join(lines) + "\n"


def _station(record: DailyRecord, system: UnitSystem) -> str:
    words = [each for each in (record.station, record.name) if each]
    if record.latitude_deg is not None and record.longitude_deg is not None:
        north = "N" if record.latitude_deg >= 0 else "S"
        east = "E" if record.longitude_deg >= 0 else "W"
        words.append(
            f"{abs(record.latitude_deg):.3f} {north}, {abs(record.longitude_deg):.3f} {east}"
        )
    if record.elevation_m is not None:
        us = system is UnitSystem.US
        words.append(
            f"{record.elevation_m / (_MM_PER_INCH * 12 / 1000):.0f} ft"
            if us
            else f"{record.elevation_m:.0f} m"
        )
    return ", ".join(words) or "not named in the file"


def summary_text(
    summary: WeatherSummary, system: UnitSystem, outline: SeasonOutline | None = None
) -> str:
    """A record in short: how whole it is, its months, extremes, days of freeze, its year."""
    lines = [f"From {summary.first_day} to {summary.last_day}.", "", "How whole it is:"]
    lines += [_whole(each) for each in summary.elements]
    lines += ["", "Months (mean; of rain the mean total):", *_months(summary, system)]
    lines += ["", "Extremes:"]
    lines += [f"  {_extremes(each, system)}" for each in summary.elements]
    if summary.freezes:
        lines += ["", "Days of freeze a year:"]
        lines += [f"  {_freeze(each, system)}" for each in summary.freezes]
    if outline is not None:
        lines += ["", *outline_lines(outline, system)]
    return "\n".join(lines) + "\n"


def _whole(each: ElementSummary) -> str:
    share = 100 * each.present / each.days
    text = f"  {WEATHER_ELEMENTS[each.element]}: {share:.1f} % of {each.days} days"
    if each.longest_gap is not None:
        text += f"; longest gap {each.longest_gap.days} days from {each.longest_gap.first_day}"
    return text


def _months(summary: WeatherSummary, system: UnitSystem) -> Iterator[str]:
    named: list[MonthSummary] = [each for each in summary.months if any(each.months)]
    yield "  month  " + "  ".join(f"{WEATHER_ELEMENTS[each.element]:>16}" for each in named)
    for at in range(12):
        cells = (
            shown(float(each.values[at]), each.element, system) if each.months[at] else "not known"
            for each in named
        )
        yield f"  {calendar.month_abbr[at + 1]:<5}  " + "  ".join(f"{each:>16}" for each in cells)
    counts = [count for each in named for count in each.months]
    if counts:
        span = f"{min(counts)} to {max(counts)}" if min(counts) < max(counts) else f"{counts[0]}"
        yield f"  Each rests on {span} months that are whole enough."


def _extremes(each: ElementSummary, system: UnitSystem) -> str:
    name = WEATHER_ELEMENTS[each.element]
    highest = f"{shown(each.highest, each.element, system)} on {each.highest_day}"
    if each.element == "rain_mm":
        return f"{name}: most in a day {highest}"
    return f"{name}: {shown(each.lowest, each.element, system)} on {each.lowest_day} to {highest}"


def _freeze(each: FreezeDays, system: UnitSystem) -> str:
    threshold = shown(each.threshold_c, "t_min_c", system)
    if not each.years:
        return f"at or below {threshold}: no year is whole enough"
    return (
        f"at or below {threshold}: {each.mean:.0f} "
        f"({each.fewest} to {each.most} in {each.years} years)"
    )
