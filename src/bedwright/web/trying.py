"""A change tried: the document's text with it, and what it does beside the standing plan."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date

from django.utils.translation import gettext as _

from bedwright.garden import Garden as Stated
from bedwright.garden.edit import add_item, set_field, unset_field
from bedwright.language import named
from bedwright.planning.bed_ledger import BedLedger, bed_ledger
from bedwright.planning.ledger_entries import planned_season
from bedwright.reports import fill
from bedwright.reports.dates_text import planting
from bedwright.season import BedPlan, SeasonPlan
from bedwright.units import UnitSystem, show
from bedwright.web.forms_of_parts import is_amount, plain_number

_TOLD = 0.005  # a share of a mass: less is the same amount to a scale


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


def tried(text: str, stated: Stated, asked: Mapping[str, str]) -> Tried | list[Wish]:
    """The text with every change that a form asks for, or what is wrong with the form.

    ``asked`` maps the fields of the form: ``want`` (the position of a crop wanted) with
    ``compost``, ``compost-unit``, ``material``, ``rate``, ``rate-unit`` and ``set_out``; ``stock``
    (a position) with ``price``; ``avoid`` (a material's name).
    """
    change = _Change(text, stated, asked)
    change.of_want()
    change.of_shed()
    if not change.said and not change.faults:
        change.fault("", _("Nothing was changed: fill in at least one field."))
    return change.faults or Tried(change.text, "; ".join(change.said))


class _Change:
    """The changes of one form, made one after the other on the text."""

    def __init__(self, text: str, stated: Stated, asked: Mapping[str, str]) -> None:
        self.text, self.stated = text, stated
        self.asked = {key: value.strip() for key, value in asked.items()}
        self.faults: list[Wish] = []
        self.said: list[str] = []

    def fault(self, field: str, problem: str) -> None:
        self.faults.append(Wish(field, problem))

    def of_want(self) -> None:
        """Compost, a rate and a day, all of one crop."""
        want = self._position("want", len(self.stated.want))
        if want is None:
            if any(self.asked.get(each) for each in ("compost", "rate", "set_out")):
                self.fault("want", _("Say which crop the change is for."))
            return
        crop = f"{self.stated.want[want].crop} ({', '.join(self.stated.want[want].beds)})"
        self._compost(want, crop)
        self._rate(want, crop)
        self._day(want, crop)

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
        day = self.asked.get("set_out")
        if not day:
            return
        try:
            on = date.fromisoformat(day)
        except ValueError:
            self.fault("set_out", _("This is not a date."))
            return
        self.text = set_field(self.text, ("want", want, "set_out"), on)
        self.said.append(_("{crop}: set out {day}").format(crop=crop, day=on.isoformat()))

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


@dataclass(frozen=True)
class Amounts:
    """What one bed gets of one material by either plan, in words; empty where nothing."""

    bed: str
    material: str
    standing: str
    tried: str


@dataclass(frozen=True)
class Said:
    """One thing of the garden or of a bed by either plan, in words."""

    what: str
    standing: str
    tried: str


def amounts_changed(one: SeasonPlan, other: SeasonPlan, system: UnitSystem) -> list[Amounts]:
    """Where the two plans spread different amounts, in the garden's order."""
    found = []
    for bed, (standing, trial) in _beds(one, other).items():
        masses, changed = _masses(standing), _masses(trial)
        for name in dict.fromkeys((*masses, *changed)):
            before, after = masses.get(name, 0.0), changed.get(name, 0.0)
            if abs(before - after) > _TOLD * max(before, after):
                found.append(
                    Amounts(
                        bed,
                        name,
                        *(show(kg, "mass", system) if kg > 0 else "" for kg in (before, after)),
                    )
                )
    return found


def garden_compared(one: SeasonPlan, other: SeasonPlan, system: UnitSystem) -> list[Said]:
    """Money, phosphate and bags of the whole garden by either plan."""
    currency = one.document.garden.garden.currency
    rows = [
        (_("to buy"), *(f"{plan.shared.money:.2f} {currency}" for plan in (one, other))),
        (
            _("phosphate that it brings"),
            *(show(plan.shared.phosphorus_kg, "mass", system) for plan in (one, other)),
        ),
        (_("materials carried to beds"), *(str(plan.shared.carried) for plan in (one, other))),
        (
            _("beds where demands clash"),
            *(str(sum(bool(b.prescription.blend.clash) for b in p.beds)) for p in (one, other)),
        ),
    ]
    return [Said(*row) for row in rows]


def dates_compared(one: SeasonPlan, other: SeasonPlan) -> list[Said]:
    """The plantings whose day differs, with the odds of either."""
    found = []
    for bed, (standing, trial) in _beds(one, other).items():
        days = [_odds(each) for each in (standing, trial)]
        if days[0] != days[1]:
            found.append(Said(bed, *days))
    return found


def _odds(bed: BedPlan | None) -> str:
    if bed is None or bed.dates is None:
        return ""
    judged = planting(bed.dates)
    if judged is None:
        return _("no date")
    chosen = judged.chosen
    words = chosen.on.isoformat()
    if chosen.killed is not None:
        tenths = chosen.killed * 10
        words += ", " + (
            _("frost kills in {years} years of 10").format(years=f"{tenths:.1g}")
            if tenths >= 0.05 else _("frost kills in none of the years")
        )  # fmt: skip
    if chosen.set_days is not None:
        words += ", " + _("{days} days of good fruit set").format(
            days=f"{chosen.set_days.mean:.0f}"
        )
    return words


def ledgers_compared(one: SeasonPlan, other: SeasonPlan, system: UnitSystem) -> list[Said]:
    """The beds whose balance of phosphate in the planned season differs."""
    found = []
    ledgers = [_ledger(plan) for plan in (one, other)]
    for bed in ledgers[0].beds:
        if bed not in ledgers[1].beds:
            continue
        words = [_balance(ledger, bed, system) for ledger in ledgers]
        if words[0] != words[1]:
            found.append(Said(bed, *words))
    return found


def _ledger(plan: SeasonPlan) -> BedLedger:
    planned = tuple(planned_season(each.prescription) for each in plan.plantings)
    return bed_ledger(plan.document, plan.library, planned)


def _balance(ledger: BedLedger, bed: str, system: UnitSystem) -> str:
    """Phosphate of the planned season: what comes in less what goes out."""
    row = ledger.row(bed)
    net = ledger.phosphate.net[row][ledger.planned[row]]
    if not net.size:
        return ""
    amount = fill.value(abs(float(net[-1])), "kg/m2", system)
    told = _("{amount} phosphate more in than out") if net[-1] > 0 else _(
        "{amount} phosphate more out than in"
    )  # fmt: skip
    return told.format(amount=amount)


def _beds(one: SeasonPlan, other: SeasonPlan) -> dict[str, tuple[BedPlan | None, BedPlan | None]]:
    first = {each.prescription.bed.id: each for each in one.beds}
    second = {each.prescription.bed.id: each for each in other.beds}
    return {
        bed.id: (first.get(bed.id), second.get(bed.id))
        for bed in other.document.garden.bed
        if bed.id in first or bed.id in second
    }


def _masses(bed: BedPlan | None) -> dict[str, float]:
    if bed is None:
        return {}
    return {
        named(line.material.name).lower(): line.preplant.value + line.later.value
        for line in bed.prescription.lines
    }
