"""The work as the pages know it: the plan's, with all that is done up to this moment."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import date

from bedwright.planning.work.done import standing as stands
from bedwright.planning.work.making import monday
from bedwright.planning.work.model import Act, Assigned, Work
from bedwright.season import SeasonPlan
from bedwright.web import jobs
from bedwright.web.models import Job
from bedwright.web.plan_store import stored_plan
from bedwright.web.standing import Standing

_MOST_LOOKED_AT = 12  # plans made before, for the newest that is still kept


@dataclass(frozen=True)
class WorkInHand:
    """The work to be shown now. ``settled`` tells that its weeks know all that is done; else they
    are those laid before the last entries, without what is done since."""

    plan: SeasonPlan
    work: Work
    settled: bool


def work_in_hand(standing: Standing) -> WorkInHand | None:
    """The work with what is done of it; None while no plan of the garden was ever made.

    Never waits: while the plan or its weeks are made anew, the last ones are shown.
    """
    plan = standing.plan()
    settled = plan is not None and plan.acts == standing.acts
    if plan is not None and not settled:
        jobs.ask(standing.garden, "work", standing.work_key, revision=standing.revision.pk)
    plan = plan or _last_plan(standing)
    if plan is None or plan.work is None:
        return None
    if settled:
        return WorkInHand(plan, plan.work, settled=True)
    return WorkInHand(plan, _with_done(plan.work, standing.acts, standing.as_of), settled=False)


def _last_plan(standing: Standing) -> SeasonPlan | None:
    """The newest kept plan of a revision that stood; a trial's is none of the garden's."""
    trials = set(standing.garden.revisions.filter(number=None).values_list("pk", flat=True))
    done = Job.objects.filter(garden=standing.garden, kind="plan", state=Job.State.DONE)
    for job in done.order_by("-ended_at")[:_MOST_LOOKED_AT]:
        if job.asked.get("revision") not in trials:
            plan = stored_plan(job.key)
            if plan is not None:
                return plan
    return None


def _with_done(work: Work, acts: Sequence[Act], as_of: date) -> Work:
    """The work with what acts tell as done taken out of its weeks."""
    done = {each.task: each.day for each in work.assigned if each.done}
    if acts:
        done |= stands(work.tasks, acts, as_of).done
    kept = [each for each in work.assigned if each.task not in done]
    kept += [Assigned(key, monday(on), on, done=True) for key, on in done.items()]
    return replace(
        work,
        assigned=tuple(sorted(kept, key=lambda each: (each.day, each.task))),
        left_out=tuple(each for each in work.left_out if each.task not in done),
    )
