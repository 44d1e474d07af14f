"""What a season needs, what is on hand, and what is bought for which day."""

from __future__ import annotations

import math
from dataclasses import dataclass
from datetime import date, timedelta
from typing import Literal

from bedwright.planning.findings import Finding

Kind = Literal[
    "seed", "plants", "pieces", "material", "post", "stake", "panel", "twine", "drip_line",
    "shade_cloth",
]  # fmt: skip
GROWN = frozenset({"seed", "plants", "pieces"})


@dataclass(frozen=True)
class Item:
    """One thing that may be bought, counted in ``unit`` (kg, m, m2, or - for a number).

    ``key`` is a material's, or a crop's (a cultivar's own); "" for parts. ``shade`` is that of
    cloth [-]. ``each_kg`` is the mass of one seed or piece, None where it is not known.
    """

    kind: Kind
    key: str
    name: str
    unit: str
    shade: float | None = None
    each_kg: float | None = None


@dataclass(frozen=True)
class Need:
    """An amount that a planting needs at hand on a day."""

    item: Item
    on: date
    amount: float
    bed: str
    crop: str


@dataclass(frozen=True)
class Lot:
    """Packages of one size. ``size`` is None, and ``count`` the amount itself, where no package is
    known; ``price`` is that of one package, None where it is not stated."""

    count: float
    size: float | None
    price: float | None

    @property
    def amount(self) -> float:
        """What the packages hold together."""
        return self.count * (1.0 if self.size is None else self.size)

    @property
    def cost(self) -> float | None:
        """What they cost; None where no price is stated."""
        return None if self.price is None else self.count * self.price


@dataclass(frozen=True)
class Step:
    """What is bought for a day: ``order_by`` lies earlier for what comes by mail."""

    on: date
    order_by: date
    lots: tuple[Lot, ...]

    @property
    def amount(self) -> float:
        """What is bought."""
        return math.fsum(each.amount for each in self.lots)

    @property
    def cost(self) -> float | None:
        """What it costs; None where a price is not stated."""
        costs = [each.cost for each in self.lots]
        known = [each for each in costs if each is not None]
        return math.fsum(known) if len(known) == len(costs) else None


@dataclass(frozen=True)
class Buy:
    """One item of the season. ``on_hand`` is None where nothing is stated of it; ``missing`` is
    what is needed beyond it and can't be bought."""

    item: Item
    needs: tuple[Need, ...]
    on_hand: float | None
    steps: tuple[Step, ...]
    missing: float = 0.0

    @property
    def needed(self) -> float:
        """What all plantings need together."""
        return math.fsum(each.amount for each in self.needs)

    @property
    def bought(self) -> float:
        """What all steps buy together."""
        return math.fsum(each.amount for each in self.steps)

    @property
    def cost(self) -> float | None:
        """What it costs; None where a price is not stated."""
        costs = [each.cost for each in self.steps]
        known = [each for each in costs if each is not None]
        return math.fsum(known) if len(known) == len(costs) else None


@dataclass(frozen=True)
class Purchases:
    """Everything that the season needs, whether bought or on hand.

    What is to be ordered later than ``weeks`` from ``as_of`` can wait.
    """

    as_of: date
    weeks: int
    buys: tuple[Buy, ...]
    findings: tuple[Finding, ...]

    @property
    def steps(self) -> tuple[tuple[Buy, Step], ...]:
        """What to buy in the order of the days by which it is ordered."""
        pairs = [(buy, step) for buy in self.buys for step in buy.steps]
        return tuple(sorted(pairs, key=lambda pair: (pair[1].order_by, pair[1].on)))

    def waits(self, step: Step) -> bool:
        """Whether a purchase can wait."""
        return step.order_by > self.as_of + timedelta(weeks=self.weeks)

    @property
    def cost(self) -> float:
        """What is bought at stated prices; what has none is not in it, see :attr:`unpriced`."""
        costs = [step.cost for _, step in self.steps]
        return math.fsum(each for each in costs if each is not None)

    @property
    def unpriced(self) -> tuple[Item, ...]:
        """What is bought at a price that is not stated."""
        found = (buy.item for buy, step in self.steps if step.cost is None)
        return tuple(dict.fromkeys(found))
