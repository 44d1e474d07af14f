"""A bed's prescription: what to spread, how much, why, and what not to add."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from bedwright.feeding.blend import Blend, Demand, blend
from bedwright.feeding.materials import Material, Supply, supply
from bedwright.garden import Bed, Document, Want
from bedwright.planning.calcium import calcium_verdict
from bedwright.planning.demands import (
    candidates_of,
    compost_wish,
    demands_of,
    with_a_source,
)
from bedwright.planning.evidence import Evidence, evidence
from bedwright.planning.findings import Finding, finding
from bedwright.planning.nitrogen import NitrogenNeed, nitrogen_need
from bedwright.planning.nutrients import CropAtBed, Need, nutrient_needs, readings
from bedwright.planning.reaction import Reaction, reaction
from bedwright.planning.salt import SaltState, salt_state
from bedwright.planning.screening import screening
from bedwright.planning.shed import Offer, offers
from bedwright.planning.strikes import BedState, Strike, olsen_p, strike
from bedwright.reference import Library
from bedwright.soil.interpretation import Reading
from bedwright.working import Figure

_AMMONIUM = frozenset(
    "urea ammonium_sulfate monoammonium_phosphate diammonium_phosphate"
    " poultry_manure_pellets".split()
)


@dataclass(frozen=True)
class Line:
    """One material of a prescription: masses for the whole bed [kg] and per area [kg/m2]."""

    material: Material
    preplant: Figure
    later: Figure
    per_area: float
    supply: Supply
    offer: Offer


@dataclass(frozen=True)
class Prescription:
    """Everything decided about feeding one bed, with the evidence it rests on."""

    bed: Bed
    crop: CropAtBed
    season: date
    evidence: Evidence
    read: dict[str, Reading]
    nitrogen: NitrogenNeed
    needs: tuple[Need, ...]
    reaction: Reaction
    salt: SaltState
    demands: tuple[Demand, ...]
    blend: Blend
    lines: tuple[Line, ...]
    strikes: tuple[Strike, ...]
    findings: tuple[Finding, ...]


def prescribe(
    document: Document, want: Want, want_at: int, bed: Bed, library: Library, as_of: date
) -> Prescription:
    """Work out a bed's prescription. ``as_of`` is the day of planning."""
    season = want.set_out or date(as_of.year + (1 if as_of.month > 6 else 0), 4, 1)
    found: list[Finding] = []
    if want.set_out is None:
        found.append(finding("set_out_not_stated", "assumed", taken=season.isoformat()))
    known = evidence(document, bed, library)
    crop, said = _crop(document, want, want_at, library)
    found += said + list(known.findings)
    read, said_reading = readings(known, crop, library)
    needs, said_needs = nutrient_needs(known, crop, read, library)
    nitrogen = nitrogen_need(document, known, crop, library, season)
    soil_reaction = reaction(known, crop, library)
    salt = salt_state(document, known, crop, library)
    state = BedState(known, needs, soil_reaction, salt, read, document.garden.limits.organic_only)
    for more in (
        said_reading,
        said_needs,
        nitrogen.findings,
        soil_reaction.findings,
        salt.findings,
        screening(known, library),
        calcium_verdict(known, crop, read, salt),
        _phosphorus_verdict(state, library),
    ):
        found += more
    allowed, strikes, said_shed = _allowed(document, state, library)
    found += said_shed
    wish = compost_wish(document, want, want_at, known, library)
    if wish is not None:
        brings = supply(library, wish.material, known.ph.value if known.ph is not None else None)
        if strike(wish.material, brings, state, library) == "phosphorus_stop":
            found.append(
                finding(
                    "compost_wish_refused", "act", material=wish.material.name, depth=wish.depth
                )
            )
            wish = None
    candidates, used = candidates_of(allowed, known, library, wish)
    demands = demands_of(document, nitrogen, needs, soil_reaction, salt, used, wish, library)
    demands, said_sources = with_a_source(demands)
    found += said_sources
    mixed = blend(candidates, demands, document.garden.limits.most_materials)
    lines = tuple(_lines(mixed, used, known))
    found += _after(mixed, lines, bool(said_sources))
    return Prescription(
        bed,
        crop,
        season,
        known,
        read,
        nitrogen,
        needs,
        soil_reaction,
        salt,
        demands,
        mixed,
        lines,
        strikes,
        tuple(_ordered(found)),
    )


