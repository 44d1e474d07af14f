"""How the time of a reckoning grows with each of its sizes, measured and written to a file."""

from __future__ import annotations

import csv
from collections.abc import Callable, Mapping, Sequence
from pathlib import Path

STEPS = (1, 2, 4)  # the full size divided by these

Size = Mapping[str, int]


def growth(full: Size, seconds: Callable[[Size], float]) -> list[tuple[object, ...]]:
    """Rows of which size grows, all sizes, and seconds: each size in its steps, the others full.

    The last row is that of the full size. Each is printed as soon as it is known.
    """
    rows: list[tuple[object, ...]] = []
    for axis, whole in full.items():
        for step in reversed(STEPS):
            size = {**full, axis: whole // step}
            rows.append((axis, *size.values(), f"{seconds(size):.3f}"))
            print(*rows[-1], flush=True)
    return rows


def settle(rows: Sequence[tuple[object, ...]], full: Size, budget_s: float, path: Path | None
           ) -> None:  # fmt: skip
    """Write the rows where a path is given; end with a fault where the full size is too slow."""
    taken = float(str(rows[-1][-1]))
    print(f"full size: {taken:.3f} s of {budget_s} s allowed")
    if path is not None:
        path.parent.mkdir(parents=True, exist_ok=True)
        with path.open("w", encoding="utf-8", newline="") as stream:
            writer = csv.writer(stream, lineterminator="\n")
            writer.writerow(("grows", *full, "cpu_seconds"))
            writer.writerows(rows)
    if taken > budget_s:
        raise SystemExit("over the budget")
