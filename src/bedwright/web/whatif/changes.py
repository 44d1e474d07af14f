"""The changes that a what-if asks for, made on the text of a garden document."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date

from django.utils.translation import gettext as _

from bedwright.garden import Document
from bedwright.garden import Garden as Stated
from bedwright.garden.edit import add_item, set_field, unset_field
from bedwright.units import UnitSystem
from bedwright.web.forms_of_parts import is_amount, plain_number

_OF_A_CROP = ("crop", "compost", "rate", "set_out")
_OTHER_HOURS = ("other-hours", "other-from", "other-to")
# What the gardener stated of the crop that goes: it does not hold for another.
_WITH_THE_CROP = (
    "yield_goal", "first_pick", "days_to_first_pick", "days_to_maturity", "pick_weeks",
)  # fmt: skip


@dataclass(frozen=True)
class Wish:
    """One change that is asked for, in the words of its form's field."""

    field: str
    problem: str


@dataclass(frozen=True)
class Tried:
    """A changed text, and what was changed in words."""

    text: str
    change: str


def tried(text: str, document: Document, asked: Mapping[str, str]) -> Tried | list[Wish]:
    """The text with every change that a form asks for, or what is wrong with the form.

    ``document`` is what the text states. ``asked`` maps the fields of the form: ``want`` (the
    position of a crop wanted) with ``crop``, ``compost``, ``compost-unit``, ``material``, ``rate``,
    ``rate-unit`` and ``set_out``; ``hours`` a week, and ``other-hours`` from the day ``other-from``
    to ``other-to``; ``budget``; ``stock`` (a position) with
    ``price``; ``avoid`` (a material's name); ``water-price`` with ``water-price-unit``; ``salt`` of
    the water [dS/m].
    """
    change = _Change(text, document, asked)
    change.of_want()
    change.of_hands_and_purse()
    change.of_shed()
    change.of_water()
    if not change.said and not change.faults:
        change.fault("", _("Nothing was changed: fill in at least one field."))
    return change.faults or Tried(change.text, "; ".join(change.said))


def water_price_unit(stated: Stated) -> str:
    """The unit in which the form asks for the price of water."""
    volume = "1000 gal" if stated.garden.units is UnitSystem.US else "m3"
    return f"{stated.garden.currency}/{volume}"


