"""A crop wanted as a form: what was typed, and what the document then states."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from datetime import date
from typing import Any

from django.utils.translation import gettext as _

from bedwright.garden import Want
from bedwright.units import UnitSystem
from bedwright.web.forms_of_parts import is_amount, plain_number

PROTECTIONS = (
    "none", "row cover light", "row cover medium", "row cover heavy", "low tunnel", "water wall",
)  # fmt: skip
TURNS = ("spring", "late summer")
_WHOLE = ("days_to_maturity", "pick_weeks", "days_to_first_pick")
_DAYS = ("set_out", "first_pick")


@dataclass(frozen=True)
class WantFields:
    """What the form of a crop wanted shows; all texts as they are typed."""

    crop: str = ""
    beds: tuple[str, ...] = ()
    set_out: str = ""
    turn: str = ""
    yield_goal: str = ""
    yield_unit: str = ""
    compost_material: str = ""
    compost_depth: str = ""
    compost_unit: str = ""
    protection: str = ""
    days_to_maturity: str = ""
    pick_weeks: str = ""
    first_pick: str = ""
    days_to_first_pick: str = ""


def with_units(fields: WantFields, system: UnitSystem) -> WantFields:
    """The fields with the garden's units where none stands."""
    us = system is UnitSystem.US
    return replace(
        fields,
        yield_unit=fields.yield_unit or ("lb/100 ft2" if us else "kg/m2"),
        compost_unit=fields.compost_unit or ("in" if us else "cm"),
    )


def shown(want: Want, system: UnitSystem) -> WantFields:
    """A stated want as its form shows it. A compost range is left to the document's own page."""
    goal, goal_unit = _parts(want.yield_goal.text if want.yield_goal else "")
    depth = want.compost.depth if want.compost else None
    deep, deep_unit = _parts(depth.text if depth else "")
    fields = WantFields(
        crop=want.crop,
        beds=tuple(want.beds),
        set_out=_day(want.set_out),
        turn=want.turn or "",
        yield_goal=goal,
        yield_unit=goal_unit,
        compost_material=want.compost.material if want.compost else "",
        compost_depth=deep,
        compost_unit=deep_unit,
        protection=(want.protection or "").lower().replace("_", " "),
        days_to_maturity=str(want.days_to_maturity or ""),
        pick_weeks=str(want.pick_weeks or ""),
        first_pick=_day(want.first_pick),
        days_to_first_pick=str(want.days_to_first_pick or ""),
    )
    return with_units(fields, system)


def typed(asked: Mapping[str, str], beds: list[str], system: UnitSystem) -> WantFields:
    """What was typed into a form."""
    names = (each for each in WantFields.__dataclass_fields__ if each != "beds")
    texts = {each: asked.get(each, "").strip() for each in names}
    return with_units(WantFields(**texts, beds=tuple(beds)), system)


def stated(fields: WantFields, standing: dict[str, Any] | None) -> tuple[dict[str, Any], list[str]]:
    """The want as the document states it, and what is wrong with what was typed.

    ``standing`` is the want as it stands: what the form does not show is kept from it.
    """
    made = {
        key: value for key, value in (standing or {}).items()
        if key in ("note", "dressing") or (key == "compost" and "depth" not in value)
    }  # fmt: skip
    faults: list[str] = []
    if not fields.crop:
        faults.append(_("Say which crop it is."))
    if not fields.beds:
        faults.append(_("Tick at least one bed."))
    made |= {"crop": fields.crop, "beds": list(fields.beds)}
    for name in _DAYS:
        text = getattr(fields, name)
        if text:
            try:
                made[name] = date.fromisoformat(text)
            except ValueError:
                faults.append(_("{text} is not a date.").format(text=text))
    for name in _WHOLE:
        text = getattr(fields, name)
        if text.isdecimal():
            made[name] = int(text)
        elif text:
            faults.append(_("{text} is not a whole number.").format(text=text))
    if fields.turn:
        made["turn"] = fields.turn
    if fields.protection and fields.protection != "none":
        made["protection"] = fields.protection
    if fields.yield_goal:
        made["yield_goal"] = f"{_amount(fields.yield_goal, faults)} {fields.yield_unit}"
    if fields.compost_depth:
        material = fields.compost_material or "plant compost"
        depth = f"{_amount(fields.compost_depth, faults)} {fields.compost_unit}"
        made["compost"] = {"material": material, "depth": depth}
    return made, faults


def _parts(text: str) -> tuple[str, str]:
    number, _space, unit = text.partition(" ")
    return number, unit.strip()


def _day(day: date | None) -> str:
    return day.isoformat() if day else ""


def _amount(text: str, faults: list[str]) -> str:
    """The text of an amount as it was typed, so that what is unchanged stays unchanged."""
    try:
        plain = plain_number(text)
    except ValueError as error:
        faults.append(str(error))
        return text
    if not is_amount(plain):
        faults.append(_("{text} is not an amount.").format(text=text))
    return plain
