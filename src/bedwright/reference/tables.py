"""Reading one reference table: CSV in, checked rows out, all faults in one message."""

from __future__ import annotations

import csv
import math
from dataclasses import dataclass
from importlib import resources
from pathlib import Path

from bedwright.units import UnitError, to_si
from bedwright.working import Source

SOURCE_COLUMNS = ("source_id", "place", "note")

# docs/tables.md shows these columns; a test compares the two.
COLUMNS: dict[str, tuple[str, ...]] = {
    "materials": ("material", "name", "kind", "form", "measure", "timing", "organic_status",
                  "organic_section"),
    "material_facts": ("material", "property", "condition", "low", "typical", "high", "unit",
                       "use"),
    "material_cautions": ("material", "caution"),
    "material_names": ("phrase", "material"),
    "crops": ("crop", "name", "family", "kind", "test_group"),
    "crop_facts": ("crop", "property", "condition", "low", "typical", "high", "unit", "use"),
    "crop_names": ("phrase", "crop"),
    "analytes": ("analyte", "name", "form", "quantity", "class_unit"),
    "analyte_names": ("phrase", "analyte"),
    "extractants": ("extractant", "name", "analytes"),
    "extractant_names": ("phrase", "extractant"),
    "soil_classes": ("table_id", "analyte", "extractant", "test_group", "class", "supply", "lower",
                     "upper", "unit", "use"),
    "nutrient_rates": ("table_id", "nutrient", "extractant", "test_group", "supply", "low",
                       "typical", "high", "unit", "use"),
    "screening_levels": ("analyte", "level", "lower", "upper", "unit", "action", "use"),
    "water_classes": ("scheme", "analyte", "class", "lower", "upper", "unit", "use"),
    "textures": ("texture", "name", "group", "property", "low", "typical", "high", "unit", "use"),
    "lime_buffer": ("method", "reading", "target_ph", "rate", "unit", "depth", "use"),
    "lime_texture": ("scheme", "texture_group", "from_ph", "to_ph", "rate", "unit", "use"),
    "lime_fineness": ("scheme", "coarser_than_mesh", "finer_than_mesh", "efficiency", "use"),
    "sulfur_rates": ("scheme", "texture_group", "from_ph", "to_ph", "low", "typical", "high",
                     "unit", "use"),
    "extract_conversions": ("extract", "texture_group", "form", "slope", "intercept", "use"),
    "saturation_water": ("texture", "humus_low", "humus_high", "water", "unit", "use"),
    "salinity_classes": ("scheme", "property", "class", "lower", "upper", "unit", "use"),
    "decay_series": ("series", "applies_to", "year", "low", "typical", "high", "basis", "use"),
    "label_rates": ("material", "low", "typical", "high", "unit", "per", "assumes"),
    "compost_feedstocks": ("feedstock", "name", "kind", "property", "low", "typical", "high",
                           "unit", "use"),
    "compost_limits": ("scheme", "property", "verdict", "lower", "upper", "unit", "use"),
    "soil_contact": ("crop", "contact"),
    "release_pools": ("release_class", "applies_to", "parameter", "low", "typical", "high", "unit",
                      "use"),
    "ammonia_loss": ("loss_class", "applies_to", "placement", "condition", "low", "typical",
                     "high", "unit", "use"),
    "nitrogen_uptake": ("uptake_class", "applies_to", "season_share", "low", "typical", "high",
                        "unit", "use"),
    "season_lengths": ("crop", "low", "typical", "high", "unit", "use"),
    "sun_terms": ("series", "power", "wave", "amplitude", "amplitude_unit", "phase", "rate",
                  "argument_unit", "use"),
    "delta_t": ("year", "typical", "unit", "use"),
    "work_rest": ("air_f", "workload", "advice", "work_min", "rest_min", "use"),
    "weather_limits": ("check", "element", "low", "typical", "high", "unit", "use"),
    "weather_services": ("service", "property", "value"),
    "weather_generator": ("parameter", "variable", "other", "typical", "unit", "use"),
    "crop_timing": ("crop", "property", "condition", "low", "typical", "high", "unit", "use"),
    "crop_habits": ("crop", "property", "word", "use"),
    "crop_growing": ("crop", "property", "condition", "low", "typical", "high", "unit", "use"),
    "family_names": ("phrase", "family"),
    "soil_borne": ("problem", "name", "kind", "agent"),
    "soil_borne_hosts": ("problem", "host_kind", "host", "relation", "use"),
    "soil_borne_years": ("problem", "host", "low", "typical", "high", "unit", "use", "ban"),
    "emergence": ("crop", "temperature", "temperature_unit", "property", "low", "typical", "high",
                  "unit", "use"),
    "fruit_set_responses": ("response", "applies_to", "driver", "parameter", "low", "typical",
                            "high", "unit", "use"),
    "protection": ("protection", "property", "condition", "low", "typical", "high", "unit", "use"),
    "pairings": ("crop_a", "crop_b", "condition", "finding", "lower", "upper", "use"),
    "trellis_parts": ("part", "property", "condition", "low", "typical", "high", "unit", "use"),
    "layout_rules": ("rule", "low", "typical", "high", "unit", "use"),
    "crop_water": ("crop", "property", "condition", "low", "typical", "high", "unit", "use"),
    "crop_heat": ("crop", "harm", "stage", "driver", "low", "typical", "high", "unit", "use"),
    "shade_cloth": ("trial", "applies_to", "outcome", "effect", "low", "typical", "high", "unit",
                    "use"),
    "summer_measures": ("measure", "property", "condition", "low", "typical", "high", "unit",
                        "use"),
    "heat_at_work": ("property", "condition", "low", "typical", "high", "unit", "use"),
    "soil_water": ("texture", "property", "low", "typical", "high", "unit", "use"),
    "labor": ("task", "condition", "per", "low", "typical", "high", "unit", "use"),
    "work_tasks": ("task", "workload"),
    "work_rules": ("task", "rule", "low", "typical", "high", "unit", "use"),
    "work_tools": ("task", "condition", "thing"),
    "work_cautions": ("caution", "task", "applies"),
    "work_lifts": ("situation", "property", "low", "typical", "high", "unit", "use"),
    "turnover_moves": ("crop", "moves", "use"),
    "turnover_root_balls": ("kind", "lower", "upper", "measure_unit", "typical", "unit", "use"),
    "turnover_rules": ("rule", "low", "typical", "high", "unit", "use"),
    "turnover_holds": ("crop", "low", "typical", "high", "unit", "use"),
    "turnover_dangers": ("crop", "danger", "stock", "use"),
    "parameters": ("parameter", "low", "typical", "high", "unit", "use"),
}  # fmt: skip
SOURCES = ("source_id", "title", "authors", "publisher", "year", "kind", "read", "note")

