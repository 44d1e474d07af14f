"""A bed before its blend: the evidence, the needs, the limits and what may be used."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from bedwright.feeding.blend import Candidates, Demand
from bedwright.feeding.materials import Supply, supply
from bedwright.garden import Bed, Document, Want
from bedwright.planning.calcium import calcium_verdict
from bedwright.planning.cover_sowing import cover_sowing
from bedwright.planning.demands import (
    OwnRate,
    Wish,
    candidates_of,
    compost_wish,
    demands_of,
    own_rate,
    with_a_source,
)
from bedwright.planning.evidence import Evidence, evidence
from bedwright.planning.findings import Finding, finding
from bedwright.planning.nitrogen import NitrogenNeed, nitrogen_need
from bedwright.planning.nutrients import CropAtBed, Need, nutrient_needs, readings
from bedwright.planning.reaction import Reaction, reaction
from bedwright.planning.salt import SaltState, salt_state
from bedwright.planning.screening import screening
from bedwright.planning.second_crops import settled
from bedwright.planning.shed import Offer, offers
from bedwright.planning.spread_since import (
    gypsum_left,
    lime_left,
    needs_left,
    since_findings,
    spread_since,
)
from bedwright.planning.strikes import BedState, Strike, olsen_p, strike
from bedwright.planning.yields import stated_goal
from bedwright.reference import Library
from bedwright.soil.interpretation import Reading

# Where no date of setting out is stated: the first of the month after the winter, by hemisphere.
_NORTH, _SOUTH = 4, 10
# Reasons for which even a compost that is asked for is left out.
_WISH_BARRED = frozenset({"avoided", "phosphorus_stop", "raw_manure_interval", "not_organic"})


@dataclass(frozen=True)
class Assessment:
    """Everything known and asked of a bed before anything is blended.

    ``bed`` is the ground that the crop has: of a ``part`` its piece, under the bed's id. ``at`` is
    the want's place; ``nth`` counts the bed's plantings of the year from 0, ``turn`` those of this
    ground. ``first`` is the crop that this ground bears first in the same year, None for that one.
    ``used`` are the materials that the blend may draw on, in the order of ``candidates``;
    ``lacking`` says that a need was left out because nothing in the shed serves it.
    """

    bed: Bed
    crop: CropAtBed
    season: date
    evidence: Evidence
    read: dict[str, Reading]
    nitrogen: NitrogenNeed
    needs: tuple[Need, ...]
    reaction: Reaction
    salt: SaltState
    strikes: tuple[Strike, ...]
    wish: Wish | None
    used: tuple[tuple[Offer, Supply], ...]
    candidates: Candidates
    demands: tuple[Demand, ...]
    lacking: bool
    findings: tuple[Finding, ...]
    first: str | None
    at: int
    nth: int
    part: int | None
    turn: int

    @property
    def ground(self) -> str:
        """The bed's id, with the part where the crop has but one."""
        return self.bed.id if self.part is None else f"{self.bed.id}, part {self.part}"

    @property
    def planting(self) -> str:
        """What tells this planting from all others: its ground, and its place in the year."""
        if self.turn == 0:
            return self.ground
        words = ("second crop", "third crop")
        which = words[self.turn - 1] if self.turn <= len(words) else f"crop {self.turn + 1}"
        return f"{self.ground}, {which}"


