"""When a crop takes up its nitrogen between setting out and the last harvest."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from bedwright.guards import not_negative, positive
from bedwright.reference import Library, Row
from bedwright.working import Figure, Source

Array = NDArray[np.float64]


@dataclass(frozen=True)
class UptakeCurve:
    """The share of the season's nitrogen that is taken up by each share of the season.

    ``season`` and ``taken`` run from 0 to 1. ``name`` is the class in ``nitrogen_uptake.csv``.
    """

    name: str
    season: Array
    taken: Array
    sources: tuple[Source, ...]


def uptake_curve(library: Library, crop: str, kind: str) -> UptakeCurve:
    """The curve in use for a crop; the crop's own before that of its kind.

    Raises LookupError where the table has neither.
    """
    rows = library.rows("nitrogen_uptake")
    for name in (crop, kind):
        points = [row for row in rows if name in row["applies_to"].split() and row.used]
        if points:
            return _curve(sorted(points, key=_season))
    raise LookupError(f"nitrogen_uptake.csv has no curve for {crop!r} or {kind!r}")


def _season(row: Row) -> float:
    share = row.number("season_share")
    if share is None:
        raise LookupError(f"nitrogen_uptake.csv line {row.line}: no season_share")
    return share


def _curve(points: list[Row]) -> UptakeCurve:
    season = np.array([0.0, *(_season(row) for row in points), 1.0])
    taken = np.array([0.0, *(row.typical() for row in points), 1.0])
    return UptakeCurve(
        points[0]["uptake_class"], season, taken, tuple(row.source for row in points)
    )


def season_length(library: Library, crop: str) -> Figure:
    """Days from setting out or sowing to the last harvest; assumed where none is known."""
    from bedwright.reference.library import figure_of

    for row in library.rows("season_lengths"):
        if row["crop"] == crop and row.used:
            return figure_of("season_days", row, "day")
    assumed = library.parameter("season_days_default", "day")
    return Figure(
        "season_days",
        assumed.value,
        "day",
        "assumed",
        low=assumed.low,
        high=assumed.high,
        sources=assumed.sources,
        note="no season length is known for this crop",
    )


def uptake_by_week(total: float, curve: UptakeCurve, season_days: float, first_day: Array) -> Array:
    """Nitrogen that the crop takes up in each week [kg/m2].

    Parameters
    ----------
    total : of the season [kg/m2], 0 and up
    curve : of the crop
    season_days : from setting out to the last harvest [day], above 0
    first_day : of each week, counted from setting out [day], (weeks,); negative before it

    Raises ValueError for an input outside its range.
    """
    not_negative(total=total)
    positive(season_days=season_days)
    week = 7.0
    start = np.interp(first_day / season_days, curve.season, curve.taken)
    end = np.interp((first_day + week) / season_days, curve.season, curve.taken)
    return np.asarray(total * (end - start))
