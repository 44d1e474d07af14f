"""What can and can't be said of ways that were drawn over whole beds, without blocks."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import numpy as np

from bedwright.garden import Document
from bedwright.garden.model_compare import Comparison
from bedwright.planning.compare.model import Plot, Power, Reading, Shown
from bedwright.planning.findings import Finding, finding
from bedwright.trials.shown import contrast_shown
from bedwright.trials.unblocked import least_p_of_groups

WIDER = 1.25  # times the stated spread: more than that is told: judgement
_UNLIKE_SPREADS = 0.01  # of Bartlett's test, which calls too often at more: judgement
_MOST = 40  # beds of each way


def alike(document: Document, beds: Sequence[str]) -> bool:
    """Whether these beds are of one kind, soil, water and trellis."""
    held = {bed.id: bed for bed in document.garden.bed}
    facts = {(held[b].kind, held[b].texture, held[b].water_zone, held[b].trellis) for b in beds}
    return len(facts) == 1


def beds_design(
    document: Document, stated: Comparison, power: Sequence[Power], level: float
) -> Iterator[Finding]:
    """What is to be minded before anything is sown."""
    ways = len(stated.ways)
    if power[0].least_p > level:
        enough = (n for n in range(2, _MOST) if least_p_of_groups([n] * ways) <= level)
        wanted = next(enough, _MOST)
        yield finding(
            "compare_too_few_beds", "caution", beds=float(len(stated.beds)),
            least=power[0].least_p, level=level, wanted=float(wanted),
        )  # fmt: skip
    if not alike(document, stated.beds):
        yield finding("compare_beds_unlike_all", "caution")
    yield finding("compare_no_blocks", "note")


def beds_measured(
    stated: Comparison, plots: Sequence[Plot], readings: Sequence[Reading], shown: Shown | None
) -> Iterator[Finding]:
    """What was not measured, or not on one day."""
    days = {
        plot.bed: tuple(each.on for each in readings if each.block == plot.block) for plot in plots
    }
    missing = [bed for bed, on in days.items() if not on]
    if missing:
        yield finding("compare_beds_missing", "caution", beds=", ".join(missing))
    if shown is None:
        measured = {each.way for each in readings}
        lacking = [way for way in stated.ways if way not in measured]
        yield finding("compare_way_missing", "doubt", ways=", ".join(lacking))
    if len({on for on in days.values() if on}) > 1:
        yield finding("compare_other_days_beds", "caution")


def beds_result(stated: Comparison, shown: Shown, level: float, spread: float) -> Iterator[Finding]:
    """What the tests say, and what such a trial could have shown."""
    made, drawn = shown.in_beds, shown.randomised
    if made is None or drawn is None:
        yield finding("compare_no_spread_beds", "doubt")
        return
    by_t, by_drawing = made.p < level, drawn.p <= level
    if by_t and by_drawing:
        code = "compare_clear" if stated.laid is None else "compare_clear_not_drawn"
        yield finding(code, "act", way=stated.ways[int(np.argmax(shown.means))])
    elif by_t or by_drawing:
        yield finding("compare_tests_disagree", "doubt", p=made.p, p_drawn=drawn.p)
    else:
        yield finding("compare_not_clear_beds", "doubt")
    if made.p_spreads < _UNLIKE_SPREADS:
        yield finding("compare_spreads_unlike", "caution", p=made.p_spreads)
    mean = float(np.mean([value for each in shown.by_way for value in each]))
    if mean <= 0:
        return
    seen = float(np.sqrt(made.error)) / mean
    if seen > spread * WIDER:
        yield finding("compare_spread_wider", "note", seen=seen, stated=spread)
    if not (by_t and by_drawing) and 0 < seen <= 1:
        one, other = sorted(made.counts)[:2]
        least = contrast_shown(
            seen * (1 / one + 1 / other) ** 0.5, made.degrees_of_freedom, level=max(level, 0.001)
        )
        yield finding("compare_could_show_beds", "note", share=least, beds=float(sum(made.counts)))
