"""What a mulch changes of a bed's water: what evaporates, and under a sheet what the crop uses."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import date

import numpy as np

from bedwright.climate.record import FloatArray
from bedwright.garden import Bed, Document, Want
from bedwright.garden.model_water import Mulch
from bedwright.planning.findings import Finding, finding
from bedwright.planning.watering.phases import Phase
from bedwright.reference import Library
from bedwright.water.beds import Ground
from bedwright.water.surface import (
    coefficient_under_sheet,
    open_share_of_sheet,
    organic_mulch_factor,
)
from bedwright.working import Figure, work

_SHEET = "plastic"


@dataclass(frozen=True)
class Cover:
    """A mulch on a bed from day ``first`` of a season up to the day before ``end``.

    ``factor`` is what it leaves of evaporation, ``open_share`` of the ground that can evaporate at
    all, ``basal`` what a sheet leaves of the crop's own use; all [-].
    """

    of: str
    first: int
    end: int
    factor: Figure
    open_share: Figure
    basal: Figure
    findings: tuple[Finding, ...]

    def on_days(self, days: int) -> FloatArray:
        """1 on the days that it lies, 0 on the others, (days,)."""
        number = np.arange(days)
        return np.asarray((number >= self.first) & (number < self.end), dtype=np.float64)


def stated_mulch(document: Document, bed: Bed, want: Want) -> Mulch | None:
    """What is stated to cover a planting: by its want, else its bed, else for the whole garden."""
    watering = document.garden.watering
    return want.mulch or bed.mulch or (None if watering is None else watering.mulch)


def mulch_of(
    document: Document, bed: Bed, want: Want, start: date, days: int, library: Library
) -> Cover | None:
    """The mulch of a planting in the days of its season.

    Parameters
    ----------
    document, bed, want : the garden and the planting
    start, days : of its season
    library : the tables
    """
    stated = stated_mulch(document, bed, want)
    if stated is None:
        return None
    first = 0 if stated.laid is None else min(max((stated.laid - start).days, 0), days)
    end = days if stated.lifted is None else min(max((stated.lifted - start).days, first), days)
    if end <= first:
        return None
    said: list[Finding] = []
    covered = _covered(stated, bed, library, said)
    none = Figure("unchanged", 1.0, "-", "computed")
    if stated.of != _SHEET:
        factor = work(organic_mulch_factor, "factor", covered=covered)
        return Cover(stated.of, first, end, factor, none, none, tuple(said))
    holes = library.parameter("sheet_hole_share", "-").named("hole_share")
    left = library.parameter("sheet_kcb_factor", "-")
    taken = Figure("taken_off", 1 - left.value, "-", left.origin, sources=left.sources)
    said.append(finding("mulch_sheet_assumed", "assumed", share=holes.named("share"),
                        sources=(*holes.sources, *left.sources)))  # fmt: skip
    return Cover(
        stated.of, first, end, none,
        work(open_share_of_sheet, "open_share", covered=covered, hole_share=holes),
        work(coefficient_under_sheet, "basal", tabled=none.named("tabled"), taken_off=taken),
        tuple(said),
    )  # fmt: skip


def _covered(stated: Mulch, bed: Bed, library: Library, said: list[Finding]) -> Figure:
    if stated.cover is not None:
        return Figure("covered", stated.cover.si, "-", "stated", note=stated.cover.text)
    usual = library.parameter("mulch_cover", "-").named("covered")
    said.append(finding("mulch_cover_assumed", "assumed", bed=bed.id, share=usual.named("share"),
                        sources=usual.sources))  # fmt: skip
    return usual


def mulched_phases(bare: Ground, cover: Cover | None, days: int) -> Sequence[Phase]:
    """The ground through a season: bare, under its mulch, bare again.

    Parameters
    ----------
    bare : without a mulch
    cover : of the season, None without
    days : of the season
    """
    if cover is None:
        return [Phase(0, bare)]
    under = under_mulch(bare, cover)
    found = [Phase(cover.first, under)]
    if cover.first > 0:
        found.insert(0, Phase(0, bare))
    if cover.end < days:
        found.append(Phase(cover.end, bare))
    return found


def under_mulch(bare: Ground, cover: Cover) -> Ground:
    """The ground while the mulch lies."""
    return replace(bare, open_share=cover.open_share.value, evaporation_factor=cover.factor.value)