def assess(
    document: Document,
    want: Want,
    want_at: int,
    bed: Bed,
    library: Library,
    as_of: date,
    *,
    first: str | None = None,
    nth: int = 0,
    part: int | None = None,
    turn: int = 0,
) -> Assessment:
    """Assess a bed, or a part of it, for a crop. ``as_of`` is the day of planning.

    ``first`` is the name of the crop that the ground bears earlier in the year. The soil test is
    then spoken for: what it asks for was settled with that crop, and what it credits went to it.
    ``nth``, ``part`` and ``turn`` tell the planting from others of the bed.
    """
    found: list[Finding] = []
    season = want.set_out or _season(document, as_of)
    if want.set_out is None:
        found.append(finding("set_out_not_stated", "assumed", taken=season.isoformat()))
    known = evidence(document, bed, library)
    crop, said = _crop(document, want, want_at, library)
    found += said + list(known.findings)
    if crop.kind == "cover":
        found += cover_sowing(crop.key, known.area, library)
    read, said_reading = readings(known, crop, library)
    since = spread_since(document, known, library, season)
    found += since_findings(since)
    needs, said_needs = nutrient_needs(known, crop, read, library)
    needs = needs_left(needs, since)
    nitrogen = nitrogen_need(document, known, crop, library, season)
    soil_reaction = lime_left(reaction(known, crop, library), since)
    salt = gypsum_left(salt_state(document, known, crop, library), since, library)
    if first is not None:
        needs, nitrogen, soil_reaction, salt = settled(needs, nitrogen, soil_reaction, salt)
        if crop.kind != "cover":
            found.append(finding("settled_with_the_first_crop", "assumed", first=first))
    limits = document.garden.limits
    avoided = frozenset(document.key("limits", "avoid", at) for at in range(len(limits.avoid)))
    state = BedState(known, needs, soil_reaction, salt, read, limits.organic_only, avoided)
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
        if strike(wish.material, brings, state, library) in _WISH_BARRED:
            found.append(
                finding(
                    "compost_wish_refused", "act", material=wish.material.name, depth=wish.depth
                )
            )
            wish = None
    own, said_own = _own_rate(document, want, want_at, state, library)
    found += said_own
    candidates, used = candidates_of(allowed, known, library, wish, own)
    demands = demands_of(document, nitrogen, needs, soil_reaction, salt, used, wish, library, own)
    demands, said_sources = with_a_source(demands)
    return Assessment(
        bed=bed,
        crop=crop,
        season=season,
        evidence=known,
        read=read,
        nitrogen=nitrogen,
        needs=needs,
        reaction=soil_reaction,
        salt=salt,
        strikes=strikes,
        wish=wish,
        used=tuple(used),
        candidates=candidates,
        demands=demands,
        lacking=bool(said_sources),
        findings=(*found, *said_sources),
        first=first,
        at=want_at,
        nth=nth,
        part=part,
        turn=turn,
    )


def _own_rate(
    document: Document, want: Want, want_at: int, state: BedState, library: Library
) -> tuple[OwnRate | None, list[Finding]]:
    """A rate of the gardener's own, with what we would say against it; None where it is barred."""
    own = own_rate(document, want, want_at, library)
    if own is None:
        return None, []
    known = state.evidence
    brings = supply(library, own.material, known.ph.value if known.ph is not None else None)
    said: list[Finding] = []
    name = own.material.name.lower()
    code = strike(own.material, brings, state, library)
    if code in _WISH_BARRED:
        return None, [finding("own_rate_refused", "act", material=name, rate=own.rate)]
    if code is not None:
        said.append(finding("own_rate_against_advice", "act", material=name, rate=own.rate))
    if brings.max_rate is not None and own.rate.value > brings.max_rate.value:
        said.append(
            finding("own_rate_above_most", "act", material=name, rate=own.rate,
                    most=brings.max_rate, sources=brings.max_rate.sources)
        )  # fmt: skip
    return own, said


def _season(document: Document, as_of: date) -> date:
    latitude = document.garden.garden.latitude
    month = _SOUTH if latitude is not None and latitude.si < 0 else _NORTH
    coming = date(as_of.year, month, 1)
    return coming if coming >= as_of else date(as_of.year + 1, month, 1)


def _crop(
    document: Document, want: Want, at: int, library: Library
) -> tuple[CropAtBed, list[Finding]]:
    key = document.key("want", at, "crop")
    row = library.crop(key)
    table = library.fact("crop_facts", key, "yield", "kg/m2")
    if table is None:
        raise LookupError(f"crop_facts.csv has no yield of {key}")
    said: list[Finding] = []
    goal = stated_goal(document, want)
    if goal is None:
        goal = table.named("yield_goal")
        said.append(finding("yield_goal_assumed", "assumed", goal=goal, sources=goal.sources))
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
