"""What is said of a standing crop: what is left in it, its ways out, the last day to clear it."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from typing import Literal

from bedwright.planning.findings import Finding
from bedwright.working import Figure

Kind = Literal[
    "sell", "house", "move", "feed", "dig_in", "leave_on_top", "compost", "burn_or_bin"
]  # fmt: skip


@dataclass(frozen=True)
class Left:
    """What may still be picked of a standing crop.

    ``per_week`` [kg] is None where nothing tells it or where the crop is picked at once;
    ``at_once`` [kg] is such a crop's harvest. ``first`` and ``last`` are the days of its picking,
    None where not known. ``total`` [kg] is what comes from the day of reading to the clearing;
    ``hold`` [day] how long a ripe crop keeps where it stands.
    """

    per_week: Figure | None
    at_once: Figure | None
    first: date | None
    last: date | None
    total: Figure | None
    hold: Figure | None


@dataclass(frozen=True)
class Residue:
    """What the plants leave: ``dry`` [kg], ``c_to_n`` [-], and nitrogen [kg] that this frees,
    below 0 binds: ``in_a_month`` in warm moist soil, ``as_a_whole`` once all has rotted.

    ``wait`` [day] is from digging in to the next crop.
    """

    dry: Figure
    c_to_n: Figure
    in_a_month: Figure
    as_a_whole: Figure
    wait: Figure


@dataclass(frozen=True)
class Way:
    """A way out. ``stock`` is whom it feeds, "" for other kinds. ``start`` is the first day it is
    allowed, ``by`` the last on which it leaves the next crop its time; None where there is none.

    ``reasons`` say why it stands where it does; for one that is refused, why.
    """

    kind: Kind
    stock: str
    start: date | None
    by: date | None
    reasons: tuple[Finding, ...]


@dataclass(frozen=True)
class Next:
    """The crop that the bed is needed for. ``clear`` is the day by which the plan has the bed
    empty, ``last`` the last one that still meets a good day of planting; None where the planting
    has no day. ``a_week_late`` [kg] is what clearing a week after ``last`` takes from its harvest,
    None where the weather does not tell; ``money`` the same by the gardener's price. ``nth``
    counts the bed's plantings of the year from 0.
    """

    crop: str
    name: str
    nth: int
    start: date | None
    clear: date | None
    last: date | None
    a_week_late: Figure | None
    money: Figure | None

    @property
    def second(self) -> bool:
        """Whether it comes after the bed's first crop of the year."""
        return self.nth > 0


@dataclass(frozen=True)
class Turnover:
    """A standing crop in a bed that is needed. ``at`` is its place in the document's list.

    ``ways`` are ranked, the best first; ``refused`` are those that are barred. ``money`` is the
    worth of a week's picking at the gardener's price.
    """

    at: int
    bed: str
    part: int | None
    crop: str
    name: str
    healthy: bool
    next: Next
    left: Left
    residue: Residue | None
    ways: tuple[Way, ...]
    refused: tuple[Way, ...]
    money: Figure | None
    findings: tuple[Finding, ...]
