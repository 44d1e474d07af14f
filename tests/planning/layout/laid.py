"""Beds laid out in tests: small gardens written inline, the invented ones with one want more."""

from datetime import date
from importlib import resources
from pathlib import Path

from bedwright.garden import Document
from bedwright.garden.load import load_text
from bedwright.planning.layout.bed import bed_layouts
from bedwright.planning.layout.model import BedLayout
from bedwright.planning.layout.plantings import grounds_of
from bedwright.reference import Library

AS_OF = date(2026, 11, 25)
LIBRARY = Library()
_DEMO = Path(str(resources.files("bedwright.demo").joinpath("")))


def read(text: str) -> Document:
    return load_text(text, "garden.toml", _DEMO, LIBRARY, AS_OF)


def garden(
    beds: str, wants: str, *, latitude: str | None = "46.1 N", units="US customary", more=""
) -> Document:
    """A garden of beds and wants, under a clear sky unless ``more`` brings weather."""
    place = "" if latitude is None else f'latitude = "{latitude}"\n'
    return read(
        f'format = 2\n[garden]\nname = "Under test"\n{place}units = "{units}"\n'
        f"{beds}\n{wants}\n{more}\n"
    )


def bed(name="B", *, length="50 ft", width="4 ft", axis="N-S", corner="0 ft, 0 ft", more="") -> str:
    east, north = corner.split(", ")
    return (
        f'[[bed]]\nid = "{name}"\nlength = "{length}"\nwidth = "{width}"\nlong_axis = "{axis}"\n'
        f'corner = ["{east}", "{north}"]\n{more}\n'
    )


def want(crop: str, bed_id="B", *, out="2027-05-10", companion: str | None = None, more="") -> str:
    beside = "" if companion is None else f'companion = "{companion}"\n'
    return f'[[want]]\ncrop = "{crop}"\nbeds = ["{bed_id}"]\nset_out = {out}\n{beside}{more}\n'


def laid(document: Document, bed_id="B", at=0) -> BedLayout:
    return bed_layouts(grounds_of(document, LIBRARY), bed_id)[at]


def demo(name: str, bed_id: str, crop: str, out: str, companion: str) -> Document:
    """An invented garden whose bed is wanted for two crops instead of what stands there."""
    text = (_DEMO / f"{name}.toml").read_text(encoding="utf-8")
    kept = []
    for part in text.split("\n[["):
        if part.startswith("want]]") and f'beds = ["{bed_id}"]' in part:
            continue
        kept.append(part)
    return read("\n[[".join(kept) + "\n" + want(crop, bed_id, out=out, companion=companion))


def codes(layout: BedLayout) -> set[str]:
    found = {each.code for each in layout.findings}
    if layout.pair is not None:
        found |= {each.code for each in layout.pair.findings}
    for parts in layout.trellises:
        found |= {each.code for each in parts.findings}
    return found


def side(layout: BedLayout) -> str:
    """On which side the tall rows stand, as its finding says it."""
    told = [each for each in layout.findings if "side" in each.values]
    return str(told[0].values["side"])


HOT = """
[weather.monthly]
t_max = ["4 C", "8 C", "14 C", "19 C", "25 C", "31 C",
  "35 C", "34 C", "28 C", "19 C", "10 C", "4 C"]
t_min = ["-3 C", "-2 C", "1 C", "4 C", "8 C", "12 C", "15 C", "14 C", "10 C", "4 C", "0 C", "-3 C"]
"""