_NUMBERS = frozenset(
    "low typical high lower upper rate reading target_ph from_ph to_ph efficiency slope intercept"
    " humus_low humus_high water season_share amplitude phase power temperature".split()
)
_RANGE = ("low", "typical", "high")


class TableError(ValueError):
    """A reference table that does not load: every fault, with file and line."""

    def __init__(self, faults: list[str]) -> None:
        self.faults = tuple(faults)
        super().__init__("\n".join(faults))


@dataclass(frozen=True)
class Row:
    """One row: its words, its numbers (absent where the cell is empty) and its source."""

    line: int
    words: dict[str, str]
    numbers: dict[str, float]
    source: Source

    def __getitem__(self, column: str) -> str:
        return self.words[column]

    @property
    def used(self) -> bool:
        """Whether this row is the one in use where sources disagree."""
        return self.words.get("use") == "yes"

    def number(self, column: str) -> float | None:
        """The number in a column, or None where the table leaves it open."""
        return self.numbers.get(column)

    def typical(self) -> float:
        """The typical value; else the middle of low and high, or the one end that is stated."""
        if "typical" in self.numbers:
            return self.numbers["typical"]
        ends = [self.numbers[column] for column in ("low", "high") if column in self.numbers]
        return sum(ends) / len(ends)

    def in_kind(self, value: float, kind: str) -> float:
        """``value`` of this row's unit in the SI unit of ``kind``."""
        return to_si(value, self.words["unit"], kind)


def shipped(table: str) -> str:
    """The text of a table that comes with the package."""
    file = resources.files("bedwright.reference").joinpath("tables", f"{table}.csv")
    return file.read_text(encoding="utf-8")


def read_rows(table: str, text: str, known_sources: frozenset[str]) -> list[Row]:
    """The rows of one table. Raises TableError that lists every fault with its line."""
    columns = COLUMNS[table] + SOURCE_COLUMNS
    faults: list[str] = []
    rows: list[Row] = []
    reader = csv.reader(text.splitlines())
    header = tuple(next(reader, ()))
    if header != columns:
        raise TableError([f"{table}.csv line 1: columns are {header}, should be {columns}"])
    for cells in reader:
        where = f"{table}.csv line {reader.line_num}"
        if len(cells) != len(columns):
            faults.append(f"{where}: {len(cells)} cells, should be {len(columns)}")
            continue
        words = {column: cell.strip() for column, cell in zip(columns, cells, strict=True)}
        numbers = _numbers(words, where, faults)
        if words["source_id"] not in known_sources:
            faults.append(f"{where}: source {words['source_id']!r} is not in sources.csv")
        source = Source(words["source_id"], words["place"], words["note"])
        rows.append(Row(reader.line_num, words, numbers, source))
    if faults:
        raise TableError(faults)
    return rows


def _numbers(words: dict[str, str], where: str, faults: list[str]) -> dict[str, float]:
    numbers: dict[str, float] = {}
    for column, cell in words.items():
        if column not in _NUMBERS or not cell:
            continue
        try:
            value = float(cell)
        except ValueError:
            faults.append(f"{where}: {column} {cell!r} is not a number")
            continue
        if not math.isfinite(value):
            faults.append(f"{where}: {column} is not finite")
        numbers[column] = value
    ends = [numbers[column] for column in _RANGE if column in numbers]
    if ends != sorted(ends):
        faults.append(f"{where}: low, typical and high are not in order: {ends}")
    if set(_RANGE) <= words.keys() and not ends:
        faults.append(f"{where}: no value")
    return numbers


def check_unit(row: Row, kind: str, table: str) -> None:
    """Raise TableError when a row's unit is not one of ``kind``."""
    try:
        to_si(1.0, row["unit"], kind)
    except UnitError as error:
        raise TableError([f"{table}.csv line {row.line}: {error}"]) from error


def tables_folder() -> Path:
    """The folder of the shipped tables, for the tools that make docs from them."""
    return Path(str(resources.files("bedwright.reference").joinpath("tables")))
