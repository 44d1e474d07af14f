"""Beds that are alike in soil and crop share one recipe: nobody weighs 24 different mixes."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np

from bedwright.feeding.blend import Candidates, Demand
from bedwright.planning.assessment import Assessment


@dataclass(frozen=True)
class RecipeGroup:
    """Beds with one recipe per area, and the demands that suit each of them.

    Lower bounds are the highest of the beds', upper bounds the lowest, so that a recipe that
    keeps the group's demands keeps every bed's.
    """

    beds: tuple[Assessment, ...]
    candidates: Candidates
    demands: tuple[Demand, ...]

    @property
    def area_m2(self) -> float:
        """The beds' area together."""
        return sum(each.evidence.area.value for each in self.beds)


def recipe_groups(assessed: tuple[Assessment, ...], tolerance: float) -> tuple[RecipeGroup, ...]:
    """Group beds in order of the garden.

    Beds go together when report, crop, yield goal, compost and materials are the same and no bed
    would get more than ``tolerance`` above what it needs for another's sake. A bed that the
    gardener marks ``own_recipe`` stands alone.
    """
    groups: list[RecipeGroup] = []
    for each in assessed:
        for at, group in enumerate(groups):
            joined = _joined(group, each, tolerance)
            if joined is not None:
                groups[at] = joined
                break
        else:
            groups.append(RecipeGroup((each,), each.candidates, each.demands))
    return tuple(groups)


def _kind(each: Assessment) -> tuple[object, ...]:
    report = each.evidence.report
    wish = (each.wish.material.key, each.wish.least, each.wish.most) if each.wish else None
    return (
        report.id if report is not None else each.bed.id,
        each.crop.key,
        round(each.crop.goal.value, 9),
        each.season,
        each.first,
        each.bed.kind,
        each.bed.fill,
        wish,
        each.candidates.keys,
        tuple((demand.key, demand.kind) for demand in each.demands),
    )


def _joined(group: RecipeGroup, each: Assessment, tolerance: float) -> RecipeGroup | None:
    first = group.beds[0]
    if first.bed.own_recipe or each.bed.own_recipe or _kind(first) != _kind(each):
        return None
    merged: list[Demand] = []
    for standing, coming in zip(group.demands, each.demands, strict=True):
        if not (
            np.allclose(standing.preplant, coming.preplant)
            and np.allclose(standing.later, coming.later)
        ):
            return None
        lowers = [d.lower for d in (standing, coming) if d.lower is not None]
        uppers = [d.upper for d in (standing, coming) if d.upper is not None]
        lower, upper = max(lowers, default=None), min(uppers, default=None)
        every = [d.lower or 0.0 for bed in (*group.beds, each) for d in _of(bed, standing.key)]
        if lower is not None and lower > min(every) * (1 + 2 * tolerance):
            return None
        if lower is not None and upper is not None and lower > upper:
            return None
        merged.append(replace(standing, lower=lower, upper=upper))
    candidates = replace(
        group.candidates,
        least=np.maximum(group.candidates.least, each.candidates.least),
        most=np.minimum(group.candidates.most, each.candidates.most),
    )
    return RecipeGroup((*group.beds, each), candidates, tuple(merged))


def _of(bed: Assessment, key: str) -> list[Demand]:
    return [demand for demand in bed.demands if demand.key == key]
