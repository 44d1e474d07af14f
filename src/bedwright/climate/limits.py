"""The thresholds by which weather is read and checked, from ``weather_limits.csv``."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from bedwright.reference.tables import Row


@dataclass(frozen=True)
class WeatherLimits:
    """What counts as impossible, stuck, repeated, whole. Each field is a row of the table.

    ``impossible`` holds the lowest and highest possible value of each element in its own unit.
    """

    impossible: Mapping[str, tuple[float, float]]
    impossible_share: float
    lagged_range_c: float
    stuck_days: int
    repeated_days: int
    swapped_share: float
    step_c: float
    step_chance: float
    step_years: int
    whole_fahrenheit_share: float
    hours_share: float
    month_missing_days: int
    units_days: int


def weather_limits(rows: Iterable[Row]) -> WeatherLimits:
    """The limits of the rows in use. Raises LookupError where one is not in the table."""
    used = [row for row in rows if row.used]
    single = {row["check"]: row.typical() for row in used if not row["element"]}
    bounds = {
        row["element"]: (row.numbers["low"], row.numbers["high"])
        for row in used
        if row["check"] == "impossible"
    }

    def of(check: str) -> float:
        if check not in single:
            raise LookupError(f"weather_limits.csv holds no {check!r} in use")
        return single[check]

    return WeatherLimits(
        impossible=bounds,
        impossible_share=of("impossible_share"),
        lagged_range_c=of("lagged_range"),
        stuck_days=round(of("stuck")),
        repeated_days=round(of("block_repeated")),
        swapped_share=of("columns_swapped"),
        step_c=of("station_step"),
        step_chance=of("station_step_chance"),
        step_years=round(of("station_step_years")),
        whole_fahrenheit_share=of("whole_fahrenheit"),
        hours_share=of("hours_of_day"),
        month_missing_days=round(of("month_missing")),
        units_days=round(of("units_days")),
    )
