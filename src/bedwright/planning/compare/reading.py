"""What the plots gave: by the document's results, or by the journal's pickings."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

import numpy as np

from bedwright.garden import Document
from bedwright.garden.model_compare import Comparison
from bedwright.journal import Entry, Picked
from bedwright.journal.names import crop_key
from bedwright.planning.compare.model import Plot, Reading
from bedwright.reference import Library, UnknownName
from bedwright.units import parse

_ALIKE = 0.01  # of an area: plots closer than this are of one size: judgement


def readings_of(
    document: Document,
    library: Library,
    at: int,
    plots: Sequence[Plot],
    entries: Iterable[Entry],
) -> tuple[Reading, ...]:
    """What each plot gave, by day; from the journal where the comparison asks for it.

    ``at`` is the comparison's place in the document. Pickings that were not weighed, or not
    counted where things are counted, are no readings; nor are results of a combination that its
    block does not hold.
    """
    stated = document.garden.comparison[at]
    if stated.journal is None:
        held = {plot.bed if stated.beds else (plot.block, plot.way): plot for plot in plots}
        found = [
            Reading(plot.block, plot.way, each.on, stated.read(each.value))
            for each in stated.result
            if (plot := held.get(each.bed or (each.block or 0, each.way or ""))) is not None
        ]
    else:
        found = list(_pickings(document, library, at, plots, entries))
    return tuple(sorted(found, key=lambda each: (each.block, each.way, each.on)))


def _pickings(
    document: Document,
    library: Library,
    at: int,
    plots: Sequence[Plot],
    entries: Iterable[Entry],
) -> Iterable[Reading]:
    stated = document.garden.comparison[at]
    assert stated.journal is not None
    wanted = document.key("comparison", at, "crop")
    of_bed = {plot.bed: plot for plot in plots}
    for each in entries:
        if not isinstance(each, Picked) or each.bed not in of_bed:
            continue
        if not stated.journal.from_day <= each.on <= stated.journal.to_day:
            continue
        try:
            if crop_key(each.crop, document, library) != wanted:
                continue
        except UnknownName:
            continue
        plot = of_bed[each.bed]
        if stated.kind == "mass" and each.mass is not None:
            value = each.mass.si / parse(f"1 {stated.unit}", "mass").si
            yield Reading(plot.block, plot.way, each.on, value)
        elif stated.kind == "count" and each.count is not None:
            yield Reading(plot.block, plot.way, each.on, float(each.count))


def sums_of(
    stated: Comparison, plots: Sequence[Plot], readings: Sequence[Reading]
) -> tuple[dict[tuple[int, str], float], bool]:
    """The value of each plot by block and way, and whether unlike areas were evened.

    What is summed over a plot is brought to the mean area of all plots where they are unlike.
    """
    by_plot: dict[tuple[int, str], list[float]] = {}
    for each in readings:
        by_plot.setdefault((each.block, each.way), []).append(each.value)
    areas = {(plot.block, plot.way): plot.area_m2 for plot in plots}
    mean = float(np.mean(list(areas.values())))
    evened = stated.summed and max(abs(each / mean - 1) for each in areas.values()) > _ALIKE
    found = {}
    for key, values in by_plot.items():
        value = float(sum(values)) if stated.summed else float(np.mean(values))
        found[key] = value * mean / areas[key] if evened else value
    return found, evened


def results_of_no_plot(stated: Comparison, plots: Sequence[Plot]) -> tuple[str, ...]:
    """Results that name a combination which their block does not hold, as ``block way``.

    Only blocks that hold half of the combinations can lack one that is among the ways.
    """
    held = {(plot.block, plot.way) for plot in plots}
    named = ((each.block, each.way) for each in stated.result if each.bed is None)
    return tuple(dict.fromkeys(f"{one[0]} {one[1]}" for one in named if one not in held))
