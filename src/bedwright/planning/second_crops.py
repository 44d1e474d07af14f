"""Several crops on one bed in one year: their order, their ground, what is left for later ones."""

from __future__ import annotations

import dataclasses
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date

from bedwright.garden import Bed, Document, Garden, Want
from bedwright.garden.failed import open_wants
from bedwright.garden.model_rotation import Rotation
from bedwright.planning.bed_pieces import piece_of
from bedwright.planning.nitrogen import NitrogenNeed
from bedwright.planning.nutrients import Need
from bedwright.planning.reaction import Reaction
from bedwright.planning.salt import SaltState
from bedwright.working import Figure


@dataclass(frozen=True)
class BedWant:
    """A bed, or a part of it, with a want of it.

    ``bed`` is the ground that the want has: of a ``part`` its piece, under the bed's id. ``nth``
    counts the bed's plantings of the year from 0. ``first_at`` is the want of the crop that this
    ground bears first in the year, None for the first itself; ``turn`` counts the crops of this
    ground from 0.
    """

    bed: Bed
    at: int
    want: Want
    first_at: int | None
    nth: int = 0
    part: int | None = None
    turn: int = 0


def bed_wants(document: Document) -> tuple[BedWant, ...]:
    """Every bed with what is wanted of it: its first planting in the garden's order, then further
    ones: crops that follow on the same ground, and crops of other parts.

    A want whose planting on a bed was lost is no more of that bed. Of several wants of a bed that
    of the earlier day is the first, or, where a day is not known, that of the spring; the
    document's check sees to it that each says its turn, or its turn and its day.
    """
    found = list(_in_order(document, open_wants(document.garden)))
    return tuple(sorted(found, key=lambda each: each.nth > 0))


def _in_order(document: Document, by_bed: dict[str, list[int]]) -> Iterator[BedWant]:
    wants = document.garden.want
    for bed in document.garden.bed:
        own = by_bed.get(bed.id, ())
        by_day = all(wants[at].set_out is not None for at in own)
        places = sorted(
            own,
            key=lambda at: (
                not by_day and wants[at].turn == "late summer",
                wants[at].set_out or date.min,
            ),
        )
        before: list[BedWant] = []
        for nth, at in enumerate(places):
            part = document.part_of_want(at)
            same = [each for each in before if part is None or each.part in (None, part)]
            made = BedWant(
                piece_of(bed, part), at, wants[at], same[0].at if same else None, nth, part,
                max((each.turn for each in same), default=-1) + 1,
            )  # fmt: skip
            before.append(made)
            yield made


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
