"""``bedwright book``: the season book, the whole plan on paper."""

from __future__ import annotations

import argparse
import sys
from pathlib import Path

from bedwright.cli.frame import DONE, command, garden_argument, language_argument, refuse

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


def book(given: argparse.Namespace) -> int:
    """Write the season book of a garden."""
    from bedwright.cli.common import loaded, no_folder, progress, solver_output_apart, write
    from bedwright.garden import GardenError
    from bedwright.language import using
    from bedwright.season import season_plan
    from bedwright.sheets.book import book_pdf
    from bedwright.sheets.paper import SheetError

    file = Path(given.out)
    if file.suffix.lower() != _SUFFIX or file.is_dir():
        return refuse(f"bedwright: {file} is not a PDF file; name one that ends in {_SUFFIX}")
    if code := no_folder(file):
        return code
    try:
        document, library, as_of = loaded(given)
        with solver_output_apart():
            plan = season_plan(document, library, as_of, ahead=False, progress=progress)
            plan.work_out(progress)
            with using(given.language):
                made = book_pdf(plan, paper=given.paper, lang=given.language)
    except GardenError as error:
        return refuse(str(error))
    except SheetError as error:
        return refuse(f"bedwright: the season book cannot be set: {error}")
    if code := write(file.parent, {file.name: made}):
        return code
    sys.stdout.write(f"{file}\n")
    return DONE
