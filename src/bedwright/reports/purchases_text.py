"""What to buy, in the order of the days by which it is ordered, as plain text."""

from __future__ import annotations

import math
from collections.abc import Sequence
from datetime import timedelta
from typing import cast

from bedwright.language import named
from bedwright.planning.findings import Finding
from bedwright.planning.purchases.model import Buy, Item, Kind, Lot, Purchases, Step
from bedwright.reports.days_said import day_year_words, days_said
from bedwright.reports.layout import wrapped
from bedwright.reports.words_purchases import BUY, ITEMS, PURCHASES_FINDINGS
from bedwright.units import UnitSystem, show
from bedwright.units.show import plain

_KINDS = {"kg": "mass", "m": "length", "m2": "area"}
_HAIR = 1e-9


def purchases_text(found: Purchases, system: UnitSystem, currency: str) -> str:
    """The section of a plan; empty where nothing is needed."""
    if not found.buys:
        return ""
    title = BUY["title"]
    lines = [title, "-" * len(title)]
    for each in found.findings:
        if each.weight == "act":
            lines += wrapped(purchases_sentence(each, system), "* ")
    if not found.steps:
        lines += wrapped(BUY["nothing"])
    lines += _list(found, [p for p in found.steps if not found.waits(p[1])], system, currency)
    later = [pair for pair in found.steps if found.waits(pair[1])]
    if later:
        begin = found.as_of + timedelta(weeks=found.weeks)
        lines += ["", BUY["waits"].format(day=day_year_words(begin)) + ":"]
        lines += _list(found, later, system, currency)
    enough = [each for each in found.buys if not each.steps and not each.missing]
    if enough:
        items = ", ".join(item_words(each.item) for each in enough)
        lines += ["", *wrapped(BUY["enough"].format(items=items))]
    if found.steps:
        lines += ["", *_sum(found, currency)]
    for each in found.findings:
        if each.weight != "act":
            lines += wrapped(purchases_sentence(each, system), "- ")
    return "\n".join([*lines, ""])


def purchases_sentence(found: Finding, system: UnitSystem) -> str:
    """A finding of the purchases as a sentence."""
    values = {key: str(each) for key, each in found.values.items()}
    for key in ("crop", "item"):
        if key in values:
            values[key] = named(values[key])
    if found.code == "purchases_missing":
        kind = cast(Kind, values["kind"])
        item = Item(kind, "", values["item"], values["unit"])
        values["item"] = item_words(item)
        values["amount"] = amount_words(item, float(values["amount"]), system)
    if "count" in values:
        values["count"] = plain(float(values["count"]))
    if "on" in values:
        values["on"] = days_said(values["on"])
    text = PURCHASES_FINDINGS[found.code].format(**values)
    return text[:1].upper() + text[1:]


def item_words(item: Item) -> str:
    """An item in words."""
    if item.kind == "material":
        return named(item.name).lower()
    crop = named(item.name).lower()
    shade = "" if item.shade is None else f"{plain(item.shade * 100)} %"
    text = ITEMS[item.kind].format(crop=crop, shade=shade)
    return text.strip()


def amount_words(item: Item, amount: float, system: UnitSystem) -> str:
    """An amount of an item: seed in grams and by number, the rest in the garden's units."""
    if item.unit == "-":
        count = plain(math.ceil(amount - _HAIR), 6)
        return BUY["seeds_only"].format(count=count) if item.kind == "seed" else count
    if item.kind not in ("seed", "pieces"):
        return show(amount, _KINDS[item.unit], system, digits=3)
    small = amount < 1
    mass = f"{plain(amount * 1000)} g" if small else show(amount, "mass", system, digits=3)
    if item.each_kg is None:
        return mass
    count = plain(math.ceil(amount / item.each_kg - 1e-6), 3)
    key = "seeds" if item.kind == "seed" else "pieces"
    return BUY[key].format(mass=mass, count=count)


def lots_words(item: Item, lots: Sequence[Lot], system: UnitSystem) -> str:
    """Packages in words."""
    told = []
    for lot in lots:
        if lot.size is None:
            told.append(amount_words(item, lot.count, system))
            continue
        key = "package" if round(lot.count) == 1 else "packages"
        size = amount_words(item, lot.size, system)
        if item.unit == "-" and lot.size == 1:
            told.append(plain(lot.count, 6))
        else:
            told.append(BUY[key].format(count=plain(lot.count, 6), size=size))
    return ", ".join(told)


def _list(
    found: Purchases, pairs: Sequence[tuple[Buy, Step]], system: UnitSystem, currency: str
) -> list[str]:
    lines: list[str] = []
    before = ""
    for buy, step in pairs:
        head = when_words(found, step)
        if head != before:
            lines.append(f"{head}:")
            before = head
        cost = BUY["price_not_stated"] if step.cost is None else f"{step.cost:.2f} {currency}"
        told = BUY["line"].format(
            item=item_words(buy.item), lots=lots_words(buy.item, step.lots, system), cost=cost
        )
        lines += wrapped(told, "  [ ] ")
    return lines


def when_words(found: Purchases, step: Step) -> str:
    """The day by which a purchase is to be made."""
    day = day_year_words(step.on)
    order = max(step.order_by, found.as_of)
    if step.on in (order, step.order_by):
        return BUY["by_day"].format(day=day)
    told = BUY["now"] if step.order_by <= found.as_of else day_year_words(order)
    return BUY["order"].format(order=told, day=day)


def _sum(found: Purchases, currency: str) -> list[str]:
    unpriced = ", ".join(item_words(each) for each in found.unpriced)
    if all(step.cost is None for _, step in found.steps):
        return wrapped(BUY["no_price"])
    until = found.as_of + timedelta(weeks=found.weeks)
    now = math.fsum(step.cost or 0.0 for _, step in found.steps if not found.waits(step))
    text = BUY["sum"].format(
        money=f"{found.cost:.2f}", currency=currency, now=f"{now:.2f}", day=day_year_words(until)
    )
    if unpriced:
        text += " " + BUY["sum_unpriced"].format(items=unpriced)
    return wrapped(text)
