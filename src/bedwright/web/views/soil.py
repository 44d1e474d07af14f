"""Soil reports: how they were read, and a form that takes a paper report's numbers."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from django.contrib import messages
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import path, reverse
from django.utils.translation import gettext as _
from django.views.decorators.http import require_POST

from bedwright.garden.edit import add_item, remove_item, set_field, unset_field, value_at
from bedwright.garden.faults import Path
from bedwright.garden.model import SoilReport
from bedwright.web.forms_of_parts import Field, Paper, number_and_unit, save
from bedwright.web.report_rows import (
    Row,
    analyte_choices,
    blank_rows,
    checked,
    csv_rows,
    stated_rows,
    typed_rows,
    with_one_more,
)
from bedwright.web.reports_read import read_reports
from bedwright.web.standing import Standing, tables
from bedwright.web.views.common import page, with_standing

_MOST_BYTES = 1_000_000
_FIELDS = ("id", "beds", "sampled", "depth", "lab", "texture", "note")


@with_standing
def soil(request: HttpRequest, standing: Standing) -> HttpResponse:
    """Every report as it was read."""
    covered = {bed for each in standing.stated.garden.soil_report for bed in each.beds}
    bare = [each.id for each in standing.stated.garden.bed if each.id not in covered]
    places = {each.id: at for at, each in enumerate(standing.stated.garden.soil_report)}
    reports = [(places[each.report.id], each) for each in read_reports(standing)]
    return page(request, "soil.html", standing, reports=reports, bare=bare)


@with_standing
def new_report(request: HttpRequest, standing: Standing) -> HttpResponse:
    """The form for a report that lies on the table."""
    return _report_page(request, standing, None)


@with_standing
def report(request: HttpRequest, standing: Standing, at: int) -> HttpResponse:
    """The form that corrects a report."""
    reports = standing.stated.garden.soil_report
    was = request.POST.get("was", "")
    if request.method == "POST" and was:  # others may have moved it
        at = next((n for n, each in enumerate(reports) if each.id == was), -1)
        if at < 0:
            messages.warning(request, _("This report was removed meanwhile: it is put in anew."))
            return _report_page(request, standing, None)
    if at >= len(reports):
        raise Http404
    return _report_page(request, standing, at)


@require_POST
@with_standing
def remove(request: HttpRequest, standing: Standing, at: int) -> HttpResponse:
    """Take a report out."""
    reports = standing.stated.garden.soil_report
    if at >= len(reports):
        raise Http404
    paper = Paper(request.POST.dict())
    change = _("soil report %(name)s taken out") % {"name": reports[at].id}
    text = remove_item(standing.revision.text, ("soil_report", at))
    if save(request, standing, paper, text, change, {}):
        messages.success(request, change)
        return redirect("soil")
    return _shown(request, standing, at, paper, _stated_rows(standing, at))


def _report_page(request: HttpRequest, standing: Standing, at: int | None) -> HttpResponse:
    if request.method != "POST":
        return _shown(request, standing, at, Paper(_stated(standing, at)),
                      _stated_rows(standing, at))  # fmt: skip
    typed = request.POST.dict()
    paper = Paper({key: str(each) for key, each in typed.items()})
    beds = request.POST.getlist("beds")
    rows = typed_rows(paper.typed)
    upload = request.FILES.get("file")
    if "read_file" in typed:
        return _shown(request, standing, at, paper, _from_file(paper, upload, rows), beds)
    if "more" in typed:
        return _shown(request, standing, at, paper,
                      with_one_more(rows, paper.text("more_of")), beds)  # fmt: skip
    in_file = at is not None and standing.stated.garden.soil_report[at].file is not None
    rows, results = checked(rows)
    stated = _fields(paper, beds, results, in_file)
    if paper.faults or any(row.faults for row in rows):
        return _shown(request, standing, at, paper, rows, beds)
    text, place = _written(standing.revision.text, at, stated, results, in_file)
    change = (_("soil report %(name)s put in") if at is None else
              _("soil report %(name)s corrected")) % {"name": stated["id"]}  # fmt: skip
    fields: dict[Path, str] = {("soil_report", place, name): name for name in _FIELDS}
    if not save(request, standing, paper, text, change, fields):
        return _shown(request, standing, at, paper, rows, beds)
    messages.success(request, change)
    return redirect(f"{reverse('soil')}#report-{place}")


def _from_file(paper: Paper, upload: Any, rows: list[Row]) -> list[Row]:
    """The rows of an uploaded CSV file, or those that stand, with the reason."""
    if upload is None:
        paper.fault("file", _("Choose a file first."))
    elif upload.size > _MOST_BYTES:
        paper.fault("file", _("The file is larger than a soil report can be."))
    else:
        try:
            read, _results = checked(csv_rows(upload.read()))
        except ValueError as error:
            paper.fault("file", str(error))
        else:
            return read
    return rows


def _fields(
    paper: Paper, beds: Sequence[str], results: Sequence[object], in_file: bool
) -> dict[str, Any]:
    """The fields of a report as the document states them; faults are noted."""
    stated: dict[str, Any] = {
        "beds": list(beds),
        "sampled": paper.day("sampled"),
        "depth": paper.amount("depth", "depth"),
    }
    for name, said in (
        ("beds", _("Tick the beds that the sample stands for.")),
        ("sampled", _("Say on which day the soil was sampled.")),
        ("depth", _("Say how deep the sample was taken.")),
    ):
        if not stated[name] and name not in paper.faults:
            paper.fault(name, said)
    if not results and not in_file:
        paper.fault("", _("Give at least one line of the report."))
    stated["id"] = paper.text("id") or " ".join(
        filter(None, (paper.text("lab")[:29].strip(), str(stated["sampled"] or "")))
    )
    for name in ("lab", "texture", "note"):
        stated[name] = paper.text(name) or None
    return stated


def _written(
    text: str,
    at: int | None,
    stated: dict[str, Any],
    results: list[tuple[str, dict[str, Any]]],
    in_file: bool,
) -> tuple[str, int]:
    """The document's text with the report, and the report's place."""
    order = ("id", "beds", "sampled", "depth", "lab", "texture", "note")
    if at is None:
        given = {name: stated[name] for name in order if stated[name] is not None}
        text = add_item(text, ("soil_report",), {**given, "results": [r for _, r in results]})
        return text, len(value_at(text, ("soil_report",))) - 1
    for name in order:
        here = ("soil_report", at, name)
        value = stated[name]
        text = unset_field(text, here) if value is None else set_field(text, here, value)
    return (text if in_file else _results_written(text, at, results)), at


def _results_written(text: str, at: int, results: list[tuple[str, dict[str, Any]]]) -> str:
    """The text with a report's results; a line that says the same keeps its words."""
    here = ("soil_report", at, "results")
    standing: list[dict[str, Any]] = value_at(text, here)
    shown = {str(n): each for n, each in enumerate(standing)}
    kept = sorted((each for each in results if each[0] in shown), key=lambda each: int(each[0]))
    new = [each for each in results if each[0] not in shown]
    wanted = [_as_it_stood(shown[of], result) for of, result in kept] + [each for _, each in new]
    while len(standing) > len(wanted):
        gone = next((n for n, each in enumerate(standing) if each not in wanted), -1)
        gone = gone if gone >= 0 else len(standing) - 1
        text = remove_item(text, (*here, gone))
        standing.pop(gone)
    for n, each in enumerate(wanted):
        if n >= len(standing):
            text = add_item(text, here, each)
        elif each != standing[n]:
            text = set_field(text, (*here, n), each)
    return text


