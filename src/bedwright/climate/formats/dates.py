"""Dates and times of day from cells, by whole columns."""

from __future__ import annotations

import re
from dataclasses import dataclass

import numpy as np

from bedwright.climate.faults import Fault, WeatherError
from bedwright.climate.formats.cells import BoolArray, BytesArray
from bedwright.climate.record import IntArray

FIRST_YEAR, LAST_YEAR = 1700, 2200  # before any daily record; a slip of the hand beyond
NO_DAY = np.int64(-(2**62))
_ZERO, _DASH, _BLANK, _T, _COLON = b"0- T:"
_TIME = rb"[T ]+(\d{1,2})(?::?(\d{2}))?(?::?\d{2}(?:\.\d+)?)?\s*(Z|UTC|GMT|[+-]\d{2}:?\d{2})?"
_FREE = re.compile(rb"(\d{1,4})[-/. ](\d{1,2})[-/. ](\d{1,4})(?:" + _TIME + rb")?")
_TIME_TAIL = re.compile(_TIME)


@dataclass(frozen=True, eq=False)
class Times:
    """Day numbers (days since 1970-01-01, NO_DAY where wrong), minutes of the day, zones seen."""

    days: IntArray
    minutes: IntArray  # -1 where no time is stated
    zoned: bool = False
    order: str = "year_first"


def day_numbers(year: IntArray, month: IntArray, day: IntArray) -> IntArray:
    """Days since 1970-01-01; NO_DAY where there is no such date.

    Parameters
    ----------
    year : FIRST_YEAR to LAST_YEAR
    month : 1 to 12
    day : of the month, 1 to 31
    """
    right = (year >= FIRST_YEAR) & (year <= LAST_YEAR) & (month >= 1) & (month <= 12)
    right &= (day >= 1) & (day <= 31)
    months = np.where(right, (year - 1970) * 12 + month - 1, 0).astype("datetime64[M]")
    days = months.astype("datetime64[D]") + np.where(right, day - 1, 0)
    right &= days.astype("datetime64[M]") == months
    return np.where(right, days.astype(np.int64), NO_DAY)


def digits(characters: BytesArray, first: int, stop: int) -> IntArray:
    """The whole number in columns ``first`` to ``stop`` of each row; -1 where it is none."""
    if characters.shape[1] < stop:
        return np.full(len(characters), -1, dtype=np.int64)
    part = characters[:, first:stop].astype(np.int64) - _ZERO
    right = np.all((part >= 0) & (part <= 9), axis=1)
    powers = 10 ** np.arange(stop - first - 1, -1, -1)
    return np.where(right, part @ powers, -1)


def iso_days(characters: BytesArray, lengths: IntArray) -> IntArray:
    """Days of cells that start like 2027-03-01 or are 20270301; NO_DAY elsewhere."""
    rows, width = characters.shape
    found = np.full(rows, NO_DAY, dtype=np.int64)
    if width >= 10:
        dashed = (characters[:, 4] == _DASH) & (characters[:, 7] == _DASH) & (lengths >= 10)
        parts = (digits(characters, a, b) for a, b in ((0, 4), (5, 7), (8, 10)))
        found = np.where(dashed, day_numbers(*parts), found)
    if width >= 8:
        parts = (digits(characters, a, b) for a, b in ((0, 4), (4, 6), (6, 8)))
        found = np.where(lengths == 8, day_numbers(*parts), found)
    return found


def times(characters: BytesArray, lengths: IntArray) -> Times:
    """Dates with or without a time of day, in any usual order of day, month and year.

    Parameters
    ----------
    characters : one row per cell [character codes]
    lengths : how many characters each cell has, 0 and up

    Raises WeatherError where day and month cannot be told apart.
    """
    days = iso_days(characters, lengths)
    minutes = np.full(len(days), -1, dtype=np.int64)
    plain = (days != NO_DAY) & (lengths <= 10)
    timed = (days != NO_DAY) & _clock(characters, lengths, minutes)
    plain |= timed
    rest = np.flatnonzero(~plain & (lengths > 0))
    if not len(rest):
        return Times(days, minutes)
    days = np.where(plain, days, NO_DAY)
    minutes[~plain] = -1
    whole = [characters[at, : int(lengths[at])].tobytes() for at in rest]
    return _free_times(days, minutes, rest, whole)


def _clock(characters: BytesArray, lengths: IntArray, minutes: IntArray) -> BoolArray:
    """Which cells end in a time like 14:00 right after a dashed date; fills in ``minutes``."""
    if characters.shape[1] < 16:
        return np.zeros(len(lengths), dtype=np.bool_)
    hour, minute = digits(characters, 11, 13), digits(characters, 14, 16)
    found = (lengths == 16) & np.isin(characters[:, 10], (_BLANK, _T))
    found &= (characters[:, 13] == _COLON) & (hour >= 0) & (hour <= 24)
    found &= (minute >= 0) & (minute <= 59)
    minutes[found] = hour[found] * 60 + minute[found]
    return np.asarray(found, dtype=np.bool_)


def _free_times(days: IntArray, minutes: IntArray, rest: IntArray, whole: list[bytes]) -> Times:
    parts = np.full((len(rest), 5), -1, dtype=np.int64)
    zoned = False
    for row, text in enumerate(whole):
        match = _FREE.fullmatch(text)
        if match is None:
            match = _compact(text)
        if match is None:
            continue
        parts[row] = [-1 if each is None else int(each) for each in match.groups()[:5]]
        zoned |= match.group(6) is not None
    read = parts[:, 0] >= 0
    order = _order(parts[read])
    places = {"year_first": (0, 1, 2), "month_first": (2, 0, 1), "day_first": (2, 1, 0)}[order]
    hour, minute = parts[:, 3], np.maximum(parts[:, 4], 0)
    found = day_numbers(*(parts[:, at] for at in places))
    found[~read | (hour > 24) | (minute > 59)] = NO_DAY
    days[rest] = found
    minutes[rest] = np.where(hour >= 0, hour * 60 + minute, -1)
    return Times(days, minutes, zoned, order)


def _compact(text: bytes) -> re.Match[bytes] | None:
    """20270301 with a time, or 202703011400, written out with dashes."""
    if len(text) < 8 or not text[:8].isdigit():
        return None
    tail = text[8:]
    if tail[:4].isdigit() and len(tail) == 4:
        tail = b" " + tail[:2] + b":" + tail[2:]
    if tail and not _TIME_TAIL.fullmatch(tail):
        return None
    return _FREE.fullmatch(text[:4] + b"-" + text[4:6] + b"-" + text[6:8] + tail)


def _order(parts: IntArray) -> str:
    """In which order dates are written. Raises WeatherError where it can't be told."""
    if not len(parts) or np.mean(parts[:, 0] > 31) > 0.5:
        return "year_first"
    short = parts[parts[:, 0] <= 31]
    first_over, second_over = np.mean(short[:, 0] > 12), np.mean(short[:, 1] > 12)
    if first_over == second_over == 0:
        one = "/".join(str(each) for each in short[0, :3])
        raise WeatherError(Fault(code="weather_date_order_not_clear", data={"text": one}))
    return "day_first" if first_over > second_over else "month_first"


def right_days(days: IntArray) -> BoolArray:
    """Which day numbers are days."""
    return np.asarray(days != NO_DAY, dtype=np.bool_)
