"""How whole a record is: its gaps, and how many days of each year or month have a value."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from bedwright.climate.record import DailyRecord, FloatArray, IntArray


@dataclass(frozen=True)
class Gap:
    """A run of missing days: its first day and its length."""

    first_day: np.datetime64
    days: int


@dataclass(frozen=True, eq=False)
class Completeness:
    """How many days of each period are there.

    ``periods`` are datetime64[Y] or [M]; ``present`` counts days with a value, ``expected`` the
    calendar days of the whole period, also outside the record.
    """

    periods: npt.NDArray[np.datetime64]
    present: IntArray
    expected: IntArray

    def share(self) -> FloatArray:
        """The share of each period's days that have a value, 0 to 1."""
        return np.asarray(self.present / self.expected, dtype=np.float64)


def longest_gaps(record: DailyRecord, values: FloatArray, most: int = 5) -> tuple[Gap, ...]:
    """The longest runs of missing days, the longest first, the earlier first among equals.

    Parameters
    ----------
    record : the record that ``values`` belong to
    values : one per day of the record [any unit], NaN where missing
    most : how many runs are wanted, 1 and up
    """
    missing = np.concatenate(([False], np.isnan(values), [False])).astype(np.int8)
    change = np.diff(missing)
    starts, ends = np.flatnonzero(change == 1), np.flatnonzero(change == -1)
    lengths = ends - starts
    order = np.argsort(-lengths, kind="stable")[:most]
    dates = record.dates()
    return tuple(Gap(dates[starts[at]], int(lengths[at])) for at in order)


def completeness(record: DailyRecord, values: FloatArray, per: str = "year") -> Completeness:
    """How many days of each year or month have a value.

    Parameters
    ----------
    record : the record that ``values`` belong to
    values : one per day of the record [any unit], NaN where missing
    per : "year" or "month"

    Raises ValueError for another ``per``.
    """
    units: Mapping[str, str] = {"year": "Y", "month": "M"}
    if per not in units:
        raise ValueError(f"per is {per!r}; it must be year or month")
    kind = f"datetime64[{units[per]}]"
    period = record.dates().astype(kind).astype(np.int64)
    first, count = int(period[0]), int(period[-1] - period[0]) + 1
    present = np.bincount(period - first, weights=~np.isnan(values), minlength=count)
    edges = (np.arange(count + 1) + first).astype(kind)
    expected = np.diff(edges.astype("datetime64[D]")).astype(np.int64)
    return Completeness(edges[:-1], present.astype(np.int64), expected)
