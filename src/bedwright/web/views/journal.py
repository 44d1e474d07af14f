"""The journal: what was done, picked, seen, measured, bought, by day; and one entry."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from itertools import groupby
from typing import Any
from uuid import UUID

from django.contrib import messages
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect
from django.urls import path
from django.utils.translation import gettext as _
from django.views.decorators.http import require_POST

from bedwright.journal import Entry as Written
from bedwright.journal import EntryError, read_entry
from bedwright.reports.journal_text import note_sentence
from bedwright.web import entries
from bedwright.web.journal_choices import as_keys, choices_of, five_words, units_beside
from bedwright.web.journal_counted import own_library
from bedwright.web.journal_forms import entry_of_form, form_of_entry, kind_of_form, result_lines
from bedwright.web.journal_words import entry_words
from bedwright.web.models import Entry, EntryHistory
from bedwright.web.standing import Standing
from bedwright.web.views import journal_send, journal_write
from bedwright.web.views.common import page, with_standing

_ON_A_PAGE = 60


@dataclass(frozen=True)
class Line:
    """An entry as the list shows it; ``written`` is None where it can't be read any more."""

    row: Entry
    written: Written | None
    words: str

    @property
    def note(self) -> str:
        """What was said of it in the gardener's own words."""
        return (self.written.note if self.written else None) or ""

    @property
    def photographs(self) -> list[str]:
        """The digests of its photographs."""
        return self.written.photographs if self.written else []


@with_standing
def journal(request: HttpRequest, standing: Standing) -> HttpResponse:
    """Entries by day, the newest first, of one bed or all."""
    bed, undone = request.GET.get("bed", ""), bool(request.GET.get("undone"))
    kept = Entry.objects.filter(garden=standing.garden).select_related("by")
    if bed:
        kept = kept.filter(bed=bed)
    if not undone:
        kept = kept.filter(voided_at=None)
    try:
        first = max(int(request.GET.get("from", 0)), 0)
    except ValueError:
        first = 0
    found = list(kept.order_by("-on", "-made_at", "-pk")[first : first + _ON_A_PAGE + 1])
    lines = [line_of(each, standing) for each in found[:_ON_A_PAGE]]
    library = own_library(standing.stated, standing.library)
    return page(
        request, "journal.html", standing,
        days=[(day, list(of_day)) for day, of_day in groupby(lines, lambda each: each.row.on)],
        bed=bed, beds=[each.id for each in standing.document.garden.bed], undone=undone,
        older=first + _ON_A_PAGE if len(found) > _ON_A_PAGE else None,
        said=[note_sentence(each, library, standing.system) for each in standing.notes],
        five=five_words(),
    )  # fmt: skip


@with_standing
def entry(request: HttpRequest, standing: Standing, key: UUID) -> HttpResponse:
    """One entry with its history, and the form that changes it."""
    row = get_object_or_404(Entry, pk=key, garden=standing.garden)
    line = line_of(row, standing)
    shown: dict[str, Any] = {}
    if request.method == "POST":
        return _changed(request, standing, row, line)
    if line.written is not None:
        shown["values"] = as_keys(form_of_entry(line.written, standing.system), standing)
    return _entry_page(request, standing, line, **shown)


def _changed(request: HttpRequest, standing: Standing, row: Entry, line: Line) -> HttpResponse:
    typed = {name: str(value) for name, value in request.POST.items()} | {"id": str(row.pk)}
    currency = standing.stated.garden.garden.currency
    shown: dict[str, Any] = {"values": typed}
    try:
        typed["photographs"] = journal_write.photographs_of(request, standing, typed)
        sent = entry_of_form(kind_of_form(row.kind), typed, standing.system, currency)
        read = int(typed.get("revision", 0) or 0)
        entries.save_entry(standing, sent, request.user, revision=read)
    except EntryError as error:
        shown["faults"] = {each.field: str(each) for each in error.faults}
        status = 422
    except entries.EntryConflict as conflict:
        shown["conflict"] = True
        line, status = line_of(conflict.standing, standing), 409
    except ValueError:
        raise Http404 from None
    else:
        messages.success(request, _("The change is written down."))
        return redirect("journal-entry", row.pk)
    answer = _entry_page(request, standing, line, **shown)
    answer.status_code = status
    return answer


def _entry_page(request: HttpRequest, standing: Standing, line: Line, **shown: Any) -> HttpResponse:
    changes = EntryHistory.objects.filter(entry=line.row).select_related("by").order_by("-pk")
    currency = standing.stated.garden.garden.currency
    values = shown.get("values", {})
    return page(
        request, "journal_entry.html", standing, quiet=True, line=line,
        kind=kind_of_form(line.row.kind), zone=standing.stated.garden.garden.time_zone or "UTC",
        changes=[(each, _before(each, standing)) for each in changes],
        choices=choices_of(standing), units=units_beside(standing.system, currency),
        result_lines=result_lines(values), **shown,
    )  # fmt: skip


@require_POST
@with_standing
def undo(request: HttpRequest, standing: Standing, key: UUID) -> HttpResponse:
    """Take an entry back."""
    row = get_object_or_404(Entry, pk=key, garden=standing.garden)
    entries.undo(row, request.user)
    messages.success(request, _("Taken back: %(words)s It stays in the history.") % {
        "words": line_of(row, standing).words})  # fmt: skip
    return redirect("journal-entry", row.pk)


@require_POST
@with_standing
def restore(request: HttpRequest, standing: Standing, key: UUID) -> HttpResponse:
    """Let an entry count again."""
    row = get_object_or_404(Entry, pk=key, garden=standing.garden)
    entries.restore(row, request.user)
    messages.success(request, _("It counts again: %(words)s") % {
        "words": line_of(row, standing).words})  # fmt: skip
    return redirect("journal-entry", row.pk)


def line_of(row: Entry, standing: Standing) -> Line:
    """An entry in words."""
    try:
        written = read_entry(row.plain())
    except EntryError:
        return Line(row, None, _("An entry that this version can't read."))
    library = own_library(standing.stated, standing.library)
    return Line(row, written, entry_words(written, standing.stated, library))


def _before(change: EntryHistory, standing: Standing) -> str:
    if change.before is None:
        return ""
    try:
        written = read_entry(change.before)
    except EntryError:
        return ""
    words = entry_words(written, standing.stated, own_library(standing.stated, standing.library))
    where = _("bed %(bed)s, ") % {"bed": written.bed} if written.bed else ""
    return f"{where}{written.on}: {words} {written.note or ''}".strip()


def lines_of_bed(standing: Standing, bed: str, most: int = 10) -> Iterable[Line]:
    """The newest entries of a bed, for its page."""
    kept = Entry.objects.filter(garden=standing.garden, bed=bed, voided_at=None)
    newest = kept.select_related("by").order_by("-on", "-made_at", "-pk")[:most]
    return [line_of(each, standing) for each in newest]


URLS = [
    path("journal/", journal, name="journal"),
    path("journal/entry/<uuid:key>/", entry, name="journal-entry"),
    path("journal/entry/<uuid:key>/undo/", undo, name="journal-undo"),
    path("journal/entry/<uuid:key>/restore/", restore, name="journal-restore"),
    *journal_write.URLS,
    *journal_send.URLS,
]
