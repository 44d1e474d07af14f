"""Forms for parts of the garden document: what was typed, what it states, what is wrong where.

How to use it:

- ``paper = Paper(request.POST)`` keeps what was typed. ``paper.text("lab")``,
  ``paper.day("sampled")`` and ``paper.amount("depth", "depth")`` read a field; where it can't be
  read, the fault is noted beside the field and None comes back. ``amount`` takes the unit from the
  field's own hidden ``depth_unit``, which the page shows beside the number: nobody types a unit.
  It gives the text that the document states: ``3 in``.
- ``paper.fault("lab", _("..."))`` notes a fault of your own; the field ``""`` is the whole form.
- ``paper.take(error, {("soil_report", 2, "depth"): "depth"})`` spreads the faults of a GardenError
  over the fields by their paths; what belongs to none stands on top.
- ``number_and_unit(quantity, "depth", system)`` is what a field shows: the number as it stands in
  the document with its own unit, so that saving unchanged changes nothing; or the unit of the
  system where the field is empty.
- In the template: ``{% include "web/part_field.html" with field=... %}`` for each ``Field``, and
  ``{% include "web/part_faults.html" %}`` on top with ``paper``.
- ``save(request, standing, paper, text, change, paths)`` saves the text as a revision: True once it
  is saved; else the faults stand in ``paper``, and where somebody else changed the garden
  meanwhile ``paper.meanwhile`` holds their changes, line by line.
"""

from __future__ import annotations

import difflib
import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date

from django.http import HttpRequest, QueryDict
from django.utils.translation import gettext as _

from bedwright.garden import GardenError
from bedwright.garden.faults import Fault, Path, field_name
from bedwright.language import ENGLISH, using
from bedwright.units import Quantity, UnitError, UnitSystem, parse, show
from bedwright.web.documents import Conflict, save_revision
from bedwright.web.models import Garden, Revision
from bedwright.web.standing import Standing

_UNIT = {  # kind -> the unit beside an empty field: US customary, metric
    "length": ("ft", "m"),
    "area": ("ft2", "m2"),
    "depth": ("in", "cm"),
    "mass": ("lb", "kg"),
    "volume": ("gal", "l"),
    "mass_per_area": ("lb/100 ft2", "g/m2"),
    "density": ("lb/ft3", "kg/l"),
    "fraction": ("%", "%"),
    "ratio": ("%", "%"),
}
_NUMBER = r"[+-]?(?:\d+[.,]?\d*|[.,]\d+)"
_SPLIT = re.compile(rf"\s*({_NUMBER}|\d+/\d+|\d+\s+\d+/\d+)\s*(\D.*?)?\s*")
_SECOND = re.compile(r"\s[\d.]")  # a second number, as in "lb 8 oz"; not that of "lb/100 ft2"
_EITHER = re.compile(r"[+-]?[1-9]\d{0,2},\d{3}")
_LONGEST = 2_000
_MOST_AMOUNT = 1e6  # of anything that a form asks for: more is a slip of the hand


@dataclass
class Paper:
    """What was typed on a form, and what is wrong with it: sentences by the field's name."""

    typed: Mapping[str, str]
    faults: dict[str, list[str]] = field(default_factory=dict)
    meanwhile: list[str] = field(default_factory=list)
    by_whom: Revision | None = None

    @classmethod
    def of(cls, sent: QueryDict) -> Paper:
        """What a form sent; several values of one field stand one to a line."""
        return cls(
            {key: "\n".join(map(str, sent.getlist(key))).replace("\r\n", "\n") for key in sent}
        )

    def text(self, name: str) -> str:
        """What was typed into a field, without blanks around it."""
        return str(self.typed.get(name, "")).strip()[:_LONGEST]

    def fault(self, name: str, sentence: str) -> None:
        """Note what is wrong with a field; ``""`` is the whole form."""
        held = self.faults.setdefault(name, [])
        if sentence not in held:
            held.append(sentence)

    def ticked(self, name: str) -> list[str]:
        """What was chosen of a field of ticks."""
        return [each for each in str(self.typed.get(name, "")).splitlines() if each]

    def whole(self, name: str, least: int, most: int) -> int | None:
        """The whole number of a field; None where it is empty or can't be read."""
        text = self.text(name)
        if text.isdecimal() and least <= int(text[:9]) <= most:
            return int(text)
        if text:
            self.fault(
                name,
                _("Write a whole number from %(least)d to %(most)d.")
                % {"least": least, "most": most},
            )
        return None

    def number(self, name: str) -> float | int | None:
        """A plain number of a field, whole where it is typed so; None where it is empty."""
        text = self.text(name)
        if not text:
            return None
        try:
            plain = plain_number(text)
        except ValueError as error:
            self.fault(name, str(error))
            return None
        if not is_amount(plain):
            self.fault(name, _("%(text)s is not an amount.") % {"text": text})
            return None
        return int(plain) if plain.isdecimal() else float(plain)

    def amount(self, name: str, kind: str) -> str | None:
        """The quantity of a field as the document states it, ``3 in``; None where it is empty."""
        text = self.text(name)
        if not text:
            return None
        unit = self.text(f"{name}_unit")
        try:
            stated = f"{plain_number(text)} {unit}".strip()
            parse(stated, kind)
        except ValueError as error:
            problem = error.problem if isinstance(error, UnitError) else str(error)
            self.fault(name, f"{problem[:1].upper()}{problem[1:]}.")
            return None
        return stated

    def plain_amount(self, name: str, unit: str = "") -> str | None:
        """An amount as it was typed, whatever its kind, with its unit; None where it is empty.

        The document's own check judges the unit.
        """
        if self.number(name) is None:
            return None
        return f"{plain_number(self.text(name))} {unit or self.text(f'{name}_unit')}"

    def day(self, name: str) -> date | None:
        """The date of a field; None where it is empty."""
        text = self.text(name)
        if not text:
            return None
        try:
            return date.fromisoformat(text)
        except ValueError:
            self.fault(
                name, _("%(text)s is not a date: write it like 2026-10-15.") % {"text": text}
            )
            return None

    def take(self, error: GardenError, fields: Mapping[Path, str]) -> None:
        """Spread the faults of a document over the fields that state them."""
        words = {field_name(path): name for path, name in fields.items()}
        for each in error.faults:
            near = [
                w for w in words if each.field == w or each.field.startswith((f"{w}, ", f"{w} "))
            ]
            name = words[max(near, key=len)] if near else ""
            self.fault(name, fault_sentence(each, placed=bool(near)))

    def meet(self, conflict: Conflict, garden: Garden, read_from: int) -> None:
        """Note what somebody else changed since the revision that the form was made from."""
        before = garden.revisions.filter(pk=read_from).first()
        self.by_whom = conflict.standing
        self.meanwhile = changed_lines(before.text, conflict.standing.text) if before else []

    @property
    def on_top(self) -> list[tuple[str, str]]:
        """Every fault with the name of its field, for the top of the form."""
        return [(name, each) for name, said in self.faults.items() for each in said]


