"""Where each way lies, and what such a trial can show before anything is sown."""

from __future__ import annotations

from collections.abc import Sequence

from bedwright.garden import Document
from bedwright.garden.model_compare import Comparison
from bedwright.planning.compare.model import Plot, Power
from bedwright.trials.design import drawn_order
from bedwright.trials.factorial_design import (
    degrees_of_error,
    drawn_halves,
    least_p_of_factorial,
)
from bedwright.trials.shown import contrast_shown, difference_shown, least_p_of_blocks
from bedwright.trials.unblocked import drawn_over, least_p_of_groups

_ALSO = (4, 6, 8, 12)  # numbers of blocks that are shown beside the one stated: judgement


def plots_of(document: Document, stated: Comparison) -> tuple[Plot, ...]:
    """The plots of a comparison, block by block as they lie; without blocks bed by bed.

    The order is drawn from the stated seed, so that the same document gives the same order; one
    that is stated as ``laid`` stands.
    """
    areas = {bed.id: bed.area_m2 for bed in document.garden.bed}
    if stated.beds:
        return tuple(
            Plot(at, 1, bed, None, 1, way, areas[bed])
            for at, (bed, way) in enumerate(zip(stated.beds, _over_beds(stated), strict=True), 1)
        )
    laid = stated.laid or _drawn(stated)
    strips = {block[0]: 0 for block in stated.blocks if len(block) == 1}
    for block in stated.blocks:
        if len(block) == 1:
            strips[block[0]] += stated.block_size
    used = dict.fromkeys(strips, 0)
    found = []
    for at, (block, order) in enumerate(zip(stated.blocks, laid, strict=True), 1):
        for place, way in enumerate(order, 1):
            if len(block) == 1:
                bed = block[0]
                used[bed] += 1
                found.append(
                    Plot(at, place, bed, used[bed], strips[bed], way, areas[bed] / strips[bed])
                )
            else:
                bed = block[place - 1]
                found.append(Plot(at, place, bed, None, 1, way, areas[bed]))
    return tuple(found)


def _drawn(stated: Comparison) -> list[list[str]]:
    assert stated.seed is not None
    ways, blocks = stated.every_way, len(stated.blocks)
    if stated.halves:
        drawn = drawn_halves(blocks, len(stated.factors), stated.seed)
    else:
        # a single block is drawn as the first of two: the drawing wants blocks
        drawn = drawn_order(max(2, blocks), len(ways), stated.seed)[:blocks]
    return [[ways[way] for way in row] for row in drawn]


def _over_beds(stated: Comparison) -> Sequence[str]:
    if stated.laid is not None:
        return stated.laid[0]
    assert stated.seed is not None
    return [stated.ways[way] for way in drawn_over(stated.times_each, stated.seed)]


def power_of(stated: Comparison, spread: float, level: float) -> tuple[Power, ...]:
    """What this trial can show, and what some larger ones could.

    Two ways in blocks by the paired t; of more ways it is that of any two of them, as if alone.
    Without blocks it is that of the two ways with the fewest beds, by the pooled t; of factors
    that of each of them, by the error of the whole.
    """
    if stated.beds:
        return _of_beds(stated.times_each, spread, level)
    if stated.factors:
        return _of_factors(stated, spread, level)
    blocks, ways = len(stated.blocks), len(stated.ways)
    found = []
    for count in sorted({blocks, *(each for each in _ALSO if each > blocks)}):
        difference = None if count < 2 else difference_shown(count, spread, level=level)
        found.append(Power(count, difference, least_p_of_blocks(count, ways)))
    return tuple(found)


def _of_beds(times: Sequence[int], spread: float, level: float) -> tuple[Power, ...]:
    fewest = min(times)
    found = []
    for each in (times, *([n] * len(times) for n in _ALSO if n > fewest and n > max(times))):
        one, other = sorted(each)[:2]
        degrees = sum(each) - len(each)
        shown = contrast_shown(spread * (1 / one + 1 / other) ** 0.5, degrees, level=level)
        found.append(Power(one, shown, least_p_of_groups(each)))
    return tuple(found)


def _of_factors(stated: Comparison, spread: float, level: float) -> tuple[Power, ...]:
    blocks, factors, halves = len(stated.blocks), len(stated.factors), stated.halves
    found = []
    for count in sorted({blocks, *(each for each in _ALSO if each > blocks)}):
        degrees = degrees_of_error(count, factors, halves=halves)
        # a mean of half of the plots less that of the other half
        error = spread * (4 / (count * stated.block_size)) ** 0.5
        shown = contrast_shown(error, degrees, level=level) if degrees > 0 else None
        least = least_p_of_factorial(count, factors, halves=halves)
        found.append(Power(count, shown, least))
    return tuple(found)
