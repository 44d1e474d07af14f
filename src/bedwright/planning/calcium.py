"""Calcium at a bed: the source that suits it, and a word on blossom-end rot."""

from __future__ import annotations

from bedwright.planning.evidence import Evidence
from bedwright.planning.findings import Finding, finding
from bedwright.planning.nutrients import CropAtBed
from bedwright.planning.salt import SaltState
from bedwright.soil.calcium import (
    BLOSSOM_END_ROT_SOURCES,
    SOURCES,
    CalciumSource,
    calcium_source,
)
from bedwright.soil.interpretation import Reading

# Fruits that blossom-end rot takes: common practice.
_PRONE = frozenset(
    "tomato tomato_cherry tomatillo pepper_sweet pepper_chile eggplant muskmelon watermelon"
    " squash_summer squash_winter".split()
)


def calcium_verdict(
    evidence: Evidence, crop: CropAtBed, read: dict[str, Reading], salt: SaltState
) -> tuple[Finding, ...]:
    """Which calcium source this bed wants, if any, and what calcium will not cure."""
    ph = evidence.ph
    if ph is None:
        return ()
    reading = read.get("calcium")
    supply = reading.supply if reading is not None else None
    free_lime = bool(evidence.ground.free_lime)
    source = calcium_source(ph.value, free_lime, supply, salt.sodic)
    code = f"calcium_{source.value}"
    if source is CalciumSource.NONE and reading is None and not free_lime:
        code = "calcium_not_tested"
    said = [finding(code, "note", ph=ph, sources=SOURCES)]
    if crop.key in _PRONE and source is CalciumSource.NONE:
        said.append(finding("blossom_end_rot", "note", sources=BLOSSOM_END_ROT_SOURCES))
    return tuple(said)
