"""What can hurt at a task, as findings with their sources."""

from __future__ import annotations

import math

from bedwright.planning.findings import Finding, finding
from bedwright.planning.prescription import Line
from bedwright.planning.work.lifting import bag_limit, parts_to_lift
from bedwright.planning.work.making import Maker
from bedwright.working import Figure, Source

# Southern Arizona to Texas, Utah and the valleys of California, with room around: judgement.
_DRY_LATITUDES, _DRY_LONGITUDES = (25.0, 42.0), (-125.0, -94.0)
_NOTHING_TO_DO = "screening_none"


def sources_of(maker: Maker, caution: str) -> tuple[Source, ...]:
    """Where a caution of ``work_cautions.csv`` comes from."""
    rows = maker.library.rows("work_cautions")
    return tuple(dict.fromkeys(row.source for row in rows if row["caution"] == caution))


def spread_cautions(maker: Maker, lines: tuple[Line, ...], *, later: bool) -> tuple[Finding, ...]:
    """What to mind when materials are spread: each one's own cautions, raw manure, weight."""
    found: list[Finding] = []
    by_code: dict[str, list[str]] = {}
    sources: dict[str, list[Source]] = {}
    for line in lines:
        for each in line.material.cautions:
            by_code.setdefault(each.code, []).append(line.material.name.lower())
            sources.setdefault(each.code, []).append(each.source)
    for code, names in by_code.items():
        found.append(
            finding(
                "work_material", "caution", caution=code, materials=", ".join(names),
                sources=tuple(dict.fromkeys(sources[code])),
            )
        )  # fmt: skip
    if "raw_manure_interval" in by_code:
        raw = ", ".join(by_code["raw_manure_interval"])
        found.append(
            finding(
                "work_raw_manure", "caution", materials=raw,
                sources=sources_of(maker, "raw_manure"),
            )
        )  # fmt: skip
    for line in lines:
        found += _lift(maker, line, line.later if later else line.preplant)
    return tuple(found)


def _lift(maker: Maker, line: Line, mass: Figure) -> list[Finding]:
    """A caution where a bag, or the mass if less, is above what may be lifted from the ground."""
    if line.material.form == "bulk":
        return []  # shoveled
    load = min(maker.packages.get(line.material.key, mass.value), mass.value)
    ground = bag_limit("bag_from_ground", maker.library)
    if load <= ground.value:
        return []
    barrow = bag_limit("bag_from_barrow", maker.library)
    return [
        finding(
            "work_lift", "caution", material=line.material.name.lower(),
            load=Figure("load", load, "kg", "computed"), ground=ground, barrow=barrow,
            index=round(load / ground.value, 1), parts=float(parts_to_lift(load, ground.value)),
            sources=sources_of(maker, "lift"),
        )
    ]  # fmt: skip


def dust_cautions(maker: Maker) -> tuple[Finding, ...]:
    """The soil fungus of dry regions, where the garden lies in them."""
    place = maker.place
    if place.latitude is None or place.longitude is None:
        return ()
    north, east = math.degrees(place.latitude.si), math.degrees(place.longitude.si)
    inside = (
        _DRY_LATITUDES[0] <= north <= _DRY_LATITUDES[1]
        and _DRY_LONGITUDES[0] <= east <= _DRY_LONGITUDES[1]
    )
    return (finding("work_dust", "caution", sources=sources_of(maker, "dust")),) if inside else ()


def lead_cautions(maker: Maker) -> tuple[Finding, ...]:
    """Dust and clinging soil, where the bed's lead or arsenic is above the lowest class."""
    screened = [
        each.code
        for each in maker.grown.findings
        if each.code.startswith("screening_") and each.code != _NOTHING_TO_DO
    ]
    if not screened:
        return ()
    return (finding("work_lead", "caution", sources=sources_of(maker, "lead")),)
