"""A comparison worked through: laid out, read, analysed, and what can be said of it."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence

import numpy as np

from bedwright.garden import Document
from bedwright.garden.model_compare import Comparison
from bedwright.journal import Entry
from bedwright.planning.compare.laying import plots_of, power_of
from bedwright.planning.compare.model import Compared, Shown
from bedwright.planning.compare.other_designs import shown_in_beds, shown_of_factors
from bedwright.planning.compare.reading import readings_of, sums_of
from bedwright.planning.compare.told import compared_findings
from bedwright.reference import Library
from bedwright.trials.blocks import compare_in_blocks
from bedwright.trials.paired import compare_pairs
from bedwright.trials.permuted import Randomised, randomised_blocks

_LEVELS = (0.001, 0.5)


def comparisons(
    document: Document, library: Library, entries: Iterable[Entry] = ()
) -> tuple[Compared, ...]:
    """Every comparison of a garden document.

    Parameters
    ----------
    document, library : the garden, and the tables under its own facts
    entries : of the journal, for comparisons whose results are its pickings

    The order of ``entries`` does not matter.
    """
    held = sorted(entries, key=lambda each: (each.on, str(each.id)))
    return tuple(
        _compared(document, library, at, held) for at in range(len(document.garden.comparison))
    )


def _compared(document: Document, library: Library, at: int, entries: Sequence[Entry]) -> Compared:
    stated = document.garden.comparison[at]
    plots = plots_of(document, stated)
    usual = library.parameter("plot_variation", "-").value
    spread = usual if stated.spread is None else stated.spread.si
    level = _level(stated)
    readings = readings_of(document, library, at, plots, entries)
    sums, evened = sums_of(stated, plots, readings)
    shown = _shown(stated, sums, level)
    power = power_of(stated, spread, level)
    findings = compared_findings(document, stated, plots, power, spread, readings, shown, evened)
    return Compared(
        stated, library.crop(document.key("comparison", at, "crop"))["name"], plots, spread,
        stated.spread is not None, power, readings, sums, evened, shown, findings,
    )  # fmt: skip


def _level(stated: Comparison) -> float:
    return float(np.clip(round(1 - stated.confidence.si, 9), *_LEVELS))


def _shown(stated: Comparison, sums: Mapping[tuple[int, str], float], level: float) -> Shown | None:
    if stated.beds:
        return shown_in_beds(stated, sums, level)
    if stated.factors:
        return shown_of_factors(stated, sums, level)
    whole = [
        block
        for block in range(1, len(stated.blocks) + 1)
        if all((block, way) in sums for way in stated.ways)
    ]
    if not whole:
        return None
    values = np.array([[sums[block, way] for way in stated.ways] for block in whole])
    means = tuple(float(each) for each in values.mean(axis=0))
    rows = tuple(tuple(float(each) for each in row) for row in values)
    paired = in_blocks = None
    randomised: Randomised | None = None
    if len(whole) > 1:
        seed = stated.seed or 0
        try:
            if len(stated.ways) == 2:
                paired = compare_pairs(values[:, 0], values[:, 1], confidence=1 - level)
                randomised = Randomised(paired.p_signs, True, 2 ** len(whole))
            else:
                in_blocks = compare_in_blocks(values, level=level)
                randomised = randomised_blocks(values, seed=seed)
        except ValueError:  # no spread at all: nothing to judge by, and told so
            paired = in_blocks = randomised = None
    by_way = tuple(zip(*rows, strict=True))
    return Shown(tuple(whole), rows, means, paired, in_blocks, randomised, by_way)
