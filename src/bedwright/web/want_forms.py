"""A crop wanted as a form: what it shows, and what the document then states."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any, ClassVar

from django.utils.translation import gettext as _

from bedwright.garden.model import Want
from bedwright.units import UnitSystem
from bedwright.web.forms_of_parts import Paper, number_and_unit, unit_of
from bedwright.web.part_forms import Group, Item, PartForm, crop_names, maker, turn_choices
from bedwright.web.standing import Standing, tables

_PROTECTIONS = (
    "row cover light", "row cover medium", "row cover heavy", "low tunnel", "water wall",
)  # fmt: skip
_WHOLE = {"days_to_maturity": (10, 400), "pick_weeks": (1, 40), "days_to_first_pick": (1, 400)}
_DAYS = ("set_out", "first_pick")


class WantForm(PartForm):
    """A crop wanted in beds. A compost range is left to the document's own page."""

    table, back, address = "want", "crops", "want"
    names = (
        "crop", "beds", "companion", "set_out", "turn", "protection", "days_to_maturity",
        "pick_weeks", "yield_goal", "compost", "first_pick", "days_to_first_pick",
    )  # fmt: skip
    typed_in: ClassVar[Mapping[str, tuple[str, ...]]] = {
        "compost": ("compost_material", "compost_depth", "compost_depth_unit")
    }
    said_at: ClassVar[Mapping[str, str]] = {"compost": "compost_depth"}

    def titles(self) -> tuple[str, str]:
        """The words over the form and on the button that takes out."""
        return _("A crop wanted"), _("Want it no more")

    def begun(self, standing: Standing, asked: Mapping[str, str]) -> dict[str, str]:
        """The form of a new want, with the bed that an address named."""
        return {"beds": asked.get("bed", "")}

    def stated(self, standing: Standing, at: int) -> dict[str, str]:
        """What the form shows for a want."""
        want: Want = standing.stated.garden.want[at]
        goal, goal_unit = _goal(want, standing.system)
        depth = want.compost.depth if want.compost else None
        deep, deep_unit = number_and_unit(depth, "depth", standing.system)
        shown = {
            "crop": want.crop,
            "beds": "\n".join(want.beds),
            "companion": want.companion or "",
            "turn": want.turn or "",
            "protection": (want.protection or "").lower().replace("_", " "),
            "yield_goal": goal,
            "yield_goal_unit": goal_unit,
            "compost_material": want.compost.material if want.compost else "",
            "compost_depth": deep,
            "compost_depth_unit": deep_unit,
        }
        for name in _WHOLE:
            shown[name] = str(getattr(want, name) or "")
        for name in _DAYS:
            day = getattr(want, name)
            shown[name] = day.isoformat() if day else ""
        return shown

    def read(self, standing: Standing, paper: Paper, held: Item | None) -> dict[str, Any]:
        """The want as the document states it."""
        if not paper.text("crop"):
            paper.fault("crop", _("Say which crop it is."))
        beds = paper.ticked("beds")
        if not beds:
            paper.fault("beds", _("Tick at least one bed."))
        return {
            "crop": paper.text("crop"),
            "beds": beds,
            "companion": paper.text("companion") or None,
            "turn": paper.text("turn") or None,
            "protection": paper.text("protection") or None,
            "yield_goal": paper.plain_amount("yield_goal"),
            "compost": _compost(paper, held),
            **{name: paper.whole(name, *ends) for name, ends in _WHOLE.items()},
            **{name: paper.day(name) for name in _DAYS},
        }

    def groups(self, standing: Standing, paper: Paper) -> list[Group]:
        """The fields of a want."""
        of, garden = maker(paper), standing.stated.garden
        when = (
            _("Left empty: on the best day by the weather.")
            if garden.weather is not None
            else _("Write the day yourself, after your last frost for what frost kills: the garden "
                   "has no weather record to find one by.")
        )  # fmt: skip
        us = standing.system is UnitSystem.US
        return [
            Group(
                "",
                [
                    of("crop", _("Crop"), required=True, listed="crops"),
                    of("beds", _("Beds"), "ticks",
                       choices=[(each.id, each.id) for each in garden.bed]),
                    of("companion", _("Second crop that shares the bed"), listed="crops",
                       hint=_("Its rows lie between or beside those of the first, and it starts on "
                              "the same day.")),
                ],
            ),
            Group(
                _("When"),
                [
                    of("set_out", _("Set out or sow on"), "date", hint=when),
                    of("turn", _("For"), "choice",
                       choices=[("", _("spring or late summer, whichever has a date")),
                                *turn_choices()[1:]]),
                    of("protection", _("Covered by"), "choice", choices=_covers(paper)),
                    of("days_to_maturity", _("Days to the first harvest, as the packet says"),
                       "number"),
                    of("pick_weeks", _("Weeks of picking wanted"), "number"),
                ],
            ),
            Group(
                _("How much, and what goes on"),
                [
                    of("yield_goal", _("Yield hoped for"), "number",
                       unit=paper.text("yield_goal_unit") or ("lb/100 ft2" if us else "kg/m2")),
                    of("compost_material", _("Compost that you mean to spread"),
                       listed="composts"),
                    of("compost_depth", _("how deep"), "number",
                       unit=paper.text("compost_depth_unit")
                       or unit_of("depth", standing.system)),
                ],
            ),
            Group(
                _("If raw manure lies in the shed or in the bed"),
                [
                    of("first_pick", _("First pick on"), "date"),
                    of("days_to_first_pick", _("or days from setting out to it"), "number"),
                ],
            ),
        ]  # fmt: skip

    def called(self, item: Item) -> str:
        """A want by its crop and beds."""
        return f"{item['crop']}: {', '.join(item['beds'])}"

    def change(self, item: Item, *, new: bool) -> str:
        """What saving a want is called among the revisions."""
        words = _("{crop} wanted in {beds}") if new else _("{crop} in {beds} changed")
        return words.format(crop=item["crop"], beds=", ".join(item["beds"]))

    def removal(self, item: Item) -> str:
        """What wanting a crop no more is called."""
        return _("{crop} no longer wanted in {beds}").format(
            crop=item["crop"], beds=", ".join(item["beds"])
        )

    def lists(self, standing: Standing) -> dict[str, Sequence[str]]:
        """The crops, and the composts: the gardener's own materials among them."""
        own = {each.material for each in standing.stated.garden.material}
        rows = tables().rows("materials")
        composts = sorted({row["name"].lower() for row in rows if row["kind"] == "compost"} | own)
        return {"crops": crop_names(standing), "composts": composts}


def _goal(want: Want, system: UnitSystem) -> tuple[str, str]:
    if want.yield_goal is None:
        return "", "lb/100 ft2" if system is UnitSystem.US else "kg/m2"
    return number_and_unit(want.yield_goal, want.yield_goal.kind, system)


def _covers(paper: Paper) -> list[tuple[str, str]]:
    """The covers to choose from, the one that stands among them."""
    stands = paper.text("protection")
    known = dict.fromkeys((*_PROTECTIONS, *([stands] if stands else [])))
    return [("", _("none")), *((each, each) for each in known if each != "none")]


def _compost(paper: Paper, held: Item | None) -> dict[str, Any] | None:
    """The compost as the document states it; a range that the form does not show stays."""
    if not paper.text("compost_depth"):
        stands = (held or {}).get("compost")
        return dict(stands) if stands is not None and "depth" not in stands else None
    depth = paper.plain_amount("compost_depth")
    material = paper.text("compost_material") or "plant compost"
    return {"material": material, "depth": depth}
