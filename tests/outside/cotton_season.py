"""Two measured cotton seasons of the desert, as the reference library's files hold them."""

from __future__ import annotations

from functools import cache
from pathlib import Path
from typing import Any

import numpy as np

from bedwright.water.air import wind_at_two_meters
from bedwright.water.balance import Balance, Timing, daily_balance
from bedwright.water.beds import BedDays, Ground, Start
from bedwright.water.coefficients import Stages
from bedwright.water.crop_water import Plants, SeasonWeather, crop_days
from bedwright.water.root_zone import BedLayers
from bedwright.water.surface import total_evaporable_water

FOLDER = Path(__file__).with_name("data") / "cotton2013"
FIRST, LAST = "2013-113", "2013-312"
# cotton2013.par, as printed in that file: FAO-56 tables with the station's own changes
KCB, HEIGHT_M, ROOTS_M = (0.15, 1.20, 0.573), (0.05, 1.20), (0.60, 1.70)
STAGES = Stages(31, 83, 133, 154)
CAPACITY, WILTING, START_WATER, DRYING_M, READY_M, SHARE = 0.225, 0.100, 0.100, 0.1143, 0.009, 0.65
WIND_HEIGHT_M = 3.0


@cache
def rows(name: str) -> dict[str, dict[str, str]]:
    """Lines of one file by their day, each cell under its column's first heading."""
    lines = (FOLDER / name).read_text(encoding="utf-8").splitlines()
    at = next(k for k, line in enumerate(lines) if line.startswith("Year-DOY"))
    heads = lines[at].split()
    cells = [line.split() for line in lines[at + 1 :] if line.strip()]
    return {line[0]: dict(reversed(list(zip(heads, line, strict=False)))) for line in cells}


@cache
def weather(column: str, first: str = FIRST, last: str = LAST) -> np.ndarray:
    """A column of the measured weather, (days, 1)."""
    days = [row for day, row in rows("cotton2013.wth").items() if first <= day <= last]
    return np.array([[float(row[column])] for row in days])


def printed(case: str, column: str) -> np.ndarray:
    """A column of the library's published daily output, (days,)."""
    return np.array([float(row[column]) for row in rows(f"cotton{case}2013.out").values()])


def days_of() -> list[str]:
    return list(rows("cottonwet2013.out"))


def irrigation(case: str) -> tuple[np.ndarray, np.ndarray]:
    """Depths [m] and wetted shares of each day, (days, 1)."""
    depth, wetted = np.zeros((len(days_of()), 1)), np.ones((len(days_of()), 1))
    for day, row in rows(f"cotton{case}2013.irr").items():
        if FIRST <= day <= LAST:
            k = days_of().index(day)
            depth[k], wetted[k] = float(row["Depth"]) / 1000, float(row["fw"])
    return depth, wetted


def season(case: str) -> tuple[BedDays, Ground, Start, np.ndarray]:
    """Everything that the balance of one season is told."""
    depth, wetted = irrigation(case)
    climate = SeasonWeather(
        weather("ETref") / 1000,
        weather("Rain") / 1000,
        wind_at_two_meters(weather("Wndsp"), WIND_HEIGHT_M),
        weather("RHmin"),
    )
    days = crop_days(
        np.arange(len(depth)),
        STAGES,
        Plants(KCB, HEIGHT_M, ROOTS_M),
        BedLayers(CAPACITY - WILTING),
        climate,
        wetted_share=wetted,
    )
    total = float(total_evaporable_water(CAPACITY, WILTING, DRYING_M))
    start = Start((CAPACITY - START_WATER) * ROOTS_M[0], total)
    return days, Ground(total, READY_M, SHARE), start, depth


def balance(case: str, timing: Timing, **choices: Any) -> tuple[BedDays, Balance]:
    """The season's days and its balance, days with rain and irrigation as the library has them."""
    days, ground, start, depth = season(case)
    result = daily_balance(
        days, ground, start, depth, timing=timing, rain_outranks_drip=False, **choices
    )
    return days, result
