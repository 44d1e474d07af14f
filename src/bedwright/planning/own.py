"""The gardener's own materials laid over the tables."""

from __future__ import annotations

from bedwright.feeding.measures import CUP_M3
from bedwright.garden import Document
from bedwright.garden.model import OwnMaterial as Stated
from bedwright.planning.own_weighed import own_germination
from bedwright.reference import Library, OwnFact, OwnMaterial
from bedwright.reference.library import fold
from bedwright.units.parse import unit_factor


def library_of(document: Document, library: Library) -> Library:
    """The tables under the facts and materials that a garden document states."""
    facts: list[OwnFact] = []
    materials: list[OwnMaterial] = []
    for at, stated in enumerate(document.garden.material):
        path = ("material", at)
        key = document.keys.get((*path, "material"), stated.material)
        where = f"line {document.line(*path)}"
        facts += _facts(stated, key, where)
        like = document.keys.get((*path, "like"), key)
        materials.append(OwnMaterial(key, like, stated.name, stated.organic))
    facts += own_germination(document, library)
    return library.with_own(tuple(facts), tuple(materials))


def _facts(stated: Stated, key: str, where: str) -> list[OwnFact]:
    facts = [
        OwnFact(key, name, share.si, "kg/kg", where) for name, share in stated.analysis.items()
    ]
    if stated.cup is not None:
        facts.append(OwnFact(key, "bulk_density", stated.cup.si / CUP_M3, "kg/m3", where))
    if stated.moisture is not None:
        facts.append(OwnFact(key, "moisture", stated.moisture.si, "-", where))
    if stated.ec_1_5 is not None:
        siemens_m = stated.ec_1_5.si
        facts.append(OwnFact(key, "ec_1_5", siemens_m / unit_factor("dS/m")[0], "dS/m", where))
    return facts


def own_key(document: Document, library: Library, name: str) -> str:
    """The key behind a material's name, the gardener's own names before the tables'.

    Raises UnknownName, with the nearest, for a name that neither knows.
    """
    for at, stated in enumerate(document.garden.material):
        if fold(name) in (fold(stated.material), fold(stated.name or "")):
            return document.keys.get(("material", at, "material"), stated.material)
    return library.resolve("material_names", "material", name)
