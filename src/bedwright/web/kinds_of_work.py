"""The kinds of long work: each is a function of its job and of what is told of its steps."""

from __future__ import annotations

import json
from collections.abc import Sequence
from dataclasses import replace
from typing import TYPE_CHECKING

from bedwright.garden.model_rotation import Rotation
from bedwright.season import season_plan
from bedwright.web.jobs import NotDoneError, Tell, Work
from bedwright.web.models import Job, Revision
from bedwright.web.plan_store import (
    keep_as,
    keep_ledger,
    keep_plan,
    stored_as,
    stored_ledger,
    stored_plan,
    worked_out,
)
from bedwright.web.standing import Standing, standing_of, tables
from bedwright.web.watering.kept import keep_water_of
from bedwright.web.years_store import (
    GardenLight,
    keep_light,
    keep_years,
    stored_light,
    stored_years,
    years_that_stand,
)

if TYPE_CHECKING:
    from bedwright.planning.assignment.ahead import Step
    from bedwright.planning.assignment.bars import Light
    from bedwright.planning.assignment.result import YearsAhead
    from bedwright.planning.rotation.solution import SolveLimits

_MANY = 150  # seasons of beds: fewer are planned within seconds
_FIRST_GAP = 0.2  # how near the best the plan is that is shown while a better one is sought


def make_plan(job: Job, tell: Tell) -> None:
    """Make the season plan of a revision and keep it under the job's key."""
    revision = Revision.objects.get(pk=job.asked["revision"])
    standing = standing_of(job.garden, revision)
    if stored_plan(standing.key) is None:
        plan = season_plan(
            standing.document, tables(), standing.as_of, ahead=False, progress=tell,
            acts=standing.acts,
        )  # the years have work of their own  # fmt: skip
        tell("laying the work into the weeks")
        keep_plan(standing.key, worked_out(plan))
        keep_water_of(standing)
    make_ledger(job, tell)


def compare_plans(job: Job, tell: Tell) -> None:
    """Set the plan of a trial beside the standing one, both made where they are not; keep that."""
    from bedwright.reports.differences import plan_differences
    from bedwright.web.whatif.kept import Compared, keep_compared, phosphate_changes

    made = []
    for name in ("before", "revision"):
        revision = Revision.objects.get(pk=job.asked[name])
        make_plan(Job(garden=job.garden, key=job.key, asked={"revision": revision.pk}), tell)
        standing = standing_of(job.garden, revision)
        plan, ledger = standing.plan(), stored_ledger(standing.key)
        if plan is None or ledger is None:
            raise NotDoneError("the plan is not made")
        made.append((plan, ledger))
    tell("setting both plans beside each other")
    (before, one), (after, other) = made
    keep_compared(job.key, Compared(plan_differences(before, after), phosphate_changes(one, other)))


def make_work(job: Job, tell: Tell) -> None:
    """Lay the work into the weeks anew after more was done, and keep it beside its plan."""
    standing = standing_of(job.garden, Revision.objects.get(pk=job.asked["revision"]))
    plan = stored_plan(standing.key)
    if plan is None:
        raise NotDoneError("the plan is not made")
    if plan.acts != standing.acts and stored_as(standing.work_key, "work") is None:
        tell("laying the work into the weeks")
        keep_as(standing.work_key, "work", replace(plan, acts=standing.acts).work)


def make_ledger(job: Job, tell: Tell) -> None:
    """Keep the ledger of all beds beside the plan of a revision."""
    from bedwright.planning.bed_ledger import bed_ledger
    from bedwright.planning.ledger_entries import planned_season

    standing = standing_of(job.garden, Revision.objects.get(pk=job.asked["revision"]))
    plan = stored_plan(standing.key)
    if plan is None:
        raise NotDoneError("the plan is not made")
    if stored_ledger(standing.key) is None:
        tell("keeping the ledger")
        planned = tuple(planned_season(each.prescription) for each in plan.plantings)
        keep_ledger(standing.key, bed_ledger(standing.document, plan.library, planned))


