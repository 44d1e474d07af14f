"""Water per second: the daily balance and reference evapotranspiration, beside the reference
libraries on the same inputs in the same run.

CPU seconds of single calls, medians of repeats that take turns; one thread each, so that on a
quiet machine they are wall seconds too, and on a busy one what it would take but for waiting.
Run: ``.venv/bin/python benchmarks/bench_water.py [--repeats N] [--growth]``; ``--growth`` writes
docs/growth/water.csv.
"""

from __future__ import annotations

import argparse
import csv
import os
import platform
import statistics
import sys
import time
import tracemalloc
import warnings
from collections.abc import Callable
from importlib import metadata
from pathlib import Path
from typing import Any

import numpy as np

ROOT = Path(__file__).parents[1]
sys.path.insert(0, str(ROOT / "tests" / "outside"))
sys.path.insert(0, str(ROOT / "tests" / "water"))
import cotton_season as cotton  # noqa: E402
from bed_seasons import plain_balance  # noqa: E402

from bedwright.climate import day_length as sun  # noqa: E402
from bedwright.water.balance import Balance, daily_balance  # noqa: E402
from bedwright.water.beds import BedDays, Ground, Start  # noqa: E402
from bedwright.water.coefficients import Stages  # noqa: E402
from bedwright.water.crop_water import Plants, SeasonWeather, crop_days  # noqa: E402
from bedwright.water.evapotranspiration import reference_evapotranspiration  # noqa: E402
from bedwright.water.root_zone import BedLayers  # noqa: E402
from bedwright.water.weather import SubstituteErrors, Weather  # noqa: E402

DAYS = 365
GARDEN = (40, 30)  # beds, years
WANTED = 20_000_000  # bed-days a second on 1,000 beds or more
WANTED_GARDEN_S = 0.3
GROWTH = (1, 3, 10, 30, 100, 300, 1000, 3000, 10_000)
ERRORS = SubstituteErrors(0.0, 0.0, 0.0, 0.0)


def seconds(act: Callable[[], object]) -> float:
    start = time.process_time()
    act()
    return time.process_time() - start


def taking_turns(acts: dict[str, Callable[[], object]], repeats: int) -> dict[str, list[float]]:
    """Seconds of each, after one round that doesn't count."""
    for act in acts.values():
        act()
    found: dict[str, list[float]] = {name: [] for name in acts}
    for _ in range(repeats):
        for name, act in acts.items():
            found[name].append(seconds(act))
    return found


def said(name: str, times: list[float], count: int, unit: str) -> str:
    middle = statistics.median(times)
    return (
        f"| {name} | {len(times)} | {1000 * middle:,.2f} | {1000 * min(times):,.2f} to "
        f"{1000 * max(times):,.2f} | {count / middle:,.0f} {unit} |"
    )


# The balance ------------------------------------------------------------------------------------


def made_up(beds: int, days: int = DAYS) -> dict[str, Any]:
    """A season of unlike beds: each its own crop, stages, soil, drip, rain and days of watering."""
    dice = np.random.default_rng(2026)
    ends = np.cumsum(
        [dice.uniform(low, high, beds) for low, high in ((10, 30), (20, 40), (20, 60), (10, 30))],
        axis=0,
    )
    rain = np.where(dice.random((days, beds)) < 0.08, dice.exponential(0.006, (days, beds)), 0.0)
    weather = SeasonWeather(
        dice.uniform(0.002, 0.010, (days, beds)),
        rain,
        dice.uniform(1, 5, (days, beds)),
        dice.uniform(15, 60, (days, beds)),
    )
    plants = Plants(
        (0.15, dice.uniform(0.9, 1.15, beds), dice.uniform(0.5, 0.9, beds)),
        (0.05, dice.uniform(0.3, 1.5, beds)),
        (0.2, dice.uniform(0.3, 0.9, beds)),
    )
    layers = BedLayers(
        dice.uniform(0.11, 0.19, beds),
        depth_m=dice.uniform(0.25, 0.6, beds),
        below=np.where(dice.random(beds) < 0.5, 0.0, 0.15),
    )
    ground = Ground(0.022, 0.009, dice.uniform(0.2, 0.6, beds), dice.uniform(0.3, 0.8, beds), 1.0)
    water = np.where(dice.random((days, beds)) < 0.4, dice.uniform(0.003, 0.015, (days, beds)), 0.0)
    return {
        "season": (np.arange(days), Stages(*ends), plants, layers, weather),
        "ground": ground,
        "start": Start(0.0, 0.0),
        "irrigation": water,
    }


def worked(case: dict[str, Any], days: BedDays) -> Balance:
    return daily_balance(days, case["ground"], case["start"], case["irrigation"], timing="early")


def furthest(case: dict[str, Any], days: BedDays, result: Balance, beds: int) -> float:
    """Largest difference from the plain loop over some beds [m]."""
    given = case | {
        "days": days, "timing": "early", "fixed_depletion_share": False,
        "rain_outranks_drip": True,
    }  # fmt: skip
    most = 0.0
    for bed in range(beds):
        plain = plain_balance(given, bed)
        for name, field in (("crop", "transpiration_m"), ("depletion", "depletion_m")):
            most = max(most, float(np.abs(getattr(result, field)[:, bed] - plain[name]).max()))
    return most


