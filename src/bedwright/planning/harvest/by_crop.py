"""One crop's plantings together: its weeks, in mass and in the unit it is sold in."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import date
from typing import Literal

from bedwright.crops.growing import Growing, growing
from bedwright.garden import Document
from bedwright.garden.model_rotation import Wish
from bedwright.planning.assignment.model import Candidate
from bedwright.planning.assignment.wishes import KEPT
from bedwright.planning.harvest.model import (
    BY_WEIGHT,
    NOTHING,
    CropHarvest,
    HarvestWeek,
    PlantingHarvest,
    Range,
)
from bedwright.planning.harvest.pickings import mondays_of, shares_in
from bedwright.planning.harvest.stall import balance_of, offered_of_kept, wanted_by_week
from bedwright.reference import Library
from bedwright.reference.library import fold
from bedwright.units import Quantity
from bedwright.working import Figure

SEASONS_OF_OWN = 2  # years of own harvests from which a yield is said to be the garden's
_BY_WEIGHT_WORDS = frozenset({"lb", "kg", "oz"})


def crop_harvest(
    candidate: Candidate,
    plantings: tuple[PlantingHarvest, ...],
    wishes: Sequence[Wish],
    year: int,
    document: Document,
    library: Library,
) -> CropHarvest:
    """A crop's harvest by week.

    Parameters
    ----------
    candidate : the crop
    plantings : its own, none for a crop that is only wished for
    wishes : by the week, that it serves
    year : of the season, in which the wishes are read
    """
    facts = growing(library, candidate.key)
    unit, piece = _unit(candidate, facts, document)
    share = facts.saleable_share
    wanted = wanted_by_week(wishes, year)
    weeks, left = _weeks(plantings, wanted, share, piece, facts.part in KEPT)
    told, seasons = _told(plantings)
    mass = NOTHING
    for each in plantings:
        if each.mass is not None:
            mass = mass.plus(_range(each.mass))
    return CropHarvest(
        candidate.id, candidate.key, candidate.name, unit, piece, share, told, seasons, mass,
        facts.part in KEPT, plantings, weeks, left,
    )  # fmt: skip


def _unit(candidate: Candidate, facts: Growing, document: Document) -> tuple[str, Figure | None]:
    """The unit of sale and a piece's mass: by the gardener's own price, else as is usual."""
    word = facts.unit_of_sale
    if candidate.own is not None:
        per = document.garden.crop[candidate.own].per
        if isinstance(per, Quantity):
            return BY_WEIGHT, None
        word = per or word
    if word in _BY_WEIGHT_WORDS or word in ("", "none"):
        return BY_WEIGHT, None
    mass = facts.unit_mass.get(word) or facts.unit_mass.get(fold(word).replace(" ", "_"))
    return word, mass


def _told(
    plantings: Sequence[PlantingHarvest],
) -> tuple[Literal["table", "goal", "record"], int]:
    known = [each.expected for each in plantings if each.expected is not None]
    seasons = max((each.years for each in known), default=0)
    other = [each for each in known if each.by != "goal"]
    if known and not other:
        return "goal", seasons
    if other and all(e.by == "record" and e.years >= SEASONS_OF_OWN for e in other):
        return "record", seasons
    return "table", seasons


def _range(figure: Figure) -> Range:
    return Range(figure.least, figure.value, figure.most)


def _weeks(
    plantings: Sequence[PlantingHarvest],
    wanted: dict[date, float],
    share: Figure | None,
    piece: Figure | None,
    keeps: bool,
) -> tuple[tuple[HarvestWeek, ...], Range]:
    """The weeks, and what is left of a crop that keeps when the wishes end [kg]."""
    picked: dict[date, Range] = {}
    stored: dict[date, Range] = {}  # a lean and late year, a usual, a rich and early one
    for each in plantings:
        if each.mass is None:
            continue
        whole = _range(each.mass)
        for monday in mondays_of(each.pickings):
            late, usual, early = shares_in(each.pickings, monday)
            ends = sorted((late, usual, early))
            mass = whole.times(ends[0], usual, ends[-1])
            picked[monday] = picked.get(monday, NOTHING).plus(mass)
            mass = whole.times(late, usual, early)
            stored[monday] = stored.get(monday, NOTHING).plus(mass)
    fit = Range(1.0, 1.0, 1.0) if share is None else _range(share)
    left = NOTHING
    if keeps and wanted:
        offered, left = offered_of_kept(_fit(stored, fit), wanted)
    else:
        offered = _fit(picked, fit)
    undated = any(each.mass is not None and not each.pickings for each in plantings)
    made = []
    weeks = sorted({*picked, *wanted})
    for monday in weeks:
        asked = wanted.get(monday, 0.0) if wanted else None
        sale = offered.get(monday, NOTHING)
        balance = balance_of(sale.typical, asked)
        if (keeps and not asked) or (balance == "gap" and undated):
            balance = ""
        made.append(
            HarvestWeek(
                monday, picked.get(monday, NOTHING), sale, _pieces(sale, piece), asked, balance
            )
        )
    return tuple(made), left


def _fit(masses: Mapping[date, Range], fit: Range) -> dict[date, Range]:
    return {on: each.times(fit.low, fit.typical, fit.high) for on, each in masses.items()}


def _pieces(mass: Range, piece: Figure | None) -> Range | None:
    if piece is None:
        return None
    return Range(mass.low / piece.most, mass.typical / piece.value, mass.high / piece.least)
