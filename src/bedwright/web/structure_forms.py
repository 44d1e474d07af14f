"""Forms for what casts shade, and for crops and cultivars of the gardener's own."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any, ClassVar

from django.utils.translation import gettext as _

from bedwright.garden.model_rotation import OwnCrop
from bedwright.garden.model_structure import Structure
from bedwright.units import Quantity, UnitError, UnitSystem, parse
from bedwright.web.forms_of_parts import Paper, number_and_unit, plain_number, unit_of
from bedwright.web.part_forms import Group, Item, PartForm, maker
from bedwright.web.standing import Standing

_LINES = ("fence", "hedge")
_AMOUNTS = {  # of a crop: field -> kind
    "spacing_in_row": "depth",
    "spacing_between_rows": "depth",
    "sowing_depth": "depth",
    "height": "length",
}


class StructureForm(PartForm):
    """A building, fence, hedge, tree or shade cloth."""

    table, back, address = "structure", "shade", "structure"
    typed_in: ClassVar[Mapping[str, tuple[str, ...]]] = {
        "line": ("points", "points_unit", "kind"),
        "outline": ("points", "points_unit", "kind"),
    }
    said_at: ClassVar[Mapping[str, str]] = {"line": "points", "outline": "points"}
    names = (
        "id", "kind", "line", "outline", "height", "base", "openness", "from_day", "to_day", "note",
    )  # fmt: skip

    def titles(self) -> tuple[str, str]:
        """The words over the form and on the button that takes out."""
        return _("Something that casts shade"), _("It stands there no more")

    def stated(self, standing: Standing, at: int) -> dict[str, str]:
        """What the form shows for a structure."""
        found: Structure = standing.stated.garden.structure[at]
        points, unit = _points(found.line or found.outline or (), standing.system)
        shown = {
            "id": found.id,
            "kind": found.kind,
            "points": points,
            "points_unit": unit,
            "from_day": _day(found.from_day),
            "to_day": _day(found.to_day),
            "note": found.note or "",
        }
        for name, kind in (("height", "length"), ("base", "depth"), ("openness", "fraction")):
            shown[name], shown[f"{name}_unit"] = number_and_unit(
                getattr(found, name), kind, standing.system
            )
        return shown

    def read(self, standing: Standing, paper: Paper, held: Item | None) -> dict[str, Any]:
        """The structure as the document states it."""
        kind = paper.text("kind")
        for name, said in (
            ("id", _("Give it a name, such as north fence.")),
            ("kind", _("Say what it is.")),
            ("height", _("Say how high it is.")),
            ("points", _("Say where it stands: the points of its line or outline.")),
        ):
            if not paper.text(name):
                paper.fault(name, said)
        points = _read_points(paper)
        least = 2 if kind in _LINES else 3
        if points is not None and kind and len(points) < least:
            paper.fault("points", _("It takes {count} points or more.").format(count=least))
        days = {name: paper.text(name) or None for name in ("from_day", "to_day")}
        if (days["from_day"] is None) != (days["to_day"] is None):
            missing = "from_day" if days["from_day"] is None else "to_day"
            paper.fault(missing, _("Give both days, or neither."))
        return {
            "id": paper.text("id"),
            "kind": kind,
            "line": points if kind in _LINES else None,
            "outline": points if kind not in _LINES else None,
            "height": paper.amount("height", "length"),
            "base": paper.amount("base", "depth"),
            "openness": paper.amount("openness", "fraction"),
            **days,
            "note": paper.text("note") or None,
        }

    def groups(self, standing: Standing, paper: Paper) -> list[Group]:
        """The fields of a structure."""
        of, system = maker(paper), standing.system
        length = unit_of("length", system)
        kinds = [
            ("", ""), ("building", _("building")), ("fence", _("fence")), ("hedge", _("hedge")),
            ("tree", _("tree (its crown)")), ("shade cloth", _("shade cloth")),
        ]  # fmt: skip
        return [
            Group(
                "",
                [
                    of("id", _("What you call it"), required=True),
                    of("kind", _("What it is"), "choice", choices=kinds),
                    of("points", _("Where it stands"), "area",
                       unit=paper.text("points_unit") or length,
                       hint=_("One point to a line: how far east, a comma, how far north of the "
                              "point that the beds' corners are measured from, in {unit}. Two "
                              "points or more for a fence or hedge, three or more around a "
                              "building, a tree's crown or a cloth. West and south are less "
                              "than 0.").format(unit=paper.text("points_unit") or length)),
                ],
            ),
            Group(
                _("Its height, and the light that it lets through"),
                [
                    of("height", _("Height of its top"), "number", required=True,
                       unit=paper.text("height_unit") or length),
                    of("base", _("Height of its underside"), "number",
                       unit=paper.text("base_unit") or length,
                       hint=_("0 where it stands on the ground.")),
                    of("openness", _("How much of the light passes"), "number",
                       unit=paper.text("openness_unit") or "%",
                       hint=_("0 for a wall; cloth sold as 40 % shade lets 60 % pass.")),
                    of("from_day", _("There from"),
                       hint=_("Month and day, such as 05-15: for cloth that hangs or leaves on a "
                              "tree. Left empty: all year.")),
                    of("to_day", _("to")),
                    of("note", _("Note"), "area"),
                ],
            ),
        ]  # fmt: skip

    def called(self, item: Item) -> str:
        """A structure by its name."""
        return str(item["id"])


class CropForm(PartForm):
    """A crop or cultivar of the gardener's own, or facts that outrank the tables' for a crop."""

    table, back, address = "crop", "crops", "own-crop"
    names = (
        "crop", "like", "name", "days_to_maturity", *_AMOUNTS, "daily_light", "trellis",
        "bulbs_in", "price", "per", "note",
    )  # fmt: skip

    def titles(self) -> tuple[str, str]:
        """The words over the form and on the button that takes out."""
        return _("A crop of your own"), _("Take this crop out")

    def stated(self, standing: Standing, at: int) -> dict[str, str]:
        """What the form shows for a crop."""
        found: OwnCrop = standing.stated.garden.crop[at]
        shown = {
            "crop": found.crop,
            "like": found.like or "",
            "name": found.name or "",
            "days_to_maturity": str(found.days_to_maturity or ""),
            "daily_light": f"{found.daily_light:g}" if found.daily_light else "",
            "trellis": found.trellis or "",
            "bulbs_in": found.bulbs_in or "",
            "price": found.price.text.split()[0] if found.price else "",
            "price_unit": standing.stated.garden.garden.currency,
            "per": found.per.text if isinstance(found.per, Quantity) else found.per or "",
            "note": found.note or "",
        }
        for name, kind in _AMOUNTS.items():
            shown[name], shown[f"{name}_unit"] = number_and_unit(
                getattr(found, name), kind, standing.system
            )
        return shown

    def read(self, standing: Standing, paper: Paper, held: Item | None) -> dict[str, Any]:
        """The crop as the document states it."""
        if not paper.text("crop"):
            paper.fault("crop", _("Say what the crop is called."))
        price = Paper({**paper.typed, "price_unit": standing.stated.garden.garden.currency})
        money = price.amount("price", "money")
        for each in price.faults.get("price", ()):
            paper.fault("price", each)
        if bool(paper.text("price")) != bool(paper.text("per")):
            name = "per" if paper.text("price") else "price"
            paper.fault(name, _("A price needs what it is for, such as 1 lb or bunch."))
        return {
            "crop": paper.text("crop"),
            "like": paper.text("like") or None,
            "name": paper.text("name") or None,
            "days_to_maturity": paper.whole("days_to_maturity", 10, 400),
            **{name: paper.amount(name, kind) for name, kind in _AMOUNTS.items()},
            "daily_light": paper.number("daily_light"),
            "trellis": paper.text("trellis") or None,
            "bulbs_in": paper.text("bulbs_in") or None,
            "price": money,
            "per": paper.text("per") or None,
            "note": paper.text("note") or None,
        }

    def groups(self, standing: Standing, paper: Paper) -> list[Group]:
        """The fields of a crop."""
        of, system = maker(paper), standing.system
        labels = {
            "spacing_in_row": _("Plants apart in the row"),
            "spacing_between_rows": _("Rows apart"),
            "sowing_depth": _("Sown how deep"),
            "height": _("Height when grown"),
        }
        trellis = [("", _("as the tables say")), ("none", _("none")), ("stake", _("stake")),
                   ("trellis", _("trellis"))]  # fmt: skip
        days = [("", _("as suits the latitude")), ("short", _("short")),
                ("intermediate", _("intermediate")), ("long", _("long"))]  # fmt: skip
        return [
            Group(
                "",
                [
                    of("crop", _("What you call it"), required=True,
                       hint=_("A cultivar's name, or a crop of the tables that you know better.")),
                    of("like", _("The crop of the tables that it is like"), listed="crops",
                       hint=_("What you leave empty below is taken from that crop.")),
                    of("name", _("Name on the pages, if another")),
                ],
            ),
            Group(
                _("As its packet says"),
                [
                    of("days_to_maturity", _("Days to the first harvest"), "number"),
                    *(of(name, label, "number",
                         unit=paper.text(f"{name}_unit") or unit_of(_AMOUNTS[name], system))
                      for name, label in labels.items()),
                    of("daily_light", _("Light that it needs, mol/m2 a day"), "number"),
                    of("trellis", _("Support"), "choice", choices=trellis),
                    of("bulbs_in", _("Of an onion: the days in which it bulbs"), "choice",
                       choices=days),
                ],
            ),
            Group(
                _("What it sells for"),
                [
                    of("price", _("Price"), "number",
                       unit=standing.stated.garden.garden.currency),
                    of("per", _("for"), hint=_("Such as 1 lb, or bunch, head, each.")),
                    of("note", _("Note"), "area"),
                ],
            ),
        ]  # fmt: skip

    def called(self, item: Item) -> str:
        """A crop by its name."""
        return str(item["crop"])


def _points(points: Sequence[tuple[Quantity, Quantity]], system: UnitSystem) -> tuple[str, str]:
    """Points as a form shows them, one to a line, and their unit."""
    unit = unit_of("length", system)
    pairs = [[number_and_unit(each, "length", system) for each in point] for point in points]
    units = {unit for pair in pairs for _number, unit in pair}
    if len(units) == 1:
        shown = "\n".join(", ".join(number for number, _unit in pair) for pair in pairs)
        return shown, units.pop()
    one = parse(f"1 {unit}", "length").si
    lines = (", ".join(f"{each.si / one:.5g}" for each in point) for point in points)
    return "\n".join(lines), unit


def _read_points(paper: Paper) -> list[list[str]] | None:
    """The points of a field as the document states them; None where one can't be read."""
    unit = paper.text("points_unit")
    found = []
    for line in paper.text("points").splitlines():
        words = line.split(";" if ";" in line else ",")
        if not line.strip():
            continue
        try:
            numbers = [f"{float(plain_number(each.strip())):g}" for each in words]
            stated = [f"{each} {unit}" for each in numbers]
            for each in stated:
                parse(each, "length")
        except (ValueError, UnitError):
            stated = []
        if len(stated) != 2:
            paper.fault(
                "points",
                _("“{line}” is not a point: write how far east, a comma, how far north.").format(
                    line=line.strip()
                ),
            )
            return None
        found.append(stated)
    return found


def _day(day: tuple[int, int] | None) -> str:
    return f"{day[0]:02d}-{day[1]:02d}" if day else ""
