"""How many plants and how much seed the rows of a bed take."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from bedwright.guards import not_negative, positive, within
from bedwright.planning.layout.crop_facts import LayoutCrop
from bedwright.planning.layout.rows import PlantRow
from bedwright.reference import Library
from bedwright.working import Figure, Source, formula, work

_ARITHMETIC = (Source("computed", "arithmetic"),)
_COUNT = ("ratio", "-")


@dataclass(frozen=True)
class CropCount:
    """What one crop's rows take.

    ``places`` are where plants, or hills, stand; ``plants`` what stands there in the end;
    ``to_raise`` the plants to raise for setting out, or the pieces to plant; ``seeds`` how many
    and ``seed_mass`` how much seed [kg]. None where it does not apply or is not known.
    """

    crop: str
    rows: int
    row_length_m: float
    places: int
    plants: Figure
    to_raise: Figure | None
    seeds: Figure | None
    seed_mass: Figure | None


@formula(
    "to raise = places x (1 + spare)",
    result=_COUNT,
    sources=_ARITHMETIC,
    example={"places": "200", "spare": "0.1"},
    places=_COUNT,
    spare=_COUNT,
)
def plants_to_raise(places: float, spare: float) -> float:
    """Plants to raise for so many places, some to spare [-], rounded up.

    Parameters
    ----------
    places : in the bed, 0 and up
    spare : share raised beyond them [-], 0 to 1

    Raises ValueError for an input outside its range.
    """
    not_negative(places=places)
    within(0, 1, spare=spare)
    return float(math.ceil(places * (1 + spare) - 1e-9))


@formula(
    "seeds = plants / germination",
    result=_COUNT,
    sources=_ARITHMETIC,
    example={"plants": "220", "germination": "0.75"},
    plants=_COUNT,
    germination=_COUNT,
)
def seeds_for_plants(plants: float, germination: float) -> float:
    """Seeds for so many plants [-], rounded up.

    Parameters
    ----------
    plants : to come up, 0 and up
    germination : share of the seeds that come up [-], above 0, at most 1

    Raises ValueError for an input outside its range.
    """
    not_negative(plants=plants)
    positive(germination=germination)
    within(0, 1, germination=germination)
    return float(math.ceil(plants / germination - 1e-9))


@formula(
    "seed = length of the rows x rate",
    result=("mass", "kg"),
    sources=_ARITHMETIC,
    example={"rows_m": "300 ft", "rate": "0.000465"},
    rows_m=("length", "m"),
    rate=("ratio", "-"),
)
def seed_of_rows(rows_m: float, rate: float) -> float:
    """Seed for rows sown thickly and thinned [kg].

    Parameters
    ----------
    rows_m : length of all rows [m], 0 and up
    rate : seed for each meter of row [kg/m], 0 and up

    Raises ValueError for an input outside its range.
    """
    not_negative(rows_m=rows_m, rate=rate)
    return rows_m * rate


@formula(
    "mass = seeds / seeds per gram",
    result=("mass", "kg"),
    sources=_ARITHMETIC,
    example={"seeds": "294", "per_gram": "350"},
    seeds=_COUNT,
    per_gram=_COUNT,
)
def seed_mass(seeds: float, per_gram: float) -> float:
    """Mass of so many seeds [kg].

    Parameters
    ----------
    seeds : 0 and up
    per_gram : seeds in a gram [1/g], more than 0

    Raises ValueError for an input outside its range.
    """
    not_negative(seeds=seeds)
    positive(per_gram=per_gram)
    return seeds / per_gram / 1000


def crop_count(crop: LayoutCrop, rows: Sequence[PlantRow], library: Library) -> CropCount:
    """Plants and seed for the rows of one crop."""
    length = sum(each.length_m for each in rows)
    places = sum(len(each.places) for each in rows)
    stands = Figure("places", float(places), "-", "computed", formula="places along the rows")
    plants = stands
    if crop.hills:
        each = _rule(library, "plants_each_hill")
        plants = Figure(
            "plants", places * each.value, "-", "computed", low=places * each.least,
            high=places * each.most, formula="hills x plants each", inputs=(stands, each),
        )  # fmt: skip
    raised = seeds = mass = None
    facts = crop.facts
    if crop.start == "set_out":
        raised = work(
            plants_to_raise, "to_raise", places=plants, spare=_rule(library, "transplant_spare")
        )
        if facts.germination is not None:
            seeds = work(seeds_for_plants, "seeds", plants=raised, germination=facts.germination)
    elif crop.start == "pieces":
        raised = stands.named("to_raise")
        if facts.seed_per_row is not None:
            mass = _mass_of_rows(length, facts.seed_per_row)
    elif facts.seed_per_row is not None and not crop.hills:
        mass = _mass_of_rows(length, facts.seed_per_row)
    else:
        each = _rule(library, "seeds_each_hill" if crop.hills else "seeds_each_place")
        seeds = Figure(
            "seeds", places * each.value, "-", "computed", low=places * each.least,
            high=places * each.most, formula="places x seeds each", inputs=(stands, each),
        )  # fmt: skip
    if mass is None and seeds is not None and facts.seeds_per_gram is not None:
        mass = work(seed_mass, "seed_mass", seeds=seeds, per_gram=facts.seeds_per_gram)
    return CropCount(crop.key, len(rows), length, places, plants, raised, seeds, mass)


def _mass_of_rows(length_m: float, rate: Figure) -> Figure:
    rows = Figure("rows_m", length_m, "m", "computed", formula="length of all rows")
    return work(seed_of_rows, "seed_mass", rows_m=rows, rate=rate)


def _rule(library: Library, rule: str) -> Figure:
    return layout_rule(library, rule, "1")


def layout_rule(library: Library, rule: str, unit: str) -> Figure:
    """A rule of ``layout_rules.csv`` in use. Raises LookupError for one that is not there."""
    from bedwright.reference.library import figure_of

    for row in library.rows("layout_rules"):
        if row["rule"] == rule and row.used:
            return figure_of(rule, row, unit)
    raise LookupError(f"layout_rules.csv holds no {rule!r} in use")
