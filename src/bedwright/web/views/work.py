"""Long work as the pages show it: how far it is, and a way to stop it."""

from __future__ import annotations

from uuid import UUID

from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import path
from django.views.decorators.http import require_POST

from bedwright.web import jobs
from bedwright.web.models import Job
from bedwright.web.years_store import first_years


def progress(request: HttpRequest, key: UUID) -> HttpResponse:
    """How far a job is; asked for again every second by the page that waits for it."""
    job = get_object_or_404(Job, pk=key)
    shown = "first" in request.GET  # the page shows a first plan already
    answer = render(request, "web/part_work.html", {"job": job, "years": shown})
    first = job.kind == "years" and not shown and first_years(job.key) is not None
    if job.state == Job.State.DONE or first:
        answer["HX-Refresh"] = "true"
    return answer


@require_POST
def stop(request: HttpRequest, key: UUID) -> HttpResponse:
    """Stop a job."""
    job = get_object_or_404(Job, pk=key)
    jobs.stop(job)
    job.refresh_from_db()
    return _back(request, job)


@require_POST
def again(request: HttpRequest, key: UUID) -> HttpResponse:
    """Ask anew for a job that failed or was stopped."""
    return _back(request, jobs.again(get_object_or_404(Job, pk=key)))


def _back(request: HttpRequest, job: Job) -> HttpResponse:
    if request.htmx:  # type: ignore[attr-defined]
        return render(request, "web/part_work.html", {"job": job})
    return redirect("today")


URLS = [
    path("work/<uuid:key>/", progress, name="work"),
    path("work/<uuid:key>/stop/", stop, name="work-stop"),
    path("work/<uuid:key>/again/", again, name="work-again"),
]
