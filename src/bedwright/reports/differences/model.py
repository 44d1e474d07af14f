"""What differs between two season plans of a garden: numbers, days, findings. No words."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from typing import Literal

from bedwright.planning.findings import Finding

Room = Literal[
    "bed", "layout", "water", "summer", "turnover", "work", "harvest", "purchases", "dates",
    "rotation",
]  # fmt: skip
What = Literal[
    "money", "unpriced", "phosphate", "salts", "materials", "clashes", "hours",
    "fullest_week", "left_out", "harvest", "water", "water_cost", "spread", "salt_in_soil",
    "yield_left",
]  # fmt: skip
Day = Literal["spread", "plant", "first_pick", "last_pick"]
_SAME = 0.005  # a share: less than that no scale, clock or purse tells apart


@dataclass(frozen=True)
class Amount:
    """One number by either plan; None where a plan does not tell it.

    ``of`` is the material or crop that it is of, empty for one of the whole. ``unit`` is the
    engine's; money is in the garden's currency, with the unit ``money``.
    """

    what: What
    unit: str
    before: float | None
    after: float | None
    of: str = ""

    @property
    def changed(self) -> bool:
        """Whether the two differ by so much that it is worth telling."""
        if self.before is None or self.after is None:
            return self.before is not self.after
        most = max(abs(self.before), abs(self.after))
        return abs(self.before - self.after) > _SAME * most


@dataclass(frozen=True)
class Moved:
    """A day of a planting by either plan; None where a plan does not know it."""

    what: Day
    crop: str
    before: date | None
    after: date | None


@dataclass(frozen=True)
class Said:
    """A finding that only one of the plans has, and the room of the plan that says it."""

    room: Room
    finding: Finding


@dataclass(frozen=True)
class Dropped:
    """A task that does not fit the hours of one plan and does those of the other.

    ``crop`` is the crop's name; empty, as ``bed`` is, for work on the whole. ``times`` counts what
    comes back each week.
    """

    bed: str
    crop: str
    kind: str
    times: int


@dataclass(frozen=True)
class BedDifferences:
    """What changes on one bed. ``crops`` are the names of its crops by either plan."""

    bed: str
    crops: tuple[tuple[str, ...], tuple[str, ...]]
    amounts: tuple[Amount, ...]
    days: tuple[Moved, ...]
    gained: tuple[Said, ...]
    lost: tuple[Said, ...]

    @property
    def other_crops(self) -> bool:
        """Whether the bed bears other crops."""
        return self.crops[0] != self.crops[1]

    @property
    def any(self) -> bool:
        """Whether anything differs."""
        return bool(self.other_crops or self.amounts or self.days or self.gained or self.lost)


@dataclass(frozen=True)
class PlanDifferences:
    """Two season plans beside each other.

    ``garden`` are the numbers of the whole garden, changed or not; ``harvest`` those crops whose
    harvest changes; ``beds`` the beds on which something changes, in the garden's order.
    ``gained`` and ``lost`` are findings on the garden as a whole. ``dropped`` are tasks that only
    the later plan leaves out, ``fitted`` those that only the earlier one does.
    """

    garden: tuple[Amount, ...]
    harvest: tuple[Amount, ...]
    beds: tuple[BedDifferences, ...]
    gained: tuple[Said, ...]
    lost: tuple[Said, ...]
    dropped: tuple[Dropped, ...] = ()
    fitted: tuple[Dropped, ...] = ()

    @property
    def none(self) -> bool:
        """Whether the plans are alike in all that is compared."""
        changed = any(each.changed for each in self.garden)
        said = self.gained or self.lost or self.dropped or self.fitted
        return not (changed or self.harvest or self.beds or said)
