"""The record of the beds as a table (CSV): amounts as written, and in kilograms beside it."""

from __future__ import annotations

import csv
import io

from bedwright.language import named
from bedwright.reports.bed_record.model import GardenRecord, RecordLine
from bedwright.reports.words_record import ACTS, GRADES, RECORD

COLUMNS = (
    "bed", "part", "day", "year", "act", "what", "own_name", "as_written", "amount", "mass_kg",
    "count", "of", "grade", "days_to_feeding", "days_to_picking", "holds_pickings", "note",
    "source", "entry",
)  # fmt: skip
# A spreadsheet takes a cell that begins so for a formula: such cells are written with a quote.
_FORMULA = ("=", "+", "-", "@", "\t", "\r", "\n", "'")


def record_csv(record: GardenRecord, bed: str | None = None) -> str:
    """One row for each act, of all beds or of one; days as 2027-05-10, lines ended by CR LF.

    The columns' names are the same in every language; acts and names are in that of the moment.
    """
    stream = io.StringIO()
    writer = csv.DictWriter(stream, COLUMNS, lineterminator="\r\n")
    writer.writeheader()
    for each in record.beds:
        if bed in (None, each.bed):
            for line in each.lines:
                writer.writerow({key: _safe(cell) for key, cell in _row(line).items()})
    return stream.getvalue()


def _row(line: RecordLine) -> dict[str, str | int | float | None]:
    grazing, harvest = (None, None) if line.label_days is None else line.label_days
    return {
        "bed": line.bed,
        "part": line.part,
        "day": None if line.on is None else line.on.isoformat(),
        "year": line.year,
        "act": ACTS[f"did_{line.act}"],
        "what": named(line.name).lower(),
        "own_name": line.own_name,
        "as_written": line.written,
        "amount": line.amount,
        "mass_kg": None if line.kg is None else round(line.kg, 4),
        "count": line.count,
        "of": line.unit,
        "grade": GRADES[line.grade] if line.grade else "",
        "days_to_feeding": grazing,
        "days_to_picking": harvest,
        "holds_pickings": "yes" if line.holds_pickings else "",
        "note": line.note,
        "source": RECORD[f"from_{line.source}"],
        "entry": line.entry,
    }


def _safe(cell: str | int | float | None) -> str:
    """A cell that no spreadsheet works out: numbers as they are, texts never as a formula."""
    if cell is None:
        return ""
    if isinstance(cell, int | float):
        return repr(cell)
    text = "".join(each if each.isprintable() or each == "\n" else " " for each in cell)
    return f"'{text}" if text.lstrip().startswith(_FORMULA) else text
