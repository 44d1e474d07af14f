"""The garden's own harvests over the years, against year, amendment, cultivar and date of start.

Nothing here was drawn at random: what moved together with what is told beside every difference.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from datetime import date
from typing import Literal

import numpy as np

from bedwright.feeding.materials import material
from bedwright.garden import Document
from bedwright.journal import Did, Entry
from bedwright.journal.names import crop_key
from bedwright.planning.assignment.candidates import candidate_at
from bedwright.planning.yields import yield_per_area
from bedwright.reference import Library, UnknownName

By = Literal["material", "cultivar", "start"]


@dataclass(frozen=True)
class Harvested:
    """One bed's harvest of a season [kg/m2]; ``cultivar`` by its name, ``materials`` that were
    spread for it by key, ``started`` the day it was sown or set out, where the journal tells."""

    bed: str
    year: int
    cultivar: str
    kg_m2: float
    materials: frozenset[str]
    started: date | None


@dataclass(frozen=True)
class Group:
    """Harvests that have something in common: how many, beds, years, mean and ends [kg/m2]."""

    key: str
    harvests: int
    beds: tuple[str, ...]
    years: tuple[int, ...]
    mean: float
    low: float
    high: float


@dataclass(frozen=True)
class Split:
    """Harvests parted in two: those with something and those without it.

    ``difference`` is that of the means, with less without [kg/m2]; ``within`` the same within the
    years that have both, None where none has. ``together`` names what moved with it: ``year``,
    ``bed``, ``cultivar``, or the key of a material that was always spread together with it.
    """

    by: By
    key: str
    name: str
    having: Group
    lacking: Group
    difference: float
    within: float | None
    common_years: tuple[int, ...]
    together: tuple[str, ...]


@dataclass(frozen=True)
class CropYears:
    """What the years tell of one crop: its harvests, by year, and each way to part them."""

    crop: str
    name: str
    harvests: tuple[Harvested, ...]
    by_year: tuple[Group, ...]
    splits: tuple[Split, ...]


def over_the_years(
    document: Document, library: Library, entries: Iterable[Entry] = ()
) -> tuple[CropYears, ...]:
    """The harvests of a garden's history, crop by crop.

    Parameters
    ----------
    document : with the journal counted into its history
    library : the tables under the garden's own facts
    entries : of the journal, for the days on which crops were sown or set out
    """
    starts = _starts(document, library, entries)
    beds = {bed.id: bed for bed in document.garden.bed}
    found: dict[str, list[Harvested]] = {}
    for at, season in enumerate(document.garden.history):
        if season.crop is None or season.harvested is None:
            continue
        bed = beds[season.bed]
        area = bed.area_m2 / (1 if season.part is None else bed.parts)
        crop = candidate_at(document, library, "history", at)
        materials = frozenset(
            document.key("history", at, "applied", nth, "material")
            for nth in range(len(season.applied))
        )
        found.setdefault(crop.key, []).append(
            Harvested(
                season.bed,
                season.year,
                crop.name,
                yield_per_area(season.harvested, area),
                materials,
                starts.get((season.bed, season.year, crop.key)),
            )
        )
    return tuple(
        _crop(library, key, sorted(rows, key=lambda each: (each.year, each.bed)))
        for key, rows in sorted(found.items())
    )


def _starts(
    document: Document, library: Library, entries: Iterable[Entry]
) -> dict[tuple[str, int, str], date]:
    """The first day on which a crop was sown or set out on a bed in a year."""
    found: dict[tuple[str, int, str], date] = {}
    for each in entries:
        if not isinstance(each, Did) or each.what not in ("sowed", "set out"):
            continue
        if each.bed is None or each.crop is None:
            continue
        try:
            key = (each.bed, each.on.year, crop_key(each.crop, document, library))
        except UnknownName:
            continue
        found[key] = min(each.on, found.get(key, each.on))
    return found


def _crop(library: Library, key: str, rows: Sequence[Harvested]) -> CropYears:
    years = sorted({each.year for each in rows})
    by_year = tuple(
        _group(str(year), [each for each in rows if each.year == year]) for year in years
    )
    return CropYears(
        key, library.crop(key)["name"], tuple(rows), by_year, tuple(_splits(library, rows))
    )


def _splits(library: Library, rows: Sequence[Harvested]) -> Iterable[Split]:
    for key in sorted({key for each in rows for key in each.materials}):
        yield from _split("material", key, material(library, key).name, rows, _spread(key))
    cultivars = sorted({each.cultivar for each in rows})
    # of two cultivars one split says all
    for name in cultivars[:1] if len(cultivars) == 2 else cultivars:
        yield from _split("cultivar", name, name, rows, _of_cultivar(name))
    dated = [each for each in rows if each.started is not None]
    if len(dated) > 1:
        middle = float(np.median([_day(each) for each in dated]))
        yield from _split("start", "early", "", dated, lambda each: _day(each) < middle)


def _spread(key: str) -> Callable[[Harvested], bool]:
    return lambda each: key in each.materials


def _of_cultivar(name: str) -> Callable[[Harvested], bool]:
    return lambda each: each.cultivar == name


def _day(each: Harvested) -> int:
    assert each.started is not None
    return each.started.timetuple().tm_yday


def _split(
    by: By, key: str, name: str, rows: Sequence[Harvested], has: Callable[[Harvested], bool]
) -> Iterable[Split]:
    having = [each for each in rows if has(each)]
    lacking = [each for each in rows if not has(each)]
    if not having or not lacking:
        return
    one, other = _group("with", having), _group("without", lacking)
    common = tuple(sorted(set(one.years) & set(other.years)))
    within = None
    if common:
        within = float(
            np.mean(
                [
                    np.mean([e.kg_m2 for e in having if e.year == year])
                    - np.mean([e.kg_m2 for e in lacking if e.year == year])
                    for year in common
                ]
            )
        )
    yield Split(
        by, key, name, one, other, one.mean - other.mean, within, common,
        tuple(_together(by, key, rows, having, lacking)),
    )  # fmt: skip


def _together(
    by: By,
    key: str,
    rows: Sequence[Harvested],
    having: Sequence[Harvested],
    lacking: Sequence[Harvested],
) -> Iterable[str]:
    """What differs wherever this does: nothing can be told apart from it."""
    facts: tuple[tuple[str, Callable[[Harvested], object]], ...] = (
        ("year", lambda each: each.year),
        ("bed", lambda each: each.bed),
        ("cultivar", lambda each: each.cultivar),
    )
    for name, of in facts:
        if name == by:
            continue
        if not {of(each) for each in having} & {of(each) for each in lacking}:
            yield name
    for other in sorted({m for each in rows for m in each.materials} - {key}):
        ends = [{other in each.materials for each in side} for side in (having, lacking)]
        if ends in ([{True}, {False}], [{False}, {True}]):
            yield other


def _group(key: str, rows: Sequence[Harvested]) -> Group:
    values = [each.kg_m2 for each in rows]
    return Group(
        key, len(rows), tuple(dict.fromkeys(each.bed for each in rows)),
        tuple(sorted({each.year for each in rows})), float(np.mean(values)), min(values),
        max(values),
    )  # fmt: skip