def of_memory(act: Callable[[], object]) -> float:
    """Peak of new memory [MB]."""
    tracemalloc.start()
    act()
    peak = tracemalloc.get_traced_memory()[1]
    tracemalloc.stop()
    return peak / 1e6


def balances(repeats: int) -> None:
    print("\nDaily balance, 365 days\n")
    print("| what | n | median ms | range | per second |")
    print("|---|---|---|---|---|")
    for beds in (1000, 2000, 4000, 10_000):
        case = made_up(beds)
        days = crop_days(*case["season"])
        times = taking_turns(
            {
                "balance": lambda case=case, days=days: worked(case, days),
                "coefficients and balance": lambda case=case: worked(
                    case, crop_days(*case["season"])
                ),
            },
            repeats,
        )
        for name, each in times.items():
            print(said(f"{name}, {beds} unlike beds", each, beds * DAYS, "bed-days"))
    beds, years = GARDEN
    case = made_up(beds * years)
    days = crop_days(*case["season"])
    result = worked(case, days)
    whole = lambda: worked(case, crop_days(*case["season"]))  # noqa: E731
    times = taking_turns({"garden": whole}, repeats)["garden"]
    print(said(f"{beds} beds x {years} years, all of it", times, beds * years * DAYS, "bed-days"))
    print(
        f"\n{beds} beds x {years} years under {WANTED_GARDEN_S} s: "
        f"{statistics.median(times) < WANTED_GARDEN_S}; memory at its most "
        f"{of_memory(whole):,.0f} MB; largest daily residual "
        f"{np.abs(result.residual_m(days)).max():.1e} m; largest difference from a plain loop "
        f"over 5 beds {furthest(case, days, result, 5):.1e} m"
    )


def beside_the_library(repeats: int) -> None:
    """The cotton season of 2013: the library's run, a plain loop, ours for one bed and for many."""
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        import pyfao56 as fao

        parameters = fao.Parameters(
            Kcbini=0.15, Kcbmid=1.20, Kcbend=0.573, Lini=31, Ldev=52, Lmid=50, Lend=21, hini=0.05,
            hmax=1.20, thetaFC=0.225, thetaWP=0.100, theta0=0.100, Zrini=0.60, Zrmax=1.70,
            pbase=0.65, Ze=0.1143, REW=9.0,
        )  # fmt: skip
        weather, water = fao.Weather(), fao.Irrigation()
        weather.loadfile(str(cotton.FOLDER / "cotton2013.wth"))
        water.loadfile(str(cotton.FOLDER / "cottonwet2013.irr"))
        model = fao.Model(cotton.FIRST, cotton.LAST, parameters, weather, irr=water)
        model.run()
    days, ground, start, depth = cotton.season("wet")
    count = len(depth)
    late = {"timing": "late", "rain_outranks_drip": False}
    plain = {
        "days": days, "ground": ground, "start": start, "irrigation": depth,
        "fixed_depletion_share": False,
    } | late  # fmt: skip
    beds = 2000
    spread = BedDays(**{
        name: np.repeat(each, beds, axis=1) for name, each in vars(days).items() if each is not None
    })  # fmt: skip
    wide = np.repeat(depth, beds, axis=1)
    acts: dict[str, Callable[[], object]] = {
        "pyfao56 Model.run()": model.run,
        "plain Python loop": lambda: plain_balance(plain, 0),
        "ours, 1 bed": lambda: daily_balance(days, ground, start, depth, **late),
        f"ours, {beds} beds": lambda: daily_balance(spread, ground, start, wide, **late),
    }
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        times = taking_turns(acts, repeats)
    print("\nCotton 2013, 200 days, water late in the day\n")
    print("| what | n | median ms | range | per second |")
    print("|---|---|---|---|---|")
    for name, each in times.items():
        print(
            said(name, each, count * (beds if name.startswith(f"ours, {beds}") else 1), "bed-days")
        )
    table = model.odata.loc[:, ~model.odata.columns.duplicated()]
    ours = daily_balance(days, ground, start, depth, **late)
    off = np.abs(1000 * ours.depletion_m[:, 0] - table["Dr"].to_numpy(dtype=float)).max()
    print(f"\nlargest difference of the daily depletion from pyfao56: {off:.1e} mm")


# Reference evapotranspiration -------------------------------------------------------------------


