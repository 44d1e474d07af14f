"""What grew on each unit before the years ahead, and what still stands there."""

from __future__ import annotations

from bedwright.garden import Document
from bedwright.planning.assignment.candidates import candidate_at
from bedwright.planning.assignment.model import Past, Unit
from bedwright.planning.assignment.units import units_at
from bedwright.reference import Library


def pasts_of(document: Document, library: Library, units: tuple[Unit, ...]) -> tuple[Past, ...]:
    """The history's crops by unit, oldest first; a season without a crop is none.

    A season that names no part of a bed stands for all of them.
    """
    found = []
    for at, season in enumerate(document.garden.history):
        if season.crop is None:
            continue
        crop = candidate_at(document, library, "history", at)
        found += [
            Past(unit, season.year, crop.key, crop.name, crop.family)
            for unit in units_at(units, season.bed, season.part)
        ]
    return tuple(sorted(found, key=lambda each: (each.unit, each.year)))


def last_of(pasts: tuple[Past, ...], unit: int) -> Past | None:
    """The latest crop on a unit."""
    own = [each for each in pasts if each.unit == unit]
    return max(own, key=lambda each: each.year, default=None)
