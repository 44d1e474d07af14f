"""Soil reports from CSV: analyte, value, unit, extractant; a message for each unreadable row."""

from __future__ import annotations

import csv
import io
from pathlib import Path

from bedwright.garden.faults import Fault, GardenError
from bedwright.garden.results import ReadResult, ResultError, needs_method, read_result
from bedwright.reference import Library

COLUMNS = ("analyte", "value", "unit", "extractant")
_MOST_BYTES = 1_000_000


def read_text(path: Path, most_bytes: int, what: str) -> str:
    """The text of a UTF-8 file. Raises GardenError with one fault for a file that is no such."""
    name = str(path)
    try:
        size = path.stat().st_size
        if not path.is_file():
            raise GardenError([Fault(name, 0, "", f"this is not a file, so not a {what}")])
        if size > most_bytes:
            raise GardenError(
                [
                    Fault(
                        name,
                        0,
                        "",
                        f"the file has {size / 1e6:.0f} MB; a {what} has at most "
                        f"{most_bytes / 1e6:g} MB",
                    )
                ]
            )
        return path.read_bytes().decode("utf-8-sig")
    except GardenError:
        raise
    except FileNotFoundError:
        raise GardenError([Fault(name, 0, "", "there is no such file")]) from None
    except UnicodeDecodeError as error:
        line = path.read_bytes()[: error.start].count(b"\n") + 1
        raise GardenError(
            [Fault(name, line, "", "the file is not in UTF-8", "Save it again as UTF-8.")]
        ) from None
    except OSError as error:
        raise GardenError(
            [Fault(name, 0, "", f"the file cannot be read ({error.strerror})")]
        ) from None
    except ValueError:  # a NUL in the name
        raise GardenError([Fault(repr(name), 0, "", "this is not the name of a file")]) from None


def read_soil_csv(path: Path, library: Library) -> list[ReadResult]:
    """The results of a CSV report. Raises GardenError that lists every unreadable row."""
    text = read_text(path, _MOST_BYTES, "soil report")
    if "\0" in text:
        raise GardenError([Fault(str(path), 0, "", "the file holds binary data, not text")])
    reader = csv.reader(io.StringIO(text, newline=None))
    try:
        table = [(reader.line_num, cells) for cells in reader]
    except csv.Error as error:
        raise GardenError(
            [Fault(str(path), reader.line_num, "", f"this is not CSV: {error}")]
        ) from None
    header = tuple(cell.strip().lower() for cell in table[0][1]) if table else ()
    if header != COLUMNS:
        raise GardenError(
            [
                Fault(
                    str(path),
                    1,
                    "",
                    f"the columns are {', '.join(header) or 'missing'}",
                    f"They should be {', '.join(COLUMNS)}.",
                )
            ]
        )
    faults: list[Fault] = []
    results: list[ReadResult] = []
    for line, cells in table[1:]:
        if not any(cell.strip() for cell in cells):
            continue
        if len(cells) != len(COLUMNS):
            faults.append(
                Fault(
                    str(path),
                    line,
                    "",
                    f"the row has {len(cells)} cells",
                    f"It should have {len(COLUMNS)}.",
                )
            )
            continue
        analyte, value, unit, method = (cell.strip() for cell in cells)
        try:
            read = read_result(
                library, analyte, value, unit or None, method or None, f"{path.name} line {line}"
            )
            if not read.extractant and needs_method(library, read.analyte):
                raise ResultError(
                    "method",
                    f"{analyte} has no extractant",
                    "The same soil reads differently by each method.",
                )
            results.append(read)
        except ResultError as error:
            field = "extractant" if error.field == "method" else error.field
            faults.append(Fault(str(path), line, field, error.problem, error.remedy))
    if not results and not faults:
        faults.append(Fault(str(path), 0, "", "the report holds no results"))
    if faults:
        raise GardenError(faults)
    return results
