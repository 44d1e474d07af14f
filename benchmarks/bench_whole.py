"""The blend of a whole garden: time and gap of each stage, ungrouped, and with more beds.

    .venv/bin/python benchmarks/bench_whole.py [--seeds SEED ...] [--growth]

CPU seconds of this process, its second thread's included, beside the seconds by the clock and the
load of the machine, for the clock says little on a machine that has other work.
"""

from __future__ import annotations

import argparse
import csv
import os
import time
from pathlib import Path

import numpy as np
from shared_gardens import garden

from bedwright.feeding import shared
from bedwright.feeding.shared import whole_blend

AIMS = ("money", "phosphorus", "carried")
GROWTH = Path(__file__).parents[1] / "docs" / "growth" / "whole_blend.csv"


def measured(seed: int, aims: tuple[str, ...], seconds: float | None = None, **size: int):
    groups, shed, p2o5 = garden(seed, **size)
    start, wall = time.process_time(), time.perf_counter()
    found = whole_blend(groups, shed, p2o5, aims=aims, seconds=seconds)  # type: ignore[arg-type]
    return found, time.process_time() - start, time.perf_counter() - wall


class FirstStage:
    """Stands before the search for the least money and notes its result and its time."""

    def __init__(self) -> None:
        self._search = shared.least_money
        self.money = self.bound = self.cpu = self.wall = 0.0

    def __call__(self, program, objective, **rest):
        start, wall = time.process_time(), time.perf_counter()
        found = self._search(program, objective, **rest)
        self.cpu, self.wall = time.process_time() - start, time.perf_counter() - wall
        if found is not None and found.columns is not None:
            self.money, self.bound = float(program.prices() @ found.columns), found.bound
        return found


def main() -> None:
    parser = argparse.ArgumentParser()
    parser.add_argument("--seeds", type=int, nargs="*", default=range(10))
    parser.add_argument("--growth", action="store_true")
    given = parser.parse_args()
    one = FirstStage()
    shared.least_money = one  # type: ignore[assignment]
    print("| seed | money | bound | gap | CPU, s | clock, s | load "
          "| all three stages, CPU, s | clock, s | money held |")  # fmt: skip
    print("|---:|---:|---:|---:|---:|---:|---:|---:|---:|---:|")
    times, gaps = [], []
    for seed in given.seeds:
        all_three, cpu, clock = measured(seed, AIMS)
        if all_three is None:
            print(f"| {seed} | none | | | | | | {cpu:.1f} | {clock:.1f} | |")
            continue
        gap = max(0.0, 1 - one.bound / one.money) if one.money else 0.0
        held = all_three.money / one.money - 1 if one.money else 0.0
        times.append(one.cpu)
        gaps.append(gap)
        print(f"| {seed} | {one.money:.2f} | {one.bound:.2f} | {gap:.2%} | {one.cpu:.1f} "
              f"| {one.wall:.1f} | {os.getloadavg()[0]:.1f} | {cpu:.1f} | {clock:.1f} "
              f"| {held:+.2%} {'' if len(all_three.aims) == len(AIMS) else all_three.aims} |",
              flush=True)  # fmt: skip
    if times:
        print(f"\nmedian {np.median(times):.1f} CPU s, {sum(g <= 0.01 for g in gaps)} of "
              f"{len(gaps)} within 1 %")  # fmt: skip
    if not given.growth:
        return
    found, cpu, _ = measured(0, ("money",), 60.0, groups=40)
    print(f"ungrouped, 40 beds in 40 groups: gap {found.gap:.1%} after {cpu:.0f} s"
          if found else "ungrouped: no plan in 60 s")  # fmt: skip
    with GROWTH.open("w", encoding="utf-8", newline="") as file:
        writer = csv.writer(file)
        writer.writerow(("beds", "groups", "seconds", "gap"))
        for beds in (8, 20, 40, 80, 120, 200):
            found, cpu, _ = measured(0, ("money",), 60.0, beds=beds, groups=max(2, beds // 4))
            row = (beds, max(2, beds // 4), round(cpu, 2), round(found.gap, 4) if found else "")
            writer.writerow(row)
            print(*row, flush=True)


if __name__ == "__main__":
    main()
