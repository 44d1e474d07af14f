"""Positions of the sun per second, ours beside pvlib's NREL algorithm, in one run.

Wall seconds of single calls, medians of repeats that take turns. One thread each; pvlib's is its
numpy form. Run: ``.venv/bin/python benchmarks/bench_sun.py``
"""

from __future__ import annotations

import argparse
import os
import platform
import statistics
import time
from collections.abc import Callable, Iterator
from importlib import metadata

import numpy as np

from bedwright.climate.solar import SunSeries, sun_position, sun_series
from bedwright.reference import Library

COUNT = 1_000_000  # ours, in a call
REFERENCE_COUNT = 50_000  # pvlib's, in a call: it takes more memory and time per position
LATITUDE, LONGITUDE = 46.0, -117.0
AIR_KPA, AIR_C, HORIZON_DEG = 99.0, 15.0, 0.5667
WANTED = 2_000_000  # positions a second

Case = tuple[str, np.ndarray, np.ndarray, np.ndarray]


def cases(count: int) -> Iterator[Case]:
    """Moments and places: a year at one place, a century at one, a century everywhere."""
    dice = np.random.default_rng(2026)
    start = np.datetime64("2026-01-01T00:00:00", "ms")
    step = np.timedelta64(365 * 86_400_000 // count, "ms")
    ends = [np.datetime64(each, "ms").astype(np.int64) for each in ("1950-01-01", "2051-01-01")]
    century = dice.integers(*ends, count).astype("datetime64[ms]")
    here = np.float64(LATITUDE), np.float64(LONGITUDE)
    yield "one place, a year in order", start + np.arange(count) * step, *here
    yield "one place, a century at random", century, *here
    anywhere = dice.uniform(-90, 90, count), dice.uniform(-180, 180, count)
    yield "anywhere, a century at random", century, *anywhere


def ours(case: Case, series: SunSeries, air: bool) -> tuple[np.ndarray, np.ndarray]:
    found = sun_position(
        *case[1:], series, pressure_kpa=AIR_KPA if air else None, temperature_c=AIR_C
    )
    return found.elevation_deg, found.azimuth_deg


def theirs(case: Case, air: bool) -> tuple[np.ndarray, np.ndarray]:
    """pvlib works refraction in any case; without air the bare elevation is taken."""
    from pvlib import spa

    _, times, latitude, longitude = case
    months = times.astype("datetime64[M]").astype(int)
    delta_t = spa.calculate_deltat(months // 12 + 1970, months % 12 + 1)
    _, _, lifted, bare, azimuth, _ = spa.solar_position_numpy(
        times.astype(np.int64) / 1000, latitude, longitude, 0.0, AIR_KPA * 10, AIR_C, delta_t,
        HORIZON_DEG, numthreads=1,
    )  # fmt: skip
    return (lifted if air else bare), azimuth


def seconds(act: Callable[[], object]) -> float:
    start = time.perf_counter()
    act()
    return time.perf_counter() - start


def furthest(case: Case, series: SunSeries, air: bool) -> float:
    """Largest angle between the two directions [deg]."""
    (up, around), (other_up, other_around) = ours(case, series, air), theirs(case, air)
    turned = (around - other_around + 180) % 360 - 180
    seen = np.abs(other_up + HORIZON_DEG + 0.26667) > 0.01  # refraction sets in at one height
    return float(np.hypot(up - other_up, turned * np.cos(np.radians(other_up)))[seen].max())


def table(repeats: int) -> Iterator[str]:
    """The lines of the result, as a Markdown table."""
    library = Library()
    series = sun_series(library.rows("sun_terms"), library.rows("delta_t"))
    yield "| positions | air | ours, million/s | pvlib, million/s | times | furthest apart, deg |"
    yield "|---|---|---:|---:|---:|---:|"
    for large, small in zip(cases(COUNT), cases(REFERENCE_COUNT), strict=True):
        for air in (False, True):
            ours(small, series, air)
            theirs(small, air)
            mine, other = [], []
            for _ in range(repeats):
                mine.append(seconds(lambda: ours(large, series, air)))  # noqa: B023
                other.append(seconds(lambda: theirs(small, air)))  # noqa: B023
            pace = COUNT / statistics.median(mine) / 1e6
            reference = REFERENCE_COUNT / statistics.median(other) / 1e6
            far = furthest(small, series, air)
            yield (
                f"| {large[0]} | {'yes' if air else 'no'} | {pace:.1f} | {reference:.3f} "
                f"| {pace / reference:.0f} | {far:.4f} |"
            )
            if pace * 1e6 < WANTED:
                yield f"| below {WANTED / 1e6:g} million a second | | | | | |"


def machine() -> str:
    versions = ", ".join(f"{name} {metadata.version(name)}" for name in ("numpy", "pvlib"))
    return (
        f"{platform.system()} {platform.machine()}, {os.cpu_count()} cores, "
        f"{platform.python_implementation()} {platform.python_version()}, {versions}"
    )


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--repeats", type=int, default=5, help="medians of so many (default: 5)")
    given = parser.parse_args()
    print(f"{machine()}; one thread; medians of {given.repeats}\n", flush=True)
    for line in table(given.repeats):
        print(line, flush=True)


if __name__ == "__main__":
    main()
