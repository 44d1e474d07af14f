"""The kinds of long work: each is a function of its job and of what is told of its steps."""

from __future__ import annotations

from bedwright.season import season_plan
from bedwright.web.jobs import Tell, Work
from bedwright.web.models import Job, Revision
from bedwright.web.plan_store import keep_plan, stored_plan
from bedwright.web.standing import standing_of, tables


def make_plan(job: Job, tell: Tell) -> None:
    """Make the season plan of a revision and keep it under the job's key."""
    revision = Revision.objects.get(pk=job.asked["revision"])
    standing = standing_of(job.garden, revision)
    if stored_plan(standing.key) is None:
        plan = season_plan(standing.document, tables(), standing.as_of, progress=tell)
        keep_plan(standing.key, plan)


KINDS: dict[str, Work] = {"plan": make_plan}
