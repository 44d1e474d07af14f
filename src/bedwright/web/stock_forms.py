"""One line of the shed as a form: a material, its package and price, what is on hand."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date
from typing import Any

from django.utils.translation import gettext as _

from bedwright.garden.model import Stock
from bedwright.units import UnitSystem
from bedwright.web.forms_of_parts import is_amount, plain_number

_UNITS = {
    UnitSystem.US: ("lb", "oz", "gal", "qt", "yd3"),
    UnitSystem.METRIC: ("kg", "g", "l", "m3"),
}


@dataclass(frozen=True)
class StockFields:
    """What a form of the shed shows for one line; all texts as they are typed."""

    material: str = ""
    package: str = ""
    package_unit: str = ""
    price: str = ""
    on_hand: str = ""
    on_hand_unit: str = ""
    counted: str = ""
    can_buy: bool = True

    def units(self, system: UnitSystem, current: str) -> list[str]:
        """The units to choose from, the one that stands among them."""
        return list(dict.fromkeys((*([current] if current else []), *_UNITS[system])))


def shown(stock: Stock) -> StockFields:
    """A stated line as its form shows it."""
    package, package_unit = _parts(stock.package.text if stock.package else "")
    on_hand, on_hand_unit = _parts(stock.on_hand.text if stock.on_hand else "")
    return StockFields(
        stock.material,
        package,
        package_unit,
        _parts(stock.price.text)[0] if stock.price else "",
        on_hand,
        on_hand_unit,
        stock.counted.isoformat() if stock.counted else "",
        stock.can_buy,
    )


def typed(asked: Mapping[str, str]) -> StockFields:
    """What was typed into a form."""
    texts = {
        each: asked.get(each, "").strip()
        for each in ("material", "package", "package_unit", "price", "on_hand", "on_hand_unit",
                     "counted")
    }  # fmt: skip
    return StockFields(**texts, can_buy=asked.get("can_buy") == "yes")


def stated(fields: StockFields, currency: str) -> tuple[dict[str, Any], list[str]]:
    """The line as the document states it, and what is wrong with what was typed."""
    line: dict[str, Any] = {"material": fields.material}
    faults: list[str] = []
    if not fields.material:
        faults.append(_("Say which material it is."))
    for name, value, unit, what in (
        ("package", fields.package, fields.package_unit, _("the package")),
        ("on_hand", fields.on_hand, fields.on_hand_unit, _("what is on hand")),
        ("price", fields.price, currency, _("the price")),
    ):
        if not value:
            continue
        try:
            plain = plain_number(value)
        except ValueError as error:
            faults.append(f"{what}: {error}")
            continue
        if is_amount(plain):  # as it was typed, so that what is saved unchanged stays unchanged
            line[name] = f"{plain} {unit}"
        else:
            faults.append(_("{what}: {value} is not an amount.").format(what=what, value=value))
    if fields.counted:
        try:
            line["counted"] = date.fromisoformat(fields.counted)
        except ValueError:
            faults.append(_("The day of counting is not a date."))
    if not fields.can_buy:
        line["can_buy"] = False
    return line, faults


def _parts(text: str) -> tuple[str, str]:
    number, _space, unit = text.partition(" ")
    return number, unit.strip()
