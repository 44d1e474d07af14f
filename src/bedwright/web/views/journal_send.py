"""What the journal's script talks to: entries sent from the browser's queue, photographs."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

from django.http import Http404, HttpRequest, HttpResponse, JsonResponse
from django.middleware.csrf import get_token
from django.shortcuts import get_object_or_404
from django.urls import path, reverse
from django.utils.translation import gettext as _
from django.views.decorators.http import require_POST

from bedwright.garden import GardenError
from bedwright.journal import EntryError, read_entry
from bedwright.journal.tables import to_csv, to_json
from bedwright.web import entries
from bedwright.web.journal_counted import own_library
from bedwright.web.journal_forms import entry_of_form
from bedwright.web.journal_tables import history_rows, journal_rows
from bedwright.web.journal_words import entry_words
from bedwright.web.models import Entry, Garden, Photograph
from bedwright.web.photographs import PhotographRefused, keep_photograph, photograph_path
from bedwright.web.standing import Standing, standing_of
from bedwright.web.views.common import chosen_garden, with_standing

_MOST_AT_ONCE = 200
_WORKER = Path(__file__).parent.parent / "static" / "web" / "journal-worker.js"


@require_POST
def send(request: HttpRequest) -> JsonResponse:
    """Keep the entries of a browser's queue, each for itself, in their order.

    Each comes with its id, its form's fields, and for a change the revision that was read; each
    is answered: saved, changed, same (it was here already), refused with why, or conflict.
    """
    try:
        asked = json.loads(request.body)
        listed = [dict(each) for each in asked["entries"]]
        if len(listed) > _MOST_AT_ONCE:
            raise ValueError
        for each in listed:
            each["fields"] = {str(n): str(v) for n, v in dict(each["fields"]).items()}
            each["revision"] = None if each.get("revision") is None else int(each["revision"])
    except (ValueError, TypeError, KeyError, RecursionError):
        return JsonResponse({"said": _("This is no list of entries.")}, status=400)
    standing = _standing(request, asked.get("garden"))
    if standing is None:
        said = _("The garden that this was written in is not here any more.")
        return JsonResponse({"said": said}, status=410)
    return JsonResponse({"results": [_answer(each, standing, request.user) for each in listed]})


def _answer(each: dict[str, Any], standing: Standing, user: Any) -> dict[str, Any]:
    key = str(each.get("id"))
    fields = {**each["fields"], "id": key}
    currency = standing.stated.garden.garden.currency
    try:
        sent = entry_of_form(str(each.get("kind")), fields, standing.system, currency)
        saved = entries.save_entry(standing, sent, user, revision=each["revision"])
    except EntryError as error:
        faults = [{"field": fault.field, "said": str(fault)} for fault in error.faults]
        return {"id": key, "state": "refused", "faults": faults}
    except entries.EntryConflict as conflict:
        return {
            "id": key, "state": "conflict", "revision": conflict.standing.revision,
            "standing": _words(conflict.standing, standing),
            "address": reverse("journal-entry", args=[conflict.standing.pk]),
        }  # fmt: skip
    return {
        "id": key, "state": saved.state, "revision": saved.entry.revision,
        "words": _words(saved.entry, standing),
        "address": reverse("journal-entry", args=[saved.entry.pk]),
    }  # fmt: skip


def _words(row: Entry, standing: Standing) -> str:
    written = read_entry(row.plain())
    library = own_library(standing.stated, standing.library)
    words = entry_words(written, standing.stated, library)
    note = f" {written.note}" if written.note else ""
    return (_("Bed %(bed)s: ") % {"bed": row.bed} if row.bed else "") + words + note


def _standing(request: HttpRequest, garden: Any) -> Standing | None:
    """The garden in which the entries were written; the chosen one where none is named."""
    if garden is None:
        found = chosen_garden(request)
    else:
        known = str(garden).isascii() and str(garden).isdigit() and len(str(garden)) < 18
        found = Garden.objects.filter(pk=int(str(garden))).first() if known else None
    if found is None or found.standing is None:
        return None
    try:
        return standing_of(found)
    except GardenError:
        return None


@require_POST
def photograph(request: HttpRequest) -> JsonResponse:
    """Keep a photograph of the queue; answered with the digest under which its entry names it."""
    standing = _standing(request, request.POST.get("garden"))
    upload = request.FILES.get("photo")
    if standing is None or upload is None or upload.size is None:
        said = _("No photograph came, or its garden is not here any more.")
        return JsonResponse({"said": said}, status=400)
    try:
        kept = keep_photograph(standing.garden, upload, upload.size)
    except PhotographRefused as refused:
        return JsonResponse({"said": str(refused)}, status=422)
    return JsonResponse({"digest": kept.digest})


@with_standing
def picture(request: HttpRequest, standing: Standing, digest: str) -> HttpResponse:
    """A photograph of the garden's journal."""
    kept = get_object_or_404(Photograph, garden=standing.garden, digest=digest)
    try:
        stream = photograph_path(kept.digest).open("rb")
    except (OSError, ValueError):
        raise Http404 from None
    with stream:
        answer = HttpResponse(stream.read(), content_type="image/jpeg")
    answer["Cache-Control"] = "private, max-age=31536000, immutable"
    return answer


def token(request: HttpRequest) -> JsonResponse:
    """A fresh token for a page that has stood open longer than its own."""
    return JsonResponse({"token": get_token(request)})


def worker(request: HttpRequest) -> HttpResponse:
    """The script that keeps the journal's pages at hand without a connection; its reach is
    ``/journal/``."""
    answer = HttpResponse(_WORKER.read_bytes(), content_type="text/javascript; charset=utf-8")
    answer["Cache-Control"] = "no-cache"
    return answer


@with_standing
def as_csv(request: HttpRequest, standing: Standing) -> HttpResponse:
    """All entries as CSV."""
    answer = HttpResponse(to_csv(journal_rows(standing.garden)), content_type="text/csv")
    answer["Content-Disposition"] = 'attachment; filename="journal.csv"'
    return answer


@with_standing
def as_json(request: HttpRequest, standing: Standing) -> HttpResponse:
    """All entries with their history as JSON."""
    text = to_json(journal_rows(standing.garden), history_rows(standing.garden))
    answer = HttpResponse(text, content_type="application/json")
    answer["Content-Disposition"] = 'attachment; filename="journal.json"'
    return answer


URLS = [
    path("journal/send/", send, name="journal-send"),
    path("journal/photograph/", photograph, name="journal-photograph"),
    path("journal/photograph/<str:digest>.jpg", picture, name="journal-picture"),
    path("journal/token/", token, name="journal-token"),
    path("journal/worker.js", worker, name="journal-worker"),
    path("journal/entries.csv", as_csv, name="journal-csv"),
    path("journal/entries.json", as_json, name="journal-json"),
]
