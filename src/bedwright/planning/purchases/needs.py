"""What each planting needs at hand, and on which day: seed, plants, materials."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from datetime import date

from bedwright.crops.growing import growing
from bedwright.garden import Document
from bedwright.planning.assignment.candidates import candidate_at
from bedwright.planning.assignment.model import Candidate
from bedwright.planning.findings import Finding, finding
from bedwright.planning.harvest.wants import companion_at, want_at
from bedwright.planning.layout.crop_facts import LayoutCrop
from bedwright.planning.layout.seeds import CropCount
from bedwright.planning.purchases.model import Item, Need
from bedwright.planning.purchases.shelf import Entry, entries_of, entry_for, in_unit
from bedwright.planning.work.bed_days import BedDays, Grown
from bedwright.reference import Library


@dataclass(frozen=True)
class Sowing:
    """One planting of a crop: ``on`` in its bed, ``raised`` under cover before it, and its
    ``share`` of the crop's plants [-]."""

    on: date
    raised: date | None
    share: float


@dataclass
class Gathered:
    """Needs as they are found, and what is to be said. ``plants`` are those on hand that no
    planting has taken yet, by crop. ``raised`` is the share of the plants that is raised from seed,
    by bed, planting and crop: the others are bought or on hand."""

    document: Document
    library: Library
    entries: tuple[Entry, ...]
    needs: list[Need] = field(default_factory=list)
    said: list[Finding] = field(default_factory=list)
    plants: dict[str, float] = field(default_factory=dict)
    raised: dict[tuple[str, str, str], float] = field(default_factory=dict)

    def add(self, item: Item, on: date, amount: float, grown: Grown, crop: str = "") -> None:
        """A need of a planting, where it is any; ``crop`` is its companion's where it is of it."""
        if amount > 0:
            crop = crop or grown.prescription.crop.key
            self.needs.append(Need(item, on, amount, grown.bed, crop))


def sowings_of(grown: Grown, days: BedDays | None) -> tuple[Sowing, ...]:
    """The plantings of a bed's own crop; on the day that the bed is planned for where its own
    is not known."""
    if days is None:
        return (Sowing(grown.prescription.season, None, 1.0),)
    ahead = None if days.sow_under_cover is None else days.start - days.sow_under_cover
    starts = (days.start, *days.again)
    return tuple(
        Sowing(on, None if ahead is None else on - ahead, 1 / len(starts)) for on in starts
    )


def need_materials(found: Gathered, grown: Grown, days: BedDays | None) -> None:
    """What the bed's prescription spreads, by the day of spreading."""
    plan = grown.prescription
    spread = grown.nitrogen.spread
    on_day = {} if days is None else {
        each.material.key: on for on, lines in days.turns for each in lines
    }  # fmt: skip
    later = () if days is None else days.dressings
    for line in plan.lines:
        item = Item("material", line.material.key, line.material.name, "kg")
        found.add(item, on_day.get(item.key, spread), line.preplant.value, grown)
        if line.later.value > 0:
            dates = later or (plan.season,)
            for on in dates:
                found.add(item, on, line.later.value / len(dates), grown)


def need_seed(found: Gathered, grown: Grown, sowings: Sequence[Sowing]) -> None:
    """Seed, plants or pieces of the bed's own crop and of the one that shares the bed."""
    at = want_at(found.document, grown)
    own = candidate_at(found.document, found.library, "want", at)
    layout = grown.layout
    if layout is None:
        _broadcast(found, grown, own, sowings)
        return
    planting = layout.planting
    companion = planting.companion
    for count in layout.counts:
        if count.crop == planting.crop.key:
            _count(found, grown, own, planting.crop, count, sowings)
        elif companion is not None:
            days = layout.companion_days
            on = sowings[0].on if days is None else days.start
            raised = None if days is None else days.sow_under_cover
            other = companion_at(found.document, found.library, at)
            _count(found, grown, other, companion, count, (Sowing(on, raised, 1.0),))


def _broadcast(found: Gathered, grown: Grown, crop: Candidate, sowings: Sequence[Sowing]) -> None:
    """A crop without rows, such as a cover: seed by area."""
    facts = growing(found.library, crop.key)
    if facts.seed_rate is None:
        found.said.append(
            finding("purchases_seed_not_known", "doubt", bed=grown.bed, crop=crop.name.lower())
        )
        return
    whole = facts.seed_rate.value * grown.prescription.evidence.area.value
    per_gram = facts.seeds_per_gram
    each = None if per_gram is None else 1 / per_gram.value / 1000
    item = Item("seed", crop.id, crop.name, "kg", each_kg=each)
    for sowing in sowings:
        found.add(item, sowing.on, whole * sowing.share, grown)


