"""The first start: make my garden, open a garden document, or look at the demo."""

from __future__ import annotations

from dataclasses import replace
from importlib import resources
from pathlib import PurePath
from typing import IO

from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import path
from django.utils.translation import gettext as _
from django.views.decorators.http import require_POST

from bedwright.garden import GardenError
from bedwright.journal.reading import EntryError
from bedwright.journal.tables import TableError
from bedwright.web.archive import ArchiveError
from bedwright.web.documents import make_garden
from bedwright.web.models import Garden
from bedwright.web.plain_names import plain_name
from bedwright.web.taking_in import take_in
from bedwright.web.views import start_garden

_DEMO = "kestrel_bend.toml"
_DEMO_FILES = ("kestrel_bend_east_block.csv",)
_MOST_BYTES = 5_000_000  # of a garden document
_MOST_TOGETHER = 40_000_000  # of it and the files that it names


def start(request: HttpRequest) -> HttpResponse:
    """The three ways to begin."""
    context = {
        "gardens": Garden.objects.order_by("name"),
        "begun": bool(request.session.get("making")),
    }
    return render(request, "web/start.html", context)


@require_POST
def demo(request: HttpRequest) -> HttpResponse:
    """Open the invented garden."""
    request.session["garden"] = demo_garden(request.user).pk
    return redirect("today")


def demo_garden(user: object = None) -> Garden:
    """The invented garden, put into the database where it lacks. Raises GardenError."""
    found = Garden.objects.filter(invented=True).first()
    if found is not None:
        return found
    folder = resources.files("bedwright.demo")
    files = {name: folder.joinpath(name).read_bytes() for name in _DEMO_FILES}
    text = folder.joinpath(_DEMO).read_text(encoding="utf-8")
    return make_garden(text, "Kestrel Bend", user, files=files, invented=True,
                       change=_("the demo as it comes"))  # fmt: skip


@require_POST
def opened(request: HttpRequest) -> HttpResponse:
    """Open a garden document with the files it names, or the zip that an export made."""
    sent = request.FILES.getlist("files")
    if len(sent) == 1 and str(sent[0].name).lower().endswith(".zip"):
        return _zip(request, sent[0])
    if sum(each.size or 0 for each in sent) > _MOST_TOGETHER:
        return _refused(request, _("The files are too large: together they have at most 40 MB."))
    uploads = {str(each.name): each.read() for each in sent}
    try:
        name, text = _document(uploads)
    except ValueError as error:
        return _refused(request, str(error))
    try:
        made = make_garden(text, PurePath(name).stem, request.user, files=uploads,
                           change=_("opened from a file"))  # fmt: skip
    except GardenError as error:
        context = {"faults": told(error), "gardens": Garden.objects.order_by("name")}
        return render(request, "web/start.html", context, status=422)
    request.session["garden"] = made.pk
    return redirect("today")


def _document(uploads: dict[str, bytes]) -> tuple[str, str]:
    """Take the one document out of the uploads. Raises ValueError with the reason in words."""
    documents = [name for name in uploads if name.lower().endswith(".toml")]
    if len(documents) != 1:
        raise ValueError(
            _("Choose one garden document (a .toml file), and with it the files that it names; "
              "or one .zip that an export made.")
        )  # fmt: skip
    odd = [name for name in uploads if not plain_name(name)]
    if odd:
        raise ValueError(_("A file is called %(name)s; rename it.") % {"name": odd[0]})
    content = uploads.pop(documents[0])
    if len(content) > _MOST_BYTES:
        raise ValueError(_("A garden document has at most 5 MB."))
    try:
        return documents[0], content.decode("utf-8-sig")
    except UnicodeDecodeError:
        raise ValueError(
            _("The document is not UTF-8 text. Save it as UTF-8 and open it again.")
        ) from None


def _zip(request: HttpRequest, upload: IO[bytes]) -> HttpResponse:
    try:
        made = take_in(upload)
    except (ArchiveError, TableError, EntryError) as error:
        return _refused(request, _("The zip was not taken: %(why)s.") % {"why": error})
    except GardenError as error:
        return _refused(request, _("The zip was not taken: %(why)s") % {"why": told(error)[0]})
    request.session["garden"] = made.pk
    return redirect("today")


def told(error: GardenError) -> list[str]:
    """The faults with file and line, without the folders in which this site keeps the files."""
    return [str(replace(each, file=PurePath(each.file).name)) for each in error.faults]


def _refused(request: HttpRequest, said: str) -> HttpResponse:
    context = {"said": said, "gardens": Garden.objects.order_by("name")}
    return render(request, "web/start.html", context, status=422)


URLS = [
    path("start/", start, name="start"),
    path("start/demo/", demo, name="start-demo"),
    path("start/open/", opened, name="start-open"),
    *start_garden.URLS,
]
