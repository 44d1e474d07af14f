"""What a crop needs of room, light and seed, and what it leaves, as the tables give it.

Every number is a figure with its source, in SI; None where no table says.
"""

from __future__ import annotations

from dataclasses import dataclass

from bedwright.reference import Library
from bedwright.reference.library import figure_of
from bedwright.working import Figure

_LIGHT = "mol/m2/d"
# property of crop_growing.csv -> the unit of the figure
_UNITS = {
    "spacing_in_row": "m",
    "spacing_between_rows": "m",
    "spacing_equidistant": "m",
    "sowing_depth": "m",
    "height": "m",
    "trellised_height": "m",
    "spread": "m",
    "root_depth": "m",
    "daily_light_need": _LIGHT,
    "sun_hours_need": "h",
    "seeds_per_gram": "1/g",
    "seed_per_row": "kg/m",
    "seed_rate": "kg/m2",
    "germination": "-",
    "saleable_share": "-",
    "residue_share": "kg/kg",
    "residue_c_to_n": "-",
    "residue_n": "kg/kg",
    "dry_matter": "-",
    "light_extinction": "-",
    "row_yield": "kg/m",
    "row_pieces": "1/m",
    "cover_dry_mass": "kg/m2",
}
_WORDS = (
    "feeding",
    "root_class",
    "part",
    "light",
    "heat_class",
    "trellis",
    "life",
    "unit_of_sale",
    "cover_season",
)
STOCK = ("ducks", "chickens", "rabbits", "goats")


@dataclass(frozen=True)
class Growing:
    """The facts of one crop: lengths [m], light [mol/m2/d] and sun [h], seed, residue, words.

    ``seeds_per_gram`` [1/g]; ``seed_per_row`` [kg/m]; ``seed_rate`` [kg/m2] of a broadcast cover;
    ``germination`` the legal minimum of labelled seed [-]; ``row_yield`` [kg/m], or ``row_pieces``
    [1/m] where a chart counts heads; ``unit_mass`` by unit of sale [kg]; ``residue_share`` the dry
    residue left for each fresh mass picked [kg/kg]; ``residue_n`` the nitrogen of the dry residue
    [kg/kg]; ``dry_matter`` of the part picked [-]; ``cover_dry_mass`` what a cover crop leaves
    [kg/m2]. Words are those of
    ``crop_habits.csv``, "" where not known; ``residue_fit`` and ``residue_unfit`` are the stock
    that may and may not be given the residue: stock that is in neither is not known.
    """

    crop: str
    spacing_in_row: Figure | None
    spacing_between_rows: Figure | None
    spacing_equidistant: Figure | None
    sowing_depth: Figure | None
    height: Figure | None
    trellised_height: Figure | None
    spread: Figure | None
    root_depth: Figure | None
    daily_light_need: Figure | None
    sun_hours_need: Figure | None
    seeds_per_gram: Figure | None
    seed_per_row: Figure | None
    seed_rate: Figure | None
    germination: Figure | None
    saleable_share: Figure | None
    residue_share: Figure | None
    residue_c_to_n: Figure | None
    residue_n: Figure | None
    dry_matter: Figure | None
    light_extinction: Figure | None
    row_yield: Figure | None
    row_pieces: Figure | None
    cover_dry_mass: Figure | None
    unit_mass: dict[str, Figure]
    feeding: str
    root_class: str
    part: str
    light: str
    heat_class: str
    trellis: str
    life: str
    unit_of_sale: str
    cover_season: str
    residue_fit: frozenset[str]
    residue_unfit: frozenset[str]


def growing(library: Library, crop: str) -> Growing:
    """The growing facts of a crop in use, the gardener's own before those of the tables.

    Raises LookupError for a key that ``crops.csv`` does not hold.
    """
    library.crop(crop)
    figures = {
        name: library.fact("crop_growing", crop, name, unit) for name, unit in _UNITS.items()
    }
    habits = library.habits(crop)
    words = dict.fromkeys(_WORDS, "")
    words |= {row["property"]: row["word"] for row in habits if row["property"] in words}
    masses = {
        row["condition"]: figure_of(row["condition"], row, "kg")
        for row in library.used_facts("crop_growing", crop, "unit_mass")
    }

    def stock(fitness: str) -> frozenset[str]:
        return frozenset(row["word"] for row in habits if row["property"] == fitness)

    return Growing(
        crop=crop,
        unit_mass=masses,
        residue_fit=stock("residue_fit"),
        residue_unfit=stock("residue_unfit"),
        **figures,  # type: ignore[arg-type]
        **words,  # type: ignore[arg-type]
    )
