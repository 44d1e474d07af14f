"""What a season takes, net of what is on hand: by day, in whole packages, at stated prices."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from datetime import date, timedelta

from bedwright.feeding.materials import material
from bedwright.garden import Document
from bedwright.planning.findings import Finding, finding
from bedwright.planning.garden_blend import GardenBlend, Purchase
from bedwright.planning.layout.crop_facts import timing_tables
from bedwright.planning.purchases.by_task import by_task
from bedwright.planning.purchases.model import GROWN, Buy, Item, Lot, Need, Purchases
from bedwright.planning.purchases.needs import (
    Gathered,
    by_season,
    dated_needs,
    need_materials,
    need_seed,
    sowings_of,
)
from bedwright.planning.purchases.net import bought_lots, bought_packages
from bedwright.planning.purchases.parts import need_parts
from bedwright.planning.purchases.shelf import Entry, entries_of, entry_for, in_unit
from bedwright.planning.shed import kilograms
from bedwright.planning.summer.model import Summer
from bedwright.planning.work.bed_days import Grown, bed_days
from bedwright.planning.work.model import Work
from bedwright.reference import Library

USUAL_WEEKS = 8  # what is ordered later can wait: judgement
_CENT = 0.005
_HAIR = 1e-6


def purchases(
    document: Document,
    library: Library,
    as_of: date,
    plantings: Sequence[Grown],
    shared: GardenBlend,
    summer: Summer | None = None,
    work: Work | None = None,
    *,
    weeks: int = USUAL_WEEKS,
) -> Purchases:
    """Everything that the season needs, net of what is on hand.

    Materials are bought as the blend has them; all else in the packages of ``[[supply]]``. What
    other plantings than materials needed before ``as_of`` is taken as had.

    Parameters
    ----------
    document, library : the garden, and the tables under its own facts
    as_of : the day of planning
    plantings : first crops and second ones
    shared : the garden's blend
    summer : what is said of shade cloth; None without weather
    work : the schedule, by whose days things are at hand; None: by the plantings' own days
    weeks : what is ordered later than so many weeks from the day of planning can wait
    """
    entries = entries_of(document, library)
    found = Gathered(document, library, entries)
    tables = timing_tables(library)
    dated = [(each, bed_days(each, tables, library)) for each in plantings]
    for each, days in by_season(dated):
        need_materials(found, each, days)
        need_seed(found, each, sowings_of(each, days))
        if days is None:
            crop = each.prescription.crop.name.lower()
            found.said.append(
                finding("purchases_not_dated", "assumed", bed=each.bed, crop=crop,
                        on=each.prescription.season.isoformat())
            )  # fmt: skip
    need_parts(found, dated, summer)
    needs = list(by_task(found.needs, work))
    ahead = [n for n in needs if _ahead(n, as_of)]
    past = {n.bed: None for n in needs if not _ahead(n, as_of)}
    if past:
        found.said.append(finding("purchases_taken_as_had", "assumed", beds=", ".join(past)))
    lead = timedelta(days=library.parameter("order_ahead", "day").value)
    used: dict[Entry, float] = {}
    buys = [
        _materials(document, library, item, needs, shared)
        if item.kind == "material"
        else _supplied(item, needs, entries, used, lead, found.said)
        for item, needs in _by_item(ahead).items()
    ]
    found.said += _said(buys, entries, bool(document.garden.stock))
    return Purchases(as_of, weeks, tuple(buys), _once(found.said))


def _ahead(need: Need, as_of: date) -> bool:
    return need.item.kind == "material" or need.on >= as_of


def _once(said: Sequence[Finding]) -> tuple[Finding, ...]:
    kept: dict[str, Finding] = {}
    for each in said:
        kept.setdefault(f"{each.code} {sorted(each.values.items(), key=str)}", each)
    return tuple(kept.values())


def _by_item(needs: Sequence[Need]) -> dict[Item, list[Need]]:
    """Needs by item in the order of the first day; seeds of one crop are one item."""
    first: dict[tuple[str, str, float | None, str], Item] = {}
    found: dict[Item, list[Need]] = {}
    for each in dated_needs(needs):
        key = (each.item.kind, each.item.key, each.item.shade, each.item.unit)
        item = first.setdefault(key, each.item)
        found.setdefault(item, []).append(replace(each, item=item))
    return found


def _materials(
    document: Document, library: Library, item: Item, needs: Sequence[Need], shared: GardenBlend
) -> Buy:
    """A material, in the packages that the blend has settled."""
    held: float | None = None
    priced: list[float] = []
    for at, stock in enumerate(document.garden.stock):
        if document.key("stock", at, "material") != item.key:
            continue
        mass = kilograms(stock.on_hand, material(library, item.key), library)
        held = held if mass is None else (held or 0.0) + mass
        if stock.price is not None:
            priced.append(stock.price.si)
    lots = [_lot(each, priced) for each in shared.purchases if each.key == item.key]
    made = bought_lots(item, needs, held, lots)
    return replace(made, missing=shared.missing.get(item.key, 0.0))


def _lot(bought: Purchase, priced: Sequence[float]) -> Lot:
    """A blend's packages; its price counts only where the document states it."""
    if bought.loose:
        return Lot(bought.count * bought.package_kg, None, None)
    stated = any(abs(bought.price - each) < _CENT for each in priced)
    return Lot(bought.count, bought.package_kg, bought.price if stated else None)


def _supplied(
    item: Item,
    needs: Sequence[Need],
    entries: tuple[Entry, ...],
    used: dict[Entry, float],
    lead: timedelta,
    said: list[Finding],
) -> Buy:
    """Seed, plants or parts, in the packages of the document; ``used`` grows by what is taken."""
    ahead = lead if item.kind in GROWN else timedelta(0)
    entry = entry_for(item, entries)
    if entry is None:
        return bought_packages(item, needs, None, None, None, lead=ahead)
    sizes = [None if e is None else in_unit(e, item) for e in (entry.on_hand, entry.package)]
    for stated, size in zip((entry.on_hand, entry.package), sizes, strict=True):
        if stated is not None and size is None:
            said.append(finding("purchases_not_converted", "doubt", item=item.name.lower()))
    held, package = sizes
    if held is not None:
        held = max(held - used.get(entry, 0.0), 0.0)
    price = entry.price if package is not None else None
    made = bought_packages(item, needs, held, package, price, lead=ahead)
    used[entry] = used.get(entry, 0.0) + min(made.needed, held or 0.0)
    if entry.can_buy:
        return made
    return replace(made, steps=(), missing=max(made.needed - (held or 0.0), 0.0))


def _said(buys: Sequence[Buy], entries: tuple[Entry, ...], listed: bool) -> list[Finding]:
    said = []
    for each in buys:
        if each.missing > _HAIR:
            said.append(
                finding("purchases_missing", "act", kind=each.item.kind,
                        item=each.item.name.lower(), amount=each.missing, unit=each.item.unit)
            )  # fmt: skip
    if not entries and any(each.item.kind != "material" for each in buys):
        said.append(finding("purchases_no_supply", "assumed"))
    if not listed and any(each.item.kind == "material" for each in buys):
        said.append(finding("purchases_no_stock", "assumed"))
    return said