def _count(
    found: Gathered,
    grown: Grown,
    crop: Candidate,
    facts: LayoutCrop,
    count: CropCount,
    sowings: Sequence[Sowing],
) -> None:
    if facts.start == "set_out":
        _set_out(found, grown, crop, facts, count, sowings)
        return
    pieces = facts.start == "pieces"
    kind = "pieces" if pieces else "seed"
    number = count.to_raise if pieces else count.seeds
    item, whole = _item_of_seed(kind, crop, facts, count, None if number is None else number.value)
    if item is None:
        found.said.append(
            finding("purchases_seed_not_known", "doubt", bed=grown.bed, crop=crop.name.lower())
        )
        return
    for sowing in sowings:
        found.add(item, sowing.on, whole * sowing.share, grown, facts.key)


def _item_of_seed(
    kind: str, crop: Candidate, facts: LayoutCrop, count: CropCount, number: float | None
) -> tuple[Item | None, float]:
    """What is bought of seed or pieces: by mass where it is known, else by number."""
    per_gram = facts.facts.seeds_per_gram
    each = None if per_gram is None else 1 / per_gram.value / 1000
    if count.seed_mass is not None:
        if kind == "pieces" and number:
            each = count.seed_mass.value / number
        name = "pieces" if kind == "pieces" else "seed"
        made = Item("pieces" if name == "pieces" else "seed", crop.id, crop.name, "kg", None, each)
        return made, count.seed_mass.value
    if number is not None:
        made = Item("pieces" if kind == "pieces" else "seed", crop.id, crop.name, "-", None, each)
        return made, number
    return None, 0.0


def _set_out(
    found: Gathered,
    grown: Grown,
    crop: Candidate,
    facts: LayoutCrop,
    count: CropCount,
    sowings: Sequence[Sowing],
) -> None:
    """Plants that are bought, where the gardener buys them; else the seed that raises them.

    Plants on hand are set out first.
    """
    wanted = (count.to_raise or count.plants).value
    plants = Item("plants", crop.id, crop.name, "-")
    entry = entry_for(plants, found.entries)
    number = None if count.seeds is None else count.seeds.value
    seed, mass = _item_of_seed("seed", crop, facts, count, number)
    place = (grown.bed, grown.crop, facts.key)
    found.raised[place] = 0.0
    if (entry is not None and entry.package is not None) or seed is None:
        for sowing in sowings:
            found.add(plants, sowing.on, wanted * sowing.share, grown, facts.key)
        return
    if entry is not None and entry.on_hand is not None and crop.id not in found.plants:
        found.plants[crop.id] = in_unit(entry.on_hand, plants) or 0.0
    for sowing in sowings:
        here = wanted * sowing.share
        standing = min(found.plants.get(crop.id, 0.0), here)
        if standing > 0:
            found.plants[crop.id] -= standing
            found.said.append(
                finding("purchases_plants_on_hand", "note", crop=crop.name.lower(),
                        bed=grown.bed, count=standing)
            )  # fmt: skip
        raised = sowing.share * (1 - standing / here) if here > 0 else 0.0
        found.raised[place] += raised
        left = mass * raised
        found.add(seed, sowing.raised or sowing.on, left, grown, facts.key)


def dated_needs(needs: Sequence[Need]) -> Iterator[Need]:
    """Needs in the order of their days, then of their beds."""
    yield from sorted(needs, key=lambda each: (each.on, each.bed, each.item.kind, each.item.key))


def raised_shares(
    document: Document,
    library: Library,
    plantings: Sequence[tuple[Grown, BedDays | None]],
) -> dict[tuple[str, str, str], float]:
    """The share of each planting's plants that is raised from seed [-], by bed, planting and crop.

    None is where plants are bought; plants on hand go to the earliest plantings.

    Parameters
    ----------
    document, library : the garden, and the tables under its own facts
    plantings : with the days of their work, None where not known
    """
    found = Gathered(document, library, entries_of(document, library))
    for grown, days in by_season(plantings):
        need_seed(found, grown, sowings_of(grown, days))
    return found.raised


def by_season(
    plantings: Sequence[tuple[Grown, BedDays | None]],
) -> list[tuple[Grown, BedDays | None]]:
    """Plantings in the order in which they take what is on hand."""
    return sorted(plantings, key=lambda pair: pair[0].prescription.season)
