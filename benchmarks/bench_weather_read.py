"""How long reading and checking a 100-year record takes, per format, and how much memory.

CPU seconds (user and system) and the peak of memory that Python and numpy allot while reading.
Run: ``.venv/bin/python benchmarks/bench_weather_read.py``
"""

from __future__ import annotations

import argparse
import statistics
import time
import tracemalloc
from collections.abc import Callable

import numpy as np

from bedwright.climate.checks import checked
from bedwright.climate.faults import WeatherError
from bedwright.climate.formats import read_weather
from bedwright.climate.limits import weather_limits
from bedwright.reference import Library

FIRST, LAST = np.datetime64("1921-01-01"), np.datetime64("2021-01-01")
STATION = "USC00000000"
ELEMENTS = ("TMAX", "TMIN", "PRCP", "SNOW", "SNWD", "TOBS")  # what a cooperative station has


def columns() -> tuple[np.ndarray, dict[str, np.ndarray]]:
    """Days and invented tenths of each element, some missing."""
    days = np.arange(FIRST, LAST)
    dice = np.random.default_rng(4)
    wave = 100 - 140 * np.cos(np.arange(len(days)) * 2 * np.pi / 365.25)
    values = {
        name: np.rint(wave + dice.normal(at * -40, 40, len(days))).astype(int)
        for at, name in enumerate(ELEMENTS)
    }
    values["TMIN"] = np.minimum(values["TMIN"], values["TMAX"] - 10)
    values["PRCP"] = np.where(dice.random(len(days)) < 0.3, dice.integers(1, 300, len(days)), 0)
    for each in values.values():
        each[dice.random(len(days)) < 0.01] = -9999
    return days, values


def dly(days: np.ndarray, values: dict[str, np.ndarray]) -> bytes:
    months = days.astype("datetime64[M]")
    starts = np.flatnonzero(np.concatenate(([True], months[1:] != months[:-1])))
    lines = []
    for start, stop in zip(starts, [*starts[1:], len(days)], strict=True):
        head = f"{STATION}{str(months[start]).replace('-', '')}"
        for name, each in values.items():
            groups = "".join(f"{value:5d}  0" for value in each[start:stop])
            lines.append(f"{head}{name}{groups}" + "-9999   " * (31 - (stop - start)))
    return "\n".join(lines).encode()


def by_station(days: np.ndarray, values: dict[str, np.ndarray]) -> bytes:
    return "\n".join(
        f"{STATION},{str(day).replace('-', '')},{name},{each[at]},,,0,0700"
        for at, day in enumerate(days)
        for name, each in values.items()
        if each[at] != -9999
    ).encode()


def access(days: np.ndarray, values: dict[str, np.ndarray]) -> bytes:
    head = ["STATION", "DATE", "LATITUDE", "LONGITUDE", "ELEVATION", "NAME"]
    for name in values:
        head += [name, f"{name}_ATTRIBUTES"]
    lines = [",".join(f'"{each}"' for each in head)]
    for at, day in enumerate(days):
        cells = f'"{STATION}","{day}","46.1","-118.3","180.0","INVENTED, WA US"'
        for each in values.values():
            cells += f',"{each[at]:5d}",",,0,0700"' if each[at] != -9999 else ",,"
        lines.append(cells)
    return "\n".join(lines).encode()


def named(days: np.ndarray, values: dict[str, np.ndarray]) -> bytes:
    lines = ["date,t_max [C],t_min [C],rain [mm]"]
    for at, day in enumerate(days):
        shown = (
            "" if values[name][at] == -9999 else f"{values[name][at] / 10:.1f}"
            for name in ("TMAX", "TMIN", "PRCP")
        )
        lines.append(f"{day},{','.join(shown)}")
    return "\n".join(lines).encode()


def hourly(days: np.ndarray, values: dict[str, np.ndarray]) -> bytes:
    """Twenty years of hours."""
    lines = ["time,temperature [C],rain [mm]"]
    for day in days[: 20 * 365]:
        lines += [f"{day} {hour:02d}:00,{hour / 2:.1f},0.0" for hour in range(24)]
    return "\n".join(lines).encode()


def broken(days: np.ndarray, values: dict[str, np.ndarray]) -> bytes:
    return b"date,t_max [C],t_min [C]\n" + b"?;nothing;;\n" * 200_000


def cpu(act: Callable[[], object]) -> float:
    start = time.process_time()
    act()
    return time.process_time() - start


def peak_mb(act: Callable[[], object]) -> float:
    tracemalloc.start()
    act()
    _, peak = tracemalloc.get_traced_memory()
    tracemalloc.stop()
    return peak / 1e6


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--repeats", type=int, default=5, help="medians of so many (default: 5)")
    repeats = parser.parse_args().repeats
    limits = weather_limits(Library().rows("weather_limits"))
    days, values = columns()
    print("| file | MB | read, s | check, s | peak memory while reading, MB |")
    print("|---|---:|---:|---:|---:|")
    for what, made in (
        ("100 years, GHCN-Daily .dly", dly),
        ("100 years, by-station CSV", by_station),
        ("100 years, daily summaries", access),
        ("100 years, named columns", named),
        ("20 years of hours", hourly),
        ("200,000 broken lines", broken),
    ):
        data = made(days, values)

        def read(data: bytes = data) -> object:
            try:
                return read_weather(data, "bench", limits)
            except WeatherError as error:
                return error

        found = read()
        taken = statistics.median(cpu(read) for _ in range(repeats))
        check = float("nan")
        if not isinstance(found, WeatherError):
            record = found.record  # type: ignore[attr-defined]
            check = statistics.median(
                cpu(lambda r=record: checked(r, limits)) for _ in range(repeats)
            )
        print(
            f"| {what} | {len(data) / 1e6:.1f} | {taken:.3f} | {check:.3f} | {peak_mb(read):.0f} |"
        )


if __name__ == "__main__":
    main()
