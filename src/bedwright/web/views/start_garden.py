"""Make my garden: a few questions in steps that work without script and keep what was typed."""

from __future__ import annotations

from pathlib import Path as FilePath
from typing import Any

from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import path
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from bedwright.garden import GardenError, load_text
from bedwright.web.documents import make_garden
from bedwright.web.forms_of_parts import Field, Paper
from bedwright.web.new_garden import (
    BED_ROWS,
    Made,
    bed_rows,
    beds_text,
    place_text,
    units_beside,
    wants_text,
)
from bedwright.web.settings_form import CURRENCIES, SYSTEMS
from bedwright.web.standing import tables, today

STEPS = (
    ("place", gettext_lazy("The place")),
    ("beds", gettext_lazy("The beds")),
    ("crops", gettext_lazy("What I grow")),
    ("look", gettext_lazy("Look it over")),
)
_NAMES = [name for name, _word in STEPS]
_AXES = ("N-S", "NE-SW", "E-W", "NW-SE")
_HELD = "making"
_MOST = 40_000  # characters that a step keeps: a long list of beds


def step(request: HttpRequest, name: str) -> HttpResponse:
    """One step: shown, or taken and gone on from."""
    if name not in _NAMES:
        raise Http404
    held: dict[str, dict[str, str]] = request.session.get(_HELD, {})
    if request.method != "POST":
        return _shown(request, name, held, {})
    typed = {key: str(each)[:200] for key, each in request.POST.items() if key[:1] != "_"}
    typed.pop("csrfmiddlewaretoken", None)
    move = next((each for each in ("back", "more_rows") if each in typed), "on")
    if name != "look" and sum(map(len, typed.values())) < _MOST:
        if move == "more_rows":
            typed["rows"] = str(bed_rows(typed) + BED_ROWS)
        held = {**held, name: {key: each for key, each in typed.items() if key not in
                               ("back", "more_rows", "on")}}  # fmt: skip
        request.session[_HELD] = held
    at = _NAMES.index(name)
    if move != "on":
        return redirect("start-garden", _NAMES[max(at - 1, 0)] if move == "back" else name)
    return _on(request, name, held, typed.get("then", ""))


def _on(
    request: HttpRequest, name: str, held: dict[str, dict[str, str]], then: str
) -> HttpResponse:
    """The next step, or the first one in which something is wrong."""
    papers, made = _read(held)
    at = _NAMES.index(name)
    wrong = next((each for each in _NAMES[: min(at + 1, 3)] if papers[each].faults), None)
    if wrong == name:
        return _shown(request, name, held, papers[name].faults)
    if wrong is not None:
        return redirect("start-garden", wrong)
    if name != "look":
        return redirect("start-garden", _NAMES[at + 1])
    return _made(request, made, then)


def _made(request: HttpRequest, made: Made, then: str) -> HttpResponse:
    try:
        garden = make_garden(made.text, "", request.user, change=_("made by the first start"))
    except GardenError as error:
        paper = Paper({})
        paper.take(error, {})
        return _shown(request, "look", request.session.get(_HELD, {}), paper.faults)
    request.session.pop(_HELD, None)
    request.session["garden"] = garden.pk
    return redirect("soil-report-new" if then == "soil" else "today")


def _read(held: dict[str, dict[str, str]]) -> tuple[dict[str, Paper], Made]:
    """What every step says, with its faults, and the document made of it."""
    papers = {name: Paper(held.get(name, {})) for name in _NAMES}
    made = place_text(papers["place"])
    ids = beds_text(made, papers["beds"])
    wants_text(made, papers["crops"], ids)
    try:
        load_text(made.text, "garden.toml", FilePath(), tables(), today())
    except GardenError as error:
        for name in _NAMES[:3]:
            own = {
                place: each
                for place, each in made.fields.items()
                if (place[0], name) in (("garden", "place"), ("bed", "beds"), ("want", "crops"))
            }
            mine, said = Paper(papers[name].typed), papers[name].faults
            mine.take(error, own)
            whole = ("", *(each for each in own.values() if each.startswith("many_")))
            more = {
                where: each
                for where, each in mine.faults.items()
                if where not in said and where and not (said and where in whole)
            }  # its own words say it better
            said.update(more)
    return papers, made


