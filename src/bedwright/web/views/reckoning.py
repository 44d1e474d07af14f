"""Reckon: the engine's single formulas, each worked alone with its working and sources."""

from __future__ import annotations

from dataclasses import dataclass

from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import render
from django.urls import path

from bedwright.reckon import ReckonError, formulas, reckon
from bedwright.reports import fill
from bedwright.reports.working import working_text
from bedwright.units import KINDS, UnitSystem
from bedwright.web.standing import tables
from bedwright.web.views.common import chosen_garden
from bedwright.working import FormulaInfo


@dataclass(frozen=True)
class Field:
    """One input of a formula as a form shows it: a number with its unit beside it, or words."""

    name: str
    label: str
    value: str
    unit: str
    units: tuple[str, ...]
    hint: str


def formulas_by_room(request: HttpRequest) -> HttpResponse:
    """All formulas; ``?find=`` keeps those whose name or words hold it."""
    asked = request.GET.get("find", "").strip().lower()
    known = formulas()
    found = [each for each in known if _holds(each, asked)]
    shown = {"found": found, "find": asked, "count": len(known)}
    return render(request, "web/reckoning.html", {**_garden(request), **shown})


def one_formula(request: HttpRequest, name: str) -> HttpResponse:
    """One formula: its inputs with an example, and what they come to."""
    infos = {each.name: each for each in formulas()}
    if name not in infos:
        raise Http404
    info = infos[name]
    asked = {
        key: _asked(request, key, kind)
        for key, (kind, _) in info.inputs.items()
        if kind != "table" and request.GET.get(key, "").strip()
    }
    context = {
        **_garden(request),
        "info": info,
        "title": _words(info.name),
        "fields": [_field(info, key, request) for key in info.inputs],
        "worked": bool(asked),
        "sources": [(tables().sources[each.source_id].cite(), each) for each in info.sources],
    }
    if asked:
        try:
            figure = reckon(name, asked, tables())
        except ReckonError as error:
            context["faults"] = str(error).splitlines()
        else:
            words = {each.name: each.words for each in infos.values()}
            context["answer"] = fill.figure(figure, UnitSystem.US)
            context["metric"] = fill.figure(figure, UnitSystem.METRIC)
            context["lines"] = working_text(figure, tables(), words)
            context["command"] = f"bedwright reckon {name} " + " ".join(
                f'{key}="{value}"' for key, value in asked.items()
            )
    return render(request, "web/formula.html", context)


def _garden(request: HttpRequest) -> dict[str, object]:
    """The masthead's garden, where there is one: this room needs none."""
    from bedwright.garden import GardenError
    from bedwright.web.standing import standing_of

    garden = chosen_garden(request)
    if garden is None or garden.standing is None:
        return {"standing": None}
    try:
        return {"standing": standing_of(garden)}
    except GardenError:
        return {"standing": None}


def _holds(info: FormulaInfo, asked: str) -> bool:
    return asked in _words(info.name).lower() or asked in info.words.lower()


def _words(name: str) -> str:
    return name.replace("_", " ")


def _asked(request: HttpRequest, key: str, kind: str) -> str:
    value = request.GET[key].strip()
    unit = request.GET.get(f"{key}-unit", "").strip()
    return f"{value} {unit}".strip() if kind != "word" else value


def _field(info: FormulaInfo, key: str, request: HttpRequest) -> Field:
    kind, unit = info.inputs[key]
    example = info.example.get(key, "")
    number, _, its_unit = example.partition(" ")
    units: tuple[str, ...] = ()
    if kind == "parameter":
        units = (unit.partition(" ")[2],)
    elif kind in KINDS:
        units = tuple(dict.fromkeys((its_unit or KINDS[kind].fits[0], *KINDS[kind].fits)))
    if kind == "word":
        number = example
    hint = unit if kind == "word" else ""
    if kind == "parameter":
        hint = "left empty: from the tables"
    return Field(
        key,
        _words(key),
        request.GET.get(key, "" if kind == "parameter" else number),
        request.GET.get(f"{key}-unit", units[0] if units else ""),
        units,
        hint,
    )


URLS = [
    path("reckon/", formulas_by_room, name="reckon"),
    path("reckon/<str:name>/", one_formula, name="formula"),
]
