"""The form of a mulch: on one bed, or on all beds that state none of their own."""

from __future__ import annotations

from typing import Any

from django.utils.translation import gettext as _

from bedwright.garden.edit import set_field, unset_field
from bedwright.garden.faults import Path
from bedwright.garden.model_water import Mulch
from bedwright.reports.days_said import day_words
from bedwright.web.forms_of_parts import Paper, number_and_unit
from bedwright.web.part_forms import Group, items, maker
from bedwright.web.standing import Standing

_NAMES = ("of", "cover", "laid", "lifted", "note")


def mulch_path(standing: Standing, bed: str | None) -> Path | None:
    """Where the mulch of a bed, or of all beds where ``bed`` is None, stands in the document.

    None where there is no such bed.
    """
    if bed is None:
        return ("watering", "mulch")
    held = items(standing.revision.text, "bed")
    at = next((at for at, each in enumerate(held) if each.get("id") == bed), None)
    return None if at is None else ("bed", at, "mulch")


def stated_on(standing: Standing, bed: str | None) -> Mulch | None:
    """The mulch that a bed states of its own, or that is stated for all beds."""
    garden = standing.stated.garden
    if bed is None:
        return None if garden.watering is None else garden.watering.mulch
    return next((each.mulch for each in garden.bed if each.id == bed), None)


def mulch_stated(standing: Standing, bed: str | None) -> dict[str, str]:
    """What the form shows for what the document states."""
    found = stated_on(standing, bed)
    shown = {"cover_unit": "%"}
    if found is None:
        return shown
    shown |= {
        "of": found.of,
        "laid": "" if found.laid is None else found.laid.isoformat(),
        "lifted": "" if found.lifted is None else found.lifted.isoformat(),
        "note": found.note or "",
    }
    if found.cover is not None:
        shown["cover"], shown["cover_unit"] = number_and_unit(
            found.cover, "fraction", standing.system
        )
    return shown


def mulch_written(text: str, path: Path, paper: Paper) -> str:
    """The document's text with what the form says; what can't be read is noted in ``paper``."""
    said: dict[str, Any] = {
        "of": paper.text("of") or None,
        "cover": paper.amount("cover", "fraction"),
        "laid": paper.day("laid"),
        "lifted": paper.day("lifted"),
        "note": paper.text("note") or None,
    }
    if paper.faults:
        return text
    if said["of"] is None:
        if any(said[name] is not None for name in ("cover", "laid", "lifted", "note")):
            paper.fault("of", _("Say what it is, or leave the other fields empty too."))
            return text
        return unset_field(text, path)
    return set_field(text, path, {name: said[name] for name in _NAMES if said[name] is not None})


def mulch_fields(path: Path) -> dict[Path, str]:
    """Which field of the form bears which path's faults."""
    return {path: "of"} | {(*path, name): name for name in _NAMES}


def mulch_groups(paper: Paper) -> list[Group]:
    """The fields of a mulch."""
    of = maker(paper)
    kinds = [("", _("none")), *mulch_kinds().items()]
    return [
        Group(
            "",
            [
                of("of", _("What covers the ground"), "choice", choices=kinds),
                of("cover", _("Share of the bed under it"), "number",
                   unit=paper.text("cover_unit") or "%",
                   hint=_("Left empty: the usual share is taken, and said.")),
                of("laid", _("Laid on"), "date", hint=_("Left empty: it lies from planting.")),
                of("lifted", _("Taken off on"), "date",
                   hint=_("Left empty: it lies to the last harvest.")),
                of("note", _("Note"), "area"),
            ],
        )
    ]  # fmt: skip


def mulch_kinds() -> dict[str, str]:
    """What may cover a bed, with its word."""
    return {
        "straw": _("straw"),
        "hay": _("hay"),
        "leaves": _("leaves"),
        "grass": _("cut grass"),
        "compost": _("compost"),
        "wood chips": _("wood chips"),
        "plastic": _("a plastic sheet"),
    }


def mulch_words(found: Mulch | None) -> str:
    """A stated mulch in a few words; empty where there is none."""
    if found is None:
        return ""
    said = [mulch_kinds()[found.of]]
    if found.cover is not None:
        said.append(_("on {share} of the bed").format(share=found.cover.text))
    if found.laid is not None:
        said.append(_("from {day}").format(day=day_words(found.laid)))
    if found.lifted is not None:
        said.append(_("until {day}").format(day=day_words(found.lifted)))
    return ", ".join(said)
