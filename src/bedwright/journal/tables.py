"""Entries as tables: CSV and JSON out, and in again without a loss."""

from __future__ import annotations

import csv
import io
import json
from collections.abc import Iterable
from typing import Any

Row = dict[str, Any]
# What every row begins with; the fields of the kinds follow in the order of the alphabet.
FIRST = ("id", "kind", "on", "bed", "revision", "made_at", "made_by", "undone_at")
_WHOLE = frozenset({"count", "revision"})
_NUMBERS = frozenset({"hours"})
_LISTS = frozenset({"results", "photographs"})
# A spreadsheet takes a cell that begins so for a formula: such cells are written with a quote.
_FORMULA = ("=", "+", "-", "@", "\t", "\r", "'")


class TableError(ValueError):
    """A table that can't be read as entries: the line (0 where none is known) and why."""

    def __init__(self, line: int, problem: str) -> None:
        self.line, self.problem = line, problem
        super().__init__(f"line {line}: {problem}" if line else problem)


def to_csv(rows: Iterable[Row]) -> str:
    """Rows as CSV, one column for each field that any of them has."""
    listed = list(rows)
    more = sorted({name for row in listed for name in row} - set(FIRST))
    stream = io.StringIO()
    writer = csv.DictWriter(stream, [*FIRST, *more], lineterminator="\r\n")
    writer.writeheader()
    for row in listed:
        writer.writerow({name: _cell(name, value) for name, value in row.items()})
    return stream.getvalue()


def from_csv(text: str) -> list[Row]:
    """The rows of :func:`to_csv`. Raises TableError."""
    rows: list[Row] = []
    try:
        reader = csv.DictReader(io.StringIO(text.removeprefix("\ufeff"), newline=""), strict=True)
        if not {"id", "kind", "on"} <= set(reader.fieldnames or ()):
            raise TableError(1, "the columns id, kind and on are needed")
        for cells in reader:
            if None in cells or None in cells.values():
                raise TableError(reader.line_num, "the line has more or fewer cells than columns")
            rows.append(
                {name: _value(name, cell, reader.line_num) for name, cell in cells.items() if cell}
            )
    except csv.Error as error:
        raise TableError(0, f"this is not CSV: {error}") from None
    return rows


def to_json(entries: Iterable[Row], history: Iterable[Row] = ()) -> str:
    """Entries and the history of their changes as one JSON text."""
    found = {"journal": 1, "entries": list(entries), "history": list(history)}
    return json.dumps(found, ensure_ascii=False, indent=1) + "\n"


def from_json(text: str) -> tuple[list[Row], list[Row]]:
    """Entries and history of :func:`to_json`. Raises TableError."""
    try:
        found = json.loads(text)
    except (ValueError, RecursionError):
        raise TableError(0, "this is not JSON") from None
    if not isinstance(found, dict) or found.get("journal") != 1:
        raise TableError(0, "this is no journal of bedwright, or of a later version")
    parts = [found.get("entries"), found.get("history", [])]
    for part in parts:
        if not isinstance(part, list) or not all(isinstance(each, dict) for each in part):
            raise TableError(0, "its entries or its history are no lists of entries")
    return parts[0], parts[1]


def _cell(name: str, value: Any) -> str:
    if value is None:
        return ""
    if name in _LISTS:
        return json.dumps(value, ensure_ascii=False)
    if name in _WHOLE | _NUMBERS:
        return repr(value)
    text = str(value)
    return f"'{text}" if text.startswith(_FORMULA) else text


def _value(name: str, cell: str, line: int) -> Any:
    try:
        if name in _LISTS:
            return json.loads(cell)
        if name in _WHOLE:
            return int(cell)
        if name in _NUMBERS:
            return float(cell)
    except (ValueError, RecursionError):
        raise TableError(line, f"{cell[:40]!r} cannot stand under {name}") from None
    return cell[1:] if cell.startswith("'") else cell
