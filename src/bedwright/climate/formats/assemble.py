"""From values by element and day to one record, with what was dropped or doubtful counted."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from types import MappingProxyType

import numpy as np

from bedwright.climate.faults import Fault, WeatherError, day_of
from bedwright.climate.formats.cells import BoolArray, Cells, Lines
from bedwright.climate.formats.dates import right_days
from bedwright.climate.record import DailyRecord, FloatArray, IntArray

_NATIVE_MISSING = -999.0  # -9999, -999.9 and -999 stand for missing in the agencies' formats


@dataclass(frozen=True)
class Station:
    """What a file says of its station."""

    key: str = ""
    name: str = ""
    latitude_deg: float | None = None
    longitude_deg: float | None = None
    elevation_m: float | None = None


@dataclass(frozen=True, eq=False)
class WeatherFile:
    """A weather file as read: the record, the format and units found, what is to be told.

    ``lines`` counts the lines of data. ``format`` is one of ``ghcn_dly``, ``ghcn_by_station``,
    ``daily_summaries``, ``named_columns``; ``units`` those of the file, such as ``tenths``.
    """

    record: DailyRecord
    format: str
    units: str
    faults: tuple[Fault, ...]
    lines: int


@dataclass
class Gathered:
    """The values of a file while it is read: by element, with their days."""

    days: dict[str, list[IntArray]] = field(default_factory=dict)
    values: dict[str, list[FloatArray]] = field(default_factory=dict)
    faults: list[Fault] = field(default_factory=list)

    def add(self, element: str, days: IntArray, values: FloatArray) -> None:
        """Add the values that are known; the codes for missing are left out."""
        known = ~np.isnan(values) & (values > _NATIVE_MISSING) & right_days(days)
        self.days.setdefault(element, []).append(days[known])
        self.values.setdefault(element, []).append(values[known])

    def tell(self, code: str, **data: float | str) -> None:
        """Note a fault without a day."""
        self.faults.append(Fault(code, None, None, MappingProxyType(dict(data))))

    def flagged(self, element: str, days: IntArray, dropped: BoolArray) -> None:
        """Count the values of an element that the agency's own checks failed."""
        days = days[dropped & right_days(days)]
        if len(days):
            self.faults.append(
                Fault(
                    code="weather_flagged",
                    day=day_of(days.min().astype("datetime64[D]")),
                    data=MappingProxyType({"element": element, "count": len(days)}),
                )
            )


def assembled(
    gathered: Gathered, station: Station, format_: str, units: str, lines: int
) -> WeatherFile:
    """The record of what was gathered.

    Raises WeatherError where there is no temperature on any day.
    """
    series = {
        element: _one_per_day(element, gathered)
        for element in gathered.days
        if any(len(each) for each in gathered.days[element])
    }
    if not series.keys() & {"t_max_c", "t_min_c"}:
        raise WeatherError(*gathered.faults, Fault(code="weather_no_temperature"))
    first = min(int(days[0]) for days, _ in series.values())
    last = max(int(days[-1]) for days, _ in series.values())
    filled: dict[str, FloatArray] = {}
    for element, (days, values) in series.items():
        filled[element] = np.full(last - first + 1, np.nan)
        filled[element][days - first] = values
    for element in ("t_max_c", "t_min_c"):
        if element not in filled:
            filled[element] = np.full(last - first + 1, np.nan)
            gathered.tell("weather_element_absent", element=element)
    record = DailyRecord(
        station=station.key,
        name=station.name,
        latitude_deg=station.latitude_deg,
        longitude_deg=station.longitude_deg,
        elevation_m=station.elevation_m,
        first_day=np.int64(first).astype("datetime64[D]"),
        t_max_c=filled["t_max_c"],
        t_min_c=filled["t_min_c"],
        t_mean_c=filled.get("t_mean_c"),
        rain_mm=filled.get("rain_mm"),
        radiation_mj_m2=filled.get("radiation_mj_m2"),
        humidity_max_percent=filled.get("humidity_max_percent"),
        humidity_min_percent=filled.get("humidity_min_percent"),
        wind_m_s=filled.get("wind_m_s"),
    )
    return WeatherFile(record, format_, units, tuple(gathered.faults), lines)


def _one_per_day(element: str, gathered: Gathered) -> tuple[IntArray, FloatArray]:
    """Days in order with one value each; a day that stands twice keeps its first value."""
    days = np.concatenate(gathered.days[element])
    values = np.concatenate(gathered.values[element])
    if np.all(days[1:] > days[:-1]):
        return days, values
    order = np.argsort(days, kind="stable")
    days, values = days[order], values[order]
    first = np.concatenate(([True], days[1:] != days[:-1]))
    kept = values[first][np.cumsum(first) - 1]
    again, differing = ~first, ~first & (values != kept)
    if np.any(again):
        gathered.faults.append(
            Fault(
                code="weather_days_twice",
                day=day_of(days[again][0].astype("datetime64[D]")),
                data=MappingProxyType(
                    {
                        "element": element,
                        "count": int(np.sum(again)),
                        "differing": int(np.sum(differing)),
                    }
                ),
            )
        )
    return days[first], values[first]


def tell_broken_lines(gathered: Gathered, lines: Lines, broken: BoolArray, want: str) -> None:
    """One fault for all lines of a file that can't be read. ``want`` is what would be right."""
    if np.any(broken):
        first = int(np.flatnonzero(broken)[0])
        gathered.tell(
            "weather_lines_broken",
            count=int(np.sum(broken)),
            line=int(lines.numbers[first]),
            text=lines.text(first),
            want=want,
        )


def tell_broken_cells(
    gathered: Gathered, cells: Cells, column: int, wrong: BoolArray, name: str
) -> None:
    """One fault for all cells of a column that are no numbers."""
    if np.any(wrong):
        first = int(np.flatnonzero(wrong)[0])
        gathered.tell(
            "weather_cells_broken",
            element=name,
            count=int(np.sum(wrong)),
            line=int(cells.lines.numbers[first]),
            text=cells.cell(first, column)[:60],
        )


def refuse_all_broken(gathered: Gathered, any_day: bool) -> None:
    """Raise WeatherError with what was found where not a single line could be read."""
    if not any_day:
        raise WeatherError(*(gathered.faults or [Fault(code="weather_no_lines")]))


def one_station(keys: Sequence[str]) -> str:
    """The one station of a file. Raises WeatherError where there are several."""
    distinct = list(dict.fromkeys(keys))
    if len(distinct) > 1:
        shown = ", ".join(distinct[:5]) + (", ..." if len(distinct) > 5 else "")
        raise WeatherError(
            Fault(code="weather_several_stations", data={"count": len(distinct), "stations": shown})
        )
    return distinct[0] if distinct else ""
