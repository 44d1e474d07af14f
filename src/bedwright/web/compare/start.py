"""Starting a comparison: stated on a form, its power told, then saved and its order drawn once."""

from __future__ import annotations

import secrets
from dataclasses import dataclass
from typing import Any

from django.contrib import messages
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import path
from django.utils.translation import gettext as _
from django.views.decorators.http import require_POST

from bedwright.garden import Document, GardenError
from bedwright.garden.edit import remove_item
from bedwright.planning.compare.analysis import comparisons
from bedwright.planning.compare.model import Compared
from bedwright.reports.compare_said import compare_sentence, power_said
from bedwright.units import UnitSystem, show
from bedwright.web.compare.form import ComparisonForm, is_of_the_form
from bedwright.web.compare.found import comparison_of
from bedwright.web.forms_of_parts import Paper, save
from bedwright.web.journal_counted import own_library
from bedwright.web.part_forms import Item, digest, items, untouched, written
from bedwright.web.standing import Standing, read
from bedwright.web.views.common import with_standing

_SEEDS = 1_000_000  # any would do; six digits can be copied by hand
_FORM = ComparisonForm()


@dataclass(frozen=True)
class Look:
    """What a comparison can show, before it is saved; ``mark`` names what was looked at."""

    mark: str
    lies: list[str]
    acts: list[str]
    mind: list[str]
    power: list[str]
    again: bool


@with_standing
def start(request: HttpRequest, standing: Standing) -> HttpResponse:
    """The form of a new comparison: looking at what it can show, then saving it."""
    return _page(request, standing, None)


@with_standing
def change(request: HttpRequest, standing: Standing, name: str) -> HttpResponse:
    """The form of a comparison that has no results yet. Its seed stays."""
    try:
        at, found = comparison_of(standing, name)
    except Http404:
        if request.method != "POST":
            raise
        messages.warning(request, _("This was taken out meanwhile: it is put in anew."))
        return _page(request, standing, None)
    if not may_be_changed(standing, at, found):
        messages.error(request, _("It has results, or is stated in a way that this form does not "
                                  "know: change it in the document."))  # fmt: skip
        return redirect("compare-one", name)
    return _page(request, standing, at)


@require_POST
@with_standing
def remove(request: HttpRequest, standing: Standing, name: str) -> HttpResponse:
    """Take away a comparison that has no results."""
    at, found = comparison_of(standing, name)
    if not is_open(found):
        messages.error(request, _("{name} has results, so it stays. Only the document itself takes "
                                  "it out.").format(name=name))  # fmt: skip
        return redirect("compare-one", name)
    paper = Paper.of(request.POST)
    said = _FORM.removal({"id": name})
    text = remove_item(standing.revision.text, (_FORM.table, at))
    if not save(request, standing, paper, text, said, {}):
        for each in _why_not(paper):
            messages.error(request, each)
        return redirect("compare-one", name)
    messages.success(request, f"{said[:1].upper()}{said[1:]}.")
    return redirect("compare")


def is_open(found: Compared) -> bool:
    """Whether a comparison has no results, written down or picked."""
    return not found.readings and not found.stated.result


def may_be_changed(standing: Standing, at: int, found: Compared) -> bool:
    """Whether the form may change a comparison: nothing is measured, and the form knows it all."""
    held = items(standing.revision.text, _FORM.table)
    return is_open(found) and at < len(held) and is_of_the_form(held[at])


def _page(request: HttpRequest, standing: Standing, place: int | None) -> HttpResponse:
    """The form; what was typed is looked at first, and saved only as it was looked at."""
    item = items(standing.revision.text, _FORM.table)[place] if place is not None else None
    shown = _FORM.begun(standing, {}) if place is None else _FORM.stated(standing, place)
    if request.method != "POST":
        return _shown(request, standing, item, Paper(shown))
    paper = Paper.of(request.POST)
    said = _FORM.read(standing, paper, item)
    if paper.faults:
        return _shown(request, standing, item, paper)
    if said["seed"] is None:
        said["seed"] = secrets.randbelow(_SEEDS)
    kept = frozenset[str]() if place is None else untouched(_FORM, shown, paper)
    text, at, fields = written(standing.revision.text, _FORM, place, said, kept)
    if paper.text("lie") == "written":
        fields[(_FORM.table, at, "blocks")] = "written"
    try:
        document = read(standing.garden, text, standing.as_of)
    except GardenError as error:
        paper.take(error, fields)
        return _shown(request, standing, item, paper)
    found = comparisons(document, own_library(document, standing.library))[at]
    if (narrow := _too_narrow(document, found, standing.system)) is not None:
        paper.fault("edge", narrow)
        return _shown(request, standing, item, paper)
    made = items(text, _FORM.table)[at]
    # the order is not drawn before it is saved, so that nobody looks until one pleases
    mark = digest({key: each for key, each in made.items() if key != "seed"})
    asked, looked = "save" in paper.typed, paper.text("looked") == mark
    if asked and looked:
        words = _FORM.change(made, new=place is None)
        if save(request, standing, paper, text, words, fields):
            told = _("{name} is laid out: its order is drawn.") if place is None else _("Saved.")
            messages.success(request, told.format(name=made["id"]))
            return redirect("compare-one", made["id"])
    look = _look(document, found, standing.system, mark, again=asked and not looked)
    return _shown(request, standing, item, paper, look)


