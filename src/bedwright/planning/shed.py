"""What the shed offers: materials in stock or to be bought, with their price per kilogram."""

from __future__ import annotations

from dataclasses import dataclass

from bedwright.feeding.materials import Material, material
from bedwright.garden import Document
from bedwright.garden.model import Stock
from bedwright.planning.findings import Finding, finding
from bedwright.reference import Library

# Kinds that a garden without a stock list is offered; raw manure, ash and residues are not.
_COMMON_KINDS = frozenset({"meal", "mineral", "compost", "liming", "micronutrient", "seaweed"})


@dataclass(frozen=True)
class Offer:
    """A material that may be used: what a kilogram costs, what is on hand [kg], its package."""

    material: Material
    cost_per_kg: float
    price_stated: bool
    on_hand_kg: float | None
    stock: Stock | None

    @classmethod
    def wished(cls, item: Material) -> Offer:
        """A material that the gardener means to spread without listing it in the shed."""
        return cls(item, 0.0, False, None, None)


def offers(document: Document, library: Library) -> tuple[list[Offer], tuple[Finding, ...]]:
    """The materials of the stock list; without one, the common materials of the tables.

    Where no price is stated anywhere the weight of a material stands for its cost. Where some
    prices are missing, a material without one is taken at the dearest stated price, so that it
    is not chosen for being unpriced.
    """
    stock = document.garden.stock
    if not stock:
        keys = [
            row["material"] for row in library.rows("materials") if row["kind"] in _COMMON_KINDS
        ]
        items = [material(library, key) for key in keys]
        return [Offer(item, 1.0, False, None, None) for item in items], (
            finding("no_stock_list", "assumed"),
        )
    listed: list[tuple[Material, Stock]] = []
    for at, each in enumerate(stock):
        available = each.can_buy or (each.on_hand is not None and each.on_hand.si > 0)
        if available:
            listed.append((material(library, document.key("stock", at, "material")), each))
    prices = [_per_kg(each) for _, each in listed]
    stated = [price for price in prices if price is not None]
    if not stated:
        taken, said = 1.0, [finding("no_prices", "assumed")]
    else:
        taken, said = max(stated), []
        missing = [
            item.name for (item, _), price in zip(listed, prices, strict=True) if price is None
        ]
        if missing:
            said = [finding("price_missing", "assumed", materials=", ".join(missing))]
    found: dict[str, Offer] = {}
    for (item, each), price in zip(listed, prices, strict=True):
        offer = Offer(
            item,
            taken if price is None else price,
            price is not None,
            each.on_hand.si if each.on_hand is not None else None,
            each,
        )
        standing = found.get(item.key)
        if standing is None or offer.cost_per_kg < standing.cost_per_kg:
            found[item.key] = offer
    return list(found.values()), tuple(said)


def _per_kg(stock: Stock) -> float | None:
    if stock.price is None or stock.package is None:
        return None
    return float(stock.price.si / stock.package.si)