def _ordered(found: list[Finding]) -> list[Finding]:
    order = {"act": 0, "caution": 1, "doubt": 2, "assumed": 3, "note": 4}
    unique: list[Finding] = []
    for each in found:
        if each not in unique:
            unique.append(each)
    return sorted(unique, key=lambda each: order[each.weight])


def _crop(
    document: Document, want: Want, at: int, library: Library
) -> tuple[CropAtBed, list[Finding]]:
    key = document.key("want", at, "crop")
    row = next(row for row in library.rows("crops") if row["crop"] == key)
    table = library.fact("crop_facts", key, "yield", "kg/m2")
    if table is None:
        raise LookupError(f"crop_facts.csv has no yield of {key}")
    said: list[Finding] = []
    if want.yield_goal is None:
        goal = table.named("yield_goal")
        said.append(finding("yield_goal_assumed", "assumed", goal=goal, sources=goal.sources))
    else:
        stated = want.yield_goal
        area = sum(bed.area_m2 for bed in document.garden.bed if bed.id in want.beds)
        value = stated.si if stated.kind == "mass_per_area" else stated.si / area
        goal = Figure("yield_goal", value, "kg/m2", "stated", note=stated.text)
    return CropAtBed(key, row["name"], row["kind"], row["test_group"], goal), said


def _phosphorus_verdict(state: BedState, library: Library) -> tuple[Finding, ...]:
    """How full of phosphorus a bed is, where the Olsen test says so."""
    olsen = olsen_p(state)
    if olsen is None:
        return ()
    stop = library.parameter("p_manure_stop_olsen", "ppm")
    removal = library.parameter("p_removal_only_olsen", "ppm")
    value = state.evidence.measured[("phosphorus", "olsen")].figure
    if olsen > stop.value:
        return (
            finding("no_compost_this_year", "act", olsen=value, limit=stop, sources=stop.sources),
        )
    if olsen > removal.value:
        return (
            finding(
                "compost_only_by_removal",
                "act",
                olsen=value,
                limit=removal,
                sources=removal.sources,
            ),
        )
    return ()


def _allowed(
    document: Document, state: BedState, library: Library
) -> tuple[list[tuple[Offer, Supply]], tuple[Strike, ...], tuple[Finding, ...]]:
    shed, said = offers(document, library)
    allowed: list[tuple[Offer, Supply]] = []
    strikes: list[Strike] = []
    ph = state.evidence.ph.value if state.evidence.ph is not None else None
    for offer in shed:
        brings = supply(library, offer.material, ph)
        code = strike(offer.material, brings, state, library)
        if code is None:
            allowed.append((offer, brings))
        else:
            strikes.append(Strike(offer.material, code))
    return allowed, tuple(strikes), said


def _lines(mixed: Blend, used: list[tuple[Offer, Supply]], known: Evidence) -> list[Line]:
    lines: list[Line] = []
    area = known.area
    for at, (offer, brings) in enumerate(used):
        before, later = float(mixed.preplant[at]), float(mixed.later[at])
        if before + later <= 0:
            continue
        amounts = []
        for name, rate in (("preplant", before), ("later", later)):
            figure = Figure("rate", rate, "kg/m2", "computed", formula="blend")
            amounts.append(
                Figure(
                    name,
                    rate * area.value,
                    "kg",
                    "computed",
                    formula="rate x area",
                    inputs=(figure, area),
                )
            )
        lines.append(Line(offer.material, amounts[0], amounts[1], before + later, brings, offer))
    return sorted(lines, key=lambda line: -line.per_area)


def _after(mixed: Blend, lines: tuple[Line, ...], lacking: bool) -> list[Finding]:
    """What the blend itself gives occasion to say."""
    found: list[Finding] = []
    if mixed.clash:
        found.append(finding("demands_clash", "act", demands=" ".join(mixed.clash)))
    if {"salt_ceiling", "compost_depth"} <= set(mixed.clash):
        found.append(finding("salt_limits_compost", "note"))
    if any(line.supply.salts is None for line in lines):
        names = ", ".join(line.material.name for line in lines if line.supply.salts is None)
        found.append(finding("salts_not_known", "assumed", materials=names))
    if not lines and not mixed.clash:
        code = "nothing_in_shed" if lacking else "nothing_to_spread"
        found.append(finding(code, "note"))
    keys = {line.material.key for line in lines}
    if any(line.material.kind == "liming" for line in lines) and keys & _AMMONIUM:
        found.append(finding("lime_and_ammonium_apart", "caution"))
    return found
