"""What the whole garden takes from the shed, and the revisions of the tables used."""

from __future__ import annotations

import hashlib
from collections.abc import Sequence
from dataclasses import dataclass

from bedwright.feeding.materials import material
from bedwright.garden import Document
from bedwright.planning.garden_blend import GardenBlend, Purchase
from bedwright.planning.prescription import Prescription
from bedwright.planning.shed import kilograms
from bedwright.reference import Library
from bedwright.reference.tables import COLUMNS, shipped


@dataclass(frozen=True)
class ShedTotal:
    """What the whole garden takes of one material [kg], what is on hand, and what is bought.

    ``price_stated`` tells whether the document gives its price; the sum to pay leaves it out if
    not.
    """

    key: str
    name: str
    needed_kg: float
    on_hand_kg: float | None
    bought: tuple[Purchase, ...]
    price_stated: bool

    @property
    def cost(self) -> float:
        """The price of the packages to buy."""
        return sum(each.count * each.price for each in self.bought)


def prices_stated(document: Document) -> bool:
    """Whether the gardener states any price, so that money means money."""
    return any(each.price is not None for each in document.garden.stock)


def on_hand(document: Document, library: Library) -> dict[str, float]:
    """What the stock list counts of each material [kg], over all its lines."""
    found: dict[str, float] = {}
    for at, stock in enumerate(document.garden.stock):
        item = material(library, document.key("stock", at, "material"))
        mass = kilograms(stock.on_hand, item, library)
        if mass is not None:
            found[item.key] = found.get(item.key, 0.0) + mass
    return found


def shed_totals(
    plans: Sequence[Prescription], shared: GardenBlend, stocked: dict[str, float]
) -> tuple[ShedTotal, ...]:
    """What the plans take of each material, most first; ``stocked`` is :func:`on_hand`."""
    needed: dict[str, float] = {}
    names: dict[str, str] = {}
    priced: dict[str, bool] = {}
    for plan in plans:
        for line in plan.lines:
            key = line.material.key
            needed[key] = needed.get(key, 0.0) + line.preplant.value + line.later.value
            names[key] = line.material.name
            priced[key] = line.offer.price_stated
    for purchase in shared.purchases:
        needed.setdefault(purchase.key, 0.0)
        names.setdefault(purchase.key, purchase.name)
    found = [
        ShedTotal(
            key,
            names[key],
            mass,
            stocked.get(key),
            tuple(each for each in shared.purchases if each.key == key),
            priced.get(key, True),
        )
        for key, mass in needed.items()
    ]
    return tuple(sorted(found, key=lambda each: -each.needed_kg))


def revisions() -> dict[str, str]:
    """The revision of each reference table: the start of the SHA-256 of its text."""
    return {
        table: hashlib.sha256(shipped(table).encode("utf-8")).hexdigest()[:12]
        for table in sorted((*COLUMNS, "sources"))
    }
