"""``bedwright record``: what was put on each bed, sown and picked, by day."""

from __future__ import annotations

import argparse
import sys
from pathlib import Path
from typing import TYPE_CHECKING

from bedwright.cli.frame import DONE, command, garden_argument, language_argument, refuse

if TYPE_CHECKING:
    from bedwright.journal import Entry

# What the site knows of an entry beside the entry itself.
_OF_THE_SITE = frozenset({"revision", "made_at", "made_by", "undone_at"})


def add_record(commands: object) -> None:
    """Register ``record``."""
    record = command(
        commands,
        "record",
        "what was put on each bed, sown, picked and cleared, for an inspector or a buyer",
        "bedwright record garden.toml --journal entries.json --bed R1 --format csv",
    )
    garden_argument(record)
    record.add_argument("--bed", metavar="ID", help="this bed alone")
    record.add_argument(
        "--journal",
        metavar="FILE",
        help="the journal as the site gives it out, entries.csv or entries.json; without it the "
        "garden document alone is told",
    )
    record.add_argument("--format", choices=("text", "csv"), default="text")
    record.add_argument("--out", metavar="FILE", help="where it goes (default: it is printed)")
    language_argument(record)


def record(given: argparse.Namespace) -> int:
    """Print or write the record of the beds."""
    from bedwright.cli.common import loaded, no_folder, unknown_bed, write
    from bedwright.garden import GardenError
    from bedwright.journal.tables import TableError
    from bedwright.language import using
    from bedwright.planning.own import library_of
    from bedwright.reports.bed_record.gather import garden_record
    from bedwright.reports.bed_record.table import record_csv
    from bedwright.reports.bed_record.text import record_text

    try:
        document, library, as_of = loaded(given)
    except GardenError as error:
        return refuse(str(error))
    if code := unknown_bed(given, document):
        return code
    try:
        entries = [] if given.journal is None else journal_entries(Path(given.journal))
    except (TableError, UnicodeDecodeError) as error:
        return refuse(f"bedwright: {given.journal} cannot be read as a journal: {error}")
    except OSError as error:
        return refuse(f"bedwright: {given.journal} cannot be read ({error.strerror})")
    own = library_of(document, library)
    found = garden_record(document, own, as_of, entries)
    place = document.garden.garden
    with using(given.language):
        if given.format == "csv":
            text = record_csv(found, given.bed)
        else:
            text = record_text(found, place.name, place.units, own, given.bed)
    if given.out is None:
        sys.stdout.write(text)
        return DONE
    file = Path(given.out)
    return no_folder(file) or write(file.parent, {file.name: text})


def journal_entries(file: Path) -> list[Entry]:
    """The entries of a journal's file that were not taken back. Raises TableError, OSError."""
    from bedwright.journal import EntryError, read_entry
    from bedwright.journal.tables import TableError, from_csv, from_json

    text = file.read_bytes().decode("utf-8")
    rows = from_json(text)[0] if file.suffix.lower() == ".json" else from_csv(text)
    found = []
    for at, row in enumerate(rows, 1):
        if row.get("undone_at"):
            continue
        plain = {key: each for key, each in row.items() if key not in _OF_THE_SITE}
        try:
            found.append(read_entry(plain))
        except EntryError as error:
            raise TableError(0, f"entry {at}: {error}") from None
    return found
