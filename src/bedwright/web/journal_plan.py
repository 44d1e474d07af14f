"""What was planned of each bed around a day, to be ticked or changed when it is written down."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date, timedelta

from bedwright.feeding.measures import BUCKET_GALLONS, METRIC_BUCKET_LITERS
from bedwright.journal import Did, Entry
from bedwright.language import named
from bedwright.reports import fill
from bedwright.season import BedPlan, SeasonPlan
from bedwright.units import UnitSystem, show
from bedwright.web.models import Job
from bedwright.web.plan_store import stored_plan
from bedwright.web.standing import Standing

_AROUND = timedelta(days=21)  # what is due within three weeks stands open on the evening form
_SAME_SEASON = timedelta(days=150)
_SOWN = "sown"


@dataclass(frozen=True)
class PlannedAct:
    """Something planned on a bed: what, of which material or crop, how much, about when.

    ``what`` is that of an entry (spread, sowed, set out); ``amount`` is text with its unit and
    ``measure`` the same in cups or buckets. ``written`` is the entry that tells it was done.
    """

    what: str
    bed: str
    name: str
    on: date | None
    material: str = ""
    crop: str = ""
    amount: str = ""
    measure: str = ""
    later: bool = False
    written: Did | None = None

    @property
    def key(self) -> str:
        """What names the act on its bed."""
        return f"{self.what}-{self.material or self.crop}{'-later' if self.later else ''}"

    def due(self, on: date) -> bool:
        """Whether it is planned for around a day."""
        return self.on is not None and abs(self.on - on) <= _AROUND


def newest_plan(standing: Standing) -> SeasonPlan | None:
    """The standing plan; while it is made anew, the last that was made for this garden."""
    plan = standing.plan()
    if plan is not None:
        return plan
    done = Job.objects.filter(garden=standing.garden, kind="plan", state=Job.State.DONE)
    last = done.order_by("-ended_at").first()
    return None if last is None else stored_plan(last.key)


def planned_acts(
    plan: SeasonPlan | None, system: UnitSystem, entries: Iterable[Entry]
) -> dict[str, tuple[PlannedAct, ...]]:
    """What is planned of each bed, in the order of the work, with what is written down of it."""
    if plan is None:
        return {}
    did = [each for each in entries if isinstance(each, Did)]
    found: dict[str, tuple[PlannedAct, ...]] = {}
    for bed_plan in plan.plantings:
        bed = bed_plan.prescription.bed.id
        mine = [each for each in did if each.bed == bed]
        acts = [*_spreading(bed_plan, plan, system), _planting(bed_plan)]
        found[bed] = (*found.get(bed, ()), *(_with_entry(each, mine) for each in acts))
    return found


def _spreading(bed: BedPlan, plan: SeasonPlan, system: UnitSystem) -> list[PlannedAct]:
    days = _work(bed)
    rest = round(plan.library.parameter("habit_rest", "day").value)
    before = days.get("spread_by", [bed.prescription.season - timedelta(days=rest)])
    after = days.get("side_dress", [])
    found: list[PlannedAct] = []
    for line in bed.prescription.lines:
        for mass, on, later in (
            (line.preplant.value, before[0], False),
            (line.later.value, after[0] if after else None, True),
        ):
            if mass > 0:
                found.append(
                    PlannedAct(
                        "spread", bed.prescription.bed.id, named(line.material.name).lower(), on,
                        material=line.material.key, amount=show(mass, "mass", system),
                        measure=fill.measure(line, mass, system), later=later,
                    )
                )  # fmt: skip
    return sorted(found, key=lambda each: each.later)


def _planting(bed: BedPlan) -> PlannedAct:
    start = bed.dates.start if bed.dates is not None else ""
    on = _work(bed).get("plant", [bed.prescription.season])[0]
    crop = bed.prescription.crop
    return PlannedAct(
        "sowed" if start == _SOWN else "set out", bed.prescription.bed.id,
        named(crop.name).lower(), on, crop=crop.key,
    )  # fmt: skip


def _work(bed: BedPlan) -> dict[str, list[date]]:
    """The days of the work about the stated planting, by their code."""
    found: dict[str, list[date]] = {}
    if bed.dates is not None and bed.dates.stated is not None:
        for code, day in bed.dates.stated.work:
            found.setdefault(code, []).append(day)
    return found


def _with_entry(act: PlannedAct, entries: list[Did]) -> PlannedAct:
    """The act with the newest entry of this season that tells of it."""
    for each in sorted(entries, key=lambda e: (e.on, str(e.id)), reverse=True):
        of_it = each.material == act.material if act.material else each.crop == act.crop
        close = act.on is None or abs(each.on - act.on) <= _SAME_SEASON
        if each.what == act.what and of_it and close:
            return PlannedAct(**{**act.__dict__, "written": each})
    return act


def bucket(system: UnitSystem) -> tuple[int, str]:
    """What a bucket holds in a unit system: the count and its unit."""
    us = system is UnitSystem.US
    return (BUCKET_GALLONS, "gal") if us else (METRIC_BUCKET_LITERS, "l")