def _look(
    document: Document, found: Compared, system: UnitSystem, mark: str, *, again: bool
) -> Look:
    said = [each for each in found.findings if each.code != "compare_no_results"]
    return Look(
        mark,
        _lies(found, system),
        [compare_sentence(each) for each in said if each.weight == "act"],
        [compare_sentence(each) for each in said if each.weight != "act"],
        power_said(found),
        again,
    )


def _lies(found: Compared, system: UnitSystem) -> list[str]:
    """Where the blocks lie, before the ways are drawn onto them."""
    ways, told = len(found.stated.ways), []
    beds: dict[str, None] = {}
    for each in found.plots:
        if each.strip is not None and each.bed not in beds:
            beds[each.bed] = None
            words = _("Bed {bed}, blocks: {blocks}; each has {ways} strips of {area}.")
            area = show(each.area_m2, "area", system)
            told.append(
                words.format(bed=each.bed, blocks=each.strips // ways, ways=ways, area=area)
            )
    for block in sorted({each.block for each in found.plots if each.strip is None}):
        of_it = ", ".join(each.bed for each in found.plots if each.block == block)
        told.append(_("Block {block}: beds {beds}.").format(block=block, beds=of_it))
    return told


def _too_narrow(document: Document, found: Compared, system: UnitSystem) -> str | None:
    """That the edges leave nothing of a strip, where they do."""
    edge = found.stated.edge
    beds = {each.id: each for each in document.garden.bed}
    for each in found.plots if edge is not None else ():
        bed = beds[each.bed]
        if each.strip is None or bed.length is None or bed.width is None or edge is None:
            continue
        length = max(bed.length.si, bed.width.si) / each.strips
        if 2 * edge.si >= length:
            return _("A strip of bed {bed} is {length} long: {edge} at both ends leaves nothing to "
                     "measure. Take a smaller edge, or fewer blocks in the bed.").format(
                bed=each.bed, length=show(length, "length", system), edge=edge.text
            )  # fmt: skip
    return None


def _why_not(paper: Paper) -> list[str]:
    if paper.by_whom is not None:
        return [_("The garden was changed meanwhile ({change}). Look at it, and try again.").format(
            change=paper.by_whom.change)]  # fmt: skip
    return [each for _name, each in paper.on_top]


def _shown(
    request: HttpRequest, standing: Standing, item: Item | None, paper: Paper,
    look: Look | None = None,
) -> HttpResponse:  # fmt: skip
    """The form with what was typed, what is wrong with it, and what it can show."""
    wrong = bool(paper.faults or paper.by_whom)
    title = _FORM.titles()[0] if item is None else _("Change {name}").format(name=item["id"])
    # a form that was not in conflict keeps the revision that it was made from
    stale = request.method == "POST" and paper.by_whom is None
    context: dict[str, Any] = {
        "paper": paper, "groups": _FORM.groups(standing, paper), "lists": _FORM.lists(standing),
        "title": title, "name": item["id"] if item is not None else "", "look": look,
        "seed": item["seed"] if item is not None else None,
        "read_from": paper.text("read_from") if stale else standing.revision.pk,
    }  # fmt: skip
    return render(request, "web/compare_start.html", context, status=422 if wrong else 200)


URLS = [
    path("comparison/new/", start, name="compare-start"),
    path("compare/<str:name>/change/", change, name="compare-change"),
    path("compare/<str:name>/remove/", remove, name="compare-remove"),
]
