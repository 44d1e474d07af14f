"""Where a bed's present habit leads: the phosphorus test, salt, the steady compost depth."""

from __future__ import annotations

import itertools
import math
from dataclasses import dataclass, replace

import numpy as np

from bedwright.feeding.materials import Material, material
from bedwright.feeding.outlook import (
    Direction,
    Ends,
    Reach,
    direction,
    ends_of,
    least_certain,
    reach,
    soil_test_change,
    steady_depth,
)
from bedwright.feeding.salt_ledger import salt_years_until
from bedwright.garden import Document
from bedwright.planning.findings import Finding, finding
from bedwright.planning.ledger_entries import crop_name
from bedwright.planning.ledger_soil import BedSoil, ends
from bedwright.reference import Library
from bedwright.soil.forms import form_factor
from bedwright.soil.salinity import ec_e_at_yield
from bedwright.working import Figure

_HORIZON_YEARS = 50.0  # judgement: beyond it no habit holds, so a year is not named
_SOON_YEARS = 5.0  # judgement: within this the habit must change now
_PLAIN_COMPOST = "yard_compost"


@dataclass(frozen=True)
class Habit:
    """What a bed got and gave in a mean season of its history [kg/m2]; low, typical, high.

    ``gained_before_test`` is the whole balance of phosphate of the seasons up to the soil test.
    """

    seasons: int
    phosphate_in: Ends
    phosphate_out: Ends
    other_phosphate: Ends
    gained_before_test: float
    salts: float
    compost: Material | None
    crops: tuple[str, ...]


@dataclass(frozen=True)
class Level:
    """A level, the years in which the habit reaches it, and on which way."""

    name: str
    level: float
    unit: str
    direction: Direction
    reach: Reach
    start_year: int

    @property
    def years(self) -> tuple[int | None, int | None, int | None]:
        """Calendar years, earliest, typical, latest; None where not within the horizon."""
        return tuple(  # type: ignore[return-value]
            None if each > _HORIZON_YEARS else self.start_year + math.ceil(each)
            for each in (self.reach.earliest, self.reach.typical, self.reach.latest)
        )


@dataclass(frozen=True)
class BedOutlook:
    """Where the habit of a bed leads.

    ``surplus`` is phosphate in less out in a mean season [kg/m2]; ``test_change`` the yearly
    change of the Olsen test [mg/kg], also where today's test is not known. ``least_certain``
    names the terms of the change, the least certain first, with the spread each makes [mg/kg].
    ``steady_depth`` is the yearly depth of ``compost`` that would hold phosphorus [m].
    """

    surplus: Ends
    test_change: Ends
    direction: Direction
    least_certain: tuple[tuple[str, float], ...]
    levels: tuple[Level, ...]
    salt_settles: Ends | None
    salt_least_certain: tuple[tuple[str, float], ...]
    compost: Material
    steady_depth: Figure | None
    findings: tuple[Finding, ...]


def outlook(soil: BedSoil, habit: Habit, document: Document, library: Library) -> BedOutlook:
    """The outlook of one bed whose habit is known."""
    said: list[Finding] = []
    per_p2o5 = form_factor("P2O5", "P")
    name = "olsen_share_of_surplus_p" + ("_free_lime" if soil.free_lime else "")
    share = _bounded(library.parameter(name, "-"), soil, habit, per_p2o5, said)
    density, depth = soil.known.bulk_density.value, soil.known.depth.value

    def change(phosphate_in: float, phosphate_out: float, test_share: float) -> float:
        surplus = (phosphate_in - phosphate_out) * per_p2o5
        return float(soil_test_change(surplus, test_share, density, depth))

    terms = {
        "phosphate_in": habit.phosphate_in,
        "phosphate_out": habit.phosphate_out,
        "test_share": ends(share),
    }
    changes = ends_of(change, terms)
    order = least_certain(change, terms)
    surplus = (
        habit.phosphate_in[0] - habit.phosphate_out[2],
        habit.phosphate_in[1] - habit.phosphate_out[1],
        habit.phosphate_in[2] - habit.phosphate_out[0],
    )
    way = direction(changes)
    levels = [*_olsen_levels(soil, changes, way, library)]
    said += _phosphorus_findings(soil, changes, way, levels, order, share)
    settles, salt_order = _salt(soil, habit, library, document, levels, said)
    compost = habit.compost or material(library, _PLAIN_COMPOST)
    steady = _steady(habit, compost, library)
    if steady is not None:
        said.append(
            finding(
                "ledger_steady_depth" if steady.value > 0 else "ledger_no_compost_holds",
                "note",
                material=compost.name.lower(),
                depth=steady,
                sources=steady.sources,
            )
        )
    return BedOutlook(
        surplus, changes, way, order, tuple(levels), settles, salt_order, compost, steady,
        tuple(said),
    )  # fmt: skip


