"""The tables of a garden document as CSV, one for each, for a spreadsheet; as the text says it."""

from __future__ import annotations

import csv
import io
import tomllib
from collections.abc import Iterator
from datetime import date
from typing import Any

Row = dict[str, str]
# A spreadsheet takes a cell that begins so for a formula: such a cell is written with a quote.
_FORMULA = ("=", "+", "-", "@", "\t", "\r", "'")


def csv_tables(text: str) -> dict[str, str]:
    """CSV texts by the name of their table.

    ``bed`` has a row for each [[bed]]; a table within a table, as what was ``applied`` in a
    ``history``, has one of its own, ``history.applied``, whose rows name the row that they
    belong to and its id, bed, year or crop. Raises tomllib.TOMLDecodeError.
    """
    found: dict[str, list[Row]] = {}
    document = tomllib.loads(text)
    single = {key: value for key, value in document.items() if not _table(value)}
    if single:
        found["document"] = [dict(_cells(single))]
    for name, value in document.items():
        if _table(value):
            _gather(name, value if isinstance(value, list) else [value], {}, found)
    return {name: _written(rows) for name, rows in sorted(found.items()) if rows}


def _gather(name: str, items: list[Any], of: Row, found: dict[str, list[Row]]) -> None:
    rows = found.setdefault(name, [])
    for at, item in enumerate(items, 1):
        rows.append({**of, **dict(_cells({k: v for k, v in item.items() if not _tables(v)}))})
        known = {f"of {each}": _cell(item[each]) for each in ("id", "bed", "year", "crop", "name")
                 if each in item and not _table(item[each])}  # fmt: skip
        for key, value in item.items():
            if _tables(value):
                _gather(f"{name}.{key}", value, {"of row": str(at), **known}, found)


def _cells(item: dict[str, Any], before: str = "") -> Iterator[tuple[str, str]]:
    for key, value in item.items():
        if isinstance(value, dict):
            yield from _cells(value, f"{before}{key}.")
        else:
            yield before + key, _cell(value)


def _cell(value: Any) -> str:
    if isinstance(value, list):
        parts = (f"({', '.join(map(_cell, each))})" if isinstance(each, list) else _cell(each)
                 for each in value)  # fmt: skip
        text = "; ".join(parts)
    elif isinstance(value, bool):
        text = "true" if value else "false"
    elif isinstance(value, int | float):
        return repr(value)
    elif isinstance(value, date):
        text = value.isoformat()
    elif isinstance(value, dict):
        text = ", ".join(f"{key} = {_cell(each)}" for key, each in value.items())
    else:
        text = str(value)
    return f"'{text}" if text.startswith(_FORMULA) else text


def _table(value: Any) -> bool:
    return isinstance(value, dict) or _tables(value)


def _tables(value: Any) -> bool:
    return isinstance(value, list) and bool(value) and all(isinstance(v, dict) for v in value)


def _written(rows: list[Row]) -> str:
    columns = list(dict.fromkeys(name for row in rows for name in row))
    stream = io.StringIO()
    writer = csv.DictWriter(stream, columns, lineterminator="\r\n")
    writer.writeheader()
    writer.writerows(rows)
    return stream.getvalue()
