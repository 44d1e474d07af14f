"""Writing in the journal: quick entries by five words, and the evening form."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from typing import Any
from uuid import uuid4

from django.contrib import messages
from django.db import transaction
from django.http import HttpRequest, HttpResponse, QueryDict
from django.shortcuts import redirect
from django.urls import path, reverse
from django.utils.formats import date_format
from django.utils.translation import gettext as _
from django.utils.translation import ngettext

from bedwright.journal import EntryError, EntryFault, read_entry
from bedwright.web import entries
from bedwright.web.journal_choices import choices_of, five_words, units_beside
from bedwright.web.journal_counted import own_library
from bedwright.web.journal_evening import evening_beds, fields_of, grows, rows_of
from bedwright.web.journal_forms import amount_fields, entry_of_form, kind_of_form, result_lines
from bedwright.web.journal_plan import PlannedAct, newest_plan, planned_acts
from bedwright.web.journal_words import entry_words
from bedwright.web.models import Entry
from bedwright.web.photographs import PhotographRefused, keep_photograph
from bedwright.web.standing import Standing
from bedwright.web.views.common import page, with_standing

_MOST_PHOTOGRAPHS = 12
# A page that shows the work on the plan is loaded anew when it ends; what is typed would be lost.
_NO_RELOAD: dict[str, Any] = {"quiet": True}


@with_standing
def write(request: HttpRequest, standing: Standing) -> HttpResponse:
    """One entry, by five words; what was planned of the bed is one touch."""
    if request.method == "POST":
        return _write(request, standing)
    asked = {name: str(value) for name, value in request.GET.items()}
    return _write_page(request, standing, asked.get("kind", "did"), asked)


def _write(request: HttpRequest, standing: Standing) -> HttpResponse:
    typed = {name: str(value) for name, value in request.POST.items()}
    kind = typed.get("kind", "")
    currency = standing.stated.garden.garden.currency
    try:
        typed["photographs"] = photographs_of(request, standing, typed)
        sent = entry_of_form(kind, typed, standing.system, currency)
        entries.save_entry(standing, sent, request.user)
    except EntryError as error:
        faults = {each.field: str(each) for each in error.faults}
        return _write_page(request, standing, kind, typed, faults, status=422)
    except entries.EntryConflict:
        fault = _("This form was sent once before in other words, and those are kept. "
                  "Find the entry in the journal to change it.")  # fmt: skip
        return _write_page(request, standing, kind, typed, {"": fault}, status=409)
    written = read_entry(sent)
    words = entry_words(written, standing.stated, own_library(standing.stated, standing.library))
    messages.success(request, _("Written down: %(words)s") % {"words": words})
    query = QueryDict(mutable=True)
    query["kind"] = kind_of_form(written.kind)
    if written.bed:
        query["bed"] = written.bed
    return redirect(f"{reverse('journal-write')}?{query.urlencode()}")


def _write_page(
    request: HttpRequest, standing: Standing, kind: str, values: dict[str, str],
    faults: dict[str, str] | None = None, status: int = 200,
) -> HttpResponse:  # fmt: skip
    kinds = [key for key, _word in five_words()]
    kind = kind if kind in kinds else "did"
    acts = _acts(standing)
    bed = values.get("bed", "")
    currency = standing.stated.garden.garden.currency
    beds = [each.id for each in standing.document.garden.bed]
    grown = {each: crop[0] for each in beds if (crop := grows(standing, each, standing.as_of))}
    empty = {"on": standing.as_of.isoformat(), "what": "", "bed": bed}
    forms = [
        (each, word, empty | ({"crop": grown.get(bed, "")} if each == "picked" else {})
         | (values if each == kind else {}) | {"id": str(uuid4())})
        for each, word in five_words()
    ]  # fmt: skip
    answer = page(
        request, "journal_write.html", standing, **_NO_RELOAD, forms=forms, kind=kind,
        five=five_words(),
        faults=faults or {}, bed=bed, planless=not acts, choices=choices_of(standing),
        units=units_beside(standing.system, currency),
        result_lines=result_lines(values if kind == "measured" else {}),
        crop_of_beds=grown, planned=[_offered(each, standing) for each in acts.get(bed, ())],
        planned_of_beds={
            each: [_offered(act, standing) for act in of_bed] for each, of_bed in acts.items()
        },
    )  # fmt: skip
    answer.status_code = status
    return answer


def _acts(standing: Standing) -> dict[str, tuple[PlannedAct, ...]]:
    counted = Entry.objects.filter(garden=standing.garden, voided_at=None, kind="did")
    written = []
    for row in counted.order_by("-on")[:500]:
        try:
            written.append(read_entry(row.plain()))
        except EntryError:
            continue
    return planned_acts(newest_plan(standing), standing.system, written)


def _offered(act: PlannedAct, standing: Standing) -> dict[str, Any]:
    """A planned act as the page offers it: its words, and the fields of its form."""
    words = {
        "spread": _("Spread %(amount)s %(name)s"), "sowed": _("Sow %(name)s"),
        "set out": _("Set out %(name)s"),
    }[act.what] % {"amount": act.amount, "name": act.name}  # fmt: skip
    fields = {"what": act.what, "bed": act.bed, "material": act.material, "crop": act.crop}
    parts = amount_fields(act.amount, standing.system) if act.amount else {}
    instead = QueryDict(mutable=True)
    instead.update({"kind": "did", "plan": "instead"})
    instead.update({name: value for name, value in (fields | parts).items() if value})
    done = ""
    if act.written is not None:
        day = date_format(act.written.on, _("F j"))
        amount = act.written.amount.text if act.written.amount else ""
        done = _("Written down on %(day)s: %(amount)s") % {"day": day, "amount": amount}
    return {
        "words": words, "measure": act.measure, "later": act.later, "done": done.rstrip(": "),
        "on": act.on.isoformat() if act.on else "", "amount": act.amount, "fields": fields,
        "instead": instead.urlencode(), "id": str(uuid4()),
    }  # fmt: skip


def photographs_of(request: HttpRequest, standing: Standing, typed: dict[str, str]) -> str:
    """The photographs of a form, those kept before and those that come with it, as digests.

    Raises EntryError for one that is refused.
    """
    digests = typed.get("photographs", "").split()
    for upload in request.FILES.getlist("photo")[:_MOST_PHOTOGRAPHS]:
        if not upload.size:
            continue
        try:
            digests.append(keep_photograph(standing.garden, upload, upload.size).digest)
        except PhotographRefused as refused:
            raise EntryError([EntryFault("photographs", str(refused).rstrip("."))]) from None
    return " ".join(dict.fromkeys(digests))


@with_standing
def evening(request: HttpRequest, standing: Standing) -> HttpResponse:
    """A day's pencil ticks, bed by bed, with one send: all of them are kept, or none."""
    on = _day(request, standing)
    if request.method != "POST":
        return _evening_page(request, standing, on, {}, {})
    typed = {name: str(value) for name, value in request.POST.items()}
    currency = standing.stated.garden.garden.currency
    faults: dict[str, str] = {}
    ticked = list(_ticked(typed, on))
    for prefix, kind, fields in ticked:
        try:
            entries.checked(standing, entry_of_form(kind, fields, standing.system, currency))
        except EntryError as error:
            faults[prefix] = " ".join(str(each) for each in error.faults)
    if not ticked:
        faults[""] = _("Nothing is ticked. Tick what was done, then send.")
    if not faults:
        try:
            with transaction.atomic():
                for _prefix, kind, fields in ticked:
                    sent = entry_of_form(kind, fields, standing.system, currency)
                    entries.save_entry(standing, sent, request.user)
        except entries.EntryConflict:
            faults[""] = _("This form was sent once before in other words, and those are kept. "
                           "Find them in the journal to change them.")  # fmt: skip
    if faults:
        answer = _evening_page(request, standing, on, typed, faults)
        answer.status_code = 422
        return answer
    said = ngettext("%(count)s entry is written down.", "%(count)s entries are written down.",
                    len(ticked))  # fmt: skip
    messages.success(request, said % {"count": len(ticked)})
    return redirect("journal")


