"""All reference tables together, read when first asked for, with the gardener's own rows on top."""

from __future__ import annotations

import csv
import difflib
import re
from collections import defaultdict
from dataclasses import dataclass
from functools import cached_property

from bedwright.reference.tables import SOURCES, Row, TableError, read_rows, shipped
from bedwright.units.parse import unit_factor
from bedwright.working import Figure, Source

_FACT_TABLES = (
    ("material_facts", "material"),
    ("crop_facts", "crop"),
    ("crop_growing", "crop"),
    ("crop_water", "crop"),
)


class UnknownName(LookupError):
    """A word that a name table does not hold, with the nearest words that it does hold."""

    def __init__(self, what: str, word: str, nearest: tuple[str, ...]) -> None:
        self.what, self.word, self.nearest = what, word, nearest
        hint = f"; nearest: {', '.join(nearest)}" if nearest else ""
        super().__init__(f"{word!r} is not a known {what}{hint}")


@dataclass(frozen=True)
class SourceEntry:
    """One publication of ``sources.csv``."""

    source_id: str
    title: str
    authors: str
    publisher: str
    year: str
    kind: str
    read: str
    note: str

    def cite(self) -> str:
        """The source in one line."""
        parts = [self.authors, self.title, self.publisher, self.year]
        return ", ".join(part for part in parts if part)


@dataclass(frozen=True)
class OwnFact:
    """A fact that the garden document states and that outranks the tables' rows.

    ``figure`` is the fact with its working, in ``unit``, where it was worked from what is stated.
    """

    key: str
    property: str
    value: float
    unit: str
    where: str
    figure: Figure | None = None


@dataclass(frozen=True)
class OwnMaterial:
    """A material of the gardener's own: its name, what it behaves like, its organic status."""

    key: str
    like: str
    name: str | None = None
    organic_status: str | None = None


