"""What to buy as the page tells it: by the day of the order, with its cost, and what can wait."""

from __future__ import annotations

import math
from dataclasses import dataclass
from datetime import date, timedelta
from itertools import groupby

from bedwright.planning.purchases.model import Buy, Purchases, Step
from bedwright.reports.days_said import day_words, day_year_words
from bedwright.reports.purchases_text import (
    amount_words,
    item_words,
    lots_words,
    purchases_sentence,
    when_words,
)
from bedwright.reports.words_purchases import BUY
from bedwright.units import UnitSystem


@dataclass(frozen=True)
class LineTold:
    """One thing to buy: what, in which packages, for how much ("" where its price is not stated),
    for which beds; ``needed`` is the first day on which it is used."""

    item: str
    lots: str
    cost: str
    beds: tuple[str, ...]
    needed: str


@dataclass(frozen=True)
class DayTold:
    """What is ordered by one day, and what that costs at stated prices; ``late`` if it was needed
    before today."""

    when: str
    late: bool
    lines: tuple[LineTold, ...]
    cost: str


@dataclass(frozen=True)
class ItemTold:
    """One thing of the season: what is needed of it, on hand ("" where nothing is stated), bought,
    and what is missing and can't be bought."""

    item: str
    needed: str
    on_hand: str
    bought: str
    missing: str


@dataclass(frozen=True)
class BuyingTold:
    """All of it: what is ordered within the weeks ahead, what can wait from which day on, sums."""

    soon: tuple[DayTold, ...]
    later: tuple[DayTold, ...]
    later_from: str
    cost: str
    cost_soon: str
    unpriced: tuple[str, ...]
    priced: bool
    items: tuple[ItemTold, ...]
    acts: tuple[str, ...]
    notes: tuple[str, ...]


def buying_told(found: Purchases, system: UnitSystem, currency: str) -> BuyingTold:
    """The purchases in the reader's units and the garden's currency."""
    soon = [pair for pair in found.steps if not found.waits(pair[1])]
    later = [pair for pair in found.steps if found.waits(pair[1])]
    return BuyingTold(
        soon=_days(found, soon, system, currency),
        later=_days(found, later, system, currency),
        later_from=day_year_words(found.as_of + timedelta(weeks=found.weeks)),
        cost=_money(found.cost, currency),
        cost_soon=_money(math.fsum(step.cost or 0.0 for _, step in soon), currency),
        unpriced=tuple(item_words(each) for each in found.unpriced),
        priced=any(step.cost is not None for _, step in found.steps),
        items=tuple(_item(each, system) for each in found.buys),
        acts=tuple(purchases_sentence(e, system) for e in found.findings if e.weight == "act"),
        notes=tuple(purchases_sentence(e, system) for e in found.findings if e.weight != "act"),
    )


def _days(
    found: Purchases, pairs: list[tuple[Buy, Step]], system: UnitSystem, currency: str
) -> tuple[DayTold, ...]:
    days = []
    for when, group in groupby(pairs, lambda pair: when_words(found, pair[1])):
        of_day = list(group)
        costs = [step.cost for _, step in of_day if step.cost is not None]
        days.append(
            DayTold(
                when,
                any(step.on < found.as_of for _, step in of_day),
                tuple(_line(buy, step, system, currency) for buy, step in of_day),
                _money(math.fsum(costs), currency) if len(of_day) > 1 and costs else "",
            )
        )
    return tuple(days)


def _line(buy: Buy, step: Step, system: UnitSystem, currency: str) -> LineTold:
    return LineTold(
        item_words(buy.item),
        lots_words(buy.item, step.lots, system),
        "" if step.cost is None else _money(step.cost, currency),
        _beds(buy, step),
        day_words(step.on),
    )


def _beds(buy: Buy, step: Step) -> tuple[str, ...]:
    """The beds that a step is for: those that need the thing before the next step's day."""
    later = [each.on for each in buy.steps if each.on > step.on]
    ends = min(later, default=date.max)
    begins = step.on if any(each.on < step.on for each in buy.steps) else date.min
    return tuple(dict.fromkeys(need.bed for need in buy.needs if begins <= need.on < ends))


def _item(buy: Buy, system: UnitSystem) -> ItemTold:
    item = buy.item

    def words(amount: float) -> str:
        return amount_words(item, amount, system)

    return ItemTold(
        item_words(item),
        words(buy.needed),
        "" if buy.on_hand is None else words(buy.on_hand),
        words(buy.bought) if buy.steps else BUY["none"],
        words(buy.missing) if buy.missing > 0 else "",
    )


def _money(amount: float, currency: str) -> str:
    return f"{amount:.2f} {currency}"
