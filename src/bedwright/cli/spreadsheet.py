"""``bedwright spreadsheet``: the season plan as a workbook for a spreadsheet program."""

from __future__ import annotations

import argparse
import sys
from pathlib import Path

from bedwright.cli.frame import Refused, command, garden_argument, language_argument

_SUFFIX = ".xlsx"


def add_spreadsheet(commands: object) -> None:
    """Register ``spreadsheet``."""
    spreadsheet = command(
        commands,
        "spreadsheet",
        "the season plan as a spreadsheet: purchases, tasks, spreading, harvest, ledger, sources",
        "bedwright spreadsheet garden.toml --out season.xlsx",
    )
    garden_argument(spreadsheet)
    spreadsheet.add_argument(
        "--out", metavar="FILE.xlsx", required=True, help="where it goes, whole or not at all"
    )
    language_argument(spreadsheet)


def spreadsheet(given: argparse.Namespace) -> None:
    """Write the workbook of a garden."""
    from bedwright.cli.common import planned, read_garden, require_folder_of, write
    from bedwright.language import using
    from bedwright.reports.spreadsheet.spreadsheet import spreadsheet_bytes

    file = Path(given.out)
    if file.suffix.lower() != _SUFFIX:
        raise Refused(
            f"bedwright: {file} would not be known as a spreadsheet; end its name in {_SUFFIX}"
        )
    if file.is_dir():
        raise Refused(f"bedwright: {file} is a folder; name a file")
    require_folder_of(file)
    with planned(*read_garden(given)) as plan, using(given.language):
        made = spreadsheet_bytes(plan)
    write(file.parent, {file.name: made})
    sys.stdout.write(f"{file}\n")
