"""What the years ahead are made of: parts of beds, crops with their dates, claims, and bars."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from datetime import date
from typing import Literal

from bedwright.planning.findings import Finding
from bedwright.planning.rotation.problem import BoolArray
from bedwright.planning.timing_model import Turn

Life = Literal["annual", "overwintered", "perennial", "cover", "plastic"]


@dataclass(frozen=True)
class Unit:
    """A bed, or one part of it. ``share`` is its part of the bed [-]; ``area_m2`` its own."""

    bed: str
    part: int | None
    area_m2: float
    share: float


@dataclass(frozen=True)
class Candidate:
    """A crop that may be placed. ``own`` is its place in ``[[crop]]``, None for the tables' own.

    ``id`` tells a cultivar from the crop that it is like; ``days_to_maturity`` is the gardener's.
    """

    id: str
    key: str
    own: int | None
    name: str
    family: str
    life: Life
    days_to_maturity: int | None = None

    @property
    def resting(self) -> bool:
        """Whether the bed rests under it: a cover crop or plastic, from which nothing is picked."""
        return self.life in ("cover", "plastic")


@dataclass(frozen=True)
class Slot:
    """One time of the year for a crop, counted from a season's start [days].

    ``first`` and ``last`` harvest are means over the years, counted from planting [days];
    ``first_range`` is what one year in ten stays below and above. ``best`` marks the best date of
    its turn. ``picked`` are days of picking, lost years counted as 0 and what bolts or stands in
    heat left out; NaN where not known. ``heat`` is the share of its last weeks too warm for it,
    ``bolts`` that of the plants that run to seed, ``killed`` that of the winters that kill a
    cover, ``dead`` whether it is ended by that [-].
    """

    turn: Turn
    offset: int
    first: float
    last: float
    first_range: tuple[float, float]
    best: bool
    picked: float = float("nan")
    heat: float = 0.0
    bolts: float = 0.0
    killed: float = 0.0
    dead: bool = False


@dataclass(frozen=True)
class Option:
    """One crop at one time. It holds its bed from ``start`` until ``free_from``, which counts the
    days of turnover; ``year`` is that of its first harvest, a cover's that of its end.

    ``on``, ``first_harvest`` and ``last_harvest`` are None where no date is known: then it takes
    the whole year. ``best`` marks the best date of its turn. ``only`` are the units that it was
    made for, None for all. ``full`` is its picking as a share of the crop's longest [-]; ``heat``,
    ``bolts``, ``killed`` and ``dead`` are those of its :class:`Slot`. ``bears`` is the first year
    in which a perennial is picked.
    """

    candidate: int
    year: int
    turn: Turn | None
    start: date
    free_from: date
    on: date | None
    first_harvest: date | None
    last_harvest: date | None
    best: bool = True
    only: frozenset[int] | None = None
    full: float = 1.0
    heat: float = 0.0
    bolts: float = 0.0
    killed: float = 0.0
    dead: bool = False
    bears: int | None = None

    def bearing(self, year: int) -> bool:
        """Whether it is old enough to be picked in a year."""
        return self.bears is None or self.bears <= year


@dataclass(frozen=True)
class Claim:
    """A crop that is settled for units, by a pin, a want, or a decision beside the document.

    ``on`` is the stated day of setting out; ``year`` that of the harvest. ``cover`` is a key of
    ``protection.csv``.
    """

    kind: Literal["pin", "want", "decision"]
    at: int
    units: tuple[int, ...]
    candidate: str
    year: int
    turn: Turn | None
    on: date | None
    cover: str | None = None


@dataclass(frozen=True)
class Past:
    """A crop that grew, or still stands, on a unit; ``until`` is when that bed comes free."""

    unit: int
    year: int
    crop: str
    name: str
    family: str
    until: date | None = None


@dataclass(frozen=True, eq=False)
class Bar:
    """A rule that keeps options from units: ``barred`` (units, options), and what to say of one."""

    code: str
    barred: BoolArray
    say: Callable[[int, int], Finding]


@dataclass(frozen=True)
class Decision:
    """A placement that is taken as settled, beside the document's own: bed, part, crop, year.

    ``crop`` is a candidate's id or a key of the tables; ``on`` its day of planting where it stands.
    """

    bed: str
    part: int | None
    crop: str
    year: int
    turn: Turn | None = None
    on: date | None = None
