"""The form of the tap: what it gives, its hours, the price of its water."""

from __future__ import annotations

import re
from typing import Any

from django.utils.translation import gettext as _

from bedwright.garden.edit import set_field, unset_field
from bedwright.garden.faults import Path
from bedwright.reports.water_said import clock_words
from bedwright.units import UnitSystem
from bedwright.web.forms_of_parts import Paper, number_and_unit
from bedwright.web.part_forms import Group, maker
from bedwright.web.standing import Standing

_TABLE = "watering"
_NAMES = ("method", "flow", "hours", "price", "wetted_share", "note")
TAP_FIELDS: dict[Path, str] = {(_TABLE, name): name for name in _NAMES}
_SPELL = re.compile(r"(\d{1,2}:\d{2})\s*(?:-|\u2013|to|a|hasta)?\s*(\d{1,2}:\d{2})")


def tap_stated(standing: Standing) -> dict[str, str]:
    """What the form of the tap shows for what the document states."""
    found = standing.stated.garden.watering
    us = standing.system is UnitSystem.US
    money = standing.stated.garden.garden.currency
    shown = {
        "flow_unit": "gal/min" if us else "l/min",
        "price_unit": f"{money}/1000 gal" if us else f"{money}/m3",
        "wetted_share_unit": "%",
    }
    if found is None:
        return shown
    shown |= {
        "method": found.method,
        "hours": "\n".join(f"{clock_words(a)} - {clock_words(b)}" for a, b in found.hours or ()),
        "note": found.note or "",
    }
    for name, kind in (("flow", "flow"), ("wetted_share", "fraction")):
        quantity = getattr(found, name)
        if quantity is not None:
            shown[name], shown[f"{name}_unit"] = number_and_unit(quantity, kind, standing.system)
    if found.price is not None:
        shown["price"], _blank, shown["price_unit"] = found.price.text.partition(" ")
    return shown


def tap_written(text: str, paper: Paper) -> str:
    """The document's text with what the form says; what can't be read is noted in ``paper``."""
    said: dict[str, Any] = {
        "method": paper.text("method") or None,
        "flow": paper.amount("flow", "flow"),
        "hours": _hours(paper),
        "price": paper.plain_amount("price"),
        "wetted_share": paper.amount("wetted_share", "fraction"),
        "note": paper.text("note") or None,
    }
    if said["method"] is None:
        paper.fault("method", _("Say how the beds are watered."))
    if paper.faults:
        return text
    for name in _NAMES:
        path = (_TABLE, name)
        text = unset_field(text, path) if said[name] is None else set_field(text, path, said[name])
    return text


def _hours(paper: Paper) -> list[list[str]] | None:
    """The spells of the day, one to a line."""
    found = []
    for line in paper.text("hours").splitlines():
        spell = _SPELL.fullmatch(line.strip())
        if spell is None:
            paper.fault("hours", _("Write one spell to a line, such as 05:00 - 10:00."))
            return None
        found.append([spell[1], spell[2]])
    return found or None


def tap_groups(paper: Paper) -> list[Group]:
    """The fields of the tap."""
    of = maker(paper)
    return [
        Group(
            "",
            [
                of("method", _("How the beds are watered"), "choice",
                   choices=[("", ""), ("drip", _("by drip lines")),
                            ("overhead", _("from above"))]),
                of("flow", _("What the tap or the well gives"), "number",
                   unit=paper.text("flow_unit"),
                   hint=_("Time a bucket: its volume over the minutes that fill it.")),
                of("hours", _("Hours in which lines may run"), "area",
                   hint=_("One spell to a line, such as 05:00 - 10:00. Left empty: any hour.")),
                of("price", _("Price of the water"), "number", unit=paper.text("price_unit")),
                of("wetted_share", _("Share of a bed that drip keeps moist"), "number",
                   unit=paper.text("wetted_share_unit")),
                of("note", _("Note"), "area"),
            ],
        )
    ]  # fmt: skip