@dataclass(frozen=True)
class Field:
    """A field as ``part_field.html`` shows it.

    ``kind`` is text, number, date, choice, names (text with a list of known words), check, area,
    one (of the choices, all seen), or ticks (several of them; ``value`` holds one to a line).
    ``choices`` are (value, words), of a number the units to choose from; ``unit`` stands beside
    the field and is sent with it.
    """

    name: str
    label: str
    value: str = ""
    kind: str = "text"
    unit: str = ""
    hint: str = ""
    choices: Sequence[tuple[str, str]] = ()
    required: bool = False
    faults: Sequence[str] = ()
    listed: str = ""

    @property
    def ticked(self) -> list[str]:
        """What is chosen of a field of ticks."""
        return self.value.splitlines()

    @property
    def rows(self) -> int:
        """How high an area of text is: its lines and one more, within a hand's width."""
        return min(max(self.value.count("\n") + 2, 2), 12)


def plain_number(text: str) -> str:
    """A typed number with a point. Raises ValueError where a comma may mean two things."""
    if _EITHER.fullmatch(text):
        raise ValueError(
            _("%(text)s can be read in two ways: write %(whole)s or %(part)s")
            % {"text": text, "whole": text.replace(",", ""), "part": text.replace(",", ".")}
        )
    return text.replace(",", ".") if re.fullmatch(_NUMBER, text) else text


def is_amount(text: str) -> bool:
    """Whether a typed number, written with a point, may be an amount: 0 and up, below a million."""
    try:
        return 0 <= float(text) < _MOST_AMOUNT
    except ValueError:
        return False


def unit_of(kind: str, system: UnitSystem) -> str:
    """The unit beside an empty field of a kind."""
    return _UNIT[kind][0 if system is UnitSystem.US else 1]


def number_and_unit(quantity: Quantity | None, kind: str, system: UnitSystem) -> tuple[str, str]:
    """The number and the unit that a field shows for what the document states."""
    if quantity is None:
        return "", unit_of(kind, system)
    found = _SPLIT.fullmatch(quantity.text)
    if found and found[2] and not _SECOND.search(found[2]):
        return found[1], found[2]
    with using(ENGLISH):  # what a field holds is written into the document
        number, _space, unit = show(quantity.si, kind, system).partition(" ")
    if _SECOND.search(unit):  # pounds and ounces take two numbers: one will do in a field
        return f"{quantity.si / parse(f'1 {unit_of(kind, system)}', kind).si:.4g}", unit_of(
            kind, system
        )
    return number, unit


def fault_sentence(fault: Fault, *, placed: bool) -> str:
    """A document's fault as a sentence; with its field where no form field bears it."""
    problem = f"{fault.problem[:1].upper()}{fault.problem[1:]}."
    place = "" if placed or not fault.field else f"{fault.field[:1].upper()}{fault.field[1:]}: "
    return f"{place}{problem} {fault.remedy}".strip()


def save(request: HttpRequest, standing: Standing, paper: Paper, text: str, change: str,
         fields: Mapping[Path, str]) -> bool:  # fmt: skip
    """Save a text as the standing revision; False with what is wrong in ``paper``."""
    typed = str(request.POST.get("read_from", ""))
    read_from = int(typed) if typed.isdecimal() else 0
    try:
        if standing.revision.pk != read_from:  # positions may have moved: never edit by them
            raise Conflict(standing.revision)
        save_revision(standing.garden, text, read_from=read_from, change=change, user=request.user)
    except GardenError as error:
        paper.take(error, fields)
        return False
    except Conflict as conflict:
        paper.meet(conflict, standing.garden, read_from)
        return False
    return True


def changed_lines(before: str, after: str) -> list[str]:
    """The lines that differ between two texts, ``-`` gone and ``+`` new; at most 200."""
    lines = difflib.unified_diff(before.splitlines(), after.splitlines(), lineterm="", n=0)
    return [each for each in lines if not each.startswith(("---", "+++", "@@"))][:200]
