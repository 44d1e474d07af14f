"""The first start: make my garden, open a garden document, or look at the demo."""

from __future__ import annotations

from importlib import resources

from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import path
from django.utils.translation import gettext as _
from django.views.decorators.http import require_POST

from bedwright.garden import GardenError
from bedwright.web.documents import make_garden
from bedwright.web.models import Garden

_DEMO = "kestrel_bend.toml"
_DEMO_FILES = ("kestrel_bend_east_block.csv",)


def start(request: HttpRequest) -> HttpResponse:
    """The three ways to begin."""
    return render(request, "web/start.html", {"gardens": Garden.objects.order_by("name")})


@require_POST
def demo(request: HttpRequest) -> HttpResponse:
    """Open the invented garden."""
    found = Garden.objects.filter(invented=True).first()
    request.session["garden"] = (found or demo_garden(request.user)).pk
    return redirect("today")


def demo_garden(user: object = None) -> Garden:
    """The invented garden put into the database. Raises GardenError."""
    folder = resources.files("bedwright.demo")
    files = {name: folder.joinpath(name).read_bytes() for name in _DEMO_FILES}
    text = folder.joinpath(_DEMO).read_text(encoding="utf-8")
    return make_garden(text, "Kestrel Bend", user, files=files, invented=True,
                       change=_("the demo as it comes"))  # fmt: skip


@require_POST
def opened(request: HttpRequest) -> HttpResponse:
    """Open a garden document with the files it names, all uploaded together."""
    uploads = {str(each.name): each.read() for each in request.FILES.getlist("files")}
    documents = [name for name in uploads if name and name.lower().endswith(".toml")]
    if len(documents) != 1:
        said = _("Choose one garden document (a .toml file), and with it the files that it names.")
        return render(request, "web/start.html", {"said": said}, status=422)
    try:
        text = uploads.pop(documents[0]).decode("utf-8")
    except UnicodeDecodeError:
        said = _("The document is not UTF-8 text. Save it as UTF-8 and open it again.")
        return render(request, "web/start.html", {"said": said}, status=422)
    try:
        made = make_garden(text, documents[0], request.user, files=uploads,
                           change=_("opened from a file"))  # fmt: skip
    except GardenError as error:
        return render(request, "web/start.html", {"faults": error.faults}, status=422)
    request.session["garden"] = made.pk
    return redirect("today")


URLS = [
    path("start/", start, name="start"),
    path("start/demo/", demo, name="start-demo"),
    path("start/open/", opened, name="start-open"),
]
