"""Which figures of the garden's own are in, beside the tables', and what they count."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

import numpy as np

from bedwright.garden import Document
from bedwright.planning.compare.years import CropYears
from bedwright.planning.own_weighed import own_times, time_weighed, yield_weighed
from bedwright.reference import Library
from bedwright.reference.library import figure_of
from bedwright.trials.credibility import own_weight
from bedwright.working import Figure

SEASONS_OF_OWN = 2  # until they are in, a yield is called the table's


@dataclass(frozen=True)
class OwnFigure:
    """One figure: ``value`` that the plan goes by, one's ``own``, the ``table``'s, None where it
    has none; ``count`` of seasons, timings or seeds; the ``weight`` of one's own [-].

    ``origin`` is table until two seasons of a yield are in, mixed while the table counts, own
    where it does not. ``per`` is the measure of a time, ``key`` the crop's or task's.
    """

    kind: Literal["yield", "labor", "germination"]
    key: str
    name: str
    value: Figure
    own: Figure
    table: Figure | None
    count: int
    weight: float
    origin: Literal["table", "mixed", "own"]
    per: str = ""


def own_figures(
    document: Document, library: Library, years: Sequence[CropYears]
) -> tuple[OwnFigure, ...]:
    """The garden's own yields, times and germination.

    Parameters
    ----------
    document, library : the garden with its journal counted in, the tables under its own facts
    years : of :func:`~bedwright.planning.compare.years.over_the_years`

    A yield is that on a bed like those it was picked on: what salt takes comes off in the plan.
    """
    return (
        *(_yield(each, library) for each in years),
        *_times(document, library),
        *_germination(document, library),
    )


def _yield(crop: CropYears, library: Library) -> OwnFigure:
    own = np.array([each.mean for each in crop.by_year])
    table = library.fact("crop_facts", crop.crop, "yield", "kg/m2")
    value, weight = yield_weighed(own, table, library)
    mean = Figure("own_harvests", float(own.mean()), "kg/m2", "stated",
                  low=float(own.min()), high=float(own.max()))  # fmt: skip
    origin: Literal["table", "mixed", "own"] = "own" if table is None else "mixed"
    if table is not None and own.size < SEASONS_OF_OWN:
        origin = "table"
    return OwnFigure("yield", crop.crop, crop.name, value, mean, table, own.size, weight, origin)


def _times(document: Document, library: Library) -> list[OwnFigure]:
    counts = library.parameter("table_counts_times", "-").value
    rows = {(row["task"], row["condition"]): row for row in library.rows("labor") if row.used}
    found = []
    for own in own_times(document.garden.labor_time):
        row = rows.get((own.task, own.method))
        if row is None:
            continue
        table = figure_of("time", row, "h")
        value = time_weighed(own, table, library)
        weight = 1.0 if own.timed is None else own_weight(own.timed, counts)
        found.append(
            OwnFigure(
                "labor",
                own.task,
                own.task,
                value,
                own.time,
                table,
                own.timed or 1,
                weight,
                "own" if own.timed is None else "mixed",
                row["per"],
            )
        )
    return found


def _germination(document: Document, library: Library) -> list[OwnFigure]:
    found = []
    tests = enumerate(document.garden.germination_test)
    for key in dict.fromkeys(document.key("germination_test", at, "crop") for at, _ in tests):
        value = library.fact("crop_growing", key, "germination", "-")
        if value is None or value.origin not in ("computed", "measured"):
            continue
        parts = {each.name: each for each in value.inputs}
        sown = parts["sown"].value
        own = Figure("own_germination", parts["came_up"].value / sown, "-", "measured")
        table = next((e for n, e in parts.items() if n in ("germination", "table")), None)
        counts = parts.get("table_counts") or next(
            (e for n, e in parts.items() if n == "table_counts_seeds"), None
        )
        weight = 1.0 if counts is None else sown / (sown + counts.value)
        found.append(
            OwnFigure(
                "germination",
                key,
                library.crop(key)["name"],
                value,
                own,
                table,
                round(sown),
                weight,
                "own" if table is None else "mixed",
            )
        )
    return found
