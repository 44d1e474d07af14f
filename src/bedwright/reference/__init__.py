"""The reference tables: sourced facts in CSV files, and their loaders."""

from bedwright.reference.library import Library, OwnFact, OwnMaterial, SourceEntry, UnknownName
from bedwright.reference.tables import Row, TableError

__all__ = ["Library", "OwnFact", "OwnMaterial", "Row", "SourceEntry", "TableError", "UnknownName"]
