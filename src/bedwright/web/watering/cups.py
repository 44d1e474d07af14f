"""The form of what cups under emitters caught, and what that says of the lines."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from django.utils.translation import gettext as _

from bedwright.garden.edit import set_field
from bedwright.garden.faults import Path
from bedwright.garden.model_water import WaterZone
from bedwright.reports.water_said import flow_words, share_words
from bedwright.units import UnitSystem
from bedwright.water.irrigation import CatchCups, catch_cup_flow
from bedwright.web.forms_of_parts import Field, Paper
from bedwright.web.part_forms import Group, items, maker
from bedwright.web.standing import Standing

_ZONES, _CUPS = "water_zone", "catch_cups"
_LEAST_CUPS, _FEW_CUPS = 4, 8
_L_H, _ML = 3.6e6, 1e6


@dataclass(frozen=True)
class CupsRead:
    """What cups say: the flow of an emitter and the evenness, as words."""

    flow: str
    evenness: str


def cups_read(zone: WaterZone, system: UnitSystem) -> CupsRead | None:
    """What the cups of a zone say; None where none were set."""
    if zone.catch_cups is None:
        return None
    caught = tuple(each.si * _ML for each in zone.catch_cups.caught)
    found: CatchCups = catch_cup_flow(caught, zone.catch_cups.time.si / 60)
    return CupsRead(flow_words(found.value / _L_H, system), share_words(found.uniformity))


def zone_place(standing: Standing, zone: str) -> int | None:
    """Where a zone stands in the document; None where it does not."""
    held = items(standing.revision.text, _ZONES)
    return next((at for at, each in enumerate(held) if each.get("id") == zone), None)


def cups_stated(standing: Standing, at: int) -> dict[str, str]:
    """What the form of the cups shows."""
    cups = standing.stated.garden.water_zone[at].catch_cups
    if cups is None:
        return {"minutes": "2", "spacing": ""}
    shown = {"minutes": f"{cups.time.si / 60:g}"}
    return shown | {f"cup_{n}": f"{each.si * _ML:g}" for n, each in enumerate(cups.caught, 1)}


def cups_written(text: str, at: int, paper: Paper) -> str:
    """The document's text with the cups; what can't be read is noted in ``paper``."""
    minutes = paper.number("minutes")
    if minutes is None and "minutes" not in paper.faults:
        paper.fault("minutes", _("Say how long the cups stood."))
    caught = {name: paper.number(name) for name in _cup_names(paper)}
    filled = [f"{each:g} ml" for each in caught.values() if each is not None]
    if len(filled) < _LEAST_CUPS and not paper.faults:
        paper.fault("cup_1", _("It takes four cups or more."))
    if _stated_spacing(text, at) is None and not paper.text("spacing"):
        paper.fault("spacing", _("Say how far it is from emitter to emitter."))
    spacing = paper.amount("spacing", "length")
    if paper.faults:
        return text
    if spacing is not None:
        text = set_field(text, (_ZONES, at, "emitter_spacing"), spacing)
    path: Path = (_ZONES, at, _CUPS)
    return set_field(text, path, {"time": f"{minutes:g} min", "caught": filled})


def cups_fields(at: int) -> dict[Path, str]:
    """Which field of the form bears which path's faults."""
    return {
        (_ZONES, at, _CUPS, "time"): "minutes",
        (_ZONES, at, _CUPS): "cup_1",
        (_ZONES, at, "emitter_spacing"): "spacing",
    }


def cups_groups(standing: Standing, at: int, paper: Paper) -> list[Group]:
    """The fields of the cups: time, a number for each cup, the spacing where it is not stated."""
    of = maker(paper)
    cups: list[Field] = [of(name, _("Cup {n}").format(n=name[4:]), "number", unit="ml")
                         for name in _cup_names(paper)]  # fmt: skip
    first = [of("minutes", _("How long they stood, in minutes"), "number", required=True)]
    if _stated_spacing(standing.revision.text, at) is None:
        unit = paper.text("spacing_unit") or ("in" if standing.system is UnitSystem.US else "cm")
        first.append(of("spacing", _("From emitter to emitter"), "number", unit=unit))
    return [Group("", first), Group(_("What each caught"), cups)]


def _cup_names(paper: Paper) -> list[str]:
    """The fields of cups: as many as were filled and two more, eight at least."""
    numbers = [
        int(name[4:]) for name in paper.typed
        if name.startswith("cup_") and name[4:].isdecimal() and len(name) < 8 and paper.text(name)
    ]  # fmt: skip
    most = max(numbers, default=0)
    return [f"cup_{n}" for n in range(1, max(_FEW_CUPS, min(most + 2, 60)) + 1)]


def _stated_spacing(text: str, at: int) -> Any:
    return items(text, _ZONES)[at].get("emitter_spacing")
