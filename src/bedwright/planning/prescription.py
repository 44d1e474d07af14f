"""A bed's prescription: what to spread, how much, why, and what not to add."""

from __future__ import annotations

import dataclasses
from dataclasses import dataclass
from datetime import date
from typing import Any

from bedwright.feeding.blend import Blend, blend
from bedwright.feeding.materials import Material, Supply
from bedwright.garden import Bed, Document, Want
from bedwright.planning.assessment import Assessment, assess
from bedwright.planning.evidence import Evidence
from bedwright.planning.findings import Finding, finding
from bedwright.planning.shed import Offer
from bedwright.reference import Library
from bedwright.working import Figure

_AMMONIUM = frozenset(
    "urea ammonium_sulfate monoammonium_phosphate diammonium_phosphate"
    " poultry_manure_pellets".split()
)


@dataclass(frozen=True)
class Line:
    """One material of a prescription: masses for the whole bed [kg] and per area [kg/m2]."""

    material: Material
    preplant: Figure
    later: Figure
    per_area: float
    supply: Supply
    offer: Offer


@dataclass(frozen=True)
class Prescription(Assessment):
    """What a bed gets, with the assessment it rests on."""

    blend: Blend
    lines: tuple[Line, ...]


def prescribe(
    document: Document, want: Want, want_at: int, bed: Bed, library: Library, as_of: date
) -> Prescription:
    """Work out a bed's prescription by itself, as if the shed served no other bed."""
    assessed = assess(document, want, want_at, bed, library, as_of)
    most = document.garden.limits.most_materials
    return prescription_of(assessed, blend(assessed.candidates, assessed.demands, most))


def prescription_of(assessed: Assessment, mixed: Blend) -> Prescription:
    """A bed's prescription from its assessment and a blend of its candidates."""
    lines = tuple(_lines(mixed, assessed.used, assessed.evidence))
    found = [*assessed.findings, *_after(mixed, lines, assessed.lacking)]
    known: dict[str, Any] = {
        each.name: getattr(assessed, each.name) for each in dataclasses.fields(Assessment)
    }
    known |= {"blend": mixed, "lines": lines, "findings": tuple(_ordered(found))}
    return Prescription(**known)


def _ordered(found: list[Finding]) -> list[Finding]:
    order = {"act": 0, "caution": 1, "doubt": 2, "assumed": 3, "note": 4}
    unique: list[Finding] = []
    for each in found:
        if each not in unique:
            unique.append(each)
    return sorted(unique, key=lambda each: order[each.weight])


def _lines(mixed: Blend, used: tuple[tuple[Offer, Supply], ...], known: Evidence) -> list[Line]:
    lines: list[Line] = []
    area = known.area
    for at, (offer, brings) in enumerate(used):
        before, later = float(mixed.preplant[at]), float(mixed.later[at])
        if before + later <= 0:
            continue
        amounts = []
        for name, rate in (("preplant", before), ("later", later)):
            figure = Figure("rate", rate, "kg/m2", "computed", formula="blend")
            amounts.append(
                Figure(
                    name,
                    rate * area.value,
                    "kg",
                    "computed",
                    formula="rate x area",
                    inputs=(figure, area),
                )
            )
        lines.append(Line(offer.material, amounts[0], amounts[1], before + later, brings, offer))
    return sorted(lines, key=lambda line: -line.per_area)


def _after(mixed: Blend, lines: tuple[Line, ...], lacking: bool) -> list[Finding]:
    """What the blend itself gives occasion to say."""
    found: list[Finding] = []
    if mixed.clash:
        found.append(finding("demands_clash", "act", demands=" ".join(mixed.clash)))
    if {"salt_ceiling", "compost_depth"} <= set(mixed.clash):
        found.append(finding("salt_limits_compost", "note"))
    if any(line.supply.salts is None for line in lines):
        names = ", ".join(line.material.name for line in lines if line.supply.salts is None)
        found.append(finding("salts_not_known", "assumed", materials=names))
    if not lines and not mixed.clash:
        code = "nothing_in_shed" if lacking else "nothing_to_spread"
        found.append(finding(code, "note"))
    keys = {line.material.key for line in lines}
    if any(line.material.kind == "liming" for line in lines) and keys & _AMMONIUM:
        found.append(finding("lime_and_ammonium_apart", "caution"))
    return found