class _Change:
    """The changes of one form, made one after the other on the text."""

    def __init__(self, text: str, document: Document, asked: Mapping[str, str]) -> None:
        self.text, self.document, self.stated = text, document, document.garden
        self.asked = {key: value.strip() for key, value in asked.items()}
        self.faults: list[Wish] = []
        self.said: list[str] = []

    def fault(self, field: str, problem: str) -> None:
        self.faults.append(Wish(field, problem))

    def of_want(self) -> None:
        """Another crop, compost, a rate and a day, all of one want."""
        want = self._position("want", len(self.stated.want))
        if want is None:
            if any(self.asked.get(each) for each in _OF_A_CROP):
                self.fault("want", _("Say which crop the change is for."))
            return
        stated = self.stated.want[want]
        crop, beds = stated.crop, ", ".join(stated.beds)
        other = self.asked.get("crop")
        if other and other != crop:
            self.text = set_field(self.text, ("want", want, "crop"), other)
            for each in _WITH_THE_CROP:
                self.text = unset_field(self.text, ("want", want, each))
            self.said.append(
                _("{beds}: {other} instead of {crop}").format(beds=beds, other=other, crop=crop)
            )
            crop = other
        called = f"{crop} ({beds})"
        self._compost(want, called)
        self._rate(want, called)
        self._day(want, called)

    def of_hands_and_purse(self) -> None:
        """The hours there are, and the budget."""
        hours, budget = self._number("hours"), self._number("budget")
        if hours is not None:
            self.text = set_field(self.text, ("work", "hours_per_week"), hours)
            self.said.append(_("{hours} hours a week").format(hours=f"{hours:g}"))
        self._other_hours()
        if budget is not None:
            money = f"{budget:g} {self.stated.garden.currency}"
            self.text = set_field(self.text, ("limits", "budget"), money)
            self.said.append(_("a budget of {budget}").format(budget=money))

    def _other_hours(self) -> None:
        """Other hours than usual from one day to another, after those that the document states."""
        hours = self._number("other-hours")
        first, last = (self._on(each) for each in ("other-from", "other-to"))
        if hours is None or first is None or last is None:
            asked = [each for each in _OTHER_HOURS if self.asked.get(each)]
            lacking = len(asked) not in (0, len(_OTHER_HOURS))
            if lacking and not any(each.field in _OTHER_HOURS for each in self.faults):
                self.fault(
                    "other-hours", _("Other hours need their first day, last day and hours.")
                )
            return
        usual = self.stated.work is not None and self.stated.work.hours_per_week is not None
        if not usual and self._number("hours") is None:
            self.fault("hours", _("Say the usual hours a week too: none are stated."))
            return
        times = {"first": first, "last": last, "hours_per_week": hours}
        self.text = add_item(self.text, ("work", "other_hours"), times)
        self.said.append(
            _("{hours} hours a week from {first} to {last}").format(
                hours=f"{hours:g}", first=first.isoformat(), last=last.isoformat()
            )
        )

    def of_shed(self) -> None:
        """A price, and a material struck out."""
        price, avoid = self._number("price"), self.asked.get("avoid")
        if price is not None:
            stock = self._position("stock", len(self.stated.stock))
            if stock is None:
                self.fault("stock", _("Say which package the price is of."))
            else:
                money = f"{price:g} {self.stated.garden.currency}"
                self.text = set_field(self.text, ("stock", stock, "price"), money)
                self.said.append(f"{self.stated.stock[stock].material}: {money}")
        if avoid:
            if self.stated.limits.avoid:
                self.text = add_item(self.text, ("limits", "avoid"), avoid)
            else:
                self.text = set_field(self.text, ("limits", "avoid"), [avoid])
            self.said.append(_("without {material}").format(material=avoid))

    def of_water(self) -> None:
        """The price of water, and the salt in it."""
        price, salt = self._number("water-price"), self._number("salt")
        if price is not None:
            if self.stated.watering is None:
                self.fault("water-price", _("The document does not say how the beds are watered."))
            else:
                money = f"{price:g} {water_price_unit(self.stated)}"
                self.text = set_field(self.text, ("watering", "price"), money)
                self.said.append(_("water at {price}").format(price=money))
        if salt is not None:
            self._salt(f"{salt:g} dS/m")

    def _salt(self, stated: str) -> None:
        """The salt in every report on the water, which tells of all zones alike."""
        found = [
            (at, nth)
            for at, report in enumerate(self.stated.water_report)
            for nth, read in enumerate(self.document.water[report.id])
            if read.analyte == "ec"
        ]
        if not found:
            self.fault("salt", _("No report on the water says how salty it is: add one first."))
            return
        for at, nth in found:
            place = ("water_report", at, "results", nth)
            self.text = set_field(self.text, (*place, "value"), stated)
            self.text = unset_field(self.text, (*place, "unit"))
        self.said.append(_("water of {salt}").format(salt=stated))

    def _compost(self, want: int, crop: str) -> None:
        depth = self._number("compost")
        if depth is None:
            return
        path, standing = ("want", want, "compost"), self.stated.want[want].compost
        if depth == 0:
            if standing is not None:
                self.text = unset_field(self.text, path)
            self.said.append(_("{crop}: no compost").format(crop=crop))
            return
        material = standing.material if standing is not None else "plant compost"
        stated = f"{depth:g} {self.asked.get('compost-unit', 'in')}"
        self.text = set_field(self.text, path, {"material": material, "depth": stated})
        self.said.append(f"{crop}: {stated} {material}")

    def _rate(self, want: int, crop: str) -> None:
        rate, material = self._number("rate"), self.asked.get("material")
        if rate is None:
            return
        path = ("want", want, "dressing")
        if rate == 0:
            self.text = unset_field(self.text, path)
            self.said.append(_("{crop}: no rate of your own").format(crop=crop))
        elif not material:
            self.fault("material", _("Say which material the rate is of."))
        else:
            stated = f"{rate:g} {self.asked.get('rate-unit', 'lb/100 ft2')}"
            self.text = set_field(self.text, path, {"material": material, "rate": stated})
            self.said.append(f"{crop}: {stated} {material}")

    def _day(self, want: int, crop: str) -> None:
        on = self._on("set_out")
        if on is None:
            return
        self.text = set_field(self.text, ("want", want, "set_out"), on)
        self.said.append(_("{crop}: set out {day}").format(crop=crop, day=on.isoformat()))

    def _on(self, field: str) -> date | None:
        day = self.asked.get(field)
        if not day:
            return None
        try:
            return date.fromisoformat(day)
        except ValueError:
            self.fault(field, _("This is not a date."))
            return None

    def _position(self, field: str, count: int) -> int | None:
        text = self.asked.get(field, "")
        return int(text) if text.isdecimal() and int(text) < count else None

    def _number(self, field: str) -> float | None:
        text = self.asked.get(field)
        if not text:
            return None
        try:
            text = plain_number(text)
        except ValueError as error:
            self.fault(field, str(error))
            return None
        if not is_amount(text):
            self.fault(field, _("This is not an amount."))
            return None
        return float(text)
