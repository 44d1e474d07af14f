"""The kinds of long work: each is a function of its job and of what is told of its steps."""

from __future__ import annotations

from bedwright.season import season_plan
from bedwright.web.jobs import NotDoneError, Tell, Work
from bedwright.web.models import Job, Revision
from bedwright.web.plan_store import keep_ledger, keep_plan, stored_ledger, stored_plan
from bedwright.web.standing import standing_of, tables


def make_plan(job: Job, tell: Tell) -> None:
    """Make the season plan of a revision and keep it under the job's key."""
    revision = Revision.objects.get(pk=job.asked["revision"])
    standing = standing_of(job.garden, revision)
    if stored_plan(standing.key) is None:
        plan = season_plan(standing.document, tables(), standing.as_of, progress=tell)
        keep_plan(standing.key, plan)
    make_ledger(job, tell)


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
        planned = tuple(planned_season(each.prescription) for each in plan.beds)
        keep_ledger(standing.key, bed_ledger(standing.document, plan.library, planned))


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
    "ledger": make_ledger,
    "backup": make_backup,
    "read-back": read_backup,
}
