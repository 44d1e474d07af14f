"""The years ahead in sentences for the pages: each bed's seasons, wishes, what replaces what."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from bedwright.garden import Document
from bedwright.language import named
from bedwright.planning.assignment.model import Unit
from bedwright.planning.assignment.result import Placement, Rest, YearsAhead
from bedwright.reference import Library
from bedwright.reports.rotation_told import (
    amount_sentences,
    barred_sentences,
    became_words,
    content_of,
    instead_sentence,
    is_met,
    planting_words,
    unit_words,
)
from bedwright.reports.rotation_words import clash_words, rotation_sentence, starts_of
from bedwright.units import UnitSystem


@dataclass(frozen=True)
class Season:
    """One crop on one bed, or its rest in a year: the line, why, and what else is known of it."""

    year: int
    turn: str
    crop: str
    line: str
    why: tuple[str, ...]
    more: tuple[str, ...]
    settled: str


@dataclass(frozen=True)
class UnitSeasons:
    """The seasons of a bed or of one part of it, and the best other content with its cost."""

    bed: str
    part: int | None
    seasons: tuple[Season, ...]
    instead: str


@dataclass(frozen=True)
class WishYear:
    """What became of a wish in a year: in words, on which beds, and which were open to it."""

    year: int
    met: bool
    words: str
    beds: tuple[str, ...]
    open_beds: tuple[str, ...]


def seasons_told(
    years: YearsAhead, document: Document, library: Library, only: str | None = None
) -> dict[str, list[UnitSeasons]]:
    """The seasons of every bed by its id, in the years that are planned; of ``only`` one bed."""
    starts = starts_of(library)
    found: dict[str, list[UnitSeasons]] = {}
    for unit in (each for each in years.units if only in (None, each.bed)):
        seasons = tuple(_season(each, document, starts) for each in content_of(years, unit))
        found.setdefault(unit.bed, []).append(
            UnitSeasons(unit.bed, unit.part, seasons, instead_sentence(years, unit))
        )
    return found


def wishes_told(years: YearsAhead, system: UnitSystem) -> dict[int, list[WishYear]]:
    """What became of each wish by its place in the document, year by year."""
    found: dict[int, list[WishYear]] = {}
    for each in years.wishes:
        beds = dict.fromkeys(
            x.unit.bed for x in years.placements
            if x.year == each.year and x.crop.id == each.crop.id
        )  # fmt: skip
        found.setdefault(each.at, []).append(
            WishYear(
                each.year, is_met(each), became_words(each, system), tuple(beds), each.open_beds
            )
        )
    return found


@dataclass(frozen=True)
class Compared:
    """A plan of the years beside the one that stands: beds, wishes and clashes in words.

    Their worth is not compared: that of a trial counts what it keeps of the plan that stands.
    """

    beds: tuple[tuple[str, int, str, str], ...]
    wishes: tuple[tuple[str, int, str, str], ...]
    stands: bool
    clashes: tuple[tuple[str, ...], ...]


def years_compared(stands: YearsAhead | None, tried: YearsAhead, system: UnitSystem) -> Compared:
    """What differs between the years that stand and those of a change, in the garden's order."""
    clashes = tuple(tuple(clash_words(each)) for each in tried.clashes)
    if stands is None:
        return Compared((), (), False, clashes)
    places = dict.fromkeys((*stands.units, *tried.units))
    beds = []
    for unit in places:
        for year in dict.fromkeys((*stands.years, *tried.years)):
            before, after = (_crops(each, unit, year) for each in (stands, tried))
            if before != after:
                beds.append((unit_words(unit), year, before, after))
    one, other = _wish_words(stands, system), _wish_words(tried, system)
    wishes = [
        (crop, year, one.get((crop, year), ""), other.get((crop, year), ""))
        for crop, year in dict.fromkeys((*one, *other))
        if one.get((crop, year)) != other.get((crop, year))
    ]
    return Compared(tuple(beds), tuple(wishes), True, clashes)


def _crops(years: YearsAhead, unit: Unit, year: int) -> str:
    own = (x for x in years.placements if x.unit == unit and x.year == year)
    return ", ".join(named(each.crop.name).lower() for each in own)


def _wish_words(years: YearsAhead, system: UnitSystem) -> dict[tuple[str, int], str]:
    return {(named(x.crop.name).lower(), x.year): became_words(x, system) for x in years.wishes}


def _season(each: Placement | Rest, document: Document, starts: Mapping[str, str]) -> Season:
    system = document.garden.garden.units
    why = tuple(rotation_sentence(found, system) for found in each.reasons)
    barred, line = tuple(barred_sentences(each)), planting_words(each, starts)
    if isinstance(each, Rest):
        return Season(each.year, "", "", line, why, barred, "")
    crop = named(each.crop.name).lower()
    more = (*amount_sentences(each, document), *barred)
    return Season(each.year, each.turn or "", crop, line, why, more, each.settled or "")
