"""One line of the shed as a form: a material, its package and price, what is on hand."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from django.utils.translation import gettext as _

from bedwright.garden.model import Stock
from bedwright.units import Quantity, UnitSystem
from bedwright.web.forms_of_parts import Paper, number_and_unit
from bedwright.web.part_forms import Group, Item, PartForm, maker
from bedwright.web.standing import Standing, tables

_UNITS = {
    UnitSystem.US: ("lb", "oz", "gal", "qt", "yd3"),
    UnitSystem.METRIC: ("kg", "g", "l", "m3"),
}


class StockForm(PartForm):
    """A line of the shed."""

    table, back, address = "stock", "shed", "stock"
    names = ("material", "package", "price", "on_hand", "counted", "can_buy")

    def titles(self) -> tuple[str, str]:
        """The words over the form and on the button that takes out."""
        return _("A new line of the shed"), _("Take this line out")

    def begun(self, standing: Standing, asked: Any) -> dict[str, str]:
        """A new line: more of it can be bought."""
        return {"can_buy": "yes"}

    def stated(self, standing: Standing, at: int) -> dict[str, str]:
        """What the form shows for a line."""
        stock: Stock = standing.stated.garden.stock[at]
        shown = {
            "material": stock.material,
            "price": stock.price.text.split()[0] if stock.price else "",
            "price_unit": standing.stated.garden.garden.currency,
            "counted": stock.counted.isoformat() if stock.counted else "",
            "can_buy": "yes" if stock.can_buy else "",
        }
        for name, quantity in (("package", stock.package), ("on_hand", stock.on_hand)):
            shown[name], shown[f"{name}_unit"] = _shown(quantity, standing.system)
        return shown

    def read(self, standing: Standing, paper: Paper, held: Item | None) -> dict[str, Any]:
        """The line as the document states it."""
        if paper.text("price") and not paper.text("package"):
            paper.fault("package", _("Say how much the package holds that has this price."))
        if not paper.text("material"):
            paper.fault("material", _("Say which material it is."))
        return {
            "material": paper.text("material"),
            "package": paper.plain_amount("package"),
            "price": paper.plain_amount("price", standing.stated.garden.garden.currency),
            "on_hand": paper.plain_amount("on_hand"),
            "counted": paper.day("counted"),
            "can_buy": None if paper.text("can_buy") == "yes" else False,
        }

    def groups(self, standing: Standing, paper: Paper) -> list[Group]:
        """The fields of a line."""
        of = maker(paper)
        unit = {name: _unit(paper, name, standing) for name in ("package", "on_hand")}
        units = {name: _units(paper, name, standing) for name in unit}
        return [
            Group(
                "",
                [
                    of("material", _("Material"), required=True, listed="materials"),
                    of("package", _("A package holds"), "number",
                       unit=unit["package"], choices=units["package"]),
                    of("price", _("and costs"), "number",
                       unit=standing.stated.garden.garden.currency),
                    of("on_hand", _("On hand"), "number",
                       unit=unit["on_hand"], choices=units["on_hand"]),
                    of("counted", _("Counted on"), "date"),
                    of("can_buy", _("More can be bought"), "check"),
                ],
            )
        ]  # fmt: skip

    def called(self, item: Item) -> str:
        """A line by its material."""
        return str(item["material"])

    def change(self, item: Item, *, new: bool) -> str:
        """What saving a line is called among the revisions."""
        words = _("{material} put into the shed") if new else _("{material} in the shed changed")
        return words.format(material=item["material"])

    def removal(self, item: Item) -> str:
        """What taking a line out is called."""
        return _("{material} taken out of the shed").format(material=item["material"])

    def lists(self, standing: Standing) -> dict[str, Sequence[str]]:
        """The gardener's own materials, then those of the tables."""
        own = [each.material for each in standing.stated.garden.material]
        known = sorted({row["name"].lower() for row in tables().rows("materials")})
        return {"materials": [*own, *known]}


def _shown(quantity: Quantity | None, system: UnitSystem) -> tuple[str, str]:
    if quantity is None:
        return "", _UNITS[system][0]
    return number_and_unit(quantity, quantity.kind, system)


def _unit(paper: Paper, name: str, standing: Standing) -> str:
    return paper.text(f"{name}_unit") or _UNITS[standing.system][0]


def _units(paper: Paper, name: str, standing: Standing) -> list[tuple[str, str]]:
    """The units to choose from, the one that stands among them."""
    stands = paper.text(f"{name}_unit")
    known = dict.fromkeys((*([stands] if stands else []), *_UNITS[standing.system]))
    return [(each, each) for each in known]
