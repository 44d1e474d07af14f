"""From the fields of a form, with the unit beside each, to an entry as plain data; and back."""

from __future__ import annotations

import re
from collections.abc import Mapping
from typing import Any

from django.utils.translation import gettext as _

from bedwright.journal import Entry, EntryError, EntryFault
from bedwright.journal.entries import KINDS
from bedwright.units import Quantity, UnitError, UnitSystem, parse, unit_factor
from bedwright.units.show import plain
from bedwright.web.journal_plan import bucket

_RESULT_LINES = 5  # on the short form; a whole paper report has a form of its own among the soils
_AS_SENT = (
    "id", "on", "bed", "what", "material", "crop", "of", "quality", "note", "plan", "moisture",
    "lab", "task",
)  # fmt: skip
_MASSES = {  # fields of a mass -> the units that stand beside them
    UnitSystem.US: (("pounds", "lb"), ("ounces", "oz")),
    UnitSystem.METRIC: (("kilograms", "kg"), ("grams", "g")),
}
_OF_BED = frozenset({"did", "picked", "saw", "measured"})


def entry_of_form(
    kind: str, fields: Mapping[str, str], system: UnitSystem, currency: str
) -> dict[str, Any]:
    """An entry as plain data from what was typed. Raises EntryError at the fields it is about.

    Empty fields say nothing. Amounts stand in the fields of their units (``pounds``, ``ounces``,
    ``cups``, ...), or ready with their unit in ``amount``.
    """
    typed = {name: str(value).strip() for name, value in fields.items() if str(value).strip()}
    what = typed.get("what", "")
    if kind == "bought" and what == "used up":
        kind = "used up"
    if kind in ("bought", "used up", "picked"):
        typed.pop("what", None)
    made: dict[str, Any] = {"kind": kind} | {n: typed[n] for n in _AS_SENT if n in typed}
    made = _with_task(made, typed)
    if "count" not in typed:
        made.pop("of", None)  # the unit stands chosen beside an empty count
    faults: list[EntryFault] = []
    mass = _mass(typed, system)
    volume = _volume(typed, system)
    if mass and volume:
        faults.append(EntryFault("amount", _("a weight and a measure are both given"),
                                 _("Give one of them.")))  # fmt: skip
    amount = typed.get("amount") or mass or volume
    if amount:
        made["mass" if kind == "picked" else "amount"] = amount
    for name, read in (("count", int), ("hours", _number)):
        if name in typed:
            try:
                made[name] = read(typed[name])
            except ValueError:
                said = _("%(typed)s is not a number") % {"typed": typed[name][:40]}
                faults.append(EntryFault(name, said))
    us = system is UnitSystem.US
    beside = {"depth": "in" if us else "cm", "minimum": "F" if us else "C", "price": currency}
    made |= {name: f"{typed[name]} {unit}" for name, unit in beside.items() if name in typed}
    results = _results(typed)
    if results:
        made["results"] = results
    if "planned" in typed:
        made["plan"] = "as planned" if typed["planned"] in (amount, "yes") else "instead"
    if "photographs" in typed:
        made["photographs"] = typed["photographs"].split()
    if faults:
        raise EntryError(faults)
    return made


def _with_task(made: dict[str, Any], typed: Mapping[str, str]) -> dict[str, Any]:
    """The task that was done stays where the work is still that; with its crop, which the form of
    other work doesn't ask for."""
    if made.get("what") != "worked":
        return {name: value for name, value in made.items() if name != "task"}
    if "task" in made and "task_crop" in typed:
        return made | {"crop": typed["task_crop"]}
    return made


def form_of_entry(entry: Entry, system: UnitSystem) -> dict[str, str]:
    """The fields of the form that would make this entry."""
    found: dict[str, str] = {"id": str(entry.id), "on": entry.on.isoformat()}
    for name in type(entry).model_fields:
        value = getattr(entry, name)
        if name in _AS_SENT and isinstance(value, str):
            found[name] = value
        elif name in ("count", "hours") and value is not None:
            found[name] = f"{value:g}" if name == "hours" else str(value)
        elif name == "photographs" and value:
            found[name] = " ".join(value)
        elif name in ("amount", "mass") and isinstance(value, Quantity):
            found |= amount_fields(value.text, system)
        elif name in ("depth", "minimum", "price") and isinstance(value, Quantity):
            found |= _number_field(name, value, system)
        elif name == "results":
            for at, each in enumerate(value, 1):
                found |= {f"analyte{at}": each.analyte, f"value{at}": str(each.value)}
                found |= {f"unit{at}": each.unit or "", f"method{at}": each.method or ""}
    found.setdefault("what", entry.kind)
    return found


