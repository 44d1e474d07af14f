"""A new garden document from a few answers: commented, in order, valid or with its faults named."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any

from django.utils.translation import gettext as _

from bedwright.garden.edit import add_item, set_field
from bedwright.garden.faults import Path
from bedwright.units import UnitSystem
from bedwright.web.forms_of_parts import Paper, unit_of

BED_ROWS = 2
_NUMBER = re.compile(r"[-+]?\d+(\.\d+)?")
MOST_BEDS = 300
_MOST_ROWS = 40
_HEAD = """\
# A garden document, made from the answers of the first start.
#
# A line with "#" explains. Every amount is text with its unit: "50 ft", "2 lb 4 oz", "12 %".
# Dates are written year-month-day, without quotes: 2026-10-15. What is left out is not known;
# it is never taken for zero. "bedwright new" writes an example of every field there is.

format = 2


# THE GARDEN: where it lies, and in which units and money you think.

[garden]
name = "A garden"


# LIMITS: what every plan keeps to.

[limits]
organic_only = false
"""
_PARTS = {
    "bed": "# BEDS: each with an id of its own, its size, and the soil by feel.",
    "want": "# WANTS: what you want to grow, and in which beds: one crop for each bed.",
}
_LATER = """

# SOIL REPORTS come below as [[soil_report]], what is in the shed as [[stock]], what grew and was
# spread in earlier years as [[history]]: the pages write them, or you do.
"""


@dataclass
class Made:
    """A document's text, and which field of which step states the value at each path."""

    text: str
    fields: dict[Path, str] = field(default_factory=dict)


def bed_rows(typed: Mapping[str, str]) -> int:
    """How many rows of beds the form has: those typed, and the empty ones that were asked for."""
    asked = str(typed.get("rows", ""))
    return min(max(int(asked) if asked.isdecimal() else 0, BED_ROWS), _MOST_ROWS)


def bed_ids(beds: Paper) -> list[tuple[str, int]]:
    """The ids of the beds that the rows describe, each with its row; faults are noted."""
    found: list[tuple[str, int]] = []
    taken: dict[str, int] = {}
    for row in range(bed_rows(beds.typed)):
        many, called = beds.text(f"many_{row}"), beds.text(f"called_{row}")
        if not many:
            if any(beds.text(f"{name}_{row}") for name in ("called", "length", "width")):
                beds.fault(f"many_{row}", _("Say how many beds are like this."))
            continue
        if not many.isdecimal() or not 1 <= int(many) <= MOST_BEDS - len(found):
            beds.fault(f"many_{row}", _("Write a whole number; at most 300 beds in all."))
            continue
        if int(many) == 1 and called and called not in taken:
            taken[called] = 0
            found.append((called, row))
            continue
        for _nth in range(int(many)):
            taken[called] = taken.get(called, 0) + 1
            found.append((f"{called}{taken[called]}", row))
    return found


def _position(typed: str) -> str:
    """A latitude or longitude as the document states it: a map's "-119.2" is in degrees."""
    return f"{typed} deg" if _NUMBER.fullmatch(typed) else typed


def place_text(place: Paper) -> Made:
    """The document as far as the first step says it."""
    made = Made(_HEAD)
    stated: dict[str, Any] = {
        "name": place.text("name"),
        "latitude": _position(place.text("latitude")),
        "longitude": _position(place.text("longitude")),
        "elevation": place.amount("elevation", "length"),
        "time_zone": place.text("time_zone"),
        "units": place.text("units"),
        "currency": place.text("currency"),
    }
    for name, value in stated.items():
        if value:
            made.text = set_field(made.text, ("garden", name), value)
        made.fields[("garden", name)] = name
    if place.text("organic_only") == "yes":
        made.text = set_field(made.text, ("limits", "organic_only"), True)
    if not stated["name"]:
        place.fault("name", _("Give the garden a name."))
    return made


def beds_text(made: Made, beds: Paper) -> list[str]:
    """Add the beds; their ids come back."""
    made.text = f"{made.text}\n\n{_PARTS['bed']}\n"
    ids = bed_ids(beds)
    for at, (name, row) in enumerate(ids):
        raised = beds.text(f"kind_{row}") == "raised"
        stated = {
            "id": name,
            "length": beds.amount(f"length_{row}", "length"),
            "width": beds.amount(f"width_{row}", "length"),
            "long_axis": beds.text(f"axis_{row}"),
            "kind": "raised" if raised else "in-ground",
            "fill_depth": beds.amount(f"fill_depth_{row}", "depth") if raised else None,
            "fill": beds.text(f"fill_{row}") if raised else None,
            "texture": beds.text(f"texture_{row}"),
        }
        for size in ("length", "width"):
            if stated[size] is None and f"{size}_{row}" not in beds.faults:
                beds.fault(f"{size}_{row}", _("Give the bed's size."))
        if raised and not stated["fill_depth"] and f"fill_depth_{row}" not in beds.faults:
            beds.fault(f"fill_depth_{row}", _("Say how deep a raised bed is filled."))
        made.text = add_item(made.text, ("bed",), {k: v for k, v in stated.items() if v})
        for name_of, field_name in (("id", "called"), ("length", "length"), ("width", "width"),
                                    ("fill_depth", "fill_depth"), ("texture", "texture"),
                                    ("long_axis", "axis")):  # fmt: skip
            made.fields[("bed", at, name_of)] = f"{field_name}_{row}"
        made.fields[("bed", at)] = f"many_{row}"
    if not ids and not beds.faults:
        beds.fault("many_0", _("Describe one bed at least."))
    return [name for name, _row in ids]


def wants_text(made: Made, crops: Paper, ids: list[str]) -> None:
    """Add what is to grow: beds of the same crop stand together."""
    wanted: dict[str, list[int]] = {}
    for at, name in enumerate(ids):
        crop = crops.text(f"crop_{name}")
        if crop:
            wanted.setdefault(crop.casefold(), []).append(at)
    if wanted:
        made.text = f"{made.text}\n\n{_PARTS['want']}\n"
    for at, places in enumerate(wanted.values()):
        crop = crops.text(f"crop_{ids[places[0]]}")
        made.text = add_item(
            made.text, ("want",), {"crop": crop, "beds": [ids[each] for each in places]}
        )
        made.fields[("want", at)] = f"crop_{ids[places[0]]}"
    made.text = made.text.rstrip("\n") + "\n" + _LATER


def units_beside(place: Mapping[str, str]) -> dict[str, str]:
    """The units beside the fields, in the system that was chosen."""
    system = UnitSystem.METRIC if place.get("units") == "metric" else UnitSystem.US
    return {"length": unit_of("length", system), "depth": unit_of("depth", system)}