def _bounded(
    share: Figure, soil: BedSoil, habit: Habit, per_p2o5: float, said: list[Finding]
) -> Figure:
    """The share of a surplus that the test finds, no more than the bed's own record allows.

    The test cannot hold more than all of today's Olsen phosphorus as the fruit of the seasons
    told: that bounds the share where these brought much.
    """
    if soil.olsen is None or habit.gained_before_test <= 0:
        return share
    found = soil.olsen.value * 1e-6 * soil.layer
    most = found / (habit.gained_before_test * per_p2o5)
    if most >= share.most:
        return share
    bounded = Figure(
        share.name,
        min(share.value, most),
        "-",
        "computed",
        low=min(share.least, most),
        high=most,
        sources=share.sources,
        formula="no more than the Olsen test holds of what the seasons told brought",
        inputs=(share, soil.olsen),
    )
    said.append(
        finding(
            "ledger_share_bounded", "note", share=bounded.named("share"), table=share.named("share")
        )
    )
    return bounded


def _start(soil: BedSoil) -> int:
    return soil.sampled.year if soil.sampled is not None else 0


def _olsen_levels(soil: BedSoil, changes: Ends, way: Direction, library: Library) -> list[Level]:
    """When the Olsen test passes its two ceilings, up or down."""
    if soil.olsen is None:
        return []
    now = ends(soil.olsen)
    found = []
    for name in ("p_removal_only_olsen", "p_manure_stop_olsen"):
        ceiling = library.parameter(name, "ppm").value
        found.append(Level(name, ceiling, "mg/kg", way, reach(now, changes, ceiling), _start(soil)))
    return found


def _phosphorus_findings(
    soil: BedSoil,
    changes: Ends,
    way: Direction,
    levels: list[Level],
    order: tuple[tuple[str, float], ...],
    share: Figure,
) -> list[Finding]:
    rise = Figure("test_change", changes[1], "mg/kg", "computed", low=changes[0], high=changes[2],
                  sources=share.sources)  # fmt: skip
    said = [
        finding(f"ledger_phosphorus_{way}", "caution" if way == "rising" else "note", change=rise,
                uncertain=order[0][0], sources=share.sources)
    ]  # fmt: skip
    if soil.olsen is None:
        said.append(finding("ledger_olsen_not_measured", "assumed"))
        return said
    now = soil.olsen
    kept_above = [each for each in levels if now.value > each.level and each.years[0] is None]
    for level in levels:
        if level in kept_above[:-1]:
            continue  # what stays above the higher level stays above this one
        said.append(_level_finding(level, now.value > level.level, now, order))
    return said


def _level_finding(
    level: Level, above: bool, now: Figure, order: tuple[tuple[str, float], ...]
) -> Finding:
    first, middle, last = level.years
    soon = level.reach.typical <= _SOON_YEARS
    stands = "above" if above else "below"
    limit = Figure(level.name, level.level, level.unit, "table")
    if first is None:
        return finding("ledger_level_kept", "note", now=now, level=limit, stands=stands,
                       years=_HORIZON_YEARS)  # fmt: skip
    if middle is None:  # only the far end of the range gets there
        return finding(
            "ledger_level_may_fall_below" if above else "ledger_level_may_be_reached",
            "note",
            now=now,
            level=limit,
            first=str(first),
            uncertain=order[0][0],
        )
    return finding(
        "ledger_level_falls_below" if above else "ledger_level_reached",
        "note" if above else "act" if soon and last is not None else "caution",
        now=now,
        level=limit,
        first=str(first),
        middle=str(middle),
        last=str(last) if last is not None else "not_within_50_years",
        uncertain=order[0][0],
    )


