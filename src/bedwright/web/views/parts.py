"""The pages of one item of the garden document: its form, saving it, taking it out, trying it."""

from __future__ import annotations

from functools import partial
from typing import Any

from django.contrib import messages
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import URLPattern, path, reverse
from django.utils.translation import gettext as _
from django.views.decorators.http import require_POST

from bedwright.garden import GardenError
from bedwright.garden.edit import remove_item
from bedwright.web.documents import try_revision
from bedwright.web.forms_of_parts import Paper, save
from bedwright.web.part_forms import PartForm, digest, items, untouched, written
from bedwright.web.standing import Standing
from bedwright.web.views.common import with_standing

NEW = "new"


def urls_of(form: PartForm, address: str, *, tried: bool = False) -> list[URLPattern]:
    """The addresses of a form's pages; ``tried``: an item may also be tried beside the plan."""
    return [
        path(f"{address}<str:at>/", partial(_page, form=form, tried=tried), name=form.address),
        path(
            f"{address}<int:at>/remove/", partial(_remove, form=form), name=f"{form.address}-remove"
        ),
    ]


@with_standing
def _page(
    request: HttpRequest, standing: Standing, at: str, *, form: PartForm, tried: bool
) -> HttpResponse:
    """One item, or a new one: its form, and saving it."""
    held = items(standing.revision.text, form.table)
    if at != NEW and not (at.isdecimal() and (int(at) < len(held) or request.method == "POST")):
        raise Http404
    place = int(at) if at != NEW else None
    if request.method != "POST":
        shown = (
            form.begun(standing, request.GET.dict())
            if place is None
            else form.stated(standing, place)
        )
        return _shown(request, standing, form, place, Paper(shown), tried=tried)
    paper = Paper.of(request.POST)
    if place is not None:
        place = _place(form, standing, place, paper)
        if place is None:
            messages.warning(request, _("This was taken out meanwhile: it is put in anew."))
    item = held[place] if place is not None and place < len(held) else None
    said = form.read(standing, paper, item)
    if paper.faults:
        return _shown(request, standing, form, place, paper, tried=tried)
    kept = frozenset[str]()
    if place is not None:
        kept = untouched(form, form.stated(standing, place), paper)
    text, place_then, fields = written(standing.revision.text, form, place, said, kept)
    made_item = items(text, form.table)[place_then]
    text = form.beside(text, paper, made_item)
    if tried and "try" in paper.typed:
        try:
            made = try_revision(
                standing.garden,
                text,
                parent=standing.revision,
                change=form.called(made_item),
                user=request.user,
            )
        except GardenError as error:
            paper.take(error, fields)
            return _shown(request, standing, form, place, paper, tried=tried)
        return redirect("trial-shown", made.pk)
    change = form.change(made_item, new=place is None)
    if not save(request, standing, paper, text, change, fields):
        return _shown(request, standing, form, place, paper, tried=tried)
    messages.success(request, change)
    return redirect(f"{reverse(form.back)}#{form.table}-{place_then}")


@require_POST
@with_standing
def _remove(request: HttpRequest, standing: Standing, at: int, *, form: PartForm) -> HttpResponse:
    """Take an item out."""
    paper = Paper.of(request.POST)
    place = _place(form, standing, at, paper)
    held = items(standing.revision.text, form.table)
    if place is None:
        raise Http404
    change = form.removal(held[place])
    text = remove_item(standing.revision.text, (form.table, place))
    if save(request, standing, paper, text, change, {}):
        messages.success(request, change)
        return redirect(form.back)
    shown = Paper(form.stated(standing, place), paper.faults, paper.meanwhile, paper.by_whom)
    return _shown(request, standing, form, place, shown)


def _place(form: PartForm, standing: Standing, at: int, paper: Paper) -> int | None:
    """Where the item of a form stands now, since others may have moved, changed or removed it."""
    held = items(standing.revision.text, form.table)
    was = paper.text("was")
    same = [n for n, each in enumerate(held) if digest(each) == was]
    if same:
        return min(same, key=lambda n: abs(n - at))
    named = [n for n, each in enumerate(held) if form.called(each) == paper.text("called")]
    if named or not was:
        return named[0] if named else (at if at < len(held) else None)
    return at if at < len(held) and len(held) == _count(paper) else None


def _count(paper: Paper) -> int:
    text = paper.text("of")
    return int(text) if text.isdecimal() else -1


def _shown(
    request: HttpRequest,
    standing: Standing,
    form: PartForm,
    at: int | None,
    paper: Paper,
    *,
    tried: bool = False,
) -> HttpResponse:
    """The form, with what was typed and what is wrong with it."""
    wrong = bool(paper.faults or paper.by_whom)
    held = items(standing.revision.text, form.table)
    item = held[at] if at is not None else None
    title, take_out = form.titles()
    context: dict[str, Any] = {
        "paper": paper, "groups": form.groups(standing, paper), "lists": form.lists(standing),
        "title": form.called(item) if item is not None else title, "kind": title,
        "take_out": take_out, "at": at, "was": digest(item) if item is not None else "",
        "called": form.called(item) if item is not None else "", "of": len(held),
        "back": form.back, "remove": f"{form.address}-remove", "tried": tried,
        "read_from": standing.revision.pk,
    }  # fmt: skip
    return render(request, "web/part_form.html", context, status=422 if wrong else 200)