class Library:
    """The tables, each read once, under the gardener's own facts and materials."""

    def __init__(
        self, own: tuple[OwnFact, ...] = (), materials: tuple[OwnMaterial, ...] = ()
    ) -> None:
        self._own = {(fact.key, fact.property): fact for fact in own}
        self._materials = {each.key: each for each in materials}
        self._rows: dict[str, list[Row]] = {}
        self._name_keys: dict[str, dict[str, str]] = {}

    def with_own(self, own: tuple[OwnFact, ...], materials: tuple[OwnMaterial, ...]) -> Library:
        """The same tables (not read again) under a garden's own facts and materials."""
        library = Library(own, materials)
        library._rows, library._name_keys = self._rows, self._name_keys
        return library

    def base_of(self, key: str) -> str:
        """The table's material behind a key: the one that an own material is like, or itself."""
        own = self._materials.get(key)
        return own.like if own is not None else key

    def own_name(self, key: str) -> str | None:
        """The gardener's name for a material, if there is one."""
        own = self._materials.get(key)
        return own.name if own is not None else None

    def own_status(self, key: str) -> str | None:
        """The organic status that the gardener states, if any."""
        own = self._materials.get(key)
        return own.organic_status if own is not None else None

    @cached_property
    def sources(self) -> dict[str, SourceEntry]:
        """The publications by id."""
        reader = csv.reader(shipped("sources").splitlines())
        header = tuple(next(reader))
        if header != SOURCES:
            raise TableError([f"sources.csv line 1: columns are {header}, should be {SOURCES}"])
        entries = [SourceEntry(*cells) for cells in reader]
        seen: dict[str, SourceEntry] = {}
        for each in entries:
            if each.source_id in seen:
                raise TableError([f"sources.csv: {each.source_id!r} stands twice"])
            seen[each.source_id] = each
        return seen

    def rows(self, table: str) -> list[Row]:
        """Every row of a table. Raises TableError when it does not load."""
        if table not in self._rows:
            self._rows[table] = read_rows(table, shipped(table), frozenset(self.sources))
        return self._rows[table]

    def crop(self, key: str) -> Row:
        """The row of a crop: its name, kind and test group. Raises LookupError for another."""
        for row in self.rows("crops"):
            if row["crop"] == key:
                return row
        raise LookupError(f"crops.csv has no {key}")

    def parameter(self, key: str, unit: str) -> Figure:
        """A single constant of ``parameters.csv`` in ``unit``. Raises LookupError if absent."""
        for row in self.rows("parameters"):
            if row["parameter"] == key and row.used:
                return figure_of(key, row, unit)
        raise LookupError(f"parameters.csv holds no {key!r} in use")

    def fact(
        self, table: str, key: str, property_: str, unit: str, condition: str = ""
    ) -> Figure | None:
        """The fact in use on a material or crop, or None where nothing is known.

        A fact of the garden document outranks the tables. A row with an empty condition holds
        where no row of the condition asked for does.
        """
        own = self._own.get((key, property_))
        if own is not None and own.figure is not None and own.unit == unit:
            return own.figure
        if own is not None:
            value = _convert(own.value, own.unit, unit)
            return Figure(property_, value, unit, "stated", note=own.where)
        base = self.base_of(key) if table == "material_facts" else key
        rows = self._facts[table].get((base, property_), ())
        for wanted in dict.fromkeys((condition, "")):
            for row in rows:
                if row["condition"] == wanted and row.used:
                    return figure_of(property_, row, unit)
        return None

    def used_facts(self, table: str, key: str, property_: str) -> tuple[Row, ...]:
        """The rows in use on a fact, one for each of its conditions."""
        return tuple(row for row in self._facts[table].get((key, property_), ()) if row.used)

    def habits(self, crop: str) -> tuple[Row, ...]:
        """The rows in use of ``crop_habits.csv`` on a crop, in their order."""
        return self._habits.get(crop, ())

    def other_facts(self, table: str, key: str, property_: str) -> tuple[Row, ...]:
        """The rows on a fact that sources disagree about and that are not in use."""
        return tuple(row for row in self._facts[table].get((key, property_), ()) if not row.used)

    @cached_property
    def _facts(self) -> dict[str, dict[tuple[str, str], tuple[Row, ...]]]:
        indexed: dict[str, dict[tuple[str, str], tuple[Row, ...]]] = {}
        for table, key_column in _FACT_TABLES:
            grouped: dict[tuple[str, str], list[Row]] = defaultdict(list)
            for row in self.rows(table):
                grouped[(row[key_column], row["property"])].append(row)
            indexed[table] = {key: tuple(rows) for key, rows in grouped.items()}
        return indexed

    @cached_property
    def _habits(self) -> dict[str, tuple[Row, ...]]:
        grouped: dict[str, list[Row]] = defaultdict(list)
        for row in self.rows("crop_habits"):
            if row.used:
                grouped[row["crop"]].append(row)
        return {crop: tuple(rows) for crop, rows in grouped.items()}

    def resolve(self, names_table: str, what: str, phrase: str) -> str:
        """The key that a phrase stands for. Raises UnknownName with the nearest phrases."""
        names = self._names(names_table)
        found = names.get(fold(phrase))
        if found is not None:
            return found
        near = difflib.get_close_matches(fold(phrase), list(names), n=5, cutoff=0.5)
        raise UnknownName(what, phrase, tuple(dict.fromkeys(near)))

    def _names(self, names_table: str) -> dict[str, str]:
        if names_table not in self._name_keys:
            key_column = names_table.removesuffix("_names")
            names = {fold(row["phrase"]): row[key_column] for row in self.rows(names_table)}
            for row in self.rows(f"{key_column}s"):
                names.setdefault(fold(row[key_column]), row[key_column])
                names.setdefault(fold(row["name"]), row[key_column])
            self._name_keys[names_table] = names
        return self._name_keys[names_table]


def fold(phrase: str) -> str:
    """A phrase as names are compared: lower case, single spaces, underscores as spaces."""
    return re.sub(r"[\s_]+", " ", phrase).strip().lower()


def texture_key(words: str) -> str:
    """A texture's words as the key of ``textures.csv``: ``Silt-loam`` is silt_loam."""
    return "_".join(words.lower().replace("-", " ").replace("_", " ").split())


def _convert(value: float, from_unit: str, to_unit: str) -> float:
    """Between units of one dimension, without naming the kind. Raises ValueError otherwise."""
    if from_unit == to_unit or {from_unit, to_unit} <= {"-", "fraction"}:
        return value
    factor, dimension = unit_factor(from_unit)
    wanted_factor, wanted = unit_factor(to_unit)
    if dimension != wanted:
        raise ValueError(f"{from_unit!r} cannot be turned into {to_unit!r}")
    return value * factor / wanted_factor


def figure_of(name: str, row: Row, unit: str) -> Figure:
    """A row's low, typical and high as a figure in ``unit``, with its source."""
    given = row.words.get("unit", "-")  # a table of shares has no unit column

    def turned(column: str) -> float | None:
        value = row.number(column)
        return None if value is None else _convert(value, given, unit)

    source = row.source
    if row.number("typical") is None:
        both = row.number("low") is not None and row.number("high") is not None
        how = "middle of the range" if both else "the one end that is stated"
        source = Source(source.source_id, source.place, f"{how}; {source.note}")
    return Figure(
        name=name,
        value=_convert(row.typical(), given, unit),
        unit=unit,
        origin="table",
        low=turned("low"),
        high=turned("high"),
        sources=(source,),
    )


__all__ = ["Library", "OwnFact", "OwnMaterial", "SourceEntry", "UnknownName", "fold"]
