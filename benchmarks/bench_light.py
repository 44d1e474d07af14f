"""The light of a season on every bed of a garden, sun every ten minutes, in CPU seconds.

A garden of beds with trellises, a fence, a building and two trees; several points in each bed; the
days of April to October. Medians of repeats, one thread. Also how it grows, and how far the light
with directions worked cell by cell lies from that of every moment worked alone.
Run: ``.venv/bin/python benchmarks/bench_light.py [--write]``
"""

from __future__ import annotations

import os

os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")

import argparse
import statistics
import time
from pathlib import Path

import numpy as np
from growing import growth, settle

from bedwright.climate.day_length import extraterrestrial_radiation_fao56
from bedwright.climate.solar import sun_position, sun_series
from bedwright.light.daily import LightSupply, PointLight, SunMoments, light_at, light_supply
from bedwright.light.scene import Prism, Scene, Screen
from bedwright.reference import Library

GROWTH = Path(__file__).parents[1] / "docs" / "growth" / "light.csv"
FULL = {"beds": 40, "points": 15, "days": 214}
LATITUDE, LONGITUDE, OFFSET_H = 46.0, -117.0, -8
FIRST, STEP_MIN = np.datetime64("2026-04-01"), 10
BED_M, PATH_M, ROW_OF_BEDS = (7.5, 0.9), 0.45, 10
CLEARNESS = 0.62
BUDGET_S = 5.0
CELLS_DEG = (None, 1.0, 2.0, 4.0)


def garden(beds: int, points: int) -> tuple[np.ndarray, Scene, list[str]]:
    """Points 5 cm over the beds, what shades them, and each point's own bed."""
    length, width = BED_M
    places, own, screens = [], [], []
    for bed in range(beds):
        west = (bed // ROW_OF_BEDS) * (length + 1.2)
        south = (bed % ROW_OF_BEDS) * (width + PATH_M)
        rows = 3 if points % 3 == 0 else 1
        for row in range(rows):
            for at in range(points // rows):
                east = west + (at + 0.5) * length / (points // rows)
                places.append((east, south + (row + 0.5) * width / rows, 0.05))
                own.append(f"bed {bed}")
        screens.append(
            Screen(
                np.array([west, south + width / 2]),
                np.array([west + length, south + width / 2]),
                0.1,
                1.8,
                0.3,
                tag=f"bed {bed}" if bed % 4 else "",
            )
        )
    reach = np.array(places).max(axis=0)
    screens.append(Screen(np.array([-2.0, -2.0]), np.array([reach[0] + 2, -2.0]), 0.0, 1.5, 0.4))
    turn = 2 * np.pi * np.arange(12) / 12
    crown = np.column_stack([np.cos(turn), np.sin(turn)])
    prisms = (
        Prism(np.array([[-9, 0], [-3, 0], [-3, 8], [-9, 8]]), 0.0, 4.5),
        Prism(2.5 * crown + [reach[0] + 5, 3.0], 2.0, 7.0, 1.0, 0.35),
        Prism(3.0 * crown + [5.0, -6.0], 2.5, 9.0, 1.0, 0.35),
    )
    return np.array(places), Scene(prisms, tuple(screens)), own


def moments(days: int) -> tuple[SunMoments, np.ndarray]:
    """The sun every ten minutes, and each day's date."""
    a_day = 24 * 60 // STEP_MIN
    at = np.arange(days * a_day)
    local = FIRST.astype("datetime64[m]") + STEP_MIN * at + STEP_MIN // 2
    series = sun_series(Library().rows("sun_terms"), Library().rows("delta_t"))
    utc = (local - np.timedelta64(OFFSET_H, "h")).astype("datetime64[ms]")
    sun = sun_position(utc, LATITUDE, LONGITUDE, series)
    dates = FIRST + np.arange(days)
    return SunMoments(
        sun.elevation_deg, sun.azimuth_deg, at // a_day, STEP_MIN / 60, LATITUDE
    ), dates


def supply(days: int, cell_deg: float | None) -> LightSupply:
    sun, dates = moments(days)
    number = (dates - dates.astype("datetime64[Y]")).astype(int) + 1
    above = extraterrestrial_radiation_fao56(LATITUDE, number)
    month = dates.astype("datetime64[M]").astype(int)
    return light_supply(
        sun, CLEARNESS * above, above, month - month[0], mol_per_mj=2.3, least_sun_deg=5.0,
        cell_deg=cell_deg,
    )  # fmt: skip


def run(size: dict[str, int], cell_deg: float | None = 1.0) -> PointLight:
    """Everything from the sun's places to the light at each point."""
    places, scene, own = garden(size["beds"], size["points"])
    return light_at(places, scene, supply(size["days"], cell_deg), own=own)


def seconds(size: dict[str, int], repeats: int, cell_deg: float | None = 1.0) -> float:
    taken = []
    for _ in range(repeats):
        start = time.process_time()
        run(size, cell_deg)
        taken.append(time.process_time() - start)
    return statistics.median(taken)


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--repeats", type=int, default=3, help="medians of so many (default: 3)")
    parser.add_argument("--write", action="store_true", help=f"write {GROWTH.name}")
    given = parser.parse_args()
    run({"beds": 1, "points": 3, "days": 2})
    exact = run(FULL, None).light_mol_m2_d
    for cell in CELLS_DEG:
        found = run(FULL, cell)
        off = np.abs(found.light_mol_m2_d - exact)
        print(
            f"cells of {cell} deg: {seconds(FULL, given.repeats, cell):.2f} s, off by "
            f"{off.max():.3f} mol/m2/d at most, {off.mean():.4f} in the mean, of up to "
            f"{found.open_mol_m2_d.max():.1f}",
            flush=True,
        )
    rows = growth(FULL, lambda size: seconds(dict(size), given.repeats))
    settle(rows, FULL, BUDGET_S, GROWTH if given.write else None)


if __name__ == "__main__":
    main()
