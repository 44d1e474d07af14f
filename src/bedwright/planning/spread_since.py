"""What was spread on a bed since its soil was sampled: the soil test does not know of it yet."""

from __future__ import annotations

import dataclasses
from collections.abc import Callable
from dataclasses import dataclass
from datetime import date

from bedwright.feeding.materials import Material, Supply, material, supply
from bedwright.garden import Document
from bedwright.planning.amounts import applied_kg_m2
from bedwright.planning.evidence import Evidence
from bedwright.planning.findings import Finding, finding
from bedwright.planning.nutrients import Need
from bedwright.planning.reaction import Reaction
from bedwright.planning.salt import SaltState
from bedwright.reference import Library
from bedwright.working import Figure, total

_OXIDES = ("p2o5", "k2o")
_LIMES = ("liming", "ash")
_DAYS_OF_A_SEASON = 300  # without a report: what was spread before belongs to another crop


@dataclass(frozen=True)
class Spread:
    """One material spread on one day [kg/m2], and what a kilogram of it brings."""

    material: Material
    on: date
    mass: Figure
    brings: Supply


def spread_since(
    document: Document, evidence: Evidence, library: Library, season: date
) -> tuple[Spread, ...]:
    """What the history says was spread after the sampling (without a report: for this season)."""
    found: list[Spread] = []
    ph = evidence.ph.value if evidence.ph is not None else None
    for at, past in enumerate(document.garden.history):
        if past.bed != evidence.bed.id:
            continue
        for place, applied in enumerate(past.applied):
            if evidence.sampled is not None:
                counts = evidence.sampled < applied.on < season
            else:
                counts = 0 < (season - applied.on).days <= _DAYS_OF_A_SEASON
            if not counts:
                continue
            item = material(library, document.keys[("history", at, "applied", place, "material")])
            mass = applied_kg_m2(applied, item, evidence.area.value, library)
            if mass is not None:
                found.append(Spread(item, applied.on, mass, supply(library, item, ph)))
    return tuple(found)


def needs_left(needs: tuple[Need, ...], since: tuple[Spread, ...]) -> tuple[Need, ...]:
    """The needs less what was spread: what a season frees of it, and for the ceiling all of it."""
    return tuple(_left(each, since) for each in needs) if since else needs


def lime_left(reaction: Reaction, since: tuple[Spread, ...]) -> Reaction:
    """The lime still asked for, counted as calcium carbonate."""
    brought = _brought(
        "lime", since, lambda each: each.brings.reaction if each.material.kind in _LIMES else None
    )
    if reaction.lime is None or brought is None:
        return reaction
    return dataclasses.replace(reaction, lime=_less(reaction.lime, brought))


def gypsum_left(salt: SaltState, since: tuple[Spread, ...], library: Library) -> SaltState:
    """The gypsum still asked for against sodium."""
    masses = [each.mass for each in since if library.base_of(each.material.key) == "gypsum"]
    if salt.gypsum is None or not masses:
        return salt
    brought = total("spread_since", masses, "kg/m2")
    return dataclasses.replace(salt, gypsum=_less(salt.gypsum, brought))


def since_findings(since: tuple[Spread, ...]) -> tuple[Finding, ...]:
    """That it is counted, once for the bed."""
    if not since:
        return ()
    said = "; ".join(
        dict.fromkeys(f"{each.material.name.lower()}, {each.on.isoformat()}" for each in since)
    )
    return (finding("spread_since_counted", "note", spread=said),)


def _left(need: Need, since: tuple[Spread, ...]) -> Need:
    name = need.nutrient
    freed = _brought(name, since, lambda each: _freed(each.brings, name))
    whole = _brought(name, since, lambda each: _whole(each.brings, name))
    amount = need.amount if freed is None else _less(need.amount, freed)
    ceiling = need.ceiling
    if ceiling is not None and whole is not None:
        ceiling = _less(ceiling, whole)
    return dataclasses.replace(need, amount=amount, ceiling=ceiling)


def _freed(brings: Supply, nutrient: str) -> Figure | None:
    if nutrient in _OXIDES:
        found: Figure | None = getattr(brings, f"{nutrient}_season")
        return found
    return brings.others.get(nutrient)


def _whole(brings: Supply, nutrient: str) -> Figure | None:
    if nutrient in _OXIDES:
        found: Figure = getattr(brings, f"{nutrient}_total")
        return found
    return brings.others.get(nutrient)


def _brought(
    name: str, since: tuple[Spread, ...], content_of: Callable[[Spread], Figure | None]
) -> Figure | None:
    """What all dressings bring of something [kg/m2]; None where none brings any."""
    parts = []
    for each in since:
        content = content_of(each)
        if content is None or content.value <= 0:
            continue
        parts.append(
            Figure(
                f"{each.material.key}_{each.on.isoformat()}",
                each.mass.value * content.value,
                "kg/m2",
                "computed",
                low=each.mass.least * max(0.0, content.least),
                high=each.mass.most * content.most,
                formula=f"mass spread x {name} that a kilogram brings",
                inputs=(each.mass, content),
            )
        )
    return total("spread_since", parts, "kg/m2") if parts else None


def _less(asked: Figure, brought: Figure) -> Figure:
    """What is left of an amount once something was spread; never below nothing."""
    return Figure(
        asked.name,
        max(0.0, asked.value - brought.value),
        asked.unit,
        "computed",
        low=max(0.0, asked.least - brought.most),
        high=max(0.0, asked.most - brought.least),
        sources=asked.sources,
        formula="what the soil test asks for, less what was spread since it was taken",
        inputs=(asked, brought),
    )
