"""The first year of a plan written into the garden document, as wants and pins."""

from __future__ import annotations

from typing import Any

from bedwright.garden import Document
from bedwright.garden.edit import add_item, set_field
from bedwright.garden.failed import open_wants
from bedwright.planning.assignment.result import Placement, YearsAhead
from bedwright.planning.timing_model import TURNS as _TURNS


def accepted(ahead: YearsAhead, document: Document) -> tuple[str, int, int]:
    """The document's text with the first year's crops, and how many wants and pins were added.

    The crop of a whole bed becomes a want with its day, so that the season plan prepares the bed
    for it; two crops of a year become two wants, each with its turn and day, and a want that was
    there before gains its turn where another crop goes before or after it. A third, a cover, what
    stands on a part of a bed, and what is harvested in the next year, become pins with their day;
    without days a cover gives way to a crop. Nothing else of what was settled before is changed.
    """
    year = ahead.years[0]
    taken = open_wants(document.garden)  # what was lost takes no bed
    new = [
        each
        for each in sorted(ahead.placements, key=lambda one: one.start)
        if each.settled is None and year in (each.year, each.start.year)
    ]
    wanted = _wanted([each for each in new if each.unit.bed not in taken], year)
    turns, beside = _beside_wants(ahead, document, new)
    wanted += beside
    wants: dict[tuple[str, str, bool], dict[str, Any]] = {}
    for each, turned in wanted:
        crop = _name(each, document)
        entry = wants.setdefault((crop, str(each.on), turned), {"crop": crop, "beds": []})
        entry["beds"].append(each.unit.bed)
        if each.on is not None:
            entry["set_out"] = each.on
        if turned:
            entry["turn"] = each.turn
    own = [each for each, _ in wanted]
    pins = _pinned([each for each in new if each not in own], document)
    text = document.text
    for at, turn in turns.items():
        text = set_field(text, ("want", at, "turn"), turn)
    for entry in wants.values():
        text = add_item(text, ("want",), entry)
    for entry in pins:
        text = add_item(text, ("pin",), entry)
    return text, len(wants), len(pins)


def _wanted(new: list[Placement], year: int) -> list[tuple[Placement, bool]]:
    """The placements that become wants, and whether each must say its turn."""
    found: list[tuple[Placement, bool]] = []
    for bed in dict.fromkeys(each.unit.bed for each in new):
        crops = [each for each in new if each.unit.bed == bed and _is_crop_of_whole_bed(each, year)]
        if len({each.turn for each in crops}) == len(_TURNS) <= len(crops):
            spring, late = (next(x for x in crops if x.turn == turn) for turn in _TURNS)
            found += [(spring, True), (late, True)]
        elif len(crops) > 1 and all(each.turn and each.on for each in crops[:2]):
            found += [(each, True) for each in crops[:2]]
        elif crops:
            found.append((crops[0], False))
    return found


def _is_crop_of_whole_bed(each: Placement, year: int) -> bool:
    whole = each.unit.part is None and each.year == year
    return whole and not each.crop.resting


def _beside_wants(
    ahead: YearsAhead, document: Document, new: list[Placement]
) -> tuple[dict[int, str], list[tuple[Placement, bool]]]:
    """What goes before or after a want of the document: the turn that each such want gains, by its
    place, and the placements, which become wants with their turn."""
    turns: dict[int, str] = {}
    found: list[tuple[Placement, bool]] = []
    year = ahead.years[0]
    wants, planned = document.garden.want, open_wants(document.garden)
    for each in new:
        if each.turn is None or not _is_crop_of_whole_bed(each, year):
            continue
        bed = each.unit.bed
        own = planned.get(bed, [])
        if len(own) != 1 or any(bed == x.unit.bed for x, _ in found):
            continue
        want = wants[own[0]]
        turn = want.turn or _turn_of(ahead, document, own[0])
        by_day = want.set_out is not None and each.on is not None
        if turn is not None and (turn != each.turn or by_day):
            turns[own[0]] = turn
            found.append((each, True))
    return turns, found


def _turn_of(ahead: YearsAhead, document: Document, at: int) -> str | None:
    """The turn in which the plan has a want of the first year, if it is one on all of its beds."""
    want, key = document.garden.want[at], document.key("want", at, "crop")
    turns = {
        each.turn
        for each in ahead.placements
        if each.settled == "want"
        and each.unit.bed in want.beds
        and each.crop.key == key
        and each.year == ahead.years[0]
    }
    return turns.pop() if len(turns) == 1 else None


def _pinned(new: list[Placement], document: Document) -> list[dict[str, Any]]:
    """One pin for each day on a unit, or turn where no day is known: a crop before a cover."""
    found: dict[tuple[Any, ...], dict[str, Any]] = {
        (each.bed, each.part, each.year, each.set_out or each.turn): {}
        for each in document.garden.pin
    }
    for each in sorted(new, key=lambda one: one.crop.life == "cover"):
        if each.crop.life != "plastic":
            place = (each.unit.bed, each.unit.part, each.year, each.on or each.turn)
            found.setdefault(place, _pin(each, _name(each, document)))
    return [pin for pin in found.values() if pin]


def _pin(each: Placement, crop: str) -> dict[str, Any]:
    pin: dict[str, Any] = {"bed": each.unit.bed}
    if each.unit.part is not None:
        pin["part"] = each.unit.part
    pin |= {"crop": crop, "year": each.year}
    if each.turn is not None:
        pin["turn"] = each.turn
    if each.on is not None:
        pin["set_out"] = each.on
    return pin


def _name(each: Placement, document: Document) -> str:
    """As the document names it: the gardener's own name, or that of the tables."""
    if each.crop.own is not None:
        return str(document.garden.crop[each.crop.own].crop)
    return each.crop.key.replace("_", " ")
