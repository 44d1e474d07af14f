"""Asking for long work, and what the worker does with it."""

from __future__ import annotations

import contextlib
from collections.abc import Callable
from typing import Any

from django.db import DatabaseError, transaction
from django.db.models import Case, IntegerField, When
from django.utils import timezone

from bedwright.web.models import Garden, Job

Tell = Callable[[str], None]
Work = Callable[[Job, Tell], None]


class NotDoneError(Exception):
    """Work that could not be done for a reason that the gardener can mend, in words."""


def ask(garden: Garden, kind: str, key: str, **asked: Any) -> Job:
    """Ask for work by its key; the job that waits, runs or failed for it, or a new one.

    A job that failed or was stopped is asked for again by :func:`again` alone, so that a page
    that is looked at twice does not repeat what cannot be done.
    """
    asked_before = Job.objects.filter(garden=garden, kind=kind, key=key).order_by("-made_at")
    found = asked_before.first()  # without a transaction: a page that is read writes nothing
    if found is not None and found.state != Job.State.DONE:
        return found
    with transaction.atomic():
        found = asked_before.first()
        if found is not None and found.state != Job.State.DONE:
            return found
        return Job.objects.create(garden=garden, kind=kind, key=key, asked=asked)


def again(job: Job) -> Job:
    """The same work asked for anew."""
    return Job.objects.create(garden=job.garden, kind=job.kind, key=job.key, asked=job.asked)


def stop(job: Job) -> None:
    """Ask a job to stop; one that still waits is stopped at once."""
    Job.objects.filter(pk=job.pk, state=Job.State.WAITING).update(
        state=Job.State.STOPPED, ended_at=timezone.now()
    )
    Job.objects.filter(pk=job.pk, state=Job.State.RUNNING).update(stop_asked=True)


def stop_years_of_others(garden: Garden, key: str) -> None:
    """Stop the search for years that no page shows any more: neither ``key`` nor an open trial."""
    trials = garden.revisions.filter(number=None).values_list("pk", flat=True)
    open_states = (Job.State.WAITING, Job.State.RUNNING)
    for job in Job.objects.filter(garden=garden, kind="years", state__in=open_states):
        if job.key != key and job.asked.get("revision") not in trials:
            stop(job)


def claim() -> Job | None:
    """Take the oldest waiting job, or None; a search for better years lets all others go first."""
    last = Case(When(kind="years", then=1), default=0, output_field=IntegerField())
    with transaction.atomic():
        job = Job.objects.filter(state=Job.State.WAITING).order_by(last, "made_at").first()
        if job is None:
            return None
        taken = Job.objects.filter(pk=job.pk, state=Job.State.WAITING).update(
            state=Job.State.RUNNING
        )
    if not taken:
        return None
    job.refresh_from_db()
    return job


def end(job: Job, state: Job.State, fault: str = "") -> None:
    """Close a job."""
    Job.objects.filter(pk=job.pk).update(state=state, fault=fault[:4000], ended_at=timezone.now())


def run(job: Job) -> None:
    """Do a job in this process and close it; a fault is kept in words, and raised by none."""
    from bedwright.garden import GardenError
    from bedwright.web.kinds_of_work import KINDS

    def tell(step: str) -> None:
        with contextlib.suppress(DatabaseError):  # how far it is is not worth failing for
            Job.objects.filter(pk=job.pk).update(step=step[:120])

    try:
        KINDS[job.kind](job, tell)
    except (GardenError, NotDoneError) as error:
        end(job, Job.State.FAILED, str(error))
    except Exception as error:
        import logging

        logging.getLogger("bedwright.web").exception("job %s", job.kind)
        end(job, Job.State.FAILED, f"a fault of bedwright itself: {type(error).__name__}")
    else:
        end(job, Job.State.DONE)
