"""Draws docs/growth/*.svg from the CSV files that the benchmarks leave in docs/growth.

Writes what it can and says what is missing; exits 1 if a file or a column is not there.
"""

from __future__ import annotations

import csv
import sys
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path

from bedwright.charts.curve_chart import growth_chart
from bedwright.charts.export import write_charts
from bedwright.charts.theme import Spec
from bedwright.reports.words_charts import CHART_WORDS

FOLDER = Path(__file__).resolve().parent.parent / "docs" / "growth"


@dataclass(frozen=True)
class Plot:
    """One plot: its file, its columns, its words; ``only`` keeps the rows with these entries."""

    name: str
    file: str
    x: str
    y: str
    title: str
    below: str
    words_x: str
    words_y: str
    series: str | None = None
    only: tuple[tuple[str, str], ...] = ()


PLOTS = (
    Plot("whole_blend", "whole_blend.csv", "beds", "seconds",
         "Time for one blend of the whole garden.",
         "Seconds, by the number of beds.", "beds", "seconds"),
    Plot("whole_blend_documents", "whole_blend_documents.csv", "beds", "seconds",
         "Time for one blend of the whole garden, from garden documents.",
         "Seconds, by the number of beds.", "beds", "seconds"),
    *(
        Plot(f"timing_{each}", "timing.csv", each, "cpu_seconds",
             f"Time for the dates of a garden as its {each} grow.",
             f"Seconds of one core, by the number of {each}.", each, "seconds",
             only=(("grows", each),))
        for each in ("crops", "dates", "years")
    ),
    Plot("light", "light.csv", "beds", "cpu_seconds",
         "Time for a season of light on a garden as its beds grow.",
         "Seconds of one core, by the number of beds.", "beds", "seconds",
         only=(("grows", "beds"),)),
    Plot("rotation", "rotation.csv", "beds", "seconds",
         "Time for the years ahead of a garden as its beds grow.",
         "Seconds of one core, by the number of beds.", "beds", "seconds"),
    Plot("water", "water.csv", "beds", "all_s",
         "Time for a year's daily water balance as the beds grow.",
         "Seconds of one core, by the number of beds.", "beds", "seconds"),
)  # fmt: skip


def drawn(plot: Plot) -> Spec:
    """The chart of one plot. Raises LookupError or ValueError with what is missing."""
    path = FOLDER / plot.file
    if not path.is_file():
        raise LookupError(f"docs/growth/{plot.file} is not there: run its benchmark first")
    with path.open(encoding="utf-8", newline="") as stream:
        rows: list[Mapping[str, str]] = [
            row for row in csv.DictReader(stream) if all(row.get(k) == v for k, v in plot.only)
        ]
    if not rows:
        raise LookupError(f"docs/growth/{plot.file} has no row for {plot.name}")
    words = CHART_WORDS | {"title": plot.title, "below": plot.below, "x": plot.words_x,
                           "y": plot.words_y}  # fmt: skip
    return growth_chart(rows, plot.x, plot.y, words, series=plot.series)


def main() -> int:
    """Draw all plots; the exit code."""
    charts, missing = {}, []
    for plot in PLOTS:
        try:
            charts[plot.name] = drawn(plot)
        except (LookupError, ValueError) as error:
            missing.append(f"{plot.name}: {error.args[0]}")
    for path in write_charts(charts, FOLDER / "plots"):
        print(path)
    print("".join(f"{each}\n" for each in missing), end="", file=sys.stderr)
    return 1 if missing else 0


if __name__ == "__main__":
    sys.exit(main())
