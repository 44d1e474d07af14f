"""What a material's or crop's name in an entry stands for, and what an amount weighs."""

from __future__ import annotations

from bedwright.garden import Document
from bedwright.reference import Library
from bedwright.reference.library import fold
from bedwright.units import Quantity


def material_key(word: str, document: Document, library: Library) -> str:
    """The key behind a material's name or key, the gardener's own names before the tables'.

    Raises UnknownName, with the nearest, for a name that neither knows.
    """
    for at, own in enumerate(document.garden.material):
        if fold(word) in (fold(own.material), fold(own.name or "")):
            return document.keys.get(("material", at, "material"), own.material)
    return library.resolve("material_names", "material", word)


def crop_key(word: str, document: Document, library: Library) -> str:
    """The key behind a crop's name or key. Raises UnknownName."""
    return library.resolve("crop_names", "crop", word)


def kilograms(
    amount: Quantity, material: str, library: Library, area_m2: float | None = None
) -> float | None:
    """What an amount weighs [kg]; None where that needs a density or an area that isn't known.

    ``amount`` is a mass, volume, mass per area or depth; the last two need ``area_m2``.
    """
    if amount.kind == "mass":
        return amount.si
    if amount.kind in ("mass_per_area", "depth") and area_m2 is None:
        return None
    if amount.kind == "mass_per_area":
        return amount.si * float(area_m2 or 0)
    density = library.fact("material_facts", material, "bulk_density", "kg/m3")
    if density is None:
        return None
    volume = amount.si * float(area_m2 or 0) if amount.kind == "depth" else amount.si
    return volume * density.value
