"""The blend of the whole garden: recipes by group, packages to buy, what binds, what clashes."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np

from bedwright.feeding.blend import Blend, Demand, blend, describe
from bedwright.feeding.shared import Aim, WholeBlend, whole_blend
from bedwright.feeding.whole import Group, Package, Shed
from bedwright.garden import Document
from bedwright.planning.assessment import Assessment
from bedwright.planning.findings import Finding, finding
from bedwright.planning.grouping import RecipeGroup, recipe_groups
from bedwright.planning.shed import kilograms
from bedwright.reference import Library

# What a kilogram of a material costs that is needed beyond what is on hand and can't be bought:
# dearer than anything, so that the least of it is asked for.
_MISSING_PRICE = 1e4
_CENT = 0.01
_NITROGEN = {"n_season": "n", "n_preplant": "n", "n_later": "n"}  # given up together
_EASED = 1e-6  # share by which a demand of a nearest blend is eased, so that it can be met again
_ALTERNATIVES: dict[str, tuple[Aim, ...]] = {
    "cheapest": ("money",),
    "least_phosphorus": ("phosphorus", "money"),
    "fewest_bags": ("carried", "money"),
}


@dataclass(frozen=True)
class Purchase:
    """Packages of one material to buy."""

    key: str
    name: str
    count: float
    package_kg: float
    price: float
    loose: bool


@dataclass(frozen=True)
class Alternative:
    """Another blend of the garden: what it costs and brings."""

    name: str
    money: float
    phosphorus_kg: float
    carried: int


@dataclass(frozen=True)
class Prepared:
    """A garden ready to be blended: groups alone and together, the shed, P2O5 per kilogram."""

    groups: tuple[RecipeGroup, ...]
    nearest: tuple[Blend, ...]
    whole: tuple[Group, ...]
    shed: Shed
    p2o5: tuple[np.ndarray[tuple[int], np.dtype[np.float64]], ...]
    names: dict[str, str]


@dataclass(frozen=True)
class GardenBlend:
    """The garden's blend: groups with their recipes, purchases, and what is to be said.

    ``by_planting`` holds each planting's blend (per m2). ``gap`` is how far the money may be above
    the least that is possible, as a share; None where materials are missing and nothing is proven.
    """

    prepared: Prepared
    by_planting: dict[str, Blend]
    purchases: tuple[Purchase, ...]
    missing: dict[str, float]
    money: float
    gap: float | None
    phosphorus_kg: float
    carried: int
    findings: tuple[Finding, ...]

    @property
    def groups(self) -> tuple[RecipeGroup, ...]:
        """The recipe groups, in the garden's order."""
        return self.prepared.groups


def garden_blend(
    document: Document,
    assessed: tuple[Assessment, ...],
    library: Library,
    aims: tuple[Aim, ...] = ("money", "phosphorus", "carried"),
) -> GardenBlend:
    """One blend for all beds, whole packages bought, stock used first."""
    prepared = _prepare(document, assessed, library)
    budget = document.garden.limits.budget
    said: list[Finding] = []
    found: WholeBlend | None = None
    if prepared.whole:
        limit = budget.si if budget is not None else None
        found = whole_blend(prepared.whole, prepared.shed, prepared.p2o5, aims=aims, budget=limit)
        if found is None and limit is not None:  # not within the budget: then as near as can be
            found = whole_blend(prepared.whole, prepared.shed, prepared.p2o5, aims=aims)
    shed, missing = prepared.shed, dict[str, float]()
    if found is None and prepared.whole:
        shed = _with_missing(prepared)
        found = whole_blend(prepared.whole, shed, prepared.p2o5, aims=aims)
        if found is None:
            raise RuntimeError("recipes that each group can have cannot be had together")
        missing = {
            package.key: count
            for package, count in zip(shed.packages, found.bought, strict=True)
            if package.price >= _MISSING_PRICE and count > 1e-6
        }
        for key, mass in missing.items():
            said.append(
                finding("stock_runs_out", "act", material=prepared.names[key], kg=f"{mass:.1f}")
            )
    money = 0.0
    purchases: list[Purchase] = []
    if found is not None:
        for package, count in zip(shed.packages, found.bought, strict=True):
            if count > 0 and package.price < _MISSING_PRICE:
                money += count * package.price
                purchases.append(
                    Purchase(package.key, prepared.names[package.key], count, package.mass_kg,
                             package.price, package.loose)
                )  # fmt: skip
    if found is not None and len(found.aims) < len(aims):
        said.append(finding("later_aims_not_searched", "assumed"))
    if budget is not None and money > budget.si:
        said.append(finding("over_budget", "act", over=f"{money - budget.si:.2f}",
                            budget=budget.text))  # fmt: skip
        said += _savings(prepared, shed, money)
    return GardenBlend(
        prepared=prepared,
        by_planting=_by_planting(prepared, found),
        purchases=tuple(purchases),
        missing=missing,
        money=money,
        gap=None if missing else found.gap if found is not None else 0.0,
        phosphorus_kg=found.phosphorus if found is not None else 0.0,
        carried=found.carried if found is not None else 0,
        findings=tuple(said),
    )


