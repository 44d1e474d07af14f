"""What is to be said of a crop's harvest: where its yield is from, gaps and gluts."""

from __future__ import annotations

from collections.abc import Iterator

from bedwright.planning.findings import Finding, finding
from bedwright.planning.harvest.model import CropHarvest
from bedwright.working import Figure


def harvest_findings(crop: CropHarvest) -> Iterator[Finding]:
    """What is to be said of a crop; ``weeks`` are spans of days as 2027-07-05/2027-07-18; ..."""
    name = crop.name.lower()
    for each in crop.plantings:
        if each.bears is not None:
            yield finding("harvest_bears_later", "note", crop=name, beds=each.bed,
                          year=str(each.bears))  # fmt: skip
    unknown = ", ".join(
        each.bed for each in crop.plantings if each.mass is None and each.bears is None
    )
    if unknown:
        yield finding("harvest_yield_not_known", "doubt", crop=name, beds=unknown)
    undated = ", ".join(
        each.bed for each in crop.plantings if each.mass is not None and not each.pickings
    )
    if undated:
        yield finding("harvest_not_dated", "doubt", crop=name, beds=undated)
    if crop.unit_mass is None and crop.unit != "weight":
        yield finding("harvest_unit_not_known", "doubt", crop=name, unit=crop.unit)
    wished = any(each.wanted is not None for each in crop.weeks)
    if wished and not crop.plantings:
        yield finding("harvest_not_grown", "act", crop=name)
        return
    for balance in ("gap", "glut"):
        weeks = [each for each in crop.weeks if each.balance == balance]
        if not weeks:
            continue
        off = sum(abs((each.wanted or 0.0) - each.to_sell.typical) for each in weeks)
        mass = Figure("mass", off, "kg", "computed", formula="sum over the weeks")
        spans = "; ".join(f"{a}/{b}" for a, b in crop.spans("gap" if balance == "gap" else "glut"))
        if balance == "gap":
            yield finding("harvest_gap", "act", crop=name, weeks=spans, mass=mass)
        else:
            yield finding("harvest_glut", "note", crop=name, weeks=spans, mass=mass)
    if crop.keeps and wished:
        left = Figure("mass", crop.left.typical, "kg", "computed", low=crop.left.low,
                      high=crop.left.high, formula="what is ready less what is wanted")  # fmt: skip
        yield finding("harvest_keeps", "assumed", crop=name, mass=left)
