"""What every command has: its place in the parser, its arguments, a refusal. Nothing heavy here."""

from __future__ import annotations

import argparse
from collections.abc import Callable
from datetime import date

_FIRST_YEAR, _LAST_YEAR = 1800, 2200  # records of weather begin; the years of a document end


class Refused(Exception):
    """Input that a command can't work with; the text says what is wrong and how to mend it."""


def command(commands: object, name: str, help_text: str, example: str) -> argparse.ArgumentParser:
    """A command of ``commands`` with its help and an example of it."""
    return commands.add_parser(  # type: ignore[attr-defined, no-any-return]
        name,
        help=help_text,
        description=help_text[:1].upper() + help_text[1:] + ".",
        epilog=f"example:\n  {example}",
        formatter_class=argparse.RawDescriptionHelpFormatter,
        allow_abbrev=False,
    )


def garden_argument(parser: argparse.ArgumentParser) -> None:
    """The garden document and the day of planning, as arguments."""
    parser.add_argument("garden", metavar="GARDEN.toml", help="the garden document")
    parser.add_argument(
        "--as-of",
        type=day_like("2027-03-01"),
        metavar="DATE",
        help="plan as of this day (default: today)",
    )


def bed_argument(parser: argparse.ArgumentParser) -> None:
    """One bed of the garden alone, as an argument."""
    parser.add_argument("--bed", metavar="ID", help="this bed alone")


def language_argument(parser: argparse.ArgumentParser) -> None:
    """In which language the result is written, as an argument."""
    from bedwright.language import ENGLISH, LANGUAGES

    parser.add_argument("--language", choices=tuple(LANGUAGES), default=ENGLISH)


def day_like(example: str) -> Callable[[str], date]:
    """What reads a day of the command line; ``example`` shows how it is written."""

    def day(text: str) -> date:
        try:
            found = date.fromisoformat(text)
        except ValueError:
            raise argparse.ArgumentTypeError(
                f"{text!r} is not a date; write it like {example}"
            ) from None
        if not _FIRST_YEAR <= found.year <= _LAST_YEAR:
            raise argparse.ArgumentTypeError(
                f"{text!r} lies too far off; write a day from {_FIRST_YEAR} to {_LAST_YEAR}"
            )
        return found

    return day
