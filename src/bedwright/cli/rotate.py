"""``bedwright rotate``: which crop in which bed for the years ahead."""

from __future__ import annotations

import argparse
import json
import sys
from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING, Any

from bedwright.cli.frame import Refused, command, garden_argument

if TYPE_CHECKING:
    from datetime import date

    from bedwright.garden import Document
    from bedwright.planning.assignment.ahead import Step
    from bedwright.planning.assignment.model import Decision
    from bedwright.planning.assignment.result import YearsAhead
    from bedwright.planning.rotation.solution import SolveLimits
    from bedwright.reference import Library

_MOST_YEARS = 8  # as the garden document allows


def add_rotate(commands: object) -> None:
    """Register ``rotate``."""
    rotate = command(
        commands,
        "rotate",
        "which crop in which bed for the years ahead, and why",
        "bedwright rotate garden.toml --years 3 --accept next.toml",
    )
    garden_argument(rotate)
    rotate.add_argument("--bed", metavar="ID", help="show this bed alone")
    rotate.add_argument("--years", type=_years, metavar="N", help="plan so many years")
    rotate.add_argument("--json", action="store_true", help="print the plan as data")
    rotate.add_argument(
        "--standing", metavar="PLAN.json", help="keep to this plan as far as may be"
    )
    rotate.add_argument(
        "--without", metavar="BED", action="append", default=[], help="a bed that is out of use"
    )
    rotate.add_argument(
        "--seconds", type=_seconds, metavar="S", help="stop the search after so long"
    )
    rotate.add_argument(
        "--accept", metavar="NEW.toml", help="write the first year into a new garden document"
    )


def _years(text: str) -> int:
    return _within(text, _MOST_YEARS, "years")


def _seconds(text: str) -> int:
    return _within(text, 3600, "seconds")


def _within(text: str, most: int, what: str) -> int:
    if text.isdigit() and 1 <= int(text) <= most:
        return int(text)
    raise argparse.ArgumentTypeError(f"{text!r} is no number of {what} from 1 to {most}")


def rotate(given: argparse.Namespace) -> None:
    """Print which crop goes in which bed, and write the first year where that is asked for."""
    from bedwright.child_process import ChildFailed, in_child
    from bedwright.cli.common import read_garden, require_beds, require_folder_of, require_new

    document, library, as_of = read_garden(given)
    standing = _standing(given.standing)
    require_beds(document, given.bed, *given.without)
    new = None if given.accept is None else Path(given.accept)
    if new is not None:
        require_new(new)
        require_folder_of(new)
    limits = _limits(document, given.seconds)
    try:
        ahead = in_child(
            solve,
            (document, library, as_of, standing, tuple(given.without), given.years, limits),
            told=_told,
        )
    except ChildFailed as failed:
        raise Refused(f"bedwright: the years ahead could not be worked out: {failed}") from None
    _clear()
    if new is not None:
        _accept(ahead, document, library, new, as_of)
    sys.stdout.write(_shown(ahead, document, library, given))


def solve(
    document: Document,
    library: Library,
    as_of: date,
    standing: tuple[Decision, ...] | None,
    without: tuple[str, ...],
    years: int | None,
    limits: SolveLimits,
    *,
    progress: Callable[[Step], None],
) -> YearsAhead:
    """The work of the child process."""
    from bedwright.planning.assignment.ahead import years_ahead
    from bedwright.planning.assignment.lit import light_of

    return years_ahead(
        document, library, as_of, light=light_of(document, library), standing=standing,
        without=without, years=years, limits=limits, progress=progress,
    )  # fmt: skip


def _standing(name: str | None) -> tuple[Decision, ...] | None:
    if name is None:
        return None
    from bedwright.reports.rotation_json import NoPlan, standing_of

    try:
        data: Any = json.loads(Path(name).read_text(encoding="utf-8"))
        return standing_of(data)
    except OSError as error:
        raise Refused(f"bedwright: {name} cannot be read ({error.strerror})") from None
    except NoPlan as error:
        raise Refused(f"bedwright: {name}: {error}; write one with --json") from None
    except ValueError:
        raise Refused(f"bedwright: {name} is not JSON; write one with --json") from None


def _limits(document: Document, seconds: int | None) -> SolveLimits:
    from dataclasses import replace

    from bedwright.planning.assignment.ahead import limits_of

    stated = limits_of(document)
    return stated if seconds is None else replace(stated, seconds=float(seconds))


def _shown(
    ahead: YearsAhead, document: Document, library: Library, given: argparse.Namespace
) -> str:
    if given.json:
        from bedwright.reports.rotation_json import years_dict

        return json.dumps(years_dict(ahead), indent=1, ensure_ascii=False) + "\n"
    from bedwright.reports.rotation_text import years_text
    from bedwright.reports.rotation_words import starts_of

    return years_text(ahead, document, starts_of(library), given.bed)


def _accept(
    ahead: YearsAhead, document: Document, library: Library, new: Path, as_of: date
) -> None:
    """Write the first year into a new document; refuse where that would not be a right one."""
    from bedwright.cli.common import write
    from bedwright.garden import GardenError
    from bedwright.garden.load import load_text
    from bedwright.reports.rotation_accept import accepted
    from bedwright.reports.words_rotation import ROTATION

    text, wants, pins = accepted(ahead, document)
    try:
        load_text(text, str(new), new.parent, library, as_of)
    except GardenError as error:
        raise Refused(f"{error}\nbedwright: nothing is written") from None
    write(new.parent, {new.name: text})
    told = ROTATION["accepted"].format(file=new, wants=wants, year=ahead.years[0], pins=pins)
    print(told, file=sys.stderr)


def _told(step: Step) -> None:
    """How far the search is, where somebody watches."""
    if not sys.stderr.isatty():
        return
    from bedwright.reports.rotation_words import step_words

    print(f"\r{step_words(step):<78}", end="", file=sys.stderr, flush=True)


def _clear() -> None:
    if sys.stderr.isatty():
        print(f"\r{'':<78}\r", end="", file=sys.stderr, flush=True)
