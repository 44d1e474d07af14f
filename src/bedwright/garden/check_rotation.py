"""What a document says of the years ahead, held against its beds, tables and itself."""

from __future__ import annotations

import difflib
from datetime import date

from bedwright.garden.checked import Checked
from bedwright.garden.faults import Path as FieldPath
from bedwright.garden.ground import meet
from bedwright.garden.model import Garden
from bedwright.garden.model_rotation import Pin
from bedwright.reference import Library
from bedwright.reference.library import fold


def check_rotation(garden: Garden, library: Library, checked: Checked) -> None:
    """Check pins, recorded problems, families' own intervals, and parts of beds.

    ``checked.keys`` gains the table key of every recorded problem and every family named.
    """
    parts = {bed.id: bed.parts for bed in garden.bed}
    for name in ("history", "pin"):
        for at, each in enumerate(getattr(garden, name)):
            if each.bed not in parts:
                if name == "pin":
                    _no_bed(("pin", at, "bed"), each.bed, parts, checked)
                continue
            if each.part is not None and each.part > parts[each.bed]:
                checked.fault(
                    (name, at, "part"),
                    f"bed {each.bed!r} has no part {each.part}",
                    f"It is of {parts[each.bed]}; parts of the bed says how many.",
                )
    for at, problem in enumerate(garden.bed_problem):
        for place, bed in enumerate(problem.beds):
            if bed not in parts:
                _no_bed(("bed_problem", at, "beds", place), bed, parts, checked)
    _problems(garden, library, checked)
    _families(garden, library, checked)
    _bulbs(garden, library, checked)
    _pins(garden, checked)


def _no_bed(path: FieldPath, bed: str, known: dict[str, int], checked: Checked) -> None:
    checked.fault(path, f"there is no bed {bed!r}", f"Beds: {', '.join(sorted(known))}.")


def _problems(garden: Garden, library: Library, checked: Checked) -> None:
    if not garden.bed_problem:
        return
    names = {}
    for row in library.rows("soil_borne"):
        names[fold(row["problem"])] = names[fold(row["name"])] = row["problem"]
    for at, each in enumerate(garden.bed_problem):
        key = names.get(fold(each.problem))
        if key is None:
            near = difflib.get_close_matches(fold(each.problem), list(names), n=4, cutoff=0.5)
            checked.fault(
                ("bed_problem", at, "problem"),
                f"{each.problem!r} is not a known soil-borne problem",
                f"Nearest: {', '.join(near)}." if near else "docs/tables.md lists them.",
            )
            continue
        checked.keys[("bed_problem", at, "problem")] = key


def _families(garden: Garden, library: Library, checked: Checked) -> None:
    if garden.rotation is None or not garden.rotation.away:
        return
    known = {fold(row["family"]): row["family"] for row in library.rows("crops")}
    known |= {fold(row["phrase"]): row["family"] for row in library.rows("family_names")}
    for word in garden.rotation.away:
        if fold(word) not in known:
            near = difflib.get_close_matches(fold(word), list(known), n=3, cutoff=0.4)
            checked.fault(
                ("rotation", "away", word),
                f"{word!r} is not the family of a known crop",
                f"Nearest: {', '.join(near)}." if near else "",
            )
            continue
        checked.keys[("rotation", "away", word)] = known[fold(word)]


def _bulbs(garden: Garden, library: Library, checked: Checked) -> None:
    """The days in which a bulb swells are stated of crops that wait for them."""
    wait = {row["crop"] for row in library.rows("crop_timing")
            if row["property"] == "bulbing_latitude"}  # fmt: skip
    for at, own in enumerate(garden.crop):
        key = checked.keys.get(("crop", at, "crop"))
        if own.bulbs_in is not None and key is not None and key not in wait:
            checked.fault(
                ("crop", at, "bulbs_in"),
                f"{own.crop!r} makes no bulb that waits for short or long days",
                f"Leave it out, or say that it is like: {', '.join(sorted(wait))}.",
            )


def _pins(garden: Garden, checked: Checked) -> None:
    seen: dict[tuple[str, int, str | date | None], list[Pin]] = {}
    for at, pin in enumerate(garden.pin):
        # what carries its day is told apart by it: three crops of a year have but two turns
        same = seen.setdefault((pin.bed, pin.year, pin.set_out or pin.turn), [])
        first = next((one for one in same if meet(one.part, pin.part)), None)
        if first is not None:
            part = pin.part if first.part is None else first.part
            ground = f"bed {pin.bed!r}" if part is None else f"part {part} of bed {pin.bed!r}"
            crops = " and ".join(each.crop or "no crop" for each in (first, pin))
            checked.fault(
                ("pin", at, "bed"),
                f"{ground} is pinned twice for {pin.set_out or pin.turn or pin.year}: {crops}",
                "Leave one out, or give each its turn."
                if part is None
                else "Leave one out, or give each its turn or its own part: without part a pin "
                "has all of the bed.",
            )
        same.append(pin)
