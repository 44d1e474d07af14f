"""What the document states of seed, plants and parts: on hand, packages, prices."""

from __future__ import annotations

from dataclasses import dataclass

from bedwright.garden import Document
from bedwright.garden.model_supply import measure_of, size_of
from bedwright.planning.assignment.candidates import candidate_at
from bedwright.planning.purchases.model import Item, Kind
from bedwright.reference import Library
from bedwright.units import Quantity

_KINDS: dict[str, Kind] = {
    "seed": "seed", "plants": "plants", "seed pieces": "pieces", "post": "post", "stake": "stake",
    "mesh panel": "panel", "drip line": "drip_line", "twine": "twine",
    "shade cloth": "shade_cloth",
}  # fmt: skip
_SAME_SHADE = 0.05  # cloth of 35 % serves where 30 % is asked: judgement
_EXACT = 1e-9


@dataclass(frozen=True)
class Entry:
    """One entry of ``[[supply]]``, its crop by its key."""

    kind: Kind
    key: str
    shade: float | None
    on_hand: float | Quantity | None
    package: float | Quantity | None
    price: float | None
    can_buy: bool


def entries_of(document: Document, library: Library) -> tuple[Entry, ...]:
    """The document's entries in their order."""
    return tuple(
        Entry(
            _KINDS[each.item],
            "" if each.crop is None else candidate_at(document, library, "supply", at).id,
            None if each.shade is None else each.shade.si,
            each.on_hand,
            each.package,
            None if each.price is None else each.price.si,
            each.can_buy,
        )
        for at, each in enumerate(document.garden.supply)
    )


def entry_for(item: Item, entries: tuple[Entry, ...]) -> Entry | None:
    """The entry that serves an item: of cloth the one nearest in shade, else one of any shade."""
    same = [each for each in entries if (each.kind, each.key) == (item.kind, item.key)]
    if item.shade is None or not same:
        return same[0] if same else None
    wanted = item.shade
    alike = [
        (abs(each.shade - wanted), at)
        for at, each in enumerate(same)
        if each.shade is not None and abs(each.shade - wanted) <= _SAME_SHADE + _EXACT
    ]
    if alike:
        return same[min(alike)[1]]
    return next((each for each in same if each.shade is None), None)


def in_unit(amount: float | Quantity, item: Item) -> float | None:
    """A stated amount in an item's unit, by the mass of one; None where that is not known."""
    counted, size = measure_of(amount) == "count", size_of(amount)
    if counted == (item.unit == "-"):
        return size
    if item.each_kg is None:
        return None
    return size * item.each_kg if counted else size / item.each_kg
