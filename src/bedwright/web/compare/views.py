"""Comparisons: the list with the years, one comparison, and writing down what its plots gave."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from django.contrib import messages
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import path
from django.utils.translation import gettext as _
from django.views.decorators.http import require_safe

from bedwright.garden.edit import set_field, unset_field, value_at
from bedwright.planning.compare.analysis import comparisons
from bedwright.planning.compare.model import Compared, Plot
from bedwright.planning.compare.own_figures import own_figures
from bedwright.planning.compare.years import over_the_years
from bedwright.reports.compare_said import plot_said
from bedwright.reports.words_compare import COMPARE
from bedwright.web.compare.found import comparison_of, entries_of
from bedwright.web.compare.start import URLS as OF_STARTING
from bedwright.web.compare.start import is_open, may_be_changed
from bedwright.web.compare.told import compared_told, own_told, years_told
from bedwright.web.forms_of_parts import Field, Paper, save
from bedwright.web.journal_counted import own_library
from bedwright.web.part_forms import Group
from bedwright.web.standing import Standing
from bedwright.web.views.common import page, with_standing


@require_safe
@with_standing
def compare(request: HttpRequest, standing: Standing) -> HttpResponse:
    """Every comparison in short, what the years have shown, and the garden's own figures."""
    library = own_library(standing.document, standing.library)
    entries = entries_of(standing)
    years = over_the_years(standing.document, library, entries)
    own = own_figures(standing.document, library, years)
    return page(
        request, "compare.html", standing, quiet=True,
        told=[compared_told(each) for each in comparisons(standing.document, library, entries)],
        years_about=COMPARE["years_about"],
        years=years_told(years, standing.system, library), years_none=COMPARE["years_none"],
        own=own_told(own, standing.system), own_about=COMPARE["own_about"],
        own_none=COMPARE["own_none"],
    )  # fmt: skip


@require_safe
@with_standing
def one(request: HttpRequest, standing: Standing, name: str) -> HttpResponse:
    """One comparison: what can be said, its chart, how it lies, what it can show."""
    at, found = comparison_of(standing, name)
    return page(
        request, "compare_one.html", standing, quiet=True, told=compared_told(found),
        may_go=is_open(found), may_change=may_be_changed(standing, at, found),
        read_from=standing.revision.pk,
    )  # fmt: skip


@with_standing
def results(request: HttpRequest, standing: Standing, name: str) -> HttpResponse:
    """What each plot gave on one day, in the order in which one walks past, and saving it."""
    at, found = comparison_of(standing, name)
    if found.stated.journal is not None:
        raise Http404
    paper = Paper({"on": standing.as_of.isoformat()})
    if request.method == "POST":
        paper = Paper.of(request.POST)
        text, fields = _written(standing, at, found, paper)
        change = _("results of {name}").format(name=name)
        if not paper.faults and save(request, standing, paper, text, change, fields):
            messages.success(request, _("Saved."))
            return redirect("compare-one", name)
    wrong = bool(paper.faults or paper.by_whom)
    context = {
        "paper": paper, "groups": _groups(found, paper), "read_from": standing.revision.pk,
        "name": name, "measured": found.stated.measured,
    }  # fmt: skip
    return render(request, "web/compare_results.html", context, status=422 if wrong else 200)


def _field(plot: Plot) -> str:
    return f"plot_{plot.block}_{plot.place}"


def _groups(found: Compared, paper: Paper) -> list[Group]:
    unit = found.stated.unit
    groups = [
        Group("", [Field("on", _("Day"), paper.text("on"), "date", required=True,
                         faults=paper.faults.get("on", ()))])
    ]  # fmt: skip
    for block, plots in found.groups:
        fields = [
            Field(
                _field(plot),
                plot_said(plot),
                paper.text(_field(plot)),
                "number",
                unit=unit,
                faults=paper.faults.get(_field(plot), ()),
            )
            for plot in plots
        ]
        legend = "" if block is None else COMPARE["block"].format(block=block)
        groups.append(Group(legend, fields))
    return groups


def _plot_of(result: Mapping[str, Any]) -> tuple[Any, ...]:
    """What names the plot of a result: its block and way, or its bed."""
    return tuple(result.get(name) for name in ("block", "way", "bed"))


def _written(
    standing: Standing, at: int, found: Compared, paper: Paper
) -> tuple[str, dict[Any, str]]:
    """The document with a day's values; those of that day that stand are replaced."""
    stated, text = found.stated, standing.revision.text
    on = paper.day("on")
    if on is None and "on" not in paper.faults:
        paper.fault("on", _("Say on which day it was measured."))
    new: list[tuple[str, dict[str, Any]]] = []
    for plot in found.plots:
        number = paper.number(_field(plot))
        if number is None:
            continue
        value = number if stated.kind == "count" else f"{paper.text(_field(plot))} {stated.unit}"
        if isinstance(value, str):
            value = f"{number:g} {stated.unit}" if "," in value else value
        new.append((_field(plot), {**found.named(plot), "on": on, "value": value}))
    if not new and not paper.faults:
        paper.fault("", _("No plot has a value yet."))
    if paper.faults:
        return text, {}
    place = ("comparison", at, "result")
    held = [dict(each) for each in value_at(text, place)] if stated.result else []
    plots = {_plot_of(each) for _name, each in new}
    kept = [each for each in held if _plot_of(each) not in plots or str(each["on"]) != str(on)]
    if held:
        text = unset_field(text, place)
    fields: dict[Any, str] = {(*place, len(kept) + n): name for n, (name, _each) in enumerate(new)}
    return set_field(text, place, [*kept, *(each for _name, each in new)]), fields | {place: "on"}


URLS = [
    path("compare/", compare, name="compare"),
    path("compare/<str:name>/", one, name="compare-one"),
    path("compare/<str:name>/results/", results, name="compare-results"),
    *OF_STARTING,
]
