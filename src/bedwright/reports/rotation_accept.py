"""The first year of a plan written into the garden document, as wants and pins."""

from __future__ import annotations

from typing import Any

from bedwright.garden import Document
from bedwright.garden.edit import add_item
from bedwright.planning.assignment.result import Placement, YearsAhead
from bedwright.planning.timing_model import TURNS as _TURNS


def accepted(ahead: YearsAhead, document: Document) -> tuple[str, int, int]:
    """The document's text with the first year's crops, and how many wants and pins were added.

    The crop of a whole bed without a want becomes a want with its day, so that the season plan
    prepares the bed for it; two crops of a year become two wants, each with its turn. A third, a
    cover, what follows on a bed with a want, and what stands on a part of a bed become pins, one
    for each turn, where a cover gives way to a crop. What goes in that year and is harvested in
    the next is pinned for the next. What was settled before stays as it is.
    """
    year = ahead.years[0]
    taken = {bed for want in document.garden.want for bed in want.beds}
    new = [
        each
        for each in sorted(ahead.placements, key=lambda one: one.start)
        if each.settled is None and year in (each.year, each.start.year)
    ]
    wanted = _wanted([each for each in new if each.unit.bed not in taken], year)
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
    for entry in wants.values():
        text = add_item(text, ("want",), entry)
    for entry in pins:
        text = add_item(text, ("pin",), entry)
    return text, len(wants), len(pins)


def _wanted(new: list[Placement], year: int) -> list[tuple[Placement, bool]]:
    """The placements that become wants, and whether each must say its turn."""
    found: list[tuple[Placement, bool]] = []
    for bed in dict.fromkeys(each.unit.bed for each in new):
        crops = [
            each
            for each in new
            if each.unit.bed == bed
            and each.unit.part is None
            and each.year == year
            and each.crop.life not in ("cover", "plastic")
        ]
        if len({each.turn for each in crops}) == len(_TURNS) <= len(crops):
            spring, late = (next(x for x in crops if x.turn == turn) for turn in _TURNS)
            found += [(spring, True), (late, True)]
        elif crops:
            found.append((crops[0], False))
    return found


def _pinned(new: list[Placement], document: Document) -> list[dict[str, Any]]:
    """One pin for each turn of a part of a bed: a crop before a cover."""
    found: dict[tuple[Any, ...], dict[str, Any]] = {
        (each.bed, each.part, each.year, each.turn): {} for each in document.garden.pin
    }
    for each in sorted(new, key=lambda one: one.crop.life == "cover"):
        if each.crop.life != "plastic":
            place = (each.unit.bed, each.unit.part, each.year, each.turn)
            found.setdefault(place, _pin(each, _name(each, document)))
    return [pin for pin in found.values() if pin]


def _pin(each: Placement, crop: str) -> dict[str, Any]:
    pin: dict[str, Any] = {"bed": each.unit.bed}
    if each.unit.part is not None:
        pin["part"] = each.unit.part
    pin |= {"crop": crop, "year": each.year}
    if each.turn is not None:
        pin["turn"] = each.turn
    return pin


def _name(each: Placement, document: Document) -> str:
    """As the document names it: the gardener's own name, or that of the tables."""
    if each.crop.own is not None:
        return str(document.garden.crop[each.crop.own].crop)
    return each.crop.key.replace("_", " ")