def _salt(
    soil: BedSoil,
    habit: Habit,
    library: Library,
    document: Document,
    levels: list[Level],
    said: list[Finding],
) -> tuple[Ends | None, tuple[tuple[str, float], ...]]:
    """Where ECe settles under the habit, and when it passes the limit of the tenderest crop."""
    if soil.leached is None or soil.settles is None:
        return None, ()
    added = habit.salts * soil.ec_per_salt

    def settled(leached: float, water: float) -> float:
        return water + added * (1 - leached) / leached

    # The same leaching fraction stands behind both: little drainage leaches little, settles high.
    pairs = list(zip(soil.leached, reversed(soil.settles), strict=True))
    values = [settled(leached, water) for leached, water in pairs]
    typical = settled(soil.leached[1], soil.settles[1])
    whole = (min(values), typical, max(values))
    of_water = abs(soil.settles[2] - soil.settles[0])
    of_leaching = abs(settled(soil.leached[0], soil.settles[1])
                      - settled(soil.leached[2], soil.settles[1]))  # fmt: skip
    order = tuple(
        sorted(
            (("water_salts", of_water), ("salts_leached", of_leaching)), key=lambda each: -each[1]
        )
    )
    figure = Figure("salt_settles", whole[1], "dS/m", "computed", low=whole[0], high=whole[2])
    said.append(finding("ledger_salt_settles", "note", settles=figure, uncertain=order[0][0]))
    limit = _salt_limit(habit, document, library)
    if limit is not None and soil.ec_e is not None:
        crop, value = limit
        years = [
            float(salt_years_until(np.array(now - water), np.array(added), np.array(leached),
                                   value - water))
            for now, (leached, water) in itertools.product(ends(soil.ec_e), pairs)
        ]  # fmt: skip
        middle = float(
            salt_years_until(np.array(soil.ec_e.value - soil.settles[1]), np.array(added),
                             np.array(soil.leached[1]), value - soil.settles[1])
        )  # fmt: skip
        way: Direction = "rising" if typical > soil.ec_e.value else "falling"
        level = Level("ec_e_limit", value, "dS/m", way, Reach(min(years), middle, max(years)),
                      _start(soil))  # fmt: skip
        levels.append(level)
        above = soil.ec_e.value > value
        found = _level_finding(level, above, soil.ec_e, order)
        said.append(
            replace(
                found,
                code=f"{found.code}_salt",
                values={**found.values, "crop": crop_name(library, crop)},
            )
        )
    return whole, order


def _salt_limit(habit: Habit, document: Document, library: Library) -> tuple[str, float] | None:
    """The ECe that the most tender of the bed's crops bears at the yield to be kept."""
    kept = document.garden.limits.yield_kept.si * 100
    limits = []
    for crop in habit.crops:
        threshold = library.fact("crop_facts", crop, "ec_e_threshold", "dS/m")
        slope = library.fact("crop_facts", crop, "ec_e_slope", "%/(dS/m)")
        if threshold is not None and slope is not None:
            limits.append((ec_e_at_yield(kept, threshold.value, slope.value), crop))
    if not limits:
        return None
    value, crop = min(limits)
    return crop, value


def _steady(habit: Habit, compost: Material, library: Library) -> Figure | None:
    """The depth of compost that brings in what the harvest takes out [m]."""
    content = library.fact("material_facts", compost.key, "p2o5_total", "kg/kg")
    density = library.fact("material_facts", compost.key, "bulk_density", "kg/m3")
    if content is None or density is None or content.least <= 0:
        return None
    low, value, high = ends_of(
        steady_depth,
        {
            "removal": habit.phosphate_out,
            "other_sources": habit.other_phosphate,
            "content": ends(content),
            "bulk_density": ends(density),
        },
    )
    return Figure("steady_depth", value, "m", "computed", low=low, high=high,
                  formula="steady_depth", inputs=(content, density),
                  sources=content.sources)  # fmt: skip