def _ticked(typed: dict[str, str], on: date) -> Iterator[tuple[str, str, dict[str, str]]]:
    for prefix in rows_of(typed):
        if not typed.get(f"{prefix}-tick"):
            continue
        mark = f"{prefix}-"
        fields = {n.removeprefix(mark): v for n, v in typed.items() if n.startswith(mark)}
        fields = {"on": on.isoformat(), **fields, **fields_of(typed[f"{mark}entry"])}
        yield prefix, fields["kind"], fields


def _day(request: HttpRequest, standing: Standing) -> date:
    asked = request.POST.get("on") or request.GET.get("on")
    try:
        return date.fromisoformat(str(asked)) if asked else standing.as_of
    except ValueError:
        return standing.as_of


def _evening_page(
    request: HttpRequest, standing: Standing, on: date, typed: dict[str, str],
    faults: dict[str, str],
) -> HttpResponse:  # fmt: skip
    currency = standing.stated.garden.garden.currency
    acts = _acts(standing)
    beds = evening_beds(standing, acts, on, typed, faults)
    return page(
        request, "journal_evening.html", standing, **_NO_RELOAD, on=on, planless=not acts,
        due=[each for each in beds if each.due], others=[each for each in beds if not each.due],
        faults=faults, units=units_beside(standing.system, currency),
    )  # fmt: skip


URLS = [
    path("journal/write/", write, name="journal-write"),
    path("journal/evening/", evening, name="journal-evening"),
]
