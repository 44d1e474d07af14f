"""GHCN-Daily as the agency stores it: fixed width (.dly) and by-station CSV without a header.

Layout, units and flags: GHCN-Daily readme. Values are whole numbers; the elements read here are
tenths of C, mm and m/s. A value whose quality flag is not blank failed one of the agency's checks
and is dropped; "missing, presumed zero" (P) is missing.
"""

from __future__ import annotations

import numpy as np

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
from bedwright.climate.formats.cells import BoolArray, BytesArray, Cells, Lines, parsed
from bedwright.climate.formats.dates import NO_DAY, day_numbers, digits, iso_days
from bedwright.climate.record import FloatArray, IntArray

ELEMENTS = {  # element of the file: element of the record, its unit as a part of ours
    b"TMAX": ("t_max_c", 10.0),
    b"TMIN": ("t_min_c", 10.0),
    b"TAVG": ("t_mean_c", 10.0),
    b"PRCP": ("rain_mm", 10.0),
    b"AWND": ("wind_m_s", 10.0),
}
_MULTI_DAY_TOTAL, _MULTI_DAY_COUNT = b"MDPR", b"DAPR"
PRESUMED_ZERO, _BLANK, _COMMA = b"P ,"
_MISSING = -9999
_LONGEST_TOTAL = 366  # a longer span is a slip of the hand
_DAYS = 31
_GROUP, _FIRST = 8, 21  # a day's group is 8 characters; the first starts after 21
_WIDTH = _FIRST + _GROUP * _DAYS
_DLY_WANT = "11 characters of station, year, month, element and 31 groups of 8"
_ROW_WANT = "station,YYYYMMDD,element,value and flags"


def read_dly(text: bytes) -> WeatherFile:
    """The record of a fixed-width file. Raises WeatherError for one that can't be used."""
    lines = Lines(text)
    gathered = Gathered()
    head = lines.matrix(0, _FIRST)
    year, month = digits(head, 11, 15), digits(head, 15, 17)
    right = day_numbers(year, month, np.ones_like(year)) != NO_DAY
    right &= np.all(head[:, :11] != _BLANK, axis=1) & np.all(head[:, 17:] != _BLANK, axis=1)
    tell_broken_lines(gathered, lines, ~right, _DLY_WANT)
    refuse_all_broken(gathered, bool(np.any(right)))
    station = one_station(_texts(head[right][:, :11]))
    element = _joined(head[:, 17:21])
    multi: dict[bytes, tuple[IntArray, FloatArray]] = {}
    for key in (*ELEMENTS, _MULTI_DAY_TOTAL, _MULTI_DAY_COUNT):
        rows = right & (element == key)
        if np.any(rows):
            found = _dly_element(gathered, lines, rows, key, (year[rows], month[rows]))
            if key in ELEMENTS:
                name, scale = ELEMENTS[key]
                gathered.add(name, found[0], found[1] / scale)
            else:
                multi[key] = found
    _drop_multi_day(gathered, multi)
    return assembled(gathered, Station(station), "ghcn_dly", "tenths", len(lines))