def result_lines(values: Mapping[str, str]) -> list[dict[str, str]]:
    """The lines of a soil test's short form, filled with what was typed, at least five."""
    last = max((at for at in range(1, 61) if values.get(f"value{at}")), default=0)
    return [
        {"at": str(at)} | {n: values.get(f"{n}{at}", "")
                           for n in ("analyte", "value", "unit", "method")}
        for at in range(1, max(last, _RESULT_LINES) + 1)
    ]  # fmt: skip


def kind_of_form(kind: str) -> str:
    """The form on which a kind is written: what is used up stands beside what is bought."""
    if kind not in KINDS:
        raise KeyError(kind)
    return "bought" if kind == "used up" else kind


def _number(text: str) -> float:
    found = re.fullmatch(r"(\d+)?(?:\s*(\d+)/([1-9]\d*))?|\d*[.,]\d+|\d+[.,]", text)
    if found is None or not text:
        raise ValueError(text)
    if found[2]:
        return float(found[1] or 0) + int(found[2]) / int(found[3])
    return float(text.replace(",", "."))


def _mass(typed: Mapping[str, str], system: UnitSystem) -> str:
    parts = [
        f"{typed[name]} {unit}" for name, unit in _MASSES[system]
        if name in typed and not re.fullmatch(r"0*[.,]?0*", typed[name])
    ]  # fmt: skip
    return " ".join(parts)


def _volume(typed: Mapping[str, str], system: UnitSystem) -> str:
    for name, unit in (("cups", "cup"), ("liters", "l")):
        if name in typed:
            return f"{typed[name]} {unit}"
    if "buckets" in typed:
        holds, unit = bucket(system)
        try:
            return f"{_number(typed['buckets']) * holds:g} {unit}"
        except ValueError:
            return f"{typed['buckets']} {unit}"
    return ""


def _results(typed: Mapping[str, str]) -> list[dict[str, str]]:
    found: list[dict[str, str]] = []
    for at in range(1, 61):
        if f"value{at}" not in typed:
            continue
        line = {"analyte": typed.get(f"analyte{at}", ""), "value": typed[f"value{at}"]}
        for name in ("unit", "method"):
            if f"{name}{at}" in typed:
                line[name] = typed[f"{name}{at}"]
        found.append(line)
    return found


def amount_fields(text: str, system: UnitSystem) -> dict[str, str]:
    """An amount's text as the fields of a form: as written where its units stand there."""
    units = {unit: name for name, unit in _MASSES[system]}
    units |= {"cup": "cups"} if system is UnitSystem.US else {"l": "liters"}
    parts = re.findall(r"(\S+(?: \d+/\d+)?) ([a-z]+)(?: |$)", text)
    if parts and " ".join(f"{number} {unit}" for number, unit in parts) == text:
        found = {units[unit]: number for number, unit in parts if unit in units}
        if len(found) == len(parts):
            return found
    amount = _quantity(text)
    if amount is not None and amount.kind == "mass":
        unit_kg = unit_factor(_MASSES[system][0][1])[0]
        return {_MASSES[system][0][0]: plain(amount.si / unit_kg, 4)}
    return {"amount": text}


def _quantity(text: str) -> Quantity | None:
    try:
        return parse(text, "mass")
    except UnitError:
        return None


def _number_field(name: str, value: Quantity, system: UnitSystem) -> dict[str, str]:
    us = system is UnitSystem.US
    if name == "depth":
        return {name: plain(value.si / unit_factor("in" if us else "cm")[0], 3)}
    if name == "minimum":
        celsius = value.si - 273.15
        return {name: plain(round(celsius * 9 / 5 + 32 if us else celsius, 1), 4)}
    return {name: plain(value.si, 8)}
