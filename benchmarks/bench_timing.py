"""How long the dates of a garden take: crops x candidate dates x years, with every outcome.

CPU seconds, medians of repeats. The weather is invented: a hot inland year with noise.
Run: ``.venv/bin/python benchmarks/bench_timing.py [--write]``
"""

from __future__ import annotations

import argparse
import statistics
import time
from pathlib import Path

import numpy as np
from growing import growth, settle

from bedwright.crops.choice import Limits, best_date, shifted
from bedwright.crops.fruit_set import SetResponse, set_score
from bedwright.crops.summary import DateSummary, stacked, summary
from bedwright.crops.timing_tables import TimingTables
from bedwright.crops.windows import Crop, Weather, planting_outcomes
from bedwright.reference import Library

GROWTH = Path(__file__).parents[1] / "docs" / "growth" / "timing.csv"
FULL = {"crops": 60, "dates": 60, "years": 50}
STEP_DAYS, FIRST, TURN, YEAR = 5, 45, 200, 365
BUDGET_S = 2.0


def weather(years: int) -> Weather:
    """So many years, and one more in which the last plantings end."""
    days = np.arange((years + 2) * YEAR)
    noise = np.random.default_rng(7).normal(0.0, 3.5, days.size)
    mean = 11.5 - 13.5 * np.cos(2 * np.pi * (days - 20) / YEAR) + noise
    soil = 12.5 - 12.0 * np.cos(2 * np.pi * (days - 28) / YEAR)
    light = 12.2 - 3.4 * np.cos(2 * np.pi * (days + 10) / YEAR)
    return Weather(mean + 8.5, mean - 8.0, soil, day_length_h=light)


def crops(count: int) -> list[tuple[Crop, tuple[SetResponse, ...], str]]:
    """The crops of the table, over again until there are so many."""
    library = Library()
    names = "crop_timing crop_habits emergence fruit_set_responses protection"
    tables = TimingTables.of(*(library.rows(name) for name in names.split()))
    keys = tables.crops()
    chosen = [keys[at % len(keys)] for at in range(count)]
    return [(tables.crop(key), tables.responses(key), key) for key in chosen]


def run(record: Weather, wanted: list[tuple[Crop, tuple[SetResponse, ...], str]], dates: int,
        years: int) -> DateSummary:  # fmt: skip
    """Everything that the dates page needs of the engine."""
    offsets = FIRST + STEP_DAYS * np.arange(dates)
    starts = offsets[:, None] + YEAR * np.arange(years)[None, :]
    turns = TURN + YEAR * np.arange(years)
    made = []
    for crop, responses, _ in wanted:
        score = (
            set_score(responses, record.t_max_c, record.t_min_c, t_mean_c=record.mean_c)
            if responses
            else None
        )
        made.append(summary(planting_outcomes(record, crop, score, starts, turns), starts))
        choice = best_date(made[-1], Limits(), offsets)
        if choice.at is not None:
            for days in (-7, 7):
                shifted(made[-1], choice.at, offsets, days)
    return stacked(made)


def seconds(size: dict[str, int], repeats: int) -> float:
    record, wanted = weather(size["years"]), crops(size["crops"])
    taken = []
    for _ in range(repeats):
        start = time.process_time()
        run(record, wanted, size["dates"], size["years"])
        taken.append(time.process_time() - start)
    return statistics.median(taken)


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--repeats", type=int, default=3, help="medians of so many (default: 3)")
    parser.add_argument("--write", action="store_true", help=f"write {GROWTH.name}")
    given = parser.parse_args()
    rows = growth(FULL, lambda size: seconds(dict(size), given.repeats))
    settle(rows, FULL, BUDGET_S, GROWTH if given.write else None)


if __name__ == "__main__":
    main()
