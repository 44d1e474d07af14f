"""What the work holds: tasks, and a schedule of them. Plain data."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from typing import Literal

from bedwright.planning.findings import Finding
from bedwright.working import Figure

Why = Literal["hours", "time", "bench", "waits"]


@dataclass(frozen=True)
class Bring:
    """One thing to take along; ``amount`` is None for a tool.

    ``key`` is that of a material, a crop, a part or a tool, by ``kind``.
    """

    kind: Literal["tool", "material", "seed", "plants", "part"]
    key: str
    amount: Figure | None = None


@dataclass(frozen=True)
class Task:
    """One act. ``bed`` and ``crop`` are None for work on the whole garden.

    ``id`` is ``bed/crop/kind/number`` and stays the same when the plan is made anew. ``earliest``
    and ``latest`` are the first and last day on which it serves. ``hours`` are those of all hands
    together; ``after`` names what must go before it, with the days to wait. ``priority`` is what
    leaving it out costs, ``late`` the share of it that each week after its first one costs.
    ``trays`` stand on the bench from this task until the one named ``frees_bench``.
    ``repeated`` tells work that comes back each week or so: it falls away with its week.
    ``standing`` tells work on a crop that stands already and that the plan does not plant.
    """

    id: str
    kind: str
    bed: str | None
    crop: str | None
    earliest: date
    latest: date
    hours: Figure
    people: int = 1
    after: tuple[tuple[str, int], ...] = ()
    bring: tuple[Bring, ...] = ()
    cautions: tuple[Finding, ...] = ()
    priority: float = 1.0
    late: float = 0.0
    workload: str = "moderate"
    trays: int = 0
    frees_bench: str | None = None
    repeated: bool = False
    standing: bool = False


@dataclass(frozen=True)
class Act:
    """Something done, as the journal or the document tells it; a kind of a task, or ``worked``."""

    kind: str
    on: date
    bed: str | None = None
    crop: str | None = None
    material: str | None = None


@dataclass(frozen=True)
class Assigned:
    """A task in the week that begins on ``week``. ``day`` is the first on which all waits are over.

    ``done`` tells that it is done, on ``day``.
    """

    task: str
    week: date
    day: date
    done: bool = False


@dataclass(frozen=True)
class LeftOut:
    """A task that does not fit.

    ``why``: too few ``hours`` in its weeks; no ``time``, whatever the hours, as what must go
    before it ends too late; no room on the ``bench``; or it ``waits`` for ``by``, which is left
    out itself. ``possible`` is the first day on which it could be done at all.
    """

    task: str
    why: Why
    by: str | None = None
    possible: date | None = None


@dataclass(frozen=True)
class Choice:
    """One way to fit everything that time allows.

    ``hours``: so many more hours in each of ``weeks`` (week, hours). ``earlier``: begin the tasks
    that need not wait so many ``days`` earlier. ``beds``: give up the plantings of ``beds``.
    ``trays``: so many more trays of bench. ``least`` tells that it is proven that less won't do.
    """

    kind: Literal["hours", "earlier", "beds", "trays"]
    weeks: tuple[tuple[date, float], ...] = ()
    days: int = 0
    beds: tuple[str, ...] = ()
    trays: int = 0
    least: bool = True


@dataclass(frozen=True)
class Overload:
    """Tasks that can't all be done, though without any one of them the others could.

    ``hours`` are theirs together, ``available`` those of ``first`` to ``last`` week; where these
    are no fewer, the tasks don't fit because each is done within one week.
    """

    first: date
    last: date
    tasks: tuple[str, ...]
    hours: float
    available: float


@dataclass(frozen=True)
class Week:
    """A week: typical hours of work, those there are (None: not stated), trays on the bench."""

    monday: date
    hours: float
    available: float | None
    trays: int


@dataclass(frozen=True)
class Work:
    """The work as of a day.

    ``not_yet`` are repeated tasks of a planting that is put later than they would begin.
    ``repeatable`` is False where the limits ended the search before the best was proven within
    the gap.
    """

    tasks: tuple[Task, ...]
    assigned: tuple[Assigned, ...]
    left_out: tuple[LeftOut, ...]
    not_yet: tuple[str, ...]
    weeks: tuple[Week, ...]
    overloads: tuple[Overload, ...]
    choices: tuple[Choice, ...]
    gap: float
    findings: tuple[Finding, ...]

    def task(self, key: str) -> Task:
        """The task with this id. Raises LookupError for another."""
        for each in self.tasks:
            if each.id == key:
                return each
        raise LookupError(f"there is no task {key!r}")
