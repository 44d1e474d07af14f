"""When history in the document and an entry in the journal tell of one act."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

from bedwright.units import Quantity

# Judgement: who writes an act down twice, in the document and in the journal, is out by a day or
# two and by the rounding of a scale or a level cup. docs/journal.md states the rule.
SAME_ACT_DAYS = 2
SAME_ACT_SHARE = 0.10
_AS_EQUAL = 1e-9  # that 10 % written in other units is still 10 %


@dataclass(frozen=True)
class Act:
    """Something spread: where, what, when and how much; ``kg`` is None where it isn't known."""

    name: str
    bed: str
    material: str
    on: date
    amount: Quantity
    kg: float | None


def near(stated: Act, written: Act) -> bool:
    """Whether two acts are of one bed and material and at most two days apart."""
    return (
        stated.bed == written.bed
        and stated.material == written.material
        and abs((stated.on - written.on).days) <= SAME_ACT_DAYS
    )


def difference(stated: Act, written: Act) -> float | None:
    """How far two amounts differ, as a share of the larger; None where they can't be compared."""
    if stated.kg is not None and written.kg is not None:
        first, second = stated.kg, written.kg
    elif stated.amount.kind == written.amount.kind:
        first, second = stated.amount.si, written.amount.si
    else:
        return None
    return abs(first - second) / max(first, second)


def pairs(stated: Sequence[Act], written: Sequence[Act]) -> dict[int, int]:
    """Which stated act is which written one, by their places; each stands in one pair at most.

    The closest in days pair first, then the closest in amount, so that the order in which the
    journal was written does not matter.
    """
    found: list[tuple[int, float, int, str, int]] = []
    for at, first in enumerate(stated):
        for place, second in enumerate(written):
            apart = difference(first, second) if near(first, second) else None
            if apart is not None and apart <= SAME_ACT_SHARE + _AS_EQUAL:
                days = abs((first.on - second.on).days)
                found.append((days, apart, at, second.name, place))
    taken: dict[int, int] = {}
    used: set[int] = set()
    for _, _, at, _, place in sorted(found):
        if at not in taken and place not in used:
            taken[at] = place
            used.add(place)
    return taken
