"""Two crops on one bed in one year: which is the second, and what is left for it to ask."""

from __future__ import annotations

import dataclasses
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date, timedelta

from bedwright.garden import Bed, Document, Garden, Want
from bedwright.garden.model_rotation import Rotation
from bedwright.planning.findings import Finding, finding
from bedwright.planning.nitrogen import NitrogenNeed
from bedwright.planning.nutrients import Need
from bedwright.planning.reaction import Reaction
from bedwright.planning.salt import SaltState
from bedwright.planning.timing_model import WantDates
from bedwright.working import Figure


@dataclass(frozen=True)
class BedWant:
    """A bed with a want of it; ``first_at`` is that of its first crop, for the year's second."""

    bed: Bed
    at: int
    want: Want
    first_at: int | None


def bed_wants(document: Document) -> tuple[BedWant, ...]:
    """Every bed with what is wanted of it: first crops in the garden's order, then second ones.

    Of two wants of a bed, that of the spring is the first, of one turn that of the earlier day; the
    document's check sees to it that each says its turn, or its turn and its day.
    """
    by_bed: dict[str, list[int]] = {}
    for at, want in enumerate(document.garden.want):
        for bed in want.beds:
            by_bed.setdefault(bed, []).append(at)
    found = list(_in_order(document, by_bed))
    return tuple(sorted(found, key=lambda each: each.first_at is not None))


def _in_order(document: Document, by_bed: dict[str, list[int]]) -> Iterator[BedWant]:
    wants = document.garden.want
    for bed in document.garden.bed:
        places = sorted(
            by_bed.get(bed.id, ()),
            key=lambda at: (wants[at].turn == "late summer", wants[at].set_out or date.min),
        )
        for nth, at in enumerate(places):
            yield BedWant(bed, at, wants[at], places[0] if nth else None)


def turnover_days(garden: Garden) -> int:
    """The days that it takes to turn a bed over, as the document says or usually."""
    return (garden.rotation or Rotation()).turnover_days


def settled(
    needs: tuple[Need, ...], nitrogen: NitrogenNeed, reaction: Reaction, salt: SaltState
) -> tuple[tuple[Need, ...], NitrogenNeed, Reaction, SaltState]:
    """What a year's second crop asks: its nitrogen in full, nothing else; ceilings stay."""
    nothing = tuple(
        dataclasses.replace(
            each,
            amount=Figure(each.amount.name, 0.0, each.amount.unit, "assumed"),
            why="settled_with_the_first_crop",
        )
        for each in needs
    )
    full = Figure(
        "n_to_supply",
        nitrogen.crop_need.value,
        "kg/m2",
        "computed",
        low=nitrogen.crop_need.least,
        high=nitrogen.crop_need.most,
        formula="crop need; the year's credits went to the first crop",
        inputs=(nitrogen.crop_need,),
    )
    ceiling = Figure(
        "n_ceiling",
        nitrogen.crop_need.most,
        "kg/m2",
        "computed",
        formula="highest guideline",
        inputs=(nitrogen.crop_need,),
    )
    asked = dataclasses.replace(nitrogen, credits=(), to_supply=full, ceiling=ceiling, findings=())
    return (
        nothing,
        asked,
        dataclasses.replace(reaction, lime=None, sulfur=None),
        dataclasses.replace(salt, gypsum=None),
    )


def still_standing(
    first: WantDates | None, name: str, second: date, turnover_days: int
) -> tuple[Finding, ...]:
    """That a second crop is to be planted before the first is out of the bed, where dates tell."""
    outlook = None if first is None else first.taken
    if outlook is None or outlook.last_harvest is None:
        return ()
    free = outlook.on + timedelta(days=round(outlook.last_harvest.mean) + turnover_days)
    if free <= second:
        return ()
    return (
        finding(
            "first_crop_still_stands",
            "act",
            first=name.lower(),
            free=free.isoformat(),
            second=second.isoformat(),
        ),
    )
