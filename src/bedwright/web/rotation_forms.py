"""Forms for wishes, pins and problems found in beds."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import date
from typing import Any

from django.utils.translation import gettext as _
from django.utils.translation import ngettext

from bedwright.garden.model_rotation import Pin, Wish
from bedwright.language import named
from bedwright.reports.days_said import day_words
from bedwright.web.forms_of_parts import Paper, number_and_unit, unit_of
from bedwright.web.part_forms import Group, Item, PartForm, maker, turn_choices
from bedwright.web.standing import Standing, tables

_YEARS = (1900, 2200)
_SHOWN_YEARS = 8  # to choose from for a pin: the longest horizon that the document takes


class WishForm(PartForm):
    """How much of a crop is wanted, wherever it may stand."""

    table, back, address = "wish", "rotation", "wish"
    names = (
        "crop", "beds", "area", "a_week", "from_day", "to_day", "turn", "years", "must", "weight",
        "note",
    )  # fmt: skip

    def titles(self) -> tuple[str, str]:
        """The words over the form and on the button that takes out."""
        return _("A wish"), _("Wish it no more")

    def stated(self, standing: Standing, at: int) -> dict[str, str]:
        """What the form shows for a wish."""
        wish: Wish = standing.stated.garden.wish[at]
        shown = {
            "crop": wish.crop,
            "beds": f"{wish.beds:g}" if wish.beds is not None else "",
            "from_day": _day(wish.from_day),
            "to_day": _day(wish.to_day),
            "turn": wish.turn or "",
            "years": ", ".join(map(str, wish.years or ())),
            "must": "yes" if wish.must else "",
            "weight": f"{wish.weight:g}" if wish.weight is not None else "",
            "note": wish.note or "",
        }
        for name, quantity, kind in (("area", wish.area, "area"), ("a_week", wish.a_week, "mass")):
            shown[name], shown[f"{name}_unit"] = number_and_unit(quantity, kind, standing.system)
        return shown

    def read(self, standing: Standing, paper: Paper, held: Item | None) -> dict[str, Any]:
        """The wish as the document states it."""
        if not paper.text("crop"):
            paper.fault("crop", _("Say which crop it is."))
        amounts = {
            "beds": paper.number("beds"),
            "area": paper.amount("area", "area"),
            "a_week": paper.amount("a_week", "mass"),
        }
        given = [name for name in amounts if paper.text(name)]
        if not given:
            paper.fault("beds", _("Say how much: beds, an area, or what the stall wants a week."))
        for name in given[1:]:
            paper.fault(name, _("Say it one way only: leave this empty, or the line above."))
        days = {name: paper.text(name) or None for name in ("from_day", "to_day")}
        if paper.text("a_week") and None in days.values():
            name = next(each for each, value in days.items() if value is None)
            paper.fault(name, _("Say from which day to which the stall wants it, such as 07-01."))
        return {
            "crop": paper.text("crop"),
            **amounts,
            **days,
            "turn": paper.text("turn") or None,
            "years": _years(paper),
            "must": True if paper.text("must") == "yes" else None,
            "weight": paper.number("weight"),
            "note": paper.text("note") or None,
        }

    def groups(self, standing: Standing, paper: Paper) -> list[Group]:
        """The fields of a wish."""
        of, system = maker(paper), standing.system
        rotation = standing.stated.garden.rotation
        usual = rotation.weights.wishes if rotation is not None else 10.0
        return [
            Group("", [of("crop", _("Crop"), required=True, listed="crops")]),
            Group(
                _("How much, wherever it stands"),
                [
                    of("beds", _("Beds a year"), "number", hint=_("1.5 is a bed and a half.")),
                    of("area", _("or an area a year"), "number",
                       unit=paper.text("area_unit") or unit_of("area", system)),
                    of("a_week", _("or what the stall wants a week"), "number",
                       unit=paper.text("a_week_unit") or unit_of("mass", system)),
                    of("from_day", _("from"), hint=_("For the stall: month and day, such as "
                                                     "07-01.")),
                    of("to_day", _("to")),
                ],
            ),
            Group(
                _("When, and how much it counts"),
                [
                    of("turn", _("Time of the year"), "choice", choices=turn_choices()),
                    of("years", _("Only in these years"),
                       hint=_("With commas between; left empty: every year that is planned.")),
                    of("must", _("Must be met: no plan without it"), "check"),
                    of("weight", _("Its weight"), "number",
                       hint=_("Left empty: {weight}, as all wishes. Twice the weight counts twice "
                              "where not all can be had.").format(weight=f"{usual:g}")),
                    of("note", _("Note"), "area"),
                ],
            ),
        ]  # fmt: skip

    def called(self, item: Item) -> str:
        """A wish in few words."""
        return f"{item['crop']}: {wish_amount(item)}"


class PinForm(PartForm):
    """A crop that is settled for a bed."""

    table, back, address = "pin", "rotation", "pin"
    names = ("bed", "part", "crop", "year", "turn", "set_out", "note")

    def titles(self) -> tuple[str, str]:
        """The words over the form and on the button that takes out."""
        return _("Pin a crop in a bed"), _("Take the pin out")

    def stated(self, standing: Standing, at: int) -> dict[str, str]:
        """What the form shows for a pin."""
        pin: Pin = standing.stated.garden.pin[at]
        return {
            "bed": pin.bed,
            "part": str(pin.part or ""),
            "crop": pin.crop or "",
            "year": str(pin.year),
            "turn": pin.turn or "",
            "set_out": "" if pin.set_out is None else pin.set_out.isoformat(),
            "note": pin.note or "",
        }

    def read(self, standing: Standing, paper: Paper, held: Item | None) -> dict[str, Any]:
        """The pin as the document states it."""
        if not paper.text("bed"):
            paper.fault("bed", _("Say which bed it is."))
        if not paper.text("year"):
            paper.fault("year", _("Say for which year."))
        return {
            "bed": paper.text("bed"),
            "part": paper.whole("part", 1, 12),
            "crop": paper.text("crop") or None,
            "year": paper.whole("year", *_YEARS),
            "turn": paper.text("turn") or None,
            "set_out": paper.day("set_out"),
            "note": paper.text("note") or None,
        }

    def groups(self, standing: Standing, paper: Paper) -> list[Group]:
        """The fields of a pin."""
        of, garden = maker(paper), standing.stated.garden
        parted = [each for each in garden.bed if each.parts > 1]
        fields = [
            of("bed", _("Bed"), "choice",
               choices=[("", ""), *((each.id, each.id) for each in garden.bed)]),
            of("crop", _("Crop"), listed="crops",
               hint=_("Left empty, the bed is kept free of any crop.")),
            of("year", _("Year of the harvest"), "choice", choices=_year_choices(standing, paper)),
            of("turn", _("Time of the year"), "choice", choices=turn_choices()),
            of("set_out", _("Set out or sow on"), "date"),
        ]  # fmt: skip
        if parted or paper.text("part"):
            said = "; ".join(
                _("{bed} has {count} parts").format(bed=each.id, count=each.parts)
                for each in parted
            )
            fields.insert(
                1, of("part", _("Part of the bed"), "number",
                      hint=_("Left empty: the whole bed. {parts}").format(parts=said).strip())
            )  # fmt: skip
        return [Group("", [*fields, of("note", _("Note"), "area")])]

    def called(self, item: Item) -> str:
        """A pin in few words."""
        return pin_words(item)


class ProblemForm(PartForm):
    """A disease or pest of the soil that has been found in beds."""

    table, back, address = "bed_problem", "rotation", "bed-problem"
    names = ("problem", "beds", "found", "note")

    def titles(self) -> tuple[str, str]:
        """The words over the form and on the button that takes out."""
        return _("A problem found in a bed"), _("Take this record out")

    def stated(self, standing: Standing, at: int) -> dict[str, str]:
        """What the form shows for a problem."""
        found = standing.stated.garden.bed_problem[at]
        return {
            "problem": found.problem,
            "beds": "\n".join(found.beds),
            "found": str(found.found),
            "note": found.note or "",
        }

    def read(self, standing: Standing, paper: Paper, held: Item | None) -> dict[str, Any]:
        """The problem as the document states it."""
        beds = paper.ticked("beds")
        if not paper.text("problem"):
            paper.fault("problem", _("Say which disease or pest it is."))
        if not beds:
            paper.fault("beds", _("Tick the beds in which it was found."))
        if not paper.text("found"):
            paper.fault("found", _("Say in which year it was last seen."))
        return {
            "problem": paper.text("problem"),
            "beds": beds,
            "found": paper.whole("found", *_YEARS),
            "note": paper.text("note") or None,
        }

    def groups(self, standing: Standing, paper: Paper) -> list[Group]:
        """The fields of a problem."""
        of = maker(paper)
        beds = [(each.id, each.id) for each in standing.stated.garden.bed]
        return [
            Group(
                "",
                [
                    of("problem", _("Disease or pest of the soil"), required=True,
                       listed="problems",
                       hint=_("Its hosts stay away from these beds for as long as the table of "
                              "the problem says.")),
                    of("beds", _("Found in"), "ticks", choices=beds),
                    of("found", _("Year in which it was last seen"), "number", required=True),
                    of("note", _("Note"), "area"),
                ],
            )
        ]  # fmt: skip

    def called(self, item: Item) -> str:
        """A problem in few words."""
        return f"{item['problem']}: {', '.join(item['beds'])}"

    def lists(self, standing: Standing) -> dict[str, Sequence[str]]:
        """The known problems."""
        return {"problems": sorted({row["name"] for row in tables().rows("soil_borne")})}


def wish_amount(item: Item) -> str:
    """How much a wish asks for, in words, from its fields in the document."""
    if item.get("beds") is not None:
        beds = item["beds"]
        words = ngettext("{count} bed a year", "{count} beds a year", 1 if beds == 1 else 2)
        return words.format(count=f"{beds:g}")
    if item.get("area") is not None:
        return _("{area} a year").format(area=item["area"])
    return _("{mass} a week, {first} to {last}").format(
        mass=item.get("a_week", ""),
        first=_day_said(str(item.get("from_day", ""))),
        last=_day_said(str(item.get("to_day", ""))),
    )


def pin_words(item: Mapping[str, Any]) -> str:
    """A pin in few words, from its fields in the document."""
    crop = item.get("crop")
    what = named(crop) if crop else _("no crop")
    when = f"{item['year']}, {_turn(item['turn'])}" if item.get("turn") else str(item["year"])
    bed = item["bed"]
    if item.get("part"):
        bed = _("{bed}, part {part}").format(bed=bed, part=item["part"])
    return _("{crop} in {bed}, {when}").format(crop=what, bed=bed, when=when)


def _turn(turn: str) -> str:
    return dict(turn_choices()).get(turn, turn)


def _day_said(text: str) -> str:
    """A day of the year in words, where it can be read."""
    month, _dash, day = text.partition("-")
    try:
        return day_words(date(2001, int(month), int(day)))
    except ValueError:
        return text


def _day(day: tuple[int, int] | None) -> str:
    return f"{day[0]:02d}-{day[1]:02d}" if day else ""


def _years(paper: Paper) -> list[int] | None:
    words = paper.text("years").replace(",", " ").split()
    if not words:
        return None
    if all(each.isdecimal() and _YEARS[0] <= int(each[:9]) <= _YEARS[1] for each in words):
        return [int(each) for each in words]
    paper.fault("years", _("Write years with commas between, such as 2027, 2028."))
    return None


def _year_choices(standing: Standing, paper: Paper) -> list[tuple[str, str]]:
    rotation = standing.stated.garden.rotation
    first = (rotation.first_year if rotation else None) or standing.as_of.year
    years = [str(first + at) for at in range(_SHOWN_YEARS + 1)]
    stands = paper.text("year")
    return [("", ""), *((each, each) for each in dict.fromkeys((*years, stands)) if each)]
