"""The blend of a whole garden: time and gap of each stage, ungrouped, and with more beds.

    .venv/bin/python benchmarks/bench_whole.py [--seeds SEED ...] [--growth] [--documents]

Two sorts of gardens: garden documents, whose needs bedwright works out from soil reports
(``--documents``), and programs of numbers at random, which are harder than any garden met so far.

CPU seconds of this process, its second thread's included, beside the seconds by the clock and the
load of the machine, for the clock says little on a machine that has other work.
"""

from __future__ import annotations

import argparse
import csv
import itertools
import os
import time
from collections.abc import Sequence
from dataclasses import dataclass, fields
from pathlib import Path

import numpy as np
from document_gardens import AS_OF, KINDS, Kind, garden_document
from shared_gardens import garden

from bedwright.feeding import shared
from bedwright.feeding.shared import whole_blend
from bedwright.reference import Library
from bedwright.season import season_blend

MOST = (6, 4, 3)  # materials in a recipe
AIMS = ("money", "phosphorus", "carried")
GROWTH = Path(__file__).parents[1] / "docs" / "growth" / "whole_blend.csv"
DOCUMENTS = GROWTH.with_name("whole_blend_gardens.csv")
DOCUMENT_GROWTH = GROWTH.with_name("whole_blend_documents.csv")
SIZES = (10, 20, 40, 80, 120, 160, 200)


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

    @property
    def gap(self) -> float:
        return max(0.0, 1 - self.bound / self.money) if self.money else 0.0


@dataclass(frozen=True)
class DocumentRow:
    """What the blend of one garden document took: the first stage, and all of it."""

    garden: str
    most_materials: int
    seed: int
    usable_materials: int
    money: float
    bound: float
    gap: float
    first_cpu_s: float
    first_clock_s: float
    whole_cpu_s: float
    whole_clock_s: float
    money_held: float


def document_row(one: FirstStage, seed: int, kind: Kind, **size: int) -> DocumentRow:
    library = Library()
    document = garden_document(seed, kind, library, **size)
    start, wall = time.process_time(), time.perf_counter()
    found = season_blend(document, library, AS_OF).shared
    cpu, clock = time.process_time() - start, time.perf_counter() - wall
    groups = len(found.prepared.whole)
    if groups != size.get("groups", 10):
        raise ValueError(f"garden {seed} of {kind.name!r} has {groups} recipe groups")
    return DocumentRow(
        garden=kind.name,
        most_materials=document.garden.limits.most_materials or 0,
        seed=seed,
        usable_materials=len(found.prepared.shed.packages),
        money=round(one.money, 2),
        bound=round(one.bound, 2),
        gap=round(one.gap, 4),
        first_cpu_s=round(one.cpu, 1),
        first_clock_s=round(one.wall, 1),
        whole_cpu_s=round(cpu, 1),
        whole_clock_s=round(clock, 1),
        money_held=round(found.money / one.money - 1, 4) + 0.0 if one.money else 0.0,
    )


def documents(one: FirstStage, seeds: Sequence[int]) -> None:
    """Garden documents, 40 beds in 10 groups: every one to a file, each kind as a line here."""
    names = [each.name for each in fields(DocumentRow)]
    with DOCUMENTS.open("w", encoding="utf-8", newline="") as file:
        writer = csv.writer(file, lineterminator="\n")
        writer.writerow(names)
        print("| gardens | most in a recipe | usable materials | stage one, CPU s | clock, s "
              "| largest gap | the whole blend, CPU s | clock, s | money held |")  # fmt: skip
        print("|---|---:|---:|---:|---:|---:|---:|---:|---:|")
        for most, kind in itertools.product(MOST, KINDS):
            rows = []
            for seed in seeds:
                rows.append(document_row(one, seed, kind, most=most))
                writer.writerow([getattr(rows[-1], name) for name in names])
                file.flush()
            print(f"| {kind.name} | {most} | {_spread(rows, 'usable_materials', 'd')} "
                  f"| {_spread(rows, 'first_cpu_s')} | {_spread(rows, 'first_clock_s')} "
                  f"| {max(each.gap for each in rows):.2%} "
                  f"| {_spread(rows, 'whole_cpu_s')} | {_spread(rows, 'whole_clock_s')} "
                  f"| +{max(each.money_held for each in rows):.2%} |", flush=True)  # fmt: skip


def _spread(rows: Sequence[DocumentRow], name: str, places: str = ".1f") -> str:
    values = [getattr(each, name) for each in rows]
    return f"{min(values):{places}} to {max(values):{places}}"


def document_growth(one: FirstStage) -> None:
    """Ungrouped, and from 10 to 200 beds: poor soils and an empty shed, the hardest documents."""
    library, kind = Library(), KINDS[2]
    print("ungrouped, 40 beds in 40 groups:")
    for seed in range(3):
        print(document_row(one, seed, kind, groups=40), flush=True)
    with DOCUMENT_GROWTH.open("w", encoding="utf-8", newline="") as file:
        writer = csv.writer(file, lineterminator="\n")
        writer.writerow(("beds", "groups", "seconds", "gap"))
        for beds in SIZES:
            groups = max(2, beds // 4)
            season_blend(
                garden_document(0, kind, library, beds=beds, groups=groups), library, AS_OF
            )
            row = (beds, groups, round(one.cpu, 2), round(one.gap, 4))
            writer.writerow(row)
            print(*row, flush=True)


def main() -> None:
    parser = argparse.ArgumentParser()
    parser.add_argument("--seeds", type=int, nargs="*", default=range(10))
    parser.add_argument("--growth", action="store_true")
    parser.add_argument("--documents", action="store_true")
    given = parser.parse_args()
    one = FirstStage()
    shared.least_money = one  # type: ignore[assignment]
    if given.documents:
        documents(one, given.seeds)
        if given.growth:
            document_growth(one)
        return
    print("| seed | money | bound | gap | CPU, s | clock, s | load "
          "| all three stages, CPU, s | clock, s | money held |")  # fmt: skip
    print("|---:|---:|---:|---:|---:|---:|---:|---:|---:|---:|")
    times, gaps = [], []
    for seed in given.seeds:
        all_three, cpu, clock = measured(seed, AIMS)
        if all_three is None:
            print(f"| {seed} | none | | | | | | {cpu:.1f} | {clock:.1f} | |")
            continue
        held = all_three.money / one.money - 1 if one.money else 0.0
        times.append(one.cpu)
        gaps.append(one.gap)
        print(f"| {seed} | {one.money:.2f} | {one.bound:.2f} | {one.gap:.2%} | {one.cpu:.1f} "
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
        writer = csv.writer(file, lineterminator="\n")
        writer.writerow(("beds", "groups", "seconds", "gap"))
        for beds in SIZES:
            groups = max(2, beds // 4)
            found, cpu, _ = measured(0, ("money",), 60.0, beds=beds, groups=groups)
            row = (beds, groups, round(cpu, 2), round(found.gap, 4) if found else "")
            writer.writerow(row)
            print(*row, flush=True)


if __name__ == "__main__":
    main()
