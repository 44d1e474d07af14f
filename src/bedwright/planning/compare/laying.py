"""Where each way lies, and what so many blocks can show before anything is sown."""

from __future__ import annotations

from bedwright.garden import Document
from bedwright.garden.model_compare import Comparison
from bedwright.planning.compare.model import Plot, Power
from bedwright.trials.design import drawn_order
from bedwright.trials.shown import difference_shown, least_p_of_blocks

_ALSO = (4, 6, 8, 12)  # numbers of blocks that are shown beside the one stated: judgement


def plots_of(document: Document, stated: Comparison) -> tuple[Plot, ...]:
    """The plots of a comparison, block by block as they lie.

    The order is drawn from the stated seed, so that the same document gives the same order; one
    that is stated as ``laid`` stands.
    """
    areas = {bed.id: bed.area_m2 for bed in document.garden.bed}
    ways = len(stated.ways)
    laid = stated.laid
    if laid is None:
        assert stated.seed is not None
        # a single block is drawn as the first of two: the drawing wants blocks
        drawn = drawn_order(max(2, len(stated.blocks)), ways, stated.seed)
        laid = [[stated.ways[way] for way in row] for row in drawn[: len(stated.blocks)]]
    strips = {block[0]: 0 for block in stated.blocks if len(block) == 1}
    for block in stated.blocks:
        if len(block) == 1:
            strips[block[0]] += ways
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


def power_of(blocks: int, ways: int, spread: float, level: float) -> tuple[Power, ...]:
    """What this number of blocks can show, and what some others could.

    Two ways by the paired t; of more ways it is that of any two of them, as if alone.
    """
    found = []
    for count in sorted({blocks, *(each for each in _ALSO if each > blocks)}):
        difference = None if count < 2 else difference_shown(count, spread, level=level)
        found.append(Power(count, difference, least_p_of_blocks(count, ways)))
    return tuple(found)
