"""One bed: what to do on it, why, its soil, nitrogen, ledger and history, each number a door."""

from __future__ import annotations

from datetime import date
from typing import Any

from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import render
from django.urls import path
from django.utils.safestring import SafeString, mark_safe

from bedwright.charts.export import table_rows
from bedwright.charts.ledger_chart import ledger_chart
from bedwright.charts.release_chart import release_chart, release_table
from bedwright.charts.theme import Spec
from bedwright.drawings import bed_drawing
from bedwright.garden import Bed
from bedwright.language import named
from bedwright.reports.bed_why import decided_lines
from bedwright.reports.bed_working import demand_sentences
from bedwright.reports.fill import sentence_parts
from bedwright.reports.ledger_text import account_tables
from bedwright.reports.words_charts import CHART_WORDS
from bedwright.reports.words_drawings import DRAWING_WORDS
from bedwright.season import BedPlan, SeasonPlan
from bedwright.units import UnitSystem, show
from bedwright.web import jobs
from bedwright.web.bed_states import bed_states, last_season, standing_crops, state_words
from bedwright.web.bed_told import bed_told
from bedwright.web.beds.failed import URLS as OF_FAILURES
from bedwright.web.beds.failed import failures_of, may_have_failed, still_wanted
from bedwright.web.drawn.charts import AXIS, chart_answer
from bedwright.web.figures import Doors, bed_figures, key_start, said_figures
from bedwright.web.plan_store import stored_ledger
from bedwright.web.rows_told import rows_told
from bedwright.web.standing import Standing
from bedwright.web.views.common import page, plan_or_work, with_standing, years_or_work
from bedwright.web.views.journal import lines_of_bed
from bedwright.web.views.working import show_working
from bedwright.web.years_told import seasons_told

_WIDTHS = {"desk": 720.0, "telephone": 350.0}  # px
_AMOUNTS = ("before-", "later-", "each-")
_OF_LEDGER = "ledger"
_WEIGHTS = ("act", "caution", "note", "doubt", "assumed")


@with_standing
def bed(request: HttpRequest, standing: Standing, bed_id: str) -> HttpResponse:
    """A bed's page."""
    ids = [each.id for each in standing.document.garden.bed]
    shown, plan = _bed(standing, bed_id)
    at = ids.index(bed_id)
    planned = _planned(plan, bed_id)
    state = bed_states(standing.document, plan, standing.as_of)[bed_id]
    stands = standing_crops(standing.document, plan, standing.as_of).get(bed_id)
    context: dict[str, Any] = {
        "bed": shown,
        "at": at,
        "state": state_words(state, stands),
        "before_bed": ids[at - 1] if at else None,
        "after_bed": ids[at + 1] if at + 1 < len(ids) else None,
        "wanted": still_wanted(standing, bed_id),
        "failures": failures_of(standing, bed_id),
        "may_have_failed": may_have_failed(standing, bed_id),
        "read_from": standing.revision.pk,
        "seasons": sorted(
            (each for each in standing.document.garden.history if each.bed == bed_id),
            key=lambda each: -each.year,
        ),
        "entries": lines_of_bed(standing, bed_id),
        "drawings": _drawings(standing, shown, planned),
        "bed_plan": planned,
    }
    years, job = years_or_work(standing, ask=False)
    context["job"] = job
    if plan is not None:
        laid = tuple(each for each in plan.layouts if each.planting.bed.id == bed_id)
        context["rows"] = rows_told(laid, standing.document, standing.key, _WIDTHS)
    if years is not None:
        told = seasons_told(years, standing.document, standing.library, bed_id)
        context |= {"years": years, "ahead": told.get(bed_id, [])}
    if plan is not None and planned is not None:
        context["told"] = bed_told(plan, planned, standing.system)
        context["further"] = [
            (each, bed_told(plan, each, standing.system)) for each in _further(plan, bed_id)
        ]
        if planned.nitrogen.season is not None:
            context["weeks"] = _weeks(planned, standing.system)
    return page(request, "bed.html", standing, **context)


@with_standing
def working(request: HttpRequest, standing: Standing, bed_id: str, key: str) -> HttpResponse:
    """The working of one number of a bed."""
    _, plan = _bed(standing, bed_id)
    planned = _planned(plan, bed_id)
    further = next((each for each in _further(plan, bed_id) if key in bed_figures(each)), None)
    if further is not None:
        planned, figure = further, bed_figures(further).get(key)
    elif key.startswith(f"{_OF_LEDGER}-"):
        figure = _ledger_doors(standing, bed_id).by_key.get(key)
    else:
        figure = bed_figures(planned).get(key) if planned is not None else None
    if plan is None or figure is None:
        raise Http404
    if planned is None or not key.removeprefix(key_start(planned)).startswith(_AMOUNTS):
        return show_working(request, figure, plan, standing.system, bed_id=bed_id)
    return show_working(
        request, figure, plan, standing.system, bed_id=bed_id,
        decided=decided_lines(planned.prescription, standing.system),
        demands=demand_sentences(planned.prescription, standing.system),
    )  # fmt: skip


