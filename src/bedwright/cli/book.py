"""``bedwright book``: the season book, the whole plan on paper."""

from __future__ import annotations

import argparse
import sys
from pathlib import Path

from bedwright.cli.frame import Refused, command, garden_argument, language_argument

_SUFFIX = ".pdf"


def add_book(commands: object) -> None:
    """Register ``book``."""
    book = command(
        commands,
        "book",
        "the season book: garden, calendar, harvest, bed sheets, purchases, sources, as one PDF",
        "bedwright book garden.toml --out season-book.pdf --paper a4",
    )
    garden_argument(book)
    book.add_argument(
        "--out", metavar="FILE.pdf", required=True, help="where it goes, whole or not at all"
    )
    book.add_argument("--paper", choices=("letter", "a4"), default="letter")
    language_argument(book)


def book(given: argparse.Namespace) -> None:
    """Write the season book of a garden."""
    from bedwright.cli.common import planned, progress, read_garden, require_folder_of, write
    from bedwright.cli.outputs import book_of
    from bedwright.language import using

    file = Path(given.out)
    if file.suffix.lower() != _SUFFIX or file.is_dir():
        raise Refused(f"bedwright: {file} is not a PDF file; name one that ends in {_SUFFIX}")
    require_folder_of(file)
    with planned(*read_garden(given)) as plan:
        plan.work_out(progress)
        with using(given.language):
            made = book_of(plan, given.paper)
    write(file.parent, {file.name: made})
    sys.stdout.write(f"{file}\n")
