"""What can and can't be said of a comparison."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import numpy as np

from bedwright.garden import Document
from bedwright.garden.model_compare import Comparison
from bedwright.planning.compare.model import Plot, Power, Reading, Shown
from bedwright.planning.compare.reading import results_of_no_plot
from bedwright.planning.compare.told_beds import (
    WIDER,
    alike,
    beds_design,
    beds_measured,
    beds_result,
)
from bedwright.planning.compare.told_factors import factors_design, factors_result
from bedwright.planning.findings import Finding, finding
from bedwright.trials.shown import difference_shown

_FEW = 6  # blocks; fewer can't reach 5 in a hundred by drawing alone, two ways (2/2^5 = 0.0625)


def compared_findings(
    document: Document,
    stated: Comparison,
    plots: Sequence[Plot],
    power: Sequence[Power],
    spread: float,
    readings: Sequence[Reading],
    shown: Shown | None,
    evened: bool,
) -> tuple[Finding, ...]:
    """What is to be said of a comparison, most important first; shares as numbers [-]."""
    level = round(1 - stated.confidence.si, 9)
    if stated.beds:
        found = list(beds_design(document, stated, power, level))
    elif stated.factors:
        found = list(factors_design(stated, power, level))
    else:
        found = list(_blocks(stated, power, level))
    found += _lying(document, stated, plots)
    if not readings:
        return (*found, finding("compare_no_results", "note"))
    if stated.beds:
        found += beds_measured(stated, plots, readings, shown)
    else:
        found += _measured(stated, readings, shown)
    found += _seasons(readings, evened)
    if shown is None:
        return tuple(found)
    result = beds_result if stated.beds else factors_result if stated.factors else _result
    return (*result(stated, shown, level, spread), *found)


def _blocks(stated: Comparison, power: Sequence[Power], level: float) -> Iterator[Finding]:
    blocks = len(stated.blocks)
    if blocks == 1:
        yield finding("compare_one_block", "act")
    elif power[0].least_p > level:
        wanted = next((e for e in power if e.least_p <= level), None)
        yield finding(
            "compare_too_few", "caution", blocks=float(blocks), least=power[0].least_p,
            level=level, wanted=float(_FEW if wanted is None else wanted.blocks),
        )  # fmt: skip


def _lying(document: Document, stated: Comparison, plots: Sequence[Plot]) -> Iterator[Finding]:
    if stated.laid is not None:
        yield finding("compare_not_drawn", "caution")
    if any(plot.strip is not None for plot in plots) and stated.edge is None:
        yield finding("compare_edges", "caution")
    unlike = _unlike(document, stated)
    if unlike:
        yield finding("compare_beds_unlike", "caution", beds="; ".join(unlike))
    lost = results_of_no_plot(stated, plots)
    if lost:
        yield finding("compare_no_such_plot", "caution", plots="; ".join(lost))
    if len(stated.ways) > 2:
        yield finding("compare_many_ways", "note", ways=float(len(stated.ways)))


def _unlike(document: Document, stated: Comparison) -> list[str]:
    """Blocks whose beds differ by more than the ways."""
    return [", ".join(block) for block in stated.blocks if not alike(document, block)]


def _measured(
    stated: Comparison, readings: Sequence[Reading], shown: Shown | None
) -> Iterator[Finding]:
    whole = () if shown is None else shown.blocks
    missing = [str(at) for at in range(1, len(stated.blocks) + 1) if at not in whole]
    if missing:
        yield finding("compare_block_missing", "caution", blocks=", ".join(missing))
    apart = [
        str(block)
        for block in whole
        if len({tuple(e.on for e in readings if (e.block, e.way) == (block, way))
                for way in {e.way for e in readings if e.block == block}}) > 1
    ]  # fmt: skip
    if apart:
        yield finding("compare_other_days", "caution", blocks=", ".join(apart))


def _seasons(readings: Sequence[Reading], evened: bool) -> Iterator[Finding]:
    if evened:
        yield finding("compare_evened", "assumed")
    years = {each.on.year for each in readings}
    if len(years) == 1:
        yield finding("compare_one_season", "note", year=str(min(years)))


def _result(stated: Comparison, shown: Shown, level: float, spread: float) -> Iterator[Finding]:
    mean = float(np.mean(shown.means))
    made = shown.paired or shown.in_blocks
    if made is None or shown.randomised is None:
        if len(shown.blocks) > 1:
            yield finding("compare_no_spread", "doubt")
        return
    drawn, by_t = shown.randomised.p <= level, made.p < level
    if by_t and drawn:
        code = "compare_clear" if stated.laid is None else "compare_clear_not_drawn"
        yield finding(code, "act", way=stated.ways[int(np.argmax(shown.means))])
    elif by_t or drawn:
        yield finding("compare_tests_disagree", "doubt", p=made.p, p_drawn=shown.randomised.p)
    else:
        yield finding("compare_not_clear", "doubt")
    if mean <= 0:
        return
    # what one plot is off: a difference of two has the square root of 2 of it
    if shown.paired is not None:
        seen = shown.paired.standard_deviation / float(np.sqrt(2)) / mean
    else:
        assert shown.in_blocks is not None
        seen = float(np.sqrt(shown.in_blocks.error)) / mean
    if seen > spread * WIDER:
        yield finding("compare_spread_wider", "note", seen=seen, stated=spread)
    if not (by_t and drawn) and 0 < seen <= 1:
        least = difference_shown(len(shown.blocks), seen, level=max(level, 0.001))
        yield finding("compare_could_show", "note", share=least, blocks=float(len(shown.blocks)))
