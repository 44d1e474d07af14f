"""The season plan: a garden document and a day in, what each bed gets out."""

from __future__ import annotations

import hashlib
from collections.abc import Callable
from dataclasses import dataclass
from datetime import date

from bedwright import __version__
from bedwright.garden import Document
from bedwright.planning.habits import Habit, habits
from bedwright.planning.labels import LabelRate, label_rates, missing_tests
from bedwright.planning.mixes import MixResult, mixes
from bedwright.planning.own import library_of
from bedwright.planning.prescription import Prescription, prescribe
from bedwright.reference import Library
from bedwright.reference.tables import COLUMNS, shipped

PLAN_FORMAT = 1


@dataclass(frozen=True)
class BedPlan:
    """One bed's prescription with the rules of thumb beside it.

    ``labels`` and ``missing`` are filled for beds whose report lacks tests.
    """

    prescription: Prescription
    habits: tuple[Habit, ...]
    labels: tuple[LabelRate, ...]
    missing: tuple[tuple[str, str], ...]


@dataclass(frozen=True)
class ShedTotal:
    """What the whole garden takes of one material [kg], against what is on hand."""

    key: str
    name: str
    needed_kg: float
    on_hand_kg: float | None
    cost: float | None


@dataclass(frozen=True)
class SeasonPlan:
    """The plan of a garden for a season, as of a day. The day is given, never taken from a clock.

    ``tables`` names the revision of each reference table that was used.
    """

    document: Document
    library: Library
    as_of: date
    beds: tuple[BedPlan, ...]
    unplanned: tuple[str, ...]
    mixes: tuple[MixResult, ...]
    totals: tuple[ShedTotal, ...]
    tables: dict[str, str]
    version: str = __version__

    @property
    def cost(self) -> float | None:
        """What all that is spread is worth at the stated prices; None where none is stated."""
        stated = [each.cost for each in self.totals if each.cost is not None]
        return sum(stated) if stated else None


def season_plan(
    document: Document,
    library: Library,
    as_of: date,
    *,
    only: str | None = None,
    progress: Callable[[int, int], None] | None = None,
) -> SeasonPlan:
    """Plan every bed that has a crop wanted, or the one called ``only``.

    ``progress`` is told (beds done, beds in all). Raises LookupError for an unknown bed.
    """
    own = library_of(document, library)
    beds = {bed.id: bed for bed in document.garden.bed}
    if only is not None and only not in beds:
        raise LookupError(f"there is no bed {only!r}; beds: {', '.join(beds)}")
    wanted = [
        (bed, at)
        for at, want in enumerate(document.garden.want)
        for bed in want.beds
        if only is None or bed == only
    ]
    plans: list[BedPlan] = []
    for done, (bed_id, at) in enumerate(wanted):
        if progress is not None:
            progress(done, len(wanted))
        want = document.garden.want[at]
        plan = prescribe(document, want, at, beds[bed_id], own, as_of)
        missing = missing_tests(plan)
        labels = label_rates(plan, own) if plan.evidence.report is None else ()
        plans.append(BedPlan(plan, habits(plan, own), labels, missing))
    if progress is not None:
        progress(len(wanted), len(wanted))
    order = {bed: at for at, bed in enumerate(beds)}
    plans.sort(key=lambda each: order[each.prescription.bed.id])
    planned = {bed for bed, _ in wanted}
    unplanned = tuple(bed for bed in beds if bed not in planned and (only is None or bed == only))
    return SeasonPlan(
        document,
        own,
        as_of,
        tuple(plans),
        unplanned,
        mixes(document, own),
        _totals(plans),
        revisions(),
    )


def _totals(plans: list[BedPlan]) -> tuple[ShedTotal, ...]:
    found: dict[str, ShedTotal] = {}
    for plan in plans:
        for line in plan.prescription.lines:
            mass = line.preplant.value + line.later.value
            cost = mass * line.offer.cost_per_kg if line.offer.price_stated else None
            key = line.material.key
            before = found.get(key)
            if before is not None:
                mass += before.needed_kg
                cost = None if cost is None or before.cost is None else cost + before.cost
            found[key] = ShedTotal(key, line.material.name, mass, line.offer.on_hand_kg, cost)
    return tuple(sorted(found.values(), key=lambda each: -each.needed_kg))


def revisions() -> dict[str, str]:
    """The revision of each reference table: the start of the SHA-256 of its text."""
    return {
        table: hashlib.sha256(shipped(table).encode("utf-8")).hexdigest()[:12]
        for table in sorted((*COLUMNS, "sources"))
    }
