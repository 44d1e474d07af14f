"""What the shed offers: materials in stock or to be bought, with their price per kilogram."""

from __future__ import annotations

from dataclasses import dataclass

from bedwright.feeding.materials import Material, material
from bedwright.garden import Document
from bedwright.garden.model import Stock
from bedwright.planning.findings import Finding, finding
from bedwright.reference import Library
from bedwright.units import Quantity

# Kinds that a garden without a stock list is offered; raw manure, ash and residues are not.
_NOT_OFFERED = frozenset({"hydrated_lime"})  # caustic, and not advised in gardens: uconn_veg
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
            row["material"]
            for row in library.rows("materials")
            if row["kind"] in _COMMON_KINDS and row["material"] not in _NOT_OFFERED
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
    prices = [_per_kg(each, item, library) for item, each in listed]
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
            kilograms(each.on_hand, item, library),
            each,
        )
        standing = found.get(item.key)
        if standing is None or offer.cost_per_kg < standing.cost_per_kg:
            found[item.key] = offer
    return list(found.values()), tuple(said)


def kilograms(amount: Quantity | None, item: Material, library: Library) -> float | None:
    """A stated mass, or volume by the material's bulk density [kg]; None where it is not known."""
    if amount is None or amount.kind == "mass":
        return None if amount is None else amount.si
    density = library.fact("material_facts", item.key, "bulk_density", "kg/m3")
    return None if density is None else amount.si * density.value


def _per_kg(stock: Stock, item: Material, library: Library) -> float | None:
    package = kilograms(stock.package, item, library)
    if stock.price is None or not package:
        return None
    return float(stock.price.si / package)