def _shown(
    request: HttpRequest,
    name: str,
    held: dict[str, dict[str, str]],
    faults: dict[str, list[str]],
) -> HttpResponse:
    paper = Paper(held.get(name, {}), faults)
    context: dict[str, Any] = {
        "steps": STEPS, "step": name, "paper": paper, "back": name != _NAMES[0],
        "title": dict(STEPS)[name],
    }  # fmt: skip
    context |= {"place": _place, "beds": _beds, "crops": _crops, "look": _look}[name](held, paper)
    return render(request, f"web/start_{name}.html", context, status=422 if faults else 200)


def _place(held: dict[str, dict[str, str]], paper: Paper) -> dict[str, Any]:
    def of(name: str, label: str, kind: str = "text", **more: Any) -> Field:
        return Field(name, label, paper.text(name), kind, faults=paper.faults.get(name, ()), **more)

    return {
        "fields": [
            of("name", _("What is your garden called?"), required=True),
            of("units", _("Which units do you think in?"), "choice",
               choices=[(SYSTEMS[0], _("US customary: pounds, inches")),
                        (SYSTEMS[1], _("metric: kilograms, centimeters"))]),
            of("currency", _("Which money?"), "choice", choices=[(c, c) for c in CURRENCIES]),
            of("latitude", _("Latitude"), hint=_("Such as 46.1 N, as a map tells it. Leave it "
               "empty if you would rather not say; then there are no planting dates.")),
            of("longitude", _("Longitude"), hint=_("Such as 119.2 W.")),
            of("elevation", _("Elevation"), "number", choices=[("ft", "ft"), ("m", "m")],
               unit=paper.text("elevation_unit") or "ft"),
            of("organic_only", _("Only what organic growers in the United States may use"),
               "check"),
        ]
    }  # fmt: skip


def _beds(held: dict[str, dict[str, str]], paper: Paper) -> dict[str, Any]:
    units = units_beside(held.get("place", {}))
    textures = list(dict.fromkeys(
        row["name"].lower() for row in tables().rows("textures") if row["group"] != "organic"
    ))  # fmt: skip
    kinds = [("in-ground", _("in the ground")), ("raised", _("raised"))]
    fills = [("soil", _("soil")), ("compost mix", _("compost mix"))]

    def row(n: int) -> list[Field]:
        def of(name: str, label: str, kind: str = "number", **more: Any) -> Field:
            key = f"{name}_{n}"
            return Field(key, label, paper.text(key), kind, faults=paper.faults.get(key, ()),
                         **more)  # fmt: skip

        return [
            of("many", _("How many beds")),
            of("called", _("Called"), "text",
               hint="" if n else _("A letter or a word: with three beds, A makes A1, A2, A3.")),
            of("length", _("Length"), unit=units["length"]),
            of("width", _("Width"), unit=units["length"]),
            of("kind", _("Raised, or in the ground?"), "choice", choices=kinds),
            of("fill_depth", _("If raised: filled how deep"), unit=units["depth"]),
            of("fill", _("If raised: filled with"), "choice", choices=fills),
            of("axis", _("The long side points"), "choice",
               choices=[("", _("not known")), *((each, each) for each in _AXES)]),
            of("texture", _("The soil by feel"), "choice",
               choices=[("", _("not known")), *((each, each) for each in textures)]),
        ]  # fmt: skip

    count = bed_rows(paper.typed)
    return {"rows": [(n + 1, row(n)) for n in range(count)], "count": count}


def _crops(held: dict[str, dict[str, str]], paper: Paper) -> dict[str, Any]:
    ids = beds_text(Made(""), Paper(held.get("beds", {})))
    fields = [
        Field(f"crop_{each}", _("Bed %(name)s") % {"name": each}, paper.text(f"crop_{each}"),
              faults=paper.faults.get(f"crop_{each}", ()), listed="crop-names")
        for each in ids
    ]  # fmt: skip
    return {"fields": fields, "names": sorted(r["name"].lower() for r in tables().rows("crops"))}


def _look(held: dict[str, dict[str, str]], paper: Paper) -> dict[str, Any]:
    papers, made = _read(held)
    wrong = [(name, word) for name, word in STEPS if papers[name].faults]
    return {"text": made.text, "wrong": wrong, "beds": beds_text(Made(""), papers["beds"])}


URLS = [path("start/garden/<str:name>/", step, name="start-garden")]
