"""What the history and the plan say of each bed's seasons, as arrays for the ledger.

Arrays are by material, bed and season [kg/m2]; where a figure has a range, its three ends (low,
typical, high) are the first axis.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

from bedwright.feeding.materials import Material, material
from bedwright.garden import Bed, Document
from bedwright.garden.model import Season
from bedwright.planning.amounts import applied_kg_m2
from bedwright.planning.findings import Finding, finding
from bedwright.planning.prescription import Prescription
from bedwright.planning.yields import yield_per_area
from bedwright.reference import Library
from bedwright.working import Figure

Array = NDArray[np.float64]
REMOVED = ("n", "p2o5", "k2o")


@dataclass(frozen=True)
class PlannedSeason:
    """What a plan means to do on a bed: crop, yield hoped for [kg/m2], materials [kg/m2]."""

    bed: str
    year: int
    crop: str
    goal: Figure
    spread: tuple[tuple[str, float], ...]


@dataclass
class Entries:
    """The history and the plan of all beds, counted out.

    ``recorded`` marks the seasons of which the document tells; ``planned`` those of the plan.
    ``mass`` and ``removed`` have the ends first; ``removed`` is by nutrient of ``REMOVED``.
    """

    beds: tuple[str, ...]
    seasons: tuple[int, ...]
    materials: tuple[Material, ...]
    recorded: NDArray[np.bool_]
    planned: NDArray[np.bool_]
    mass: Array
    removed: Array
    crops: dict[tuple[int, int], list[str]] = field(default_factory=dict)
    findings: dict[str, list[Finding]] = field(default_factory=dict)

    def say(self, bed: str, said: Finding) -> None:
        """Note a finding on a bed, once."""
        listed = self.findings.setdefault(bed, [])
        if said not in listed:
            listed.append(said)


def planned_season(plan: Prescription) -> PlannedSeason:
    """A bed's prescription as a season of the ledger."""
    return PlannedSeason(
        plan.bed.id,
        plan.season.year,
        plan.crop.key,
        plan.crop.goal,
        tuple((line.material.key, line.per_area) for line in plan.lines),
    )


def entries(document: Document, library: Library, planned: Sequence[PlannedSeason] = ()) -> Entries:
    """Count out the history, and the plan after it. ``library`` holds the garden's own facts.

    A plan for a season that the history tells of already is left out.
    """
    garden = document.garden
    beds = tuple(bed.id for bed in garden.bed)
    years = [season.year for season in garden.history] + [each.year for each in planned]
    seasons = tuple(range(min(years), max(years) + 1)) if years else ()
    keys = _material_keys(document, planned)
    shape = (len(beds), len(seasons))
    book = Entries(
        beds=beds,
        seasons=seasons,
        materials=tuple(material(library, key) for key in keys),
        recorded=np.zeros(shape, dtype=bool),
        planned=np.zeros(shape, dtype=bool),
        mass=np.zeros((3, len(keys), *shape)),
        removed=np.zeros((3, len(REMOVED), *shape)),
    )
    at_material = {key: at for at, key in enumerate(keys)}
    at_bed = {bed.id: (place, bed) for place, bed in enumerate(garden.bed)}
    for at, season in enumerate(garden.history):
        place, bed = at_bed[season.bed]
        column = season.year - seasons[0]
        book.recorded[place, column] = True
        for nth, applied in enumerate(season.applied):
            key = document.keys[("history", at, "applied", nth, "material")]
            item = book.materials[at_material[key]]
            mass = applied_kg_m2(applied, item, bed.area_m2, library)
            if mass is None:
                book.say(bed.id, finding("ledger_mass_not_known", "doubt", material=item.name,
                                         year=str(season.year)))  # fmt: skip
                continue
            book.mass[:, at_material[key], place, column] += _ends(mass)
        crop = document.keys.get(("history", at, "crop"))
        if crop is not None:
            _harvest(book, crop, _harvested(season, bed), (place, column), library)
    for each in planned:
        place, _ = at_bed[each.bed]
        column = each.year - seasons[0]
        if book.recorded[place, column]:
            continue
        book.planned[place, column] = True
        for key, rate in each.spread:
            book.mass[:, at_material[key], place, column] += rate
        _harvest(book, each.crop, each.goal, (place, column), library)
    return book


def _material_keys(document: Document, planned: Sequence[PlannedSeason]) -> tuple[str, ...]:
    used = [
        document.keys[("history", at, "applied", nth, "material")]
        for at, season in enumerate(document.garden.history)
        for nth in range(len(season.applied))
    ]
    used += [key for each in planned for key, _ in each.spread]
    return tuple(dict.fromkeys(used))


def _ends(figure: Figure) -> Array:
    return np.array([figure.least, figure.value, figure.most])


def _harvested(season: Season, bed: Bed) -> Figure | None:
    """The harvest that the history states, as a mass per area [kg/m2]; a lost crop gave none."""
    stated = season.harvested
    if stated is None and season.failed is not None:
        return Figure("yield", 0.0, "kg/m2", "stated")
    if stated is None:
        return None
    value = yield_per_area(stated, bed.area_m2)
    return Figure("yield", value, "kg/m2", "stated", note=stated.text)


def _harvest(
    book: Entries,
    crop: str,
    harvest: Figure | None,
    where: tuple[int, int],
    library: Library,
) -> None:
    """Count what a harvest carried off; without a stated one the table's yield is assumed."""
    place, column = where
    bed, year = book.beds[place], str(book.seasons[column])
    book.crops.setdefault(where, []).append(crop)
    name = crop_name(library, crop)
    contents = [library.fact("crop_facts", crop, f"{each}_removal", "kg/kg") for each in REMOVED]
    if all(content is None for content in contents):
        book.say(bed, finding("ledger_removal_not_known", "doubt", crop=name, year=year))
        return
    if all(content is not None and content.value == 0 for content in contents):
        return  # a cover crop, dug in where it grew
    taken = harvest or library.fact("crop_facts", crop, "yield", "kg/m2")
    if taken is None:
        book.say(bed, finding("ledger_yield_not_known", "doubt", crop=name, year=year))
        return
    if harvest is None:
        book.say(bed, finding("ledger_yield_assumed", "assumed", crop=name, year=year,
                              taken=taken, sources=taken.sources))  # fmt: skip
    for nth, content in enumerate(contents):
        if content is None:
            book.say(bed, finding("ledger_removal_not_known", "doubt", crop=name, year=year))
            continue
        book.removed[:, nth, place, column] += _ends(taken) * _ends(content)


def crop_name(library: Library, crop: str) -> str:
    """A crop's name in a sentence."""
    return next((row["name"].lower() for row in library.rows("crops") if row["crop"] == crop), crop)
