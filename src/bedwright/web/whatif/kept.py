"""Two plans beside each other, worked out by the worker and kept for the pages."""

from __future__ import annotations

import hashlib
from dataclasses import dataclass

from django.utils.translation import gettext as _

from bedwright.planning.bed_ledger import BedLedger
from bedwright.reports import fill
from bedwright.reports.differences import PlanDifferences
from bedwright.units import UnitSystem
from bedwright.web import jobs
from bedwright.web.models import Job
from bedwright.web.plan_store import keep_as, stored_as
from bedwright.web.standing import Standing

KIND = "what-if"


@dataclass(frozen=True)
class Compared:
    """A trial beside the standing plan. ``phosphate`` is by bed what the planned season brings in
    less what it takes out, by either plan [kg/m2]; beds that differ alone."""

    differences: PlanDifferences
    phosphate: tuple[tuple[str, float, float], ...]


@dataclass(frozen=True)
class Balance:
    """A bed's balance of phosphate by either plan, in words."""

    bed: str
    before: str
    after: str


def compared_or_work(standing: Standing, trial: Standing) -> tuple[Compared | None, Job | None]:
    """A trial beside what stands, or the job that works it out; never waits."""
    key = _key(standing, trial)
    found = stored_as(key, KIND)
    if isinstance(found, Compared):
        return found, None
    job = jobs.ask(
        standing.garden, KIND, key, revision=trial.revision.pk, before=standing.revision.pk
    )
    return None, job


def keep_compared(key: str, found: Compared) -> None:
    """Keep a trial beside the standing plan under the key of its job. Raises OSError."""
    keep_as(key, KIND, found)


def phosphate_changes(before: BedLedger, after: BedLedger) -> tuple[tuple[str, float, float], ...]:
    """The beds whose balance of phosphate in the planned season differs [kg/m2]."""
    found = []
    for bed in before.beds:
        if bed in after.beds:
            one, other = _net(before, bed), _net(after, bed)
            if one is not None and other is not None and one != other:
                found.append((bed, one, other))
    return tuple(found)


def balances_told(found: Compared, system: UnitSystem) -> list[Balance]:
    """The balances of phosphate that a reader can tell apart."""
    told = [
        Balance(bed, _balance(one, system), _balance(other, system))
        for bed, one, other in found.phosphate
    ]
    return [each for each in told if each.before != each.after]


def _key(standing: Standing, trial: Standing) -> str:
    return hashlib.sha256(f"{standing.key}\0{trial.key}".encode()).hexdigest()


def _net(ledger: BedLedger, bed: str) -> float | None:
    row = ledger.row(bed)
    net = ledger.phosphate.net[row][ledger.planned[row]]
    return float(net[-1]) if net.size else None


def _balance(net: float, system: UnitSystem) -> str:
    amount = fill.value(abs(net), "kg/m2", system)
    told = _("{amount} phosphate more in than out") if net > 0 else _(
        "{amount} phosphate more out than in"
    )  # fmt: skip
    return told.format(amount=amount)
