"""``bedwright sheets``: the printed sheet of each bed, for the clipboard."""

from __future__ import annotations

import argparse
import sys
from pathlib import Path
from typing import TYPE_CHECKING

from bedwright.cli.frame import Refused, bed_argument, command, garden_argument, language_argument

if TYPE_CHECKING:
    from bedwright.season import SeasonPlan


def add_sheets(commands: object) -> None:
    """Register ``sheets``."""
    sheets = command(
        commands,
        "sheets",
        "a printed page for each bed: what to spread, in what order, by which day",
        "bedwright sheets garden.toml --out sheets --paper a4",
    )
    garden_argument(sheets)
    sheets.add_argument(
        "--out",
        metavar="DIR",
        required=True,
        help="where the sheets go: one PDF a bed, and sheets.pdf with all",
    )
    bed_argument(sheets)
    sheets.add_argument("--paper", choices=("letter", "a4"), default="letter")
    language_argument(sheets)
    sheets.add_argument(
        "--address",
        metavar="URL",
        help="address of your garden's pages: each sheet bears a code that leads to its bed",
    )


def sheets(given: argparse.Namespace) -> None:
    """Print the sheets of a garden's beds, or of one."""
    from bedwright.cli.common import planned, read_garden, require_beds
    from bedwright.sheets.paper import bed_address

    try:
        if given.address is not None:
            bed_address(given.address, "")
    except ValueError as error:
        raise Refused(f"bedwright: {error}; write it like http://localhost:8477") from None
    document, library, as_of = read_garden(given)
    require_beds(document, given.bed)
    with planned(document, library, as_of, only=given.bed) as made:
        if not made.beds:
            which = "any bed" if given.bed is None else f"bed {given.bed}"
            raise Refused(f"bedwright: no crop is wanted for {which}; add it to a [[want]]")
    _print(made, Path(given.out), given.paper, given.address, given.language)


def _print(made: SeasonPlan, folder: Path, paper: str, address: str | None, language: str) -> None:
    """Set the sheets, then write them."""
    from bedwright.cli.common import write
    from bedwright.language import using
    from bedwright.sheets.paper import SheetError

    try:
        with using(language):
            files = _files(made, paper, address)
    except SheetError as error:
        raise Refused(f"bedwright: the sheets cannot be printed: {error}") from None
    write(folder, files)
    sys.stdout.write("".join(f"{folder / name}\n" for name in files))
    if made.unplanned:
        print(f"No sheet, as no crop is wanted: {', '.join(made.unplanned)}.", file=sys.stderr)


def _files(made: SeasonPlan, paper: str, address: str | None) -> dict[str, str | bytes]:
    """The PDF of each bed, and that of all, by the name of its file."""
    from bedwright.language import Words, spoken
    from bedwright.reports.words_drawings import DRAWING_WORDS
    from bedwright.reports.words_spreading import SHEET_WORDS
    from bedwright.sheets.content import sheet_content
    from bedwright.sheets.paper import printed

    words = Words(DRAWING_WORDS, SHEET_WORDS)
    place, day = made.document.garden.garden, made.as_of.isoformat()
    contents = [
        sheet_content(made, each.prescription.bed.id, words, place.units, back=True)
        for each in made.beds
    ]
    found: dict[str, str | bytes] = {}
    for each in contents:
        title = words["title_one"].format(bed=each.bed, garden=place.name, as_of=day)
        found[f"sheet-{each.bed}.pdf"] = printed(
            [each],
            paper=paper,
            as_of=made.as_of,
            title=title,
            address=address,
            lang=spoken(),
        )
    if not made.complete:  # a bed alone leaves the file of all beds as it is
        return found
    found["sheets.pdf"] = printed(
        contents,
        paper=paper,
        as_of=made.as_of,
        title=words["title"].format(garden=place.name, as_of=day),
        address=address,
        lang=spoken(),
    )
    return found