@with_standing
def ledger(request: HttpRequest, standing: Standing, bed_id: str) -> HttpResponse:
    """A bed's ledger: within the bed's page when it is opened there, else a page of its own."""
    _bed(standing, bed_id)
    kept = stored_ledger(standing.key)
    plan, _ = plan_or_work(standing)
    context: dict[str, Any] = {"bed_id": bed_id, "ledger": kept, "system": standing.system}
    if kept is None:
        if plan is not None:
            context["ledger_job"] = jobs.ask(
                standing.garden, "ledger", standing.key, revision=standing.revision.pk
            )
    else:
        found = kept.findings.get(bed_id, ())
        context["doors"] = _ledger_doors(standing, bed_id)
        context["accounts"] = account_tables(kept, bed_id, standing.system)
        context["said"] = [
            (weight, [sentence_parts(each, standing.system)
                      for each in found if each.weight == weight])
            for weight in _WEIGHTS
        ]  # fmt: skip
        context["known"] = bool(kept.seasons) and bool(
            (kept.told | kept.planned)[kept.row(bed_id)].any()
        )
    if request.htmx:  # type: ignore[attr-defined]
        return render(request, "web/part_ledger.html", context)
    return page(request, "ledger.html", standing, **context)


@with_standing
def chart(request: HttpRequest, standing: Standing, bed_id: str, name: str) -> HttpResponse:
    """A chart of a bed as its Vega-Lite specification, for the width [px] that there is."""
    _, plan = _bed(standing, bed_id)
    return chart_answer(
        request,
        (standing.key, bed_id, name),
        lambda width: _chart(standing, plan, bed_id, name, width),
    )


def _chart(
    standing: Standing, plan: SeasonPlan | None, bed_id: str, name: str, width: int
) -> Spec | None:
    planned = _planned(plan, bed_id)
    if name == "nitrogen" and planned is not None:
        prescribed = planned.prescription
        names = {line.material.key: named(line.material.name).lower() for line in prescribed.lines}
        crop = named(prescribed.crop.name).lower()
        return release_chart(
            planned.nitrogen, crop, names, standing.system, CHART_WORDS, width=width - AXIS
        )
    kept = stored_ledger(standing.key) if name == "ledger" else None
    if kept is None:
        return None
    return ledger_chart(kept, bed_id, standing.system, CHART_WORDS, width=width)


def _weeks(planned: BedPlan, system: UnitSystem) -> dict[str, Any]:
    """The table of the weeks: its unit is said once, its days are days."""
    heads, rows = table_rows(*release_table(planned.nitrogen, system, CHART_WORDS))
    unit = show(0.0, "mass_per_area", system).split(" ", 1)[1]
    return {
        "unit": unit,
        "heads": [head.removesuffix(f", {unit}") for head in heads],
        "rows": [(date.fromisoformat(row[0]), row[1:]) for row in rows],
    }


def _ledger_doors(standing: Standing, bed_id: str) -> Doors:
    kept = stored_ledger(standing.key)
    found = kept.findings.get(bed_id, ()) if kept is not None else ()
    return Doors(bed_id, dict(said_figures(found, _OF_LEDGER)))


def _bed(standing: Standing, bed_id: str) -> tuple[Bed, SeasonPlan | None]:
    """A bed and the plan where it is made. Raises Http404 for a bed that is not there."""
    found = next((each for each in standing.document.garden.bed if each.id == bed_id), None)
    if found is None:
        raise Http404
    return found, plan_or_work(standing)[0]


def _planned(plan: SeasonPlan | None, bed_id: str) -> BedPlan | None:
    beds = plan.beds if plan is not None else ()
    return next((each for each in beds if each.prescription.bed.id == bed_id), None)


def _further(plan: SeasonPlan | None, bed_id: str) -> tuple[BedPlan, ...]:
    """The plans of a bed's further plantings in the year."""
    beds = plan.second if plan is not None else ()
    return tuple(each for each in beds if each.prescription.bed.id == bed_id)


def _drawings(standing: Standing, shown: Bed, planned: BedPlan | None) -> dict[str, SafeString]:
    last = last_season(standing.document, shown.id)
    crop = named(planned.prescription.crop.name).lower() if planned is not None else None
    return {
        # Made by our own drawing, which escapes every word that it is given.
        name: mark_safe(
            bed_drawing(
                shown,
                crop=crop,
                last_crop=DRAWING_WORDS["last_crop"].format(crop=last[0], year=last[1])
                if last
                else None,
                system=standing.system,
                words=DRAWING_WORDS,
                id_prefix=f"bed-{name}",
                width_px=width,
                height_px=240.0,
            )
        )
        for name, width in _WIDTHS.items()
    }


URLS = [
    path("bed/<str:bed_id>/", bed, name="bed"),
    path("bed/<str:bed_id>/working/<str:key>/", working, name="working"),
    path("bed/<str:bed_id>/ledger/", ledger, name="bed-ledger"),
    path("bed/<str:bed_id>/charts/<str:name>.json", chart, name="bed-chart"),
    *OF_FAILURES,
]
