"""The garden's own figures beside the tables': yields, times of work, germination.

A figure of one's own counts n/(n + k) beside the table's: n is how often it was measured, k as how
many of these the table counts (``parameters.csv``).
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike

from bedwright.garden import Document
from bedwright.garden.model_work import LaborTime
from bedwright.reference import Library, OwnFact
from bedwright.reference.library import figure_of, fold
from bedwright.trials.credibility import germination_weighed, own_weight, weighed
from bedwright.working import Figure, work

_HOUR_S = 3600.0


@dataclass(frozen=True)
class OwnTime:
    """Own times of one task and method: hours for one of its measure, as a figure with its ends;
    ``timed`` how often they were taken, None where the gardener states one that stands alone."""

    task: str
    method: str
    time: Figure
    timed: int | None


def yield_weighed(own: ArrayLike, table: Figure | None, library: Library) -> tuple[Figure, float]:
    """Own harvests beside the table's yield [kg/m2], and what they count [-].

    Parameters
    ----------
    own : the mean of each season's harvests [kg/m2], (seasons,), one or more
    table : the table's yield; None where it tells none, and the own ones count alone
    """
    values = np.asarray(own, dtype=np.float64)
    mean = Figure("own_harvests", float(values.mean()), "kg/m2", "stated",
                  low=float(values.min()), high=float(values.max()))  # fmt: skip
    if table is None:
        return mean.named("yield"), 1.0
    figure = _beside(mean, table, float(values.size), "table_counts_seasons", library, "yield")
    return figure, _weight(float(values.size), "table_counts_seasons", library).value


def own_times(stated: Iterable[LaborTime]) -> tuple[OwnTime, ...]:
    """Own times by task and method. One that is not told how often it was taken stands alone; the
    others are put together by how often each was."""
    alone: dict[tuple[str, str], OwnTime] = {}
    taken: dict[tuple[str, str], list[LaborTime]] = {}
    for each in stated:
        key = _key(each.task), _key(each.method or "")
        if each.timed is None:
            figure = Figure(
                "time", _rate(each), "h", "stated", note=f"labor_time: {each.time.text}"
            )
            alone[key] = OwnTime(*key, figure, None)
        else:
            taken.setdefault(key, []).append(each)
    found = dict(alone)
    for key, each_time in taken.items():
        if key not in alone:
            found[key] = _together(key, each_time)
    return tuple(found.values())


def _together(key: tuple[str, str], times: Sequence[LaborTime]) -> OwnTime:
    rates = np.array([_rate(each) for each in times])
    often = np.array([each.timed or 0 for each in times], dtype=np.float64)
    figure = Figure(
        "own_times", float((rates * often).sum() / often.sum()), "h", "stated",
        low=float(rates.min()), high=float(rates.max()),
        formula="mean of the times, each by how often it was taken",
    )  # fmt: skip
    return OwnTime(*key, figure, int(often.sum()))


def _rate(each: LaborTime) -> float:
    return float(each.time.si / _HOUR_S / each.amount)


def time_weighed(own: OwnTime, table: Figure, library: Library) -> Figure:
    """The hours for one of a task's measure: one's own alone, or weighed beside the table's."""
    if own.timed is None:
        return own.time
    return _beside(own.time, table, float(own.timed), "table_counts_times", library, "time")


def own_germination(document: Document, library: Library) -> list[OwnFact]:
    """The germination of each crop that the gardener counted seeds of, beside the table's [-].

    Without a figure of the table the counts stand alone.
    """
    counts: dict[str, list[int]] = {}
    for at, each in enumerate(document.garden.germination_test):
        key = document.keys.get(("germination_test", at, "crop"))
        if key is not None:
            held = counts.setdefault(key, [0, 0])
            held[0] += each.came_up
            held[1] += each.sown
    found = []
    for key, (came_up, sown) in counts.items():
        if came_up == 0:  # no seed to be bought helps a dead lot: the table's stays
            continue
        up = Figure("came_up", float(came_up), "-", "measured")
        out = Figure("sown", float(sown), "-", "measured")
        # the table's own row: a library may hold what was weighed before
        rows = library.used_facts("crop_growing", key, "germination")
        table = figure_of("germination", rows[0], "-") if rows else None
        if table is None:
            figure = Figure("germination", came_up / sown, "-", "measured", inputs=(up, out),
                            formula="came up / sown")  # fmt: skip
        else:
            figure = work(
                germination_weighed, "germination", came_up=up, sown=out, table=table,
                table_counts=library.parameter("table_counts_seeds", "-"),
            )  # fmt: skip
        found.append(OwnFact(key, "germination", figure.value, "-", "germination_test", figure))
    return found


def _weight(count: float, parameter: str, library: Library) -> Figure:
    return work(
        own_weight, "weight", seasons=Figure("seasons", count, "-", "stated"),
        table_counts=library.parameter(parameter, "-"),
    )  # fmt: skip


def _beside(
    own: Figure, table: Figure, count: float, parameter: str, library: Library, name: str
) -> Figure:
    """Own and table by the weight of the own; a range ends where both ends weighed do."""
    weight = _weight(count, parameter, library)
    share = weight.value
    low, value, high = (
        weighed(mine, theirs, share)
        for mine, theirs in (
            (own.least, table.least), (own.value, table.value), (own.most, table.most)
        )
    )  # fmt: skip
    return Figure(
        name, value, own.unit, "computed", low=low, high=high, inputs=(own, table, weight),
        sources=weight.sources, formula="own x weight + table x (1 - weight)",
    )  # fmt: skip


def _key(word: str) -> str:
    return fold(word).replace(" ", "_")
