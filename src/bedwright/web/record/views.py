"""The record of the beds: what was put on, sown, picked and cleared, by day; as page and files."""

from __future__ import annotations

from dataclasses import dataclass

from django.http import Http404, HttpRequest, HttpResponse
from django.urls import path
from django.utils.http import content_disposition_header
from django.utils.text import slugify
from django.views.decorators.http import require_safe

from bedwright.journal import Entry as Written
from bedwright.journal import EntryError, read_entry
from bedwright.reports.bed_record.gather import garden_record
from bedwright.reports.bed_record.model import GardenRecord
from bedwright.reports.bed_record.table import record_csv
from bedwright.reports.bed_record.text import day_told, line_told, record_text
from bedwright.reports.journal_text import note_sentence
from bedwright.reports.words_record import RECORD
from bedwright.units import show
from bedwright.web.journal_counted import own_library
from bedwright.web.models import Entry
from bedwright.web.standing import Standing
from bedwright.web.views.common import page, with_standing


@dataclass(frozen=True)
class LineTold:
    """One act on the page; ``entry`` is the id of the journal's entry, "" for the document."""

    day: str
    told: str
    source: str
    entry: str


@dataclass(frozen=True)
class BedTold:
    """One bed on the page."""

    bed: str
    area: str
    lines: list[LineTold]


@require_safe
@with_standing
def bed_record(request: HttpRequest, standing: Standing) -> HttpResponse:
    """The page, of one bed or of all."""
    bed = _bed(request, standing)
    record = _record(standing)
    library = own_library(standing.stated, standing.library)
    beds = [
        BedTold(
            each.bed,
            show(each.area_m2, "area", standing.system),
            [
                LineTold(
                    day_told(line), line_told(line, standing.system),
                    RECORD[f"from_{line.source}"], line.entry if line.source == "journal" else "",
                )
                for line in each.lines
            ],
        )
        for each in record.beds
        if bed in (None, each.bed)
    ]  # fmt: skip
    twice = [
        note_sentence(each, library, standing.system)
        for each in record.notes
        if bed in (None, each.values.get("bed"))
    ]
    return page(
        request, "bed_record.html", standing, quiet=True, told=beds, bed=bed or "", twice=twice,
        about=RECORD["about"], nothing=RECORD["nothing"],
        beds=[each.id for each in standing.stated.garden.bed],
    )  # fmt: skip


@require_safe
@with_standing
def as_text(request: HttpRequest, standing: Standing) -> HttpResponse:
    """The record as plain text."""
    library = own_library(standing.stated, standing.library)
    name, bed = standing.stated.garden.garden.name, _bed(request, standing)
    text = record_text(_record(standing), name, standing.system, library, bed)
    return _file(text, "text/plain", f"{_name(standing, bed)}.txt")


@require_safe
@with_standing
def as_csv(request: HttpRequest, standing: Standing) -> HttpResponse:
    """The record as a table for a spreadsheet."""
    bed = _bed(request, standing)
    text = "\ufeff" + record_csv(_record(standing), bed)  # so that a spreadsheet reads it as UTF-8
    return _file(text, "text/csv", f"{_name(standing, bed)}.csv")


def _record(standing: Standing) -> GardenRecord:
    entries: list[Written] = []
    for each in Entry.objects.filter(garden=standing.garden, voided_at=None):
        try:
            entries.append(read_entry(each.plain()))
        except EntryError:
            continue  # the journal's own page tells of it
    library = own_library(standing.stated, standing.library)
    return garden_record(standing.stated, library, standing.as_of, entries)


def _bed(request: HttpRequest, standing: Standing) -> str | None:
    bed = request.GET.get("bed", "")
    if bed and all(each.id != bed for each in standing.stated.garden.bed):
        raise Http404
    return bed or None


def _name(standing: Standing, bed: str | None) -> str:
    name = slugify(standing.garden.name) or "garden"
    return f"{name}-record-{slugify(bed) if bed else standing.as_of.isoformat()}"


def _file(text: str, kind: str, name: str) -> HttpResponse:
    answer = HttpResponse(text, content_type=f"{kind}; charset=utf-8")
    shown = content_disposition_header(as_attachment=True, filename=name)
    answer["Content-Disposition"] = shown or "attachment"
    return answer


URLS = [
    path("record/", bed_record, name="bed_record"),
    path("record/beds.txt", as_text, name="bed-record-text"),
    path("record/beds.csv", as_csv, name="bed-record-csv"),
]
