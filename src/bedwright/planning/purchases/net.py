"""Needs less what is on hand, in whole packages, each bought for the day that first needs it."""

from __future__ import annotations

import math
from collections.abc import Sequence
from datetime import date, timedelta

from bedwright.planning.purchases.model import Buy, Item, Lot, Need, Step

_HAIR = 1e-9
_BLENDED = 1e-6  # share within which a blend's solver meets its masses


def shortfalls(needs: Sequence[Need], on_hand: float) -> tuple[tuple[date, float], ...]:
    """Each day of need with what is short by then, all earlier days counted.

    Parameters
    ----------
    needs : of one item, in any order
    on_hand : in its unit, 0 and up
    """
    by_day: dict[date, float] = {}
    for each in needs:
        by_day[each.on] = by_day.get(each.on, 0.0) + each.amount
    found, whole = [], 0.0
    for on in sorted(by_day):
        whole += by_day[on]
        found.append((on, max(whole - on_hand, 0.0)))
    return tuple(found)


def bought_packages(
    item: Item,
    needs: Sequence[Need],
    on_hand: float | None,
    package: float | None,
    price: float | None,
    *,
    lead: timedelta,
) -> Buy:
    """An item bought in packages of one size; where no size is known, the amount itself.

    Parameters
    ----------
    needs, on_hand : in the item's unit; None: nothing is stated, and nothing is counted
    package, price : size of one and what it costs; None where not stated
    lead : how long before the day of need it is ordered
    """
    steps, count = [], 0.0
    for on, short in shortfalls(needs, on_hand or 0.0):
        if short <= _HAIR:
            continue
        wanted = short if package is None else math.ceil(short / package * (1 - _HAIR))
        if wanted > count + _HAIR:
            steps.append(Step(on, on - lead, (Lot(wanted - count, package, price),)))
            count = wanted
    return Buy(item, tuple(needs), on_hand, tuple(steps))


def bought_lots(
    item: Item, needs: Sequence[Need], on_hand: float | None, lots: Sequence[Lot]
) -> Buy:
    """An item whose packages are settled already, as those of a blend: each is laid to the first
    day that needs it, the largest first."""
    left = sorted(lots, key=lambda each: (each.size is None, -(each.size or 0.0)))
    days = shortfalls(needs, on_hand or 0.0)
    steps: list[Step] = []
    bought = 0.0
    for at, (on, short) in enumerate(days):
        last = at == len(days) - 1
        taken: dict[Lot, float] = {}
        while left and (last or bought < short * (1 - _BLENDED) - _HAIR):
            lot = left[0]
            kind = Lot(1.0, lot.size, lot.price)
            count = lot.count if last else min(lot.count, _whole(lot, short - bought))
            taken[kind] = taken.get(kind, 0.0) + count
            bought += count * (lot.size or 1.0)
            rest = lot.count - count
            left = ([Lot(rest, lot.size, lot.price)] if rest > _HAIR else []) + left[1:]
        if taken:
            made = tuple(Lot(count, kind.size, kind.price) for kind, count in taken.items())
            steps.append(Step(on, on, made))
    return Buy(item, tuple(needs), on_hand, tuple(steps))


def _whole(lot: Lot, short: float) -> float:
    """The packages that a shortfall takes, or the amount itself of what is sold loose."""
    if lot.size is None:
        return short
    return float(math.ceil(short / lot.size * (1 - _BLENDED)))
