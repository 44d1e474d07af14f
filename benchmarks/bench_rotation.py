"""How long a rotation takes: to the first plan, to a proven gap, and how that grows with the beds.

CPU seconds of this process (one thread) beside seconds by the clock. The gardens are invented.
Run: ``.venv/bin/python benchmarks/bench_rotation.py [--write] [--seeds N] [--only NAME]``
"""

from __future__ import annotations

import argparse
import csv
import os
import time
from pathlib import Path

from shared_rotations import Size, garden

from bedwright.planning.rotation.neighbors import nearer
from bedwright.planning.rotation.problem import RotationProblem
from bedwright.planning.rotation.solve import Infeasible, SolveLimits, improve

GROWTH = Path(__file__).parents[1] / "docs" / "growth" / "rotation.csv"
SHARE = 0.01  # of the objective that the second step may cost
CASES = {
    # name: (size, gap looked for, gap allowed, CPU seconds allowed)
    "60 beds x 6 seasons x 20 crops": (Size(60, 3, 20), 0.005, 0.005, 5.0),
    "40 beds x 4 years x 2 turns x 25 crops": (Size(40, 4, 25, True), 0.01, 0.03, 30.0),
    "the same, a third of the crops by area": (Size(40, 4, 25, True, 0.3), 0.01, None, None),
    "60 beds x 6 seasons x 20 crops, all by area": (Size(60, 3, 20, False, 1.0), 0.005, None, None),
}  # fmt: skip
LARGE, LARGE_SECONDS = Size(200, 4, 25, True), 20.0
BEDS = (10, 20, 40, 60, 100, 150, 200)


class Run:
    """One search: what it came to and when."""

    def __init__(self, problem: RotationProblem, gap: float, *, until: float = 0.0) -> None:
        start, clock = time.process_time(), time.perf_counter()
        self.first: tuple[float, float] | None = None
        self.reached: float | None = None
        for step in improve(problem, SolveLimits(gap=gap)):
            if isinstance(step, Infeasible):
                raise SystemExit("the invented garden has no plan")
            self.solution = step.solution
            spent = time.process_time() - start
            if self.first is None:
                self.first = (spent, time.perf_counter() - clock)
            if self.reached is None and step.solution.gap <= until:
                self.reached = spent
        self.cpu, self.clock = time.process_time() - start, time.perf_counter() - clock


def case(name: str, seeds: int) -> bool:
    size, gap, allowed, seconds = CASES[name]
    print(f"\n## {name}\n")
    print("| seed | objective | bound | gap | first plan, CPU s | allowed gap, CPU s | end, CPU s"
          " | end, clock s | nearness before | after | of the objective | CPU s |")  # fmt: skip
    print("|---:" * 12 + "|")
    met = True
    for seed in range(seeds):
        problem = garden(size, seed)
        run = Run(problem, gap, until=allowed or 0.0)
        found = run.solution
        start = time.process_time()
        closer = nearer(problem, found.chosen, found.objective - SHARE * abs(found.objective))
        taken = time.process_time() - start
        assert run.first is not None
        reached = "-" if run.reached is None else f"{run.reached:.1f}"
        print(
            f"| {seed} | {found.objective:.2f} | {found.bound:.2f} | {found.gap:.2%} "
            f"| {run.first[0]:.1f} | {reached} | {run.cpu:.1f} | {run.clock:.1f} "
            f"| {closer.nearness_before:.1f} | {closer.nearness:.1f} "
            f"| {-closer.loss / abs(closer.objective_before):+.2%} | {taken:.1f} |",
            flush=True,
        )
        if seconds is not None:
            met &= run.reached is not None and run.reached <= seconds
    return met


def large() -> bool:
    problem = garden(LARGE)
    start = time.process_time()
    step = next(improve(problem))
    taken = time.process_time() - start
    assert not isinstance(step, Infeasible)
    print(
        f"\n200 beds: a first plan of objective {step.solution.objective:.1f} in {taken:.1f} CPU s"
    )
    return taken <= LARGE_SECONDS


def growth(write: bool) -> None:
    rows = []
    print("\n| beds | options | CPU s | gap |\n|---:|---:|---:|---:|")
    for beds in BEDS:
        problem = garden(Size(beds, 3, 20))
        run = Run(problem, 0.005)
        rows.append((beds, int(problem.allowed.sum()), f"{run.cpu:.2f}", f"{run.solution.gap:.5f}"))
        print("| " + " | ".join(str(each) for each in rows[-1]) + " |", flush=True)
    if write:
        with GROWTH.open("w", encoding="utf-8", newline="") as stream:
            writer = csv.writer(stream, lineterminator="\n")
            writer.writerow(("beds", "options", "seconds", "gap"))
            writer.writerows(rows)


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--seeds", type=int, default=3, help="gardens of each size (default: 3)")
    parser.add_argument("--write", action="store_true", help=f"write {GROWTH.name}")
    parser.add_argument(
        "--only", default="", help="cases whose name holds this; also large, growth"
    )
    given = parser.parse_args()
    print(f"load of the machine (1, 5, 15 minutes): {os.getloadavg()}")
    met = [case(name, given.seeds) for name in CASES if given.only in name]
    if given.only in "large":
        met.append(large())
    if given.only in "growth":
        growth(given.write)
    print(f"\nload of the machine at the end: {os.getloadavg()}")
    if not all(met):
        raise SystemExit("an aim was missed")


if __name__ == "__main__":
    main()
