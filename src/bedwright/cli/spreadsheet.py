"""``bedwright spreadsheet``: the season plan as a workbook for a spreadsheet program."""

from __future__ import annotations

import argparse
import sys
from pathlib import Path

from bedwright.cli.frame import DONE, command, garden_argument, language_argument, refuse

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


def spreadsheet(given: argparse.Namespace) -> int:
    """Write the workbook of a garden."""
    from bedwright.cli.common import loaded, no_folder, progress, solver_output_apart, write
    from bedwright.garden import GardenError
    from bedwright.language import using
    from bedwright.reports.spreadsheet.spreadsheet import spreadsheet_bytes
    from bedwright.season import season_plan

    file = Path(given.out)
    if file.suffix.lower() != _SUFFIX:
        return refuse(
            f"bedwright: {file} would not be known as a spreadsheet; end its name in {_SUFFIX}"
        )
    if file.is_dir():
        return refuse(f"bedwright: {file} is a folder; name a file")
    if code := no_folder(file):
        return code
    try:
        document, library, as_of = loaded(given)
    except GardenError as error:
        return refuse(str(error))
    with solver_output_apart():
        plan = season_plan(document, library, as_of, ahead=False, progress=progress)
        with using(given.language):
            made = spreadsheet_bytes(plan)
    if code := write(file.parent, {file.name: made}):
        return code
    sys.stdout.write(f"{file}\n")
    return DONE
