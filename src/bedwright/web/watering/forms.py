"""Forms of what is read off gauge, thermometer and soil, and of the lines on a valve."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from django.utils.translation import gettext as _

from bedwright.garden.edit import set_field, unset_field
from bedwright.garden.model_water import Gauge, SoilMoisture, WaterZone
from bedwright.reports.days_said import day_year_words
from bedwright.units import Quantity, UnitSystem
from bedwright.web.forms_of_parts import Paper, number_and_unit
from bedwright.web.part_forms import Group, Item, PartForm, items, maker
from bedwright.web.standing import Standing

FEELS = ("dry", "slightly moist", "moist", "wet")
# Fields with a unit: name -> kind, unit in US customary, in metric.
_GAUGE = {
    "rain": ("depth", "in", "mm"),
    "t_max": ("temperature", "F", "C"),
    "t_min": ("temperature", "F", "C"),
}
_SOIL = {"tension": ("pressure", "kPa", "kPa"), "available": ("fraction", "%", "%")}
_ZONE = {
    "line_spacing": ("length", "in", "cm"),
    "emitter_flow": ("flow", "gal/h", "l/h"),
    "emitter_spacing": ("length", "in", "cm"),
    "rated_pressure": ("pressure", "psi", "kPa"),
    "pressure": ("pressure", "psi", "kPa"),
    "uniformity": ("fraction", "%", "%"),
    "flow": ("flow", "gal/min", "l/min"),
}
_Kinds = Mapping[str, tuple[str, str, str]]


def feel_words(feel: str) -> str:
    """What a hand finds, with what tells it."""
    return {
        "dry": _("dry: crumbles, no stain on the fingers"),
        "slightly moist": _("slightly moist: a weak ball, no water on the hand"),
        "moist": _("moist: a ball that keeps finger marks, a light stain"),
        "wet": _("wet: the ball wets the hand"),
    }[feel]


class GaugeForm(PartForm):
    """What the rain gauge held and the thermometer read on a day."""

    table, back, address = "gauge", "water-readings", "water-gauge"
    names = ("on", "rain", "t_max", "t_min")

    def titles(self) -> tuple[str, str]:
        """The words over the form and on the button that takes out."""
        return _("Rain and thermometer"), _("Take this reading out")

    def begun(self, standing: Standing, asked: Mapping[str, str]) -> dict[str, str]:
        """Today, unless the address asks for another day."""
        return {
            "on": standing.as_of.isoformat(),
            **_empty_units(_GAUGE, standing.system),
            **super().begun(standing, asked),
        }

    def stated(self, standing: Standing, at: int) -> dict[str, str]:
        """What the form shows for a reading."""
        found: Gauge = standing.stated.garden.gauge[at]
        return {"on": found.on.isoformat(), **_shown(found, _GAUGE, standing.system)}

    def read(self, standing: Standing, paper: Paper, held: Item | None) -> dict[str, Any]:
        """The reading as the document states it."""
        said = {"on": paper.day("on"), **_amounts(paper, _GAUGE)}
        if said["on"] is None and "on" not in paper.faults:
            paper.fault("on", _("Say of which day it is."))
        if not paper.faults and all(said[name] is None for name in _GAUGE):
            paper.fault("rain", _("Write down the rain, or how warm it was."))
        same = sum(each["on"] == said["on"] for each in items(standing.revision.text, self.table))
        if said["on"] is not None and same > (held is not None and held["on"] == said["on"]):
            paper.fault(
                "on", _("This day has been read already: open it in the list, and add to it.")
            )
        return said

    def groups(self, standing: Standing, paper: Paper) -> list[Group]:
        """The fields of a reading."""
        of = _with_units(paper, _GAUGE, standing.system)
        return [
            Group(
                "",
                [
                    of("on", _("Day"), "date", required=True),
                    of("rain", _("Rain in the gauge"), "number",
                       hint=_("0 if it stayed dry. Days between two readings of rain within two "
                              "weeks count as dry.")),
                    of("t_max", _("Highest of the day"), "number"),
                    of("t_min", _("Lowest of the day"), "number"),
                ],
            )
        ]  # fmt: skip

    def lists(self, standing: Standing) -> dict[str, Sequence[str]]:
        """No field offers known words."""
        return {}

    def called(self, item: Item) -> str:
        """A reading by its day."""
        return _("Gauge of {day}").format(day=day_year_words(item["on"]))


class SoilForm(PartForm):
    """How moist a bed is at the roots."""

    table, back, address = "soil_moisture", "water-readings", "water-soil"
    names = ("bed", "on", "feel", "tension", "available", "note")

    def titles(self) -> tuple[str, str]:
        """The words over the form and on the button that takes out."""
        return _("How moist a bed is"), _("Take this reading out")

    def begun(self, standing: Standing, asked: Mapping[str, str]) -> dict[str, str]:
        """Today, unless the address asks for another day."""
        return {
            "on": standing.as_of.isoformat(),
            **_empty_units(_SOIL, standing.system),
            **super().begun(standing, asked),
        }

    def stated(self, standing: Standing, at: int) -> dict[str, str]:
        """What the form shows for a reading."""
        found: SoilMoisture = standing.stated.garden.soil_moisture[at]
        return {
            "bed": found.bed,
            "on": found.on.isoformat(),
            "feel": found.feel or "",
            "note": found.note or "",
            **_shown(found, _SOIL, standing.system),
        }

    def read(self, standing: Standing, paper: Paper, held: Item | None) -> dict[str, Any]:
        """The reading as the document states it."""
        said = {
            "bed": paper.text("bed") or None,
            "on": paper.day("on"),
            "feel": paper.text("feel") or None,
            "note": paper.text("note") or None,
            **_amounts(paper, _SOIL),
        }
        if said["bed"] is None:
            paper.fault("bed", _("Say which bed it is."))
        if said["on"] is None and "on" not in paper.faults:
            paper.fault("on", _("Say of which day it is."))
        given = [name for name in ("feel", "tension", "available") if said[name] is not None]
        if not given and not paper.faults:
            paper.fault("feel", _("Say what your hand found, or what the instrument reads."))
        if len(given) > 1:
            paper.fault(given[1], _("Give one of them: by hand, by tensiometer, or as a share."))
        return said

    def groups(self, standing: Standing, paper: Paper) -> list[Group]:
        """The fields of a reading."""
        of = _with_units(paper, _SOIL, standing.system)
        beds = [each.id for each in standing.stated.garden.bed]
        return [
            Group(
                "",
                [
                    of("bed", _("Bed"), "choice",
                       choices=[("", ""), *((each, each) for each in beds)]),
                    of("on", _("Day"), "date", required=True),
                    of("feel", _("By hand"), "one",
                       hint=_("Dig to the middle of the roots, take a handful and press it."),
                       choices=[*((each, feel_words(each)) for each in FEELS),
                                ("", _("not by hand"))]),
                ],
            ),
            Group(
                _("Or by an instrument"),
                [
                    of("tension", _("Tensiometer"), "number",
                       hint=_("As its dial shows it: centibars are the same.")),
                    of("available", _("Share of its water that is left"), "number",
                       hint=_("Of what the soil holds for roots: 100 % is full.")),
                    of("note", _("Note"), "area"),
                ],
            ),
        ]  # fmt: skip

    def lists(self, standing: Standing) -> dict[str, Sequence[str]]:
        """No field offers known words."""
        return {}

    def called(self, item: Item) -> str:
        """A reading by its bed and day."""
        return _("Soil of {bed}, {day}").format(bed=item["bed"], day=day_year_words(item["on"]))


class ZoneForm(PartForm):
    """The lines on one valve; what cups caught has a form of its own."""

    table, back, address = "water_zone", "water-lines", "water-zone"
    names = ("id", "lines", *_ZONE, "drinking_supply", "note")

    def titles(self) -> tuple[str, str]:
        """The words over the form and on the button that takes out."""
        return _("The lines on a valve"), _("Take the zone out")

    def begun(self, standing: Standing, asked: Mapping[str, str]) -> dict[str, str]:
        """The units of the garden."""
        found = {**_empty_units(_ZONE, standing.system), **super().begun(standing, asked)}
        return found | {"beds": _beds_of(standing, found.get("id", ""))}

    def stated(self, standing: Standing, at: int) -> dict[str, str]:
        """What the form shows for a zone."""
        found: WaterZone = standing.stated.garden.water_zone[at]
        supply = {True: "yes", False: "no", None: ""}[found.drinking_supply]
        return {
            "id": found.id,
            "lines": "" if found.lines is None else str(found.lines),
            "drinking_supply": supply,
            "note": found.note or "",
            "beds": _beds_of(standing, found.id),
            **_shown(found, _ZONE, standing.system),
        }

    def read(self, standing: Standing, paper: Paper, held: Item | None) -> dict[str, Any]:
        """The zone as the document states it; its name stays, since beds name it."""
        name = paper.text("id")
        if not name:
            paper.fault("id", _("Give it a name, such as west drip."))
        elif held is not None and held["id"] != name:
            paper.fault("id", _("Beds name the zone by this word: leave it as it is."))
        if not paper.ticked("beds"):
            paper.fault("beds", _("Say which beds it waters."))
        supply = {"yes": True, "no": False}.get(paper.text("drinking_supply"))
        return {
            "id": name,
            "lines": paper.whole("lines", 1, 20),
            **_amounts(paper, _ZONE),
            "drinking_supply": supply,
            "note": paper.text("note") or None,
        }

    def beside(self, text: str, paper: Paper, item: Item) -> str:
        """Beds that are ticked name the zone, others that named it do no more."""
        ticked = paper.ticked("beds")
        for at, bed in enumerate(items(text, "bed")):
            if bed["id"] in ticked:
                text = set_field(text, ("bed", at, "water_zone"), item["id"])
            elif bed.get("water_zone") == item["id"]:
                text = unset_field(text, ("bed", at, "water_zone"))
        return text

    def groups(self, standing: Standing, paper: Paper) -> list[Group]:
        """The fields of a zone."""
        of = _with_units(paper, _ZONE, standing.system)
        return [
            Group(
                "",
                [
                    of("id", _("What you call it"), required=True),
                    of("beds", _("Beds that it waters"), "ticks",
                       choices=[(each.id, each.id) for each in standing.stated.garden.bed]),
                    of("drinking_supply", _("Does it hang on a drinking supply?"), "choice",
                       choices=[("", _("not stated")), ("yes", _("yes")), ("no", _("no"))],
                       hint=_("If it does, it needs a backflow preventer.")),
                ],
            ),
            Group(
                _("Lines on a bed"),
                [
                    of("lines", _("Lines on each bed"), "number"),
                    of("line_spacing", _("or how far apart they are"), "number",
                       hint=_("Both left empty: a line along every row.")),
                ],
            ),
            Group(
                _("What they give"),
                [
                    of("emitter_flow", _("Flow of an emitter, as printed"), "number"),
                    of("emitter_spacing", _("From emitter to emitter"), "number"),
                    of("rated_pressure", _("Pressure at which that flow holds"), "number"),
                    of("pressure", _("Pressure at your lines"), "number"),
                    of("uniformity", _("How evenly they run"), "number",
                       hint=_("The lowest quarter's flow over the mean; cups tell it better.")),
                    of("flow", _("Flow of the whole zone, by meter or bucket"), "number",
                       hint=_("It outranks the emitters.")),
                    of("note", _("Note"), "area"),
                ],
            ),
        ]  # fmt: skip

    def lists(self, standing: Standing) -> dict[str, Sequence[str]]:
        """No field offers known words."""
        return {}

    def called(self, item: Item) -> str:
        """A zone by its name."""
        return str(item["id"])


def _beds_of(standing: Standing, zone: str) -> str:
    """The beds that name a zone, one to a line."""
    return "\n".join(bed.id for bed in standing.stated.garden.bed if bed.water_zone == zone != "")


def _empty_units(kinds: _Kinds, system: UnitSystem) -> dict[str, str]:
    us = system is UnitSystem.US
    return {f"{name}_unit": units[0 if us else 1] for name, (_kind, *units) in kinds.items()}


def _shown(found: object, kinds: _Kinds, system: UnitSystem) -> dict[str, str]:
    """Numbers and units of what a part states; the garden's units where a field is empty."""
    shown = _empty_units(kinds, system)
    for name, (kind, *_units) in kinds.items():
        quantity: Quantity | None = getattr(found, name)
        if quantity is not None:
            shown[name], shown[f"{name}_unit"] = number_and_unit(quantity, kind, system)
    return shown


def _amounts(paper: Paper, kinds: _Kinds) -> dict[str, Any]:
    return {name: paper.amount(name, kind) for name, (kind, *_units) in kinds.items()}


def _with_units(paper: Paper, kinds: _Kinds, system: UnitSystem) -> Any:
    """Makes fields, those of ``kinds`` with the unit that they were shown with."""
    plain, usual = maker(paper), _empty_units(kinds, system)

    def of(name: str, label: str, kind: str = "text", **more: Any) -> Any:
        if name in kinds:
            unit = f"{name}_unit"
            more["unit"] = paper.text(unit) or usual[unit]
        return plain(name, label, kind, **more)

    return of
