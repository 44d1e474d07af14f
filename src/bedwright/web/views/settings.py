"""Settings: the garden's place and limits, language, which garden, revisions, the document."""

from __future__ import annotations

import contextlib
from collections.abc import Sequence

from django.conf import settings as site
from django.contrib import messages
from django.db.models import QuerySet
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import path
from django.utils.text import slugify
from django.utils.translation import gettext as _
from django.views.decorators.http import require_POST

from bedwright.garden import GardenError
from bedwright.garden.faults import Fault
from bedwright.web import settings_form
from bedwright.web.documents import Conflict, save_revision
from bedwright.web.forms_of_parts import Paper, changed_lines, save
from bedwright.web.models import Garden, Revision
from bedwright.web.standing import Standing, standing_of
from bedwright.web.views.common import chosen_garden, page, with_standing

_SHOWN = 10
_LONGEST = 5_000_000


@with_standing
def settings(request: HttpRequest, standing: Standing) -> HttpResponse:
    """The room's page; saving place and limits."""
    paper = Paper(settings_form.stated(standing))
    if request.method == "POST":
        paper = Paper({key: str(each) for key, each in request.POST.dict().items()})
        text = settings_form.written(standing.revision.text, paper)
        change = _("settings changed")
        if not paper.faults and save(request, standing, paper, text, change, settings_form.FIELDS):
            messages.success(request, _("Saved."))
            return redirect("settings")
    fields = settings_form.shown_fields(paper)
    answer = page(
        request, "settings.html", standing, paper=paper, fields=fields,
        read_from=standing.revision.pk, gardens=Garden.objects.order_by("name"),
        languages=site.LANGUAGES, revisions=_revisions(standing)[:_SHOWN], few=_SHOWN,
    )  # fmt: skip
    answer.status_code = 422 if paper.faults or paper.by_whom else 200
    return answer


@require_POST
def choose(request: HttpRequest) -> HttpResponse:
    """Look at another garden in this browser."""
    typed = request.POST.get("garden", "")
    garden = get_object_or_404(Garden, pk=int(typed) if typed.isdecimal() else 0)
    request.session["garden"] = garden.pk
    return redirect("today")


def document(request: HttpRequest) -> HttpResponse:
    """The document itself as text, to read and to change; it opens with faults in it too."""
    garden = chosen_garden(request)
    if garden is None or garden.standing is None:
        return redirect("start")
    with contextlib.suppress(GardenError):  # the frame's rooms, where the document stands
        request.standing = standing_of(garden)  # type: ignore[attr-defined]
    text, paper = garden.standing.text, Paper({})
    faults: tuple[Fault, ...] = ()
    if request.method == "POST":
        text = request.POST.get("text", "")[:_LONGEST].replace("\r\n", "\n")
        faults = _save_text(request, garden, text, paper)
        if not faults and paper.by_whom is None:
            messages.success(request, _("The document is saved."))
            return redirect("settings")
    context = {
        "text": text, "faults": faults, "paper": paper, "read_from": garden.standing.pk,
        "garden": garden, "numbered": _numbered(text, faults),
        "rows": min(text.count("\n") + 2, 40),
    }  # fmt: skip
    wrong = bool(faults) or paper.by_whom is not None
    return render(request, "web/document.html", context, status=422 if wrong else 200)


def _save_text(request: HttpRequest, garden: Garden, text: str, paper: Paper) -> tuple[Fault, ...]:
    """The faults of a typed document, none once it is saved or in conflict with another's."""
    typed = request.POST.get("read_from", "")
    read_from = int(typed) if typed.isdecimal() else 0
    try:
        save_revision(garden, text, read_from=read_from, change=_("the document edited as text"),
                      user=request.user)  # fmt: skip
    except GardenError as error:
        return error.faults
    except Conflict as conflict:
        paper.meet(conflict, garden, read_from)
    return ()


def _numbered(text: str, faults: Sequence[Fault]) -> list[tuple[Fault, str]]:
    """Each fault with the line at which it stands."""
    lines = text.split("\n")
    return [(each, lines[each.line - 1] if 0 < each.line <= len(lines) else "") for each in faults]


@with_standing
def download(request: HttpRequest, standing: Standing) -> HttpResponse:
    """The document as a file."""
    return _file(standing.revision.text, standing.garden.name)


@with_standing
def revisions(request: HttpRequest, standing: Standing) -> HttpResponse:
    """Every revision: number, when, who, what."""
    return page(request, "revisions.html", standing, revisions=_revisions(standing))


@with_standing
def revision(request: HttpRequest, standing: Standing, number: int) -> HttpResponse:
    """One revision as it stood, and what has changed since; saving it anew as the newest."""
    held = get_object_or_404(standing.garden.revisions, number=number)
    paper = Paper({})
    if request.method == "POST":
        change = _("back to revision %(number)s") % {"number": number}
        if save(request, standing, paper, held.text, change, {}):
            messages.success(request, change)
            return redirect("settings")
    since = changed_lines(held.text, standing.revision.text)
    answer = page(
        request, "revision.html", standing, held=held, since=since, paper=paper,
        read_from=standing.revision.pk,
    )  # fmt: skip
    answer.status_code = 422 if paper.faults or paper.by_whom else 200
    return answer


def _revisions(standing: Standing) -> QuerySet[Revision]:
    return (
        standing.garden.revisions.filter(number__isnull=False)
        .order_by("-number")
        .select_related("made_by")
        .defer("text")
    )


def _file(text: str, name: str) -> HttpResponse:
    answer = HttpResponse(text, content_type="application/toml; charset=utf-8")
    answer["Content-Disposition"] = f'attachment; filename="{slugify(name) or "garden"}.toml"'
    return answer


URLS = [
    path("settings/", settings, name="settings"),
    path("settings/choose/", choose, name="settings-choose"),
    path("settings/document/", document, name="document"),
    path("settings/document.toml", download, name="document-file"),
    path("settings/revisions/", revisions, name="revisions"),
    path("settings/revisions/<int:number>/", revision, name="revision"),
]