def _as_it_stood(stood: dict[str, Any], result: dict[str, Any]) -> dict[str, Any]:
    """What stood, where the form would show the same for both."""

    def seen(one: dict[str, Any]) -> tuple[str, ...]:
        row = next(each for each in stated_rows([one]) if each.of)
        return (row.key, row.value, row.unit, row.method)

    return stood if seen(stood) == seen(result) else result


def _stated(standing: Standing, at: int | None) -> dict[str, str]:
    """The fields of the form for what the document states."""
    report = standing.stated.garden.soil_report[at] if at is not None else None
    number, unit = number_and_unit(report.depth if report else None, "depth", standing.system)
    stated = {"depth": number, "depth_unit": unit}
    if report is not None:
        stated |= {
            "was": report.id, "id": report.id, "sampled": report.sampled.isoformat(),
            "lab": report.lab or "", "texture": report.texture or "", "note": report.note or "",
        }  # fmt: skip
    return stated


def _stated_rows(standing: Standing, at: int | None) -> list[Row]:
    if at is None:
        return blank_rows()
    if standing.stated.garden.soil_report[at].file is not None:
        return []
    return stated_rows(value_at(standing.revision.text, ("soil_report", at, "results")))


def _shown(
    request: HttpRequest,
    standing: Standing,
    at: int | None,
    paper: Paper,
    rows: list[Row],
    beds: Sequence[str] | None = None,
) -> HttpResponse:
    """The form, with what was typed and what is wrong with it."""
    held: SoilReport | None = standing.stated.garden.soil_report[at] if at is not None else None
    if beds is None:
        beds = held.beds if held else []
    for row in rows:
        for said in row.faults:
            paper.fault(f"value_{row.at}", f"{row.label}: {said}")
    wrong = bool(paper.faults or paper.by_whom)
    context = {
        "paper": paper, "rows": [each for each in rows if each.usual],
        "others": [each for each in rows if not each.usual],
        "at": at, "was": held.id if held else "", "read_from": standing.revision.pk,
        "file": held.file if held else None, "fields": _shown_fields(paper),
        "beds": [(each.id, each.block, each.id in beds) for each in standing.stated.garden.bed],
        "beds_faults": paper.faults.get("beds", ()), "file_faults": paper.faults.get("file", ()),
        "analytes": analyte_choices(),
    }  # fmt: skip
    return render(request, "web/soil_report.html", context, status=422 if wrong else 200)


def _shown_fields(paper: Paper) -> dict[str, Field]:
    def of(name: str, label: str, kind: str = "text", **more: Any) -> Field:
        return Field(name, label, paper.text(name), kind, faults=paper.faults.get(name, ()), **more)

    textures = list(dict.fromkeys(
        row["name"].lower() for row in tables().rows("textures") if row["group"] != "organic"
    ))  # fmt: skip
    stated = paper.text("texture")
    return {
        "sampled": of("sampled", _("Sampled on"), "date", required=True),
        "depth": of("depth", _("Depth of the sample"), "number", required=True,
                    unit=paper.text("depth_unit"),
                    hint=_("How deep the sample was dug; the report or the order form may "
                           "say it, else whoever dug it knows.")),
        "lab": of("lab", _("Laboratory")),
        "id": of("id", _("What you call this report"),
                 hint=_("Left empty, it is called by its laboratory and day.")),
        "texture": of("texture", _("Texture, if the report names it"), "choice",
                      choices=[("", _("not named")), *((each, each) for each in dict.fromkeys(
                          (*([stated] if stated else []), *textures)))]),
        "note": of("note", _("Note"), "area"),
    }  # fmt: skip


URLS = [
    path("soil/", soil, name="soil"),
    path("soil/report/new/", new_report, name="soil-report-new"),
    path("soil/report/<int:at>/", report, name="soil-report"),
    path("soil/report/<int:at>/remove/", remove, name="soil-report-remove"),
]