def _savings(prepared: Prepared, shed: Shed, money: float) -> list[Finding]:
    """What giving up each need on all beds would save, where the budget does not reach."""
    needs = dict.fromkeys(
        _NITROGEN.get(demand.key, demand.key)
        for group in prepared.whole
        for demand in group.demands
        if demand.kind != "limit" and demand.lower
    )
    said = []
    for need in needs:
        rest = tuple(
            replace(
                group,
                demands=tuple(
                    each
                    for each in group.demands
                    if each.kind == "limit" or _NITROGEN.get(each.key, each.key) != need
                ),
            )
            for group in prepared.whole
        )
        other = whole_blend(rest, shed, prepared.p2o5, aims=("money",))
        if other is not None and money - other.money > _CENT:
            said.append(
                finding("budget_saving", "note", nutrient=need, saved=f"{money - other.money:.2f}")
            )
    return said


def alternatives(prepared: Prepared, budget: float | None = None) -> tuple[Alternative, ...]:
    """The cheapest blend, the one with least phosphorus and the one with fewest bags.

    Each keeps the ``budget``; one that finds no blend within it is left out.
    """
    found: list[Alternative] = []
    if not prepared.whole:
        return ()
    for name, aims in _ALTERNATIVES.items():
        other = whole_blend(prepared.whole, prepared.shed, prepared.p2o5, aims=aims, budget=budget)
        if other is not None:
            found.append(Alternative(name, other.money, other.phosphorus, other.carried))
    return tuple(found)


def _prepare(document: Document, assessed: tuple[Assessment, ...], library: Library) -> Prepared:
    limits = document.garden.limits
    groups = recipe_groups(assessed, limits.tolerance.si)
    nearest: list[Blend] = []
    whole: list[Group] = []
    for group in groups:
        alone = blend(group.candidates, group.demands, limits.most_materials)
        nearest.append(alone)
        demands = group.demands
        if alone.clash:
            demands = tuple(_eased(each, alone) for each in demands)
        if group.candidates.keys:
            whole.append(Group(group.area_m2, group.candidates, demands, limits.most_materials))
    p2o5 = tuple(
        np.array([brings.p2o5_total.value for _, brings in group.beds[0].used], dtype=np.float64)
        for group in groups
        if group.candidates.keys
    )
    names = {offer.material.key: offer.material.name for each in assessed for offer, _ in each.used}
    return Prepared(groups, tuple(nearest), tuple(whole), _shed(document, assessed, library), p2o5,
                     names)  # fmt: skip


def _eased(demand: Demand, nearest: Blend) -> Demand:
    """A demand with its bounds where the nearest blend stands, so that it can be met again."""
    reached = nearest.supplied[demand.key]
    lower, upper = demand.lower, demand.upper
    hair = abs(reached) * _EASED  # a bound that is just reached is eased too: the solver rounds
    if lower is not None and reached <= lower + hair:
        lower = min(lower, reached) - hair
        lower = lower if lower > 0 or demand.lower == 0 else None
    if upper is not None and reached >= upper - hair:
        upper = max(upper, reached + hair)
    return replace(demand, lower=lower, upper=upper)


def _shed(document: Document, assessed: tuple[Assessment, ...], library: Library) -> Shed:
    """What is on hand and can be bought; without a stock list all of it, by weight."""
    offers = {offer.material.key: offer for each in assessed for offer, _ in each.used}
    on_hand: dict[str, float] = {}
    packages: list[Package] = []
    if not document.garden.stock:
        return Shed({}, tuple(Package(key, 1.0, 1.0, loose=True) for key in sorted(offers)))
    for at, stock in enumerate(document.garden.stock):
        key = document.key("stock", at, "material")
        offer = offers.get(key)
        if offer is None:
            continue
        held = kilograms(stock.on_hand, offer.material, library)
        on_hand[key] = on_hand.get(key, 0.0) + (held or 0.0)
        if not stock.can_buy:
            continue
        size = kilograms(stock.package, offer.material, library)
        price = stock.price.si if stock.price is not None else None
        if size is None:
            packages.append(Package(key, 1.0, offer.cost_per_kg, loose=True))
        else:
            packages.append(Package(key, size, price if price is not None else
                                    offer.cost_per_kg * size))  # fmt: skip
    listed = set(on_hand)
    for key, offer in offers.items():
        if key not in listed:  # a compost that is wished for without being in the stock list
            packages.append(Package(key, 1.0, offer.cost_per_kg, loose=True))
    return Shed(on_hand, tuple(packages))


def _with_missing(prepared: Prepared) -> Shed:
    """The shed, with each material that can't be bought offered loose at a price of last resort."""
    buyable = {package.key for package in prepared.shed.packages}
    extra = tuple(
        Package(key, 1.0, _MISSING_PRICE, loose=True)
        for key in sorted(prepared.shed.on_hand)
        if key not in buyable
    )
    return Shed(prepared.shed.on_hand, prepared.shed.packages + extra)


def _by_planting(prepared: Prepared, found: WholeBlend | None) -> dict[str, Blend]:
    blends: dict[str, Blend] = {}
    at = -1
    for group, alone in zip(prepared.groups, prepared.nearest, strict=True):
        if not group.candidates.keys:
            blends |= {bed.planting: alone for bed in group.beds}
            continue
        at += 1
        if found is None:
            raise RuntimeError("a group with materials has no recipe")
        for bed in group.beds:
            own = describe(bed.candidates, bed.demands, found.preplant[at], found.later[at])
            if alone.clash:
                short = {
                    demand.key: (demand.lower or 0.0) - own.supplied[demand.key]
                    for demand in bed.demands
                    if demand.kind != "limit"
                    and own.supplied[demand.key] < (demand.lower or 0.0) * (1 - 1e-5)
                }
                own = replace(own, clash=alone.clash, shortfall=short)
            blends[bed.planting] = own
    return blends
