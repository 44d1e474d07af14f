"""Safekeeping: backups, taking the garden out and in, what to do when things break."""

from __future__ import annotations

import contextlib
import shutil
import tempfile
from datetime import UTC, datetime, timedelta
from typing import IO, Any

from django.conf import settings
from django.contrib import messages
from django.http import FileResponse, Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import path
from django.utils import timezone
from django.utils.text import slugify
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy, ngettext
from django.views.decorators.http import require_GET, require_POST

from bedwright.garden import GardenError
from bedwright.journal import EntryError
from bedwright.journal.tables import TableError
from bedwright.web import backups, jobs
from bedwright.web.archive import ArchiveError
from bedwright.web.backup_reading import BackupError
from bedwright.web.daily_backups import last_fault
from bedwright.web.home import home
from bedwright.web.models import Entry, Garden, Job
from bedwright.web.serve import database_elsewhere
from bedwright.web.standing import standing_of
from bedwright.web.taking_in import take_in
from bedwright.web.taking_out import take_out
from bedwright.web.views.common import chosen_garden

_KINDS = ("backup", "read-back")
_SHOWN_FOR = timedelta(minutes=10)  # that a piece of work ended is told for so long
_OLD = timedelta(days=3)  # a newest backup older than this is something to act on
_WHY = {
    "start": gettext_lazy("when the site started"),
    "day": gettext_lazy("the day's"),
    "asked": gettext_lazy("asked for"),
    "update": gettext_lazy("before an update"),
}  # of a backup


@require_GET
def safekeeping(request: HttpRequest) -> HttpResponse:
    """The room's page; it opens without a garden too, and with one whose document has faults."""
    return _page(request)


@require_GET
def state(request: HttpRequest) -> HttpResponse:
    """The list of backups with the work on them; asked for again while it goes on."""
    return render(request, "web/part_backups.html", _backups(chosen_garden(request)))


@require_POST
def back_up(request: HttpRequest) -> HttpResponse:
    """Ask for a backup now."""
    return _asked(request, "backup", f"backup {datetime.now(UTC):%Y%m%d%H%M%S}")


@require_POST
def read_back(request: HttpRequest) -> HttpResponse:
    """Ask for a kept backup to be read back."""
    name = request.POST.get("name", "")
    try:
        backups.named(home(), name)
    except BackupError:
        raise Http404 from None
    return _asked(request, "read-back", f"{name} {datetime.now(UTC):%H%M%S}", name=name)


def _asked(request: HttpRequest, kind: str, key: str, **asked: Any) -> HttpResponse:
    garden = chosen_garden(request)
    if garden is None or database_elsewhere():
        raise Http404
    open_ones = Job.objects.filter(
        kind__in=_KINDS, state__in=(Job.State.WAITING, Job.State.RUNNING)
    )
    if not open_ones.exists():  # one at a time: a second touch asks for nothing new
        jobs.ask(garden, kind, key, **asked)
    return redirect("safekeeping")


@require_GET
def download(request: HttpRequest, name: str) -> HttpResponse | FileResponse:
    """A kept backup as one file, whole in itself."""
    try:
        found = backups.named(home(), name)
        stream = _nameless()
        backups.whole(found, stream)
    except (BackupError, ArchiveError):
        raise Http404 from None
    stream.seek(0)
    return FileResponse(stream, as_attachment=True, filename=name, content_type="application/zip")


@require_GET
def out(request: HttpRequest) -> HttpResponse | FileResponse:
    """The garden that is looked at, as one zip."""
    garden = chosen_garden(request)
    if garden is None:
        raise Http404
    now = datetime.now(UTC)
    stream = _nameless()
    take_out(garden, stream, now)
    stream.seek(0)
    name = f"{slugify(garden.name) or 'garden'}-{now:%Y-%m-%d}.zip"
    return FileResponse(stream, as_attachment=True, filename=name, content_type="application/zip")


@require_POST
def bring(request: HttpRequest) -> HttpResponse:
    """Take a garden in from an uploaded zip, as a new garden; it is looked at then."""
    upload = request.FILES.get("zip")
    if upload is None:
        return _page(request, [_("Choose a zip that was taken out of a site like this.")])
    try:
        garden = take_in(upload)
    except (ArchiveError, TableError) as error:
        return _page(request, [_("The file is not taken: %(why)s.") % {"why": error}])
    except (GardenError, EntryError) as error:
        return _page(request, [str(each) for each in error.faults])
    request.session["garden"] = garden.pk
    revisions = garden.revisions.count()
    entries = Entry.objects.filter(garden=garden).count()
    said = _("%(garden)s is taken in, with %(revisions)s and %(entries)s.") % {
        "garden": garden.name,
        "revisions": ngettext("%(n)d revision", "%(n)d revisions", revisions) % {"n": revisions},
        "entries": ngettext("%(n)d journal entry", "%(n)d journal entries", entries)
        % {"n": entries},
    }
    messages.success(request, said)
    return redirect("safekeeping")


def _page(request: HttpRequest, faults: list[str] | None = None) -> HttpResponse:
    garden = chosen_garden(request)
    if garden is not None and garden.standing is not None:
        with contextlib.suppress(GardenError):  # most needed when the document can't be read
            request.standing = standing_of(garden)  # type: ignore[attr-defined]
    shown = {**_backups(garden), "faults": faults or [], "lan": settings.LAN}
    return render(request, "web/safekeeping.html", shown, status=422 if faults else 200)


def _backups(garden: Garden | None) -> dict[str, Any]:
    """What the list of backups shows."""
    now = timezone.now()
    found = backups.kept(home())
    work = Job.objects.filter(kind__in=_KINDS).order_by("-made_at").first()
    if work is not None and work.ended_at is not None and now - work.ended_at > _SHOWN_FOR:
        work = None
    fault = last_fault(home())
    return {
        "elsewhere": database_elsewhere(),
        "garden": garden,
        "folder": home().folder,
        "backups": [{"of": each, "size": _size(each.size)} for each in found],
        "old": bool(found) and now - found[0].made_at > _OLD,
        "not_made": {"at": fault[0], "why": fault[1]} if fault is not None else None,
        "work": work,
        "free": _size(shutil.disk_usage(home().folder).free),
    }


def _size(count: int) -> str:
    for unit, size in (("GB", 10**9), ("MB", 10**6)):
        if count >= size:
            return f"{count / size:.1f} {unit}"
    return f"{max(1, round(count / 1000))} kB"


def _nameless() -> IO[bytes]:
    """An open file that is gone from the disk as soon as it is closed."""
    return tempfile.TemporaryFile(dir=home().cache)


URLS = [
    path("safekeeping/", safekeeping, name="safekeeping"),
    path("safekeeping/state/", state, name="safekeeping-state"),
    path("safekeeping/back-up/", back_up, name="back-up"),
    path("safekeeping/read-back/", read_back, name="read-back"),
    path("safekeeping/backups/<str:name>", download, name="backup"),
    path("safekeeping/take-out/", out, name="take-out"),
    path("safekeeping/take-in/", bring, name="take-in"),
]