def plain_numpy(
    warm: np.ndarray, cool: np.ndarray, dew: np.ndarray, wind: np.ndarray, rs: np.ndarray,
    ra: np.ndarray, elevation: float,
) -> np.ndarray:  # fmt: skip
    """FAO-56 equation 6 as one would write it, in millimeters."""

    def saturation(air: np.ndarray) -> np.ndarray:
        return 0.6108 * np.exp(17.27 * air / (air + 237.3))

    mean = (warm + cool) / 2
    full, vapor = (saturation(warm) + saturation(cool)) / 2, saturation(dew)
    slope = 4098 * saturation(mean) / (mean + 237.3) ** 2
    constant = 0.665e-3 * 101.3 * ((293 - 0.0065 * elevation) / 293) ** 5.26
    clear = (0.75 + 2e-5 * elevation) * ra
    heat = 4.903e-9 * ((warm + 273.16) ** 4 + (cool + 273.16) ** 4) / 2
    lost = heat * (0.34 - 0.14 * np.sqrt(vapor)) * (1.35 * np.minimum(rs / clear, 1) - 0.35)
    wind = np.maximum(wind, 0.5)
    up = 0.408 * slope * (0.77 * rs - lost) + constant * 900 / (mean + 273) * wind * (full - vapor)
    return up / (slope + constant * (1 + 0.34 * wind))


def evapotranspiration(repeats: int) -> None:
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        import pandas
        import pyet
    print("\nReference evapotranspiration, all measured\n")
    print("| what | n | median ms | range | per second |")
    print("|---|---|---|---|---|")
    for count in (365, 6_575, 100_000):
        dice = np.random.default_rng(1)
        cool = dice.uniform(0, 20, count)
        warm, dew = cool + dice.uniform(5, 20, count), cool - 2
        wind = dice.uniform(0.5, 5, count)
        ra = sun.extraterrestrial_radiation_fao56(46.0, np.arange(count) % 365 + 1.0)
        rs = ra * dice.uniform(0.25, 0.75, count)
        weather = Weather(
            warm, cool, ra, rs, 180.0, 2.0, radiation_mj_m2=rs, dew_point_c=dew, wind_m_s=wind
        )
        dates = pandas.date_range("1900-01-01", periods=count)
        series = [pandas.Series(each, index=dates) for each in
                  ((warm + cool) / 2, wind, rs, warm, cool)]  # fmt: skip
        acts: dict[str, Callable[[], object]] = {
            "plain numpy formula": lambda g=(warm, cool, dew, wind, rs, ra, 180.0): plain_numpy(*g),
            "ours": lambda w=weather: reference_evapotranspiration(w, ERRORS),
            "pyet pm_fao56": lambda s=series: pyet.pm_fao56(
                s[0], s[1], rs=s[2], elevation=180.0, lat=np.radians(46.0), tmax=s[3], tmin=s[4]
            ),
        }
        rounds = max(1, 20_000 // count)

        def several(act: Callable[[], object], rounds: int = rounds) -> Callable[[], object]:
            return lambda: [act() for _ in range(rounds)]

        many = {
            name: act if name.startswith("pyet") else several(act) for name, act in acts.items()
        }
        with warnings.catch_warnings():
            warnings.simplefilter("ignore")
            times = taking_turns(many, repeats)
        each = {
            name: [t / (1 if name.startswith("pyet") else rounds) for t in values]
            for name, values in times.items()
        }
        for name, values in each.items():
            print(said(f"{name}, {count:,} days", values, count, "days"))
        share = statistics.median(each["ours"]) / statistics.median(each["plain numpy formula"])
        print(f"| ours over the plain formula, {count:,} days | | | | {share:.2f} of its time |")


def growth(repeats: int) -> None:
    """Seconds, rate and memory of a season from 1 to 10,000 beds, into docs/growth/water.csv."""
    rows = []
    for beds in GROWTH:
        case = made_up(beds)
        days = crop_days(*case["season"])
        times = taking_turns(
            {
                "balance": lambda case=case, days=days: worked(case, days),
                "all": lambda case=case: worked(case, crop_days(*case["season"])),
            },
            repeats,
        )
        balance, whole = (statistics.median(times[name]) for name in ("balance", "all"))
        memory = of_memory(lambda case=case: worked(case, crop_days(*case["season"])))
        rows.append((beds, f"{balance:.5f}", f"{whole:.5f}", round(beds * DAYS / balance),
                     round(beds * DAYS / whole), f"{memory:.1f}"))  # fmt: skip
        print(*rows[-1])
    path = ROOT / "docs" / "growth" / "water.csv"
    with path.open("w", encoding="utf-8", newline="") as file:
        writer = csv.writer(file, lineterminator="\n")
        writer.writerow(("beds", "balance_s", "all_s", "balance_bed_days_per_s",
                         "all_bed_days_per_s", "memory_mb"))  # fmt: skip
        writer.writerows(rows)


def main() -> None:
    reader = argparse.ArgumentParser(description=__doc__)
    reader.add_argument("--repeats", type=int, default=9)
    reader.add_argument("--growth", action="store_true")
    asked = reader.parse_args()
    versions = ", ".join(
        f"{name} {metadata.version(name)}" for name in ("numpy", "pyfao56", "pyet", "pandas")
    )
    print(f"Python {platform.python_version()}, {versions}; {os.cpu_count()} cores, load "
          f"{os.getloadavg()[0]:.2f}; wanted: {WANTED:,} bed-days a second")  # fmt: skip
    if asked.growth:
        growth(asked.repeats)
        return
    balances(asked.repeats)
    beside_the_library(asked.repeats)
    evapotranspiration(asked.repeats)


if __name__ == "__main__":
    main()
