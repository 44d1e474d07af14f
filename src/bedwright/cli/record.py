"""``bedwright record``: what was put on each bed, sown and picked, by day."""

from __future__ import annotations

import argparse
import sys
from pathlib import Path

from bedwright.cli.frame import bed_argument, command, garden_argument, language_argument


def add_record(commands: object) -> None:
    """Register ``record``."""
    record = command(
        commands,
        "record",
        "what was put on each bed, sown, picked and cleared, for an inspector or a buyer",
        "bedwright record garden.toml --journal entries.json --bed R1 --format csv",
    )
    garden_argument(record)
    bed_argument(record)
    record.add_argument(
        "--journal",
        metavar="FILE",
        help="the journal as the site gives it out, entries.csv or entries.json; without it the "
        "garden document alone is told",
    )
    record.add_argument("--format", choices=("text", "csv"), default="text")
    record.add_argument("--out", metavar="FILE", help="where it goes (default: it is printed)")
    language_argument(record)


def record(given: argparse.Namespace) -> None:
    """Print or write the record of the beds."""
    from bedwright.cli.common import read_garden, require_beds, require_folder_of, write
    from bedwright.cli.journal import read_journal
    from bedwright.language import using
    from bedwright.planning.own import library_of
    from bedwright.reports.bed_record.gather import garden_record
    from bedwright.reports.bed_record.table import record_csv
    from bedwright.reports.bed_record.text import record_text

    document, library, as_of = read_garden(given)
    require_beds(document, given.bed)
    entries = read_journal(given.journal)
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
        return
    file = Path(given.out)
    require_folder_of(file)
    write(file.parent, {file.name: text})
