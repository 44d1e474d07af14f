"""The years ahead in sentences for the pages: each bed's seasons, wishes, what replaces what."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date

from bedwright.garden import Document
from bedwright.language import named, said
from bedwright.planning.assignment.model import Unit
from bedwright.planning.assignment.result import Placement, Rest, WishMet, YearsAhead
from bedwright.reference import Library
from bedwright.reports.days_said import day_words, day_year_words, span_words
from bedwright.reports.fill import figure
from bedwright.reports.rotation_words import (
    beds_words,
    clash_words,
    joined_words,
    per_cent,
    rotation_sentence,
)
from bedwright.reports.words_dates import STARTS
from bedwright.reports.words_rotation import BARRED, ROTATION
from bedwright.units import UnitSystem, show
from bedwright.units.show import plain

_SAME = 1e-6
_LITTLE = 0.05  # of a bed: a cost below it is next to nothing
_RESTING = ("cover", "plastic")


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
    starts = {
        row["crop"]: row["word"]
        for row in library.rows("crop_habits")
        if row["property"] == "start" and row.used
    }
    found: dict[str, list[UnitSeasons]] = {}
    for unit in (each for each in years.units if only in (None, each.bed)):
        content: list[Placement | Rest] = [x for x in years.placements if x.unit == unit]
        content += [x for x in years.rests if x.unit == unit]
        seasons = tuple(_season(x, document, starts) for x in sorted(content, key=_when))
        found.setdefault(unit.bed, []).append(
            UnitSeasons(unit.bed, unit.part, seasons, _instead(years, unit))
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
                each.year, each.short <= _SAME, _became(each, system), tuple(beds), each.open_beds
            )
        )
    return found


def proof_told(years: YearsAhead) -> list[str]:
    """How good the plan is proven to be, and what else is to be known of it."""
    words = [
        ROTATION["proof"].format(gap=per_cent(years.gap)) if years.gap > _SAME else ROTATION["best"]
    ]
    if not years.repeatable:
        words.append(ROTATION["stopped"])
    if years.near_cost is not None and years.near_gain:
        words.append(ROTATION["near"].format(cost=per_cent(years.near_cost)))
    return words


def money_told(years: YearsAhead, currency: str) -> list[str]:
    """Income by the gardener's own prices, year by year; nothing where no price is stated."""
    by_year: dict[int, float] = {}
    for each in years.placements:
        if each.income is not None:
            by_year[each.year] = by_year.get(each.year, 0.0) + each.income
    return [
        ROTATION["money_year"].format(year=year, money=plain(money, 2), currency=currency)
        for year, money in sorted(by_year.items())
    ]


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
    return {(named(x.crop.name).lower(), x.year): _became(x, system) for x in years.wishes}


def unit_words(unit: Unit) -> str:
    """A bed's name, with its part where it has parts."""
    if unit.part is None:
        return unit.bed
    return ROTATION["part"].format(bed=unit.bed, part=unit.part)


def _when(each: Placement | Rest) -> tuple[int, date]:
    return each.year, each.start if isinstance(each, Placement) else date(each.year, 1, 1)


def _season(each: Placement | Rest, document: Document, starts: Mapping[str, str]) -> Season:
    system = document.garden.garden.units
    why = tuple(rotation_sentence(found, system) for found in each.reasons)
    barred = _barred(each)
    if isinstance(each, Rest):
        return Season(each.year, "", "", ROTATION["rest"].format(year=each.year), why, barred, "")
    crop = named(each.crop.name).lower()
    more = (*_amount(each, document), *barred)
    return Season(
        each.year, each.turn or "", crop, _line(each, crop, starts), why, more, each.settled or ""
    )


def _line(each: Placement, crop: str, starts: Mapping[str, str]) -> str:
    if each.on is None:
        return ROTATION["whole_year"].format(year=each.year, crop=crop)
    start = STARTS[starts.get(each.crop.key, "sown")][1]
    on = day_words(each.on) if each.on.year == each.year else day_year_words(each.on)
    if each.crop.life == "perennial":
        return ROTATION["perennial"].format(year=each.year, crop=crop, start=start, on=on)
    if each.first_harvest is None or each.last_harvest is None:
        span = span_words(
            each.on, each.last_harvest or each.free_from, year=each.on.year != each.year
        )
        return ROTATION["covers"].format(year=each.year, crop=crop, span=span)
    span = span_words(
        each.first_harvest, each.last_harvest, year=each.last_harvest.year != each.year
    )
    key = "one_day" if each.first_harvest == each.last_harvest else "dated"
    return ROTATION[key].format(year=each.year, crop=crop, start=start, on=on, span=span)


def _amount(each: Placement, document: Document) -> tuple[str, ...]:
    place, told = document.garden.garden, []
    if each.expected is not None:
        told.append(ROTATION["expected"].format(mass=figure(each.expected, place.units)))
    if each.income is not None and each.income_a_week is not None:
        told.append(
            ROTATION["income"].format(
                money=plain(each.income, 2),
                currency=place.currency,
                a_week=plain(each.income_a_week, 2),
            )
        )
    return tuple(told)


def _barred(each: Placement | Rest) -> tuple[str, ...]:
    if not each.barred:
        return ()
    groups = "; ".join(
        ROTATION["barred_group"].format(
            crops=", ".join(said(crop, "name") for crop in crops), why=BARRED[code]
        )
        for code, crops in each.barred
    )
    return (ROTATION["barred"].format(groups=groups),)


def _instead(years: YearsAhead, unit: Unit) -> str:
    """What the best other content changes: crops that come against crops that go."""
    each = next((x for x in years.instead if x.unit == unit), None)
    if each is None:
        return ROTATION["no_instead"]
    own = (x for x in years.placements if x.unit == unit)
    now = {(x.year, x.crop.id): x.crop for x in own if x.crop.life not in _RESTING}
    then = {(x.year, x.crop.id): x.crop for x in each.content if x.crop.life not in _RESTING}
    come, gone = (
        joined_words(
            [
                f"{year} {named(crop.name).lower()}"
                for (year, key), crop in crops.items()
                if (year, key) not in others
            ]
        )
        for crops, others in ((then, now), (now, then))
    )
    nothing = ROTATION["instead_nothing"]
    content = ROTATION["instead_of"].format(come=come or nothing, gone=gone or nothing)
    if not gone:
        content = ROTATION["instead_too"].format(come=come)
    if each.cost <= _SAME:
        return ROTATION["instead_free"].format(content=content)
    cost = ROTATION["cost_little"]
    if each.cost_beds >= _LITTLE:
        cost = ROTATION["cost_beds"].format(beds=beds_words(each.cost_beds))
    return ROTATION["instead"].format(content=content, cost=cost)


def _became(each: WishMet, system: UnitSystem) -> str:
    if each.short <= _SAME:
        return ROTATION["met"]
    if each.weeks_short:
        met = each.weeks - len(each.weeks_short)
        told = ROTATION["short_weeks"].format(met=met, weeks=each.weeks)
        if not each.weeks_out:
            return told
        return f"{told} ({ROTATION['weeks_out'].format(weeks=len(each.weeks_out))})"
    if each.measure == "beds":
        given, wanted = plain(each.given, 2), plain(each.wanted, 2)
    else:
        kind = "area" if each.measure == "area" else "mass"
        given = show(each.given, kind, system) if each.given > _SAME else ROTATION["none"]
        wanted = show(each.wanted, kind, system)
    return ROTATION["short"].format(given=given, wanted=wanted)
