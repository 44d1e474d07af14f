"""The commands and their help. Nothing heavy is imported here: help must answer at once."""

from __future__ import annotations

import argparse

from bedwright import __version__
from bedwright.cli.backup import add_backup
from bedwright.cli.book import add_book
from bedwright.cli.calendar import add_calendar
from bedwright.cli.compare import add_compare
from bedwright.cli.dates import add_dates
from bedwright.cli.feed import add_feed
from bedwright.cli.frame import command, garden_argument
from bedwright.cli.layout import add_layout
from bedwright.cli.ledger import add_ledger
from bedwright.cli.plan import add_plan
from bedwright.cli.record import add_record
from bedwright.cli.rotate import add_rotate
from bedwright.cli.serve import add_serve
from bedwright.cli.sheets import add_sheets
from bedwright.cli.spreadsheet import add_spreadsheet
from bedwright.cli.water import add_water
from bedwright.cli.weather import add_weather
from bedwright.cli.week import add_week

_EPILOG = """examples:
  bedwright new garden.toml             a commented garden document to fill in
  bedwright check garden.toml           is it right? every fault with its line
  bedwright plan garden.toml            the season plan, and why
  bedwright plan garden.toml --bed R1 --working
  bedwright dates garden.toml           when to plant, and what a week costs
  bedwright rotate garden.toml          which crop in which bed, years ahead
  bedwright layout garden.toml --bed W9   rows, plants, seed, trellis, light
  bedwright water garden.toml           how long each zone runs today
  bedwright sheets garden.toml --out sheets   a printed page for each bed
  bedwright week garden.toml            what to do this week, in order
  bedwright book garden.toml --out book.pdf   the season in one book
  bedwright compare garden.toml         what worked: strips, beds, years
  bedwright serve                       the pages of your garden
  bedwright reckon                      the single formulas
  bedwright reckon relative_yield ec_e="4 dS/m" threshold="2.5 dS/m" slope=9.9

exit codes: 0 done, 2 wrong input, 70 a fault of bedwright itself"""


def parser() -> argparse.ArgumentParser:
    """The argument parser of the ``bedwright`` command."""
    root = argparse.ArgumentParser(
        prog="bedwright",
        description="From a soil report, a shed of bags and a bed's history to what to spread\n"
        "on each bed, with the working shown.",
        epilog=_EPILOG,
        formatter_class=argparse.RawDescriptionHelpFormatter,
        allow_abbrev=False,
    )
    root.add_argument("--version", action="version", version=f"bedwright {__version__}")
    commands = root.add_subparsers(dest="command", metavar="COMMAND", required=True)
    add_plan(commands)
    add_feed(commands)
    add_ledger(commands)
    add_dates(commands)
    add_layout(commands)
    add_rotate(commands)
    add_sheets(commands)
    _check(commands)
    _reckon(commands)
    _new(commands)
    _schema(commands)
    add_water(commands)
    add_weather(commands)
    add_week(commands)
    add_calendar(commands)
    add_compare(commands)
    add_record(commands)
    add_spreadsheet(commands)
    add_book(commands)
    add_serve(commands)
    add_backup(commands)
    _completion(commands)
    return root


def _check(commands: object) -> None:
    check = command(
        commands,
        "check",
        "is a garden document right? every fault with its line",
        "bedwright check garden.toml",
    )
    garden_argument(check)


def _reckon(commands: object) -> None:
    reckon = command(
        commands,
        "reckon",
        "work one formula, or list them",
        'bedwright reckon relative_yield ec_e="4 dS/m" threshold="2.5 dS/m" slope=9.9',
    )
    reckon.add_argument("name", nargs="?", metavar="NAME", help="the formula; left out: list all")
    reckon.add_argument("given", nargs="*", metavar="key=value", help="inputs with their units")


def _new(commands: object) -> None:
    new = command(
        commands, "new", "write a commented garden document to fill in", "bedwright new garden.toml"
    )
    new.add_argument("file", nargs="?", metavar="FILE", help="left out: print it")


def _schema(commands: object) -> None:
    schema = command(
        commands,
        "schema",
        "print the JSON Schema of the garden document or the plan",
        "bedwright schema > garden.schema.json",
    )
    whats = ("garden", "plan", "comparisons")
    schema.add_argument("what", nargs="?", choices=whats, default="garden")


def _completion(commands: object) -> None:
    completion = command(
        commands,
        "completion",
        "print the completion script of a shell",
        'eval "$(bedwright completion bash)"',
    )
    completion.add_argument("shell", choices=("bash", "zsh", "tcsh"))