def make_years(job: Job, tell: Tell) -> None:
    """Plan the years ahead of a revision and keep them; a first plan is kept on the way.

    They keep as much as they can of the years that stand, and say what differs from them. Those
    of the standing revision then stand themselves; a trial's do once it is kept.
    """
    from bedwright.planning.assignment.ahead import decisions_of, limits_of, years_ahead

    revision = Revision.objects.get(pk=job.asked["revision"])
    standing = standing_of(job.garden, revision)
    before = stored_years(years_that_stand(job.garden))
    held = decisions_of(before) if before is not None else None
    light = _light(standing)
    limits = limits_of(standing.document)

    def told(step: Step) -> None:
        tell(json.dumps([step.step, step.objective, step.bound, step.gap]))

    def made(limits: SolveLimits) -> YearsAhead:
        return years_ahead(
            standing.document, tables(), standing.as_of, light=light, standing=held,
            limits=limits, progress=told,
        )  # fmt: skip

    garden = standing.document.garden
    seasons = sum(bed.parts for bed in garden.bed) * (garden.rotation or Rotation()).years
    if limits.gap < _FIRST_GAP and seasons > _MANY:
        keep_years(job.key, made(replace(limits, gap=_FIRST_GAP)), first=True)
    found = made(limits)
    keep_years(job.key, found)
    keep_years(standing.text_key, found)
    if not revision.trial:
        keep_years(years_that_stand(job.garden), found)


def make_light(job: Job, tell: Tell) -> None:
    """Work out the light on every bed and keep it."""
    tell("light on the beds")
    _garden_light(standing_of(job.garden, Revision.objects.get(pk=job.asked["revision"])))


def _garden_light(standing: Standing) -> GardenLight:
    from bedwright.planning.light_map import bed_light

    found = stored_light(standing.key)
    if found is None:
        found = GardenLight(bed_light(standing.document, tables()))
        keep_light(standing.key, found)
    return found


def _light(standing: Standing) -> Light | None:
    """The light on each bed, None where the garden's place does not tell it."""
    beds = _garden_light(standing).beds

    def of(bed: str) -> Sequence[float] | None:
        return beds[bed].light_mol_m2_d.tolist() if bed in beds else None

    return of if beds else None


def make_calendar(job: Job, tell: Tell) -> None:
    """Make the calendar of a revision, with its plan and its work where these are not made."""
    from bedwright.reports.calendar.earlier import CalendarError
    from bedwright.web.calendar.kept import write_calendar

    make_plan(job, tell)
    make_work(job, tell)
    standing = standing_of(job.garden, Revision.objects.get(pk=job.asked["revision"]))
    plan = standing.plan()
    if plan is None:
        raise NotDoneError("the plan is not made")
    tell("writing the calendar")
    try:
        write_calendar(standing, plan)
    except CalendarError as error:
        raise NotDoneError(f"the calendar that was sent before: {error}") from error


def make_backup(job: Job, tell: Tell) -> None:
    """Make a backup now, and throw away those that are too many."""
    from bedwright.web import backups
    from bedwright.web.backup_reading import BackupError
    from bedwright.web.home import home

    tell("copying and reading back")
    try:
        backups.make(home(), "asked")
        backups.thin(home())
    except (BackupError, OSError) as error:
        raise NotDoneError(str(error)) from error


def read_backup(job: Job, tell: Tell) -> None:
    """Read a kept backup back, and note what was found beside it."""
    from bedwright.web import backups
    from bedwright.web.backup_reading import BackupError
    from bedwright.web.home import home

    tell("reading back")
    try:
        found = backups.read_back(home(), str(job.asked["name"]))
    except (BackupError, OSError) as error:
        raise NotDoneError(str(error)) from error
    if found.fault:
        raise NotDoneError(found.fault)


KINDS: dict[str, Work] = {
    "plan": make_plan,
    "work": make_work,
    "what-if": compare_plans,
    "calendar": make_calendar,
    "ledger": make_ledger,
    "light": make_light,
    "years": make_years,
    "backup": make_backup,
    "read-back": read_backup,
}