def _dly_element(
    gathered: Gathered,
    lines: Lines,
    rows: BoolArray,
    key: bytes,
    when: tuple[IntArray, IntArray],
) -> tuple[IntArray, FloatArray]:
    """Days and whole values of one element, flagged and missing ones as NaN."""
    groups = lines.matrix(_FIRST, _WIDTH, rows).reshape(-1, _DAYS, _GROUP)
    day = np.broadcast_to(np.arange(1, _DAYS + 1), groups.shape[:2])
    year, month = (np.broadcast_to(each[:, None], day.shape) for each in when)
    days = day_numbers(year, month, day).ravel()
    flat = groups.reshape(-1, _GROUP)
    values, wrong = _fixed(flat[:, :5])
    stated = values != _MISSING
    beyond = (days == NO_DAY) & stated & ~np.isnan(values)
    wrong |= beyond
    if np.any(wrong):
        line = int(np.flatnonzero(rows)[int(np.flatnonzero(wrong)[0]) // _DAYS])
        gathered.tell(
            "weather_cells_broken",
            element=key.decode(),
            count=int(np.sum(wrong)),
            line=int(lines.numbers[line]),
            text=bytes(flat[np.flatnonzero(wrong)[0], :5]).decode("utf-8", "replace"),
        )
    values = np.where(wrong | ~stated, np.nan, values)
    return days, _without_flagged(gathered, key, days, values, flat[:, 6], flat[:, 5])


def _fixed(characters: BytesArray) -> tuple[FloatArray, BoolArray]:
    """Right-aligned whole numbers; an empty group is wrong, for missing has a code."""
    shifted = np.sum(np.cumsum(characters != _BLANK, axis=1) == 0, axis=1)
    columns = np.clip(np.arange(characters.shape[1]) + shifted[:, None], 0, 4)
    moved = np.take_along_axis(characters, columns, axis=1)
    values, wrong = parsed(moved, characters.shape[1] - shifted)
    return values, wrong | np.isnan(values) | (values != np.rint(values))


def _without_flagged(
    gathered: Gathered,
    key: bytes,
    days: IntArray,
    values: FloatArray,
    quality: BytesArray,
    measurement: BytesArray,
) -> FloatArray:
    """Values with those dropped that failed a check of the agency's or were only presumed."""
    known = ~np.isnan(values)
    failed = known & (quality != _BLANK) & (quality != 0)
    name = ELEMENTS[key][0] if key in ELEMENTS else "rain_mm"
    gathered.flagged(name, days, failed)
    presumed = known & ~failed & (measurement == PRESUMED_ZERO)
    if np.any(presumed):
        gathered.tell("weather_presumed_zero", element=name, count=int(np.sum(presumed)))
    return np.where(failed | presumed, np.nan, values)


def read_by_station(text: bytes) -> WeatherFile:
    """The record of a by-station CSV. Raises WeatherError for one that can't be used."""
    lines = Lines(text)
    cells = Cells(lines, b",")
    gathered = Gathered()
    days = iso_days(*cells.characters(1, 10))
    key = _joined(_exactly(cells.characters(2, 4)[0], 4))
    right = (days != NO_DAY) & (cells.counts >= 4)
    tell_broken_lines(gathered, lines, ~right, _ROW_WANT)
    refuse_all_broken(gathered, bool(np.any(right)))
    station = one_station(_texts(_exactly(cells.characters(0, 11)[0], 11)[right]))
    values, wrong = cells.numbers(3)
    wrong &= right
    tell_broken_cells(gathered, cells, 3, wrong, "VALUE")
    values = np.where(values == _MISSING, np.nan, values)
    measurement, quality = (_exactly(cells.characters(at, 1)[0], 1)[:, 0] for at in (4, 5))
    multi: dict[bytes, tuple[IntArray, FloatArray]] = {}
    for each in (*ELEMENTS, _MULTI_DAY_TOTAL, _MULTI_DAY_COUNT):
        rows = right & (key == each)
        if not np.any(rows):
            continue
        found = _without_flagged(
            gathered, each, days[rows], values[rows], quality[rows], measurement[rows]
        )
        if each in ELEMENTS:
            name, scale = ELEMENTS[each]
            gathered.add(name, days[rows], found / scale)
        else:
            multi[each] = (days[rows], found)
    _drop_multi_day(gathered, multi)
    return assembled(gathered, Station(station), "ghcn_by_station", "tenths", len(lines))


def _drop_multi_day(gathered: Gathered, multi: dict[bytes, tuple[IntArray, FloatArray]]) -> None:
    if _MULTI_DAY_TOTAL in multi:
        totals, values = multi[_MULTI_DAY_TOTAL]
        counts, spans = multi.get(_MULTI_DAY_COUNT, (totals[:0], values[:0]))
        drop_multi_day_rain(gathered, totals[~np.isnan(values)], counts, spans)


def drop_multi_day_rain(
    gathered: Gathered, totals: IntArray, counts: IntArray, spans: FloatArray
) -> None:
    """Days whose rain is inside a total of several days are missing, never zero.

    Parameters
    ----------
    gathered : what was read so far; zeros of those days are taken out of its rain
    totals : the days on which such a total was read [day number]
    counts : the days that state over how many days a total goes [day number]
    spans : how many days each of ``counts`` states [days]; only the day itself without it
    """
    if not len(totals):
        return
    known = ~np.isnan(spans)
    length = dict(zip(counts[known].tolist(), spans[known].tolist(), strict=True))
    spanned = [int(np.clip(length.get(day, 1), 1, _LONGEST_TOTAL)) for day in totals.tolist()]
    inside = np.unique(
        np.concatenate(
            [np.arange(day - span + 1, day + 1) for day, span in zip(totals, spanned, strict=True)]
        )
    )
    for at, days in enumerate(gathered.days.get("rain_mm", [])):
        values = gathered.values["rain_mm"][at]
        kept = ~(np.isin(days, inside) & (values == 0))
        gathered.days["rain_mm"][at], gathered.values["rain_mm"][at] = days[kept], values[kept]
    gathered.tell("weather_multi_day_rain", count=len(totals), days=len(inside))


def _exactly(characters: BytesArray, width: int) -> BytesArray:
    missing = width - characters.shape[1]
    return np.pad(characters, ((0, 0), (0, missing))) if missing > 0 else characters[:, :width]


def _joined(characters: BytesArray) -> np.ndarray[tuple[int], np.dtype[np.bytes_]]:
    """Rows of characters as one text each."""
    whole = np.ascontiguousarray(characters)
    return whole.view(f"S{whole.shape[1]}").ravel()


def _texts(characters: BytesArray) -> list[str]:
    """The distinct texts of rows of characters, in order of their first row."""
    texts, first = np.unique(_joined(characters), return_index=True)
    return [bytes(texts[at]).decode("utf-8", "replace") for at in np.argsort(first)]
