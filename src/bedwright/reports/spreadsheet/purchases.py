"""What is bought, and what the season takes of each thing, as sheets."""

from __future__ import annotations

import math
from collections.abc import Iterable
from datetime import date

from bedwright.planning.purchases.model import Buy, Item, Lot, Need, Purchases, Step
from bedwright.reports.purchases_text import item_words
from bedwright.reports.spreadsheet.model import Cell, Column, Measures, Sheet, number, unit_word
from bedwright.reports.words_spreadsheet import COLUMNS, SHEET_TITLES, SHEETS_TOLD, SPREADSHEET
from bedwright.units import unit_factor

_GRAM = 1e-3
_HAIR = 1e-6


def purchases_sheet(found: Purchases, units: Measures, currency: str) -> Sheet:
    """What is bought, one row for each size of package, by the day it is ordered."""
    money = COLUMNS["price"].format(currency=currency), COLUMNS["cost"].format(currency=currency)
    columns = (
        Column(COLUMNS["order_by"], "day"), Column(COLUMNS["needed_on"], "day"),
        Column(COLUMNS["item"]), Column(COLUMNS["beds"]),
        Column(COLUMNS["packages"], "count"), Column(COLUMNS["package"], "number"),
        Column(COLUMNS["bought"], "number"), Column(COLUMNS["unit"]),
        Column(COLUMNS["about_count"], "count"), Column(money[0], "money"),
        Column(money[1], "money"), Column(COLUMNS["when"]), Column(COLUMNS["note"]),
    )  # fmt: skip
    rows = [_lot(found, buy, step, lot, units) for buy, step in found.steps for lot in step.lots]
    return Sheet(SHEET_TITLES["purchases"], SHEETS_TOLD["purchases"], columns, tuple(rows))


def needed_sheet(found: Purchases, units: Measures, currency: str) -> Sheet:
    """Everything that the season takes, what is on hand of it and what is bought."""
    columns = (
        Column(COLUMNS["item"]), Column(COLUMNS["beds"]),
        *(Column(COLUMNS[each], "number") for each in ("needed", "on_hand", "bought", "missing")),
        Column(COLUMNS["unit"]), Column(COLUMNS["cost"].format(currency=currency), "money"),
        Column(COLUMNS["note"]),
    )  # fmt: skip
    rows = [_item(each, units) for each in found.buys]
    return Sheet(SHEET_TITLES["needed"], SHEETS_TOLD["needed"], columns, tuple(rows))


def _lot(found: Purchases, buy: Buy, step: Step, lot: Lot, units: Measures) -> tuple[Cell, ...]:
    word, one = _unit(buy, units)
    price = lot.price
    if price is not None and lot.size is None:
        price *= one  # that of one unit
    return (
        max(step.order_by, found.as_of),
        step.on,
        item_words(buy.item),
        _beds(_served(buy, step)),
        None if lot.size is None else number(lot.count),
        None if lot.size is None else number(lot.size / one),
        number(lot.amount / one),
        word,
        _count(buy.item, lot.amount),
        None if price is None else number(price),
        None if lot.cost is None else number(lot.cost),
        SPREADSHEET["waits" if found.waits(step) else "now"],
        SPREADSHEET["no_price"] if lot.cost is None else None,
    )


def _item(buy: Buy, units: Measures) -> tuple[Cell, ...]:
    word, one = _unit(buy, units)
    notes = [SPREADSHEET["missing"]] if buy.missing > 0 else []
    if buy.on_hand is None:
        notes.append(SPREADSHEET["on_hand_not_stated"])
    if buy.steps and buy.cost is None:
        notes.append(SPREADSHEET["no_price"])
    return (
        item_words(buy.item),
        _beds(buy.needs),
        number(buy.needed / one),
        None if buy.on_hand is None else number(buy.on_hand / one),
        number(buy.bought / one),
        number(buy.missing / one),
        word,
        None if not buy.steps or buy.cost is None else number(buy.cost),
        "; ".join(notes) or None,
    )


def _unit(buy: Buy, units: Measures) -> tuple[str, float]:
    """The unit in which an item is counted, and what one of it is in SI.

    Seed of which less than a kilogram is needed is weighed in grams everywhere.
    """
    item = buy.item
    if item.unit == "-":
        return SPREADSHEET["unit_seed" if item.kind == "seed" else "unit_count"], 1.0
    if item.kind in ("seed", "pieces") and max(buy.needed, buy.bought) < 1:
        return "g", _GRAM
    word = {"kg": units.mass, "m": units.length, "m2": units.area}[item.unit]
    return unit_word(word), unit_factor(word)[0]


def _count(item: Item, amount: float) -> float | None:
    """About how many seeds or pieces an amount holds."""
    if item.each_kg is None or item.unit != "kg":
        return None
    return math.ceil(amount / item.each_kg - _HAIR)


def _served(buy: Buy, step: Step) -> list[Need]:
    """What a purchase is for: the needs from its day until the next one's."""
    later = min((each.on for each in buy.steps if each.on > step.on), default=date.max)
    return [each for each in buy.needs if step.on <= each.on < later] or list(buy.needs)


def _beds(needs: Iterable[Need]) -> str:
    return ", ".join(dict.fromkeys(each.bed for each in needs))
