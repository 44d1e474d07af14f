"""A garden that wishes for crops and settles none: the first year of the years ahead as wants."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from datetime import date
from typing import Any

from bedwright.garden import Document, Want
from bedwright.planning.assignment.ahead import years_ahead
from bedwright.planning.assignment.lit import light_of
from bedwright.planning.assignment.result import Placement, YearsAhead
from bedwright.planning.findings import Finding, finding
from bedwright.reference import Library


def only_wished(document: Document) -> bool:
    """Whether crops are wished for, and none is settled for any bed."""
    return bool(document.garden.wish) and not document.garden.want


def wanted(document: Document, ahead: YearsAhead) -> tuple[Document, tuple[Finding, ...]]:
    """The document with what its years ahead put on whole beds in their first year as wants, and
    that this is assumed.

    Of a bed that is to bear more than one crop, the first one counts, and of a late summer the
    first one of that.
    """
    year = ahead.years[0]
    first: dict[tuple[str, bool], Placement] = {}
    for each in sorted(ahead.placements, key=lambda one: one.start):
        if each.unit.part is None and each.year == year and not each.crop.resting:
            first.setdefault((each.unit.bed, each.turn == "late summer"), each)
    twice = {bed for bed, late in first if late and (bed, False) in first}
    wants: list[Want] = []
    keys, cultivars = dict(document.keys), dict(document.cultivars)
    for (bed, _), each in sorted(first.items()):
        at = len(wants)
        values: dict[str, Any] = {"crop": each.crop.key.replace("_", " "), "beds": [bed]}
        if each.crop.own is not None:
            values["crop"] = document.garden.crop[each.crop.own].crop
            cultivars[("want", at, "crop")] = each.crop.own
        if each.on is not None:
            values["set_out"] = each.on
        if bed in twice:
            values["turn"] = each.turn
        wants.append(Want(**values))
        keys[("want", at, "crop")] = each.crop.key
    if not wants:
        return document, ()
    told = "; ".join(f"{each.beds[0]}: {each.crop}" for each in wants)
    garden = document.garden.model_copy(update={"want": wants})
    made = replace(document, garden=garden, keys=keys, cultivars=cultivars)
    return made, (finding("wants_from_wishes", "assumed", placed=told),)


def settled(
    document: Document, library: Library, as_of: date, tell: Callable[[str], None]
) -> tuple[Document, YearsAhead | None, tuple[Finding, ...]]:
    """A document that only wishes with its wishes as wants, and the years ahead that placed them;
    any other as it is."""
    if not only_wished(document):
        return document, None, ()
    tell("choosing crops for the beds")
    years = years_ahead(document, library, as_of, light=light_of(document, library))
    document, assumed = wanted(document, years)
    return document, years, assumed
