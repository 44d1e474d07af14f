"""Rotation: the years ahead, what became of the wishes, what clashes, and what is pinned."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import path
from django.utils.translation import gettext as _
from django.views.decorators.http import require_POST

from bedwright.garden import GardenError
from bedwright.language import named
from bedwright.planning.assignment.result import YearsAhead
from bedwright.reports.rotation_told import money_lines, proof_sentences, unit_words
from bedwright.reports.rotation_words import clash_words, rotation_sentence
from bedwright.web import jobs, rotation_settings
from bedwright.web.documents import try_revision
from bedwright.web.forms_of_parts import Paper, save
from bedwright.web.models import Job
from bedwright.web.part_forms import items
from bedwright.web.rotation_forms import PinForm, ProblemForm, WishForm, pin_words, wish_amount
from bedwright.web.standing import Standing
from bedwright.web.views.common import page, with_standing, years_or_work
from bedwright.web.views.parts import urls_of
from bedwright.web.years_store import forget_years, years_that_stand
from bedwright.web.years_told import WishYear, wishes_told


@dataclass(frozen=True)
class WishLine:
    """A wish as the page lists it, with what became of it year by year."""

    at: int
    crop: str
    amount: str
    must: bool
    weight: float
    years: Sequence[WishYear]


@with_standing
def rotation(request: HttpRequest, standing: Standing) -> HttpResponse:
    """The room's page."""
    years, job = years_or_work(standing)
    context: dict[str, Any] = {
        "years": years, "job": job, "wishes": _wishes(standing, years),
        "pins": _pins(standing), "problems": standing.stated.garden.bed_problem,
        "stated": rotation_settings.is_stated(standing.revision.text),
        "read_from": standing.revision.pk,
    }  # fmt: skip
    if years is not None:
        context |= _told(years, standing)
    return page(request, "rotation.html", standing, **context)


def _told(years: YearsAhead, standing: Standing) -> dict[str, Any]:
    system = standing.system
    said = [(each.weight, rotation_sentence(each, system)) for each in years.findings]
    return {
        "clashes": [clash_words(each) for each in years.clashes],
        "proof": proof_sentences(years),
        "by_year": _by_year(years),
        "money": money_lines(years.placements, standing.document.garden.garden.currency),
        "acts": [text for weight, text in said if weight in ("act", "caution")],
        "notes": [text for weight, text in said if weight not in ("act", "caution")],
        "changes": [
            (unit_words(each.unit), each.year, each.before, each.after) for each in years.changes
        ],
    }


def _wishes(standing: Standing, years: YearsAhead | None) -> list[WishLine]:
    told = wishes_told(years, standing.system) if years is not None else {}
    stated, found = standing.stated.garden, items(standing.revision.text, "wish")
    usual = stated.rotation.weights.wishes if stated.rotation is not None else 10.0
    return [
        WishLine(
            at,
            named(wish.crop),
            wish_amount(found[at]),
            wish.must,
            usual if wish.weight is None else wish.weight,
            told.get(at, ()),
        )
        for at, wish in enumerate(stated.wish)
    ]


def _pins(standing: Standing) -> list[tuple[int, str]]:
    return [(at, pin_words(each)) for at, each in enumerate(items(standing.revision.text, "pin"))]


def _by_year(years: YearsAhead) -> list[tuple[int, list[tuple[str, list[tuple[str, str]]]]]]:
    """Every year with its crops, and for each the beds: (bed, its name with its part)."""
    found = []
    for year in years.years:
        crops: dict[str, list[tuple[str, str]]] = {}
        for each in years.placements:
            if each.year == year:
                place = (each.unit.bed, unit_words(each.unit))
                crops.setdefault(named(each.crop.name).lower(), []).append(place)
        found.append((year, sorted(crops.items())))
    return found


@with_standing
def weights(request: HttpRequest, standing: Standing) -> HttpResponse:
    """The horizon, the intervals and the weights: their form, and saving it."""
    paper = Paper(rotation_settings.stated(standing))
    if request.method == "POST":
        paper = Paper.of(request.POST)
        text = rotation_settings.written(standing, paper)
        change = _("how the years ahead are planned")
        fields = rotation_settings.FIELDS
        if not paper.faults and "try" in paper.typed:
            try:
                made = try_revision(standing.garden, text, parent=standing.revision, change=change,
                                    user=request.user)  # fmt: skip
            except GardenError as error:
                paper.take(error, fields)
            else:
                return redirect("trial-shown", made.pk)
        elif not paper.faults and save(request, standing, paper, text, change, fields):
            messages.success(request, _("Saved."))
            return redirect("rotation")
    context = {
        "paper": paper, "groups": rotation_settings.groups(paper), "lists": {},
        "title": _("Weights and limits"), "back": "rotation", "tried": True, "at": None,
        "read_from": standing.revision.pk,
    }  # fmt: skip
    wrong = bool(paper.faults or paper.by_whom)
    return render(request, "web/part_form.html", context, status=422 if wrong else 200)


@require_POST
@with_standing
def afresh(request: HttpRequest, standing: Standing) -> HttpResponse:
    """Plan the years anew, without keeping to what stands."""
    forget_years(years_that_stand(standing.garden))
    forget_years(standing.key)
    forget_years(standing.text_key)
    held = Job.objects.filter(garden=standing.garden, kind="years", key=standing.key)
    for job in held.exclude(state=Job.State.DONE):
        jobs.stop(job)
        job.delete()
    return redirect("rotation")


@require_POST
@with_standing
def settle(request: HttpRequest, standing: Standing) -> HttpResponse:
    """Write the first year into the document: its crops as wanted, with their beds."""
    from bedwright.reports.rotation_accept import accepted

    years, job = years_or_work(standing)
    paper = Paper.of(request.POST)
    if years is None or job is not None:
        messages.warning(request, _("The years are not worked out yet: nothing was written."))
        return redirect("rotation")
    text, _wants, _pins_made = accepted(years, standing.stated)
    change = _("{year} written into the garden document").format(year=years.years[0])
    if save(request, standing, paper, text, change, {}):
        messages.success(request, change)
        return redirect("crops")
    for _name, said in paper.on_top:
        messages.error(request, said)
    if paper.by_whom is not None:
        messages.error(request, _("The garden was changed meanwhile: look at the years again."))
    return redirect("rotation")


URLS = [
    path("rotation/", rotation, name="rotation"),
    path("rotation/weights/", weights, name="rotation-weights"),
    path("rotation/afresh/", afresh, name="rotation-afresh"),
    path("rotation/settle/", settle, name="rotation-settle"),
    *urls_of(WishForm(), "rotation/wish/"),
    *urls_of(PinForm(), "rotation/pin/", tried=True),
    *urls_of(ProblemForm(), "rotation/problem/"),
]
