"""The analysis of designs other than complete blocks of ways: whole beds, and factors."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

import numpy as np

from bedwright.garden.model_compare import Comparison
from bedwright.planning.compare.model import Shown
from bedwright.trials.factorial import FactorialComparison, compare_factorial
from bedwright.trials.permuted import Randomised
from bedwright.trials.unblocked import GroupComparison, compare_groups, randomised_groups

Sums = Mapping[tuple[int, str], float]


def shown_in_beds(stated: Comparison, sums: Sums, level: float) -> Shown | None:
    """The analysis of beds without blocks: those that were measured; None for no whole trial.

    A way of which no bed was measured leaves nothing to compare.
    """
    by_way = tuple(
        tuple(float(value) for (_bed, way), value in sorted(sums.items()) if way == one)
        for one in stated.ways
    )
    if not all(by_way):
        return None
    made: GroupComparison | None = None
    randomised: Randomised | None = None
    try:
        made = compare_groups(by_way, level=level)
        randomised = randomised_groups(by_way, seed=stated.seed or 0)
    except ValueError:  # no spread, or as few beds as ways: nothing to judge by, and told so
        made = None
    measured = tuple(sorted(bed for bed, _way in sums))
    return Shown(measured, (), _means(by_way), None, None, randomised, by_way, made)


def shown_of_factors(stated: Comparison, sums: Sums, level: float) -> Shown | None:
    """The analysis of factors in the blocks that are whole; None without one."""
    ways = stated.every_way
    held = {
        block: [at for at, way in enumerate(ways) if (block, way) in sums]
        for block in range(1, len(stated.blocks) + 1)
    }
    whole = [block for block, places in held.items() if len(places) == stated.block_size]
    if not whole:
        return None
    combinations = np.array([held[block] for block in whole])
    values = np.array([[sums[block, ways[at]] for at in held[block]] for block in whole])
    by_way = tuple(
        tuple(float(sums[block, way]) for block in whole if (block, way) in sums) for way in ways
    )
    made: FactorialComparison | None = None
    try:
        made = compare_factorial(
            values, combinations, len(stated.factors), level=level, seed=stated.seed or 0
        )
    except ValueError:  # no spread, or too few blocks or one half alone: told so
        made = None
    rows = tuple(tuple(float(each) for each in row) for row in values)
    means = () if stated.halves else _means(by_way)
    return Shown(tuple(whole), rows, means, None, None, None, by_way, None, made)


def _means(by_way: Sequence[Sequence[float]]) -> tuple[float, ...]:
    return tuple(float(np.mean(each)) for each in by_way)
