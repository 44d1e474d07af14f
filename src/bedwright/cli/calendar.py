"""``bedwright calendar``: the season plan as a file that calendar programs take and keep up."""

from __future__ import annotations

import argparse
import sys
from pathlib import Path

from bedwright.cli.frame import Refused, command, garden_argument, language_argument


def add_calendar(commands: object) -> None:
    """Register ``calendar``."""
    calendar = command(
        commands,
        "calendar",
        "the season plan for a calendar program: work, planting, picking, clearing, buying",
        "bedwright calendar garden.toml --out garden.ics",
    )
    garden_argument(calendar)
    calendar.add_argument(
        "--out",
        metavar="FILE",
        required=True,
        help="where it goes; an earlier calendar there is gone on from, so that events are "
        "updated and dropped ones called off",
    )
    language_argument(calendar)


def calendar(given: argparse.Namespace) -> None:
    """Write the calendar of a garden."""
    from bedwright.cli.common import planned, read_garden, require_folder_of, write
    from bedwright.language import using
    from bedwright.reports.calendar.calendar_file import garden_identity, season_calendar
    from bedwright.reports.calendar.earlier import CalendarError, read_earlier

    file = Path(given.out)
    document, library, as_of = read_garden(given)
    require_folder_of(file)
    try:
        earlier = text_of(file)
        if earlier is not None:  # before the plan is made: it takes its time
            read_earlier(earlier, garden_identity(document.garden.garden.name))
    except CalendarError as error:
        raise Refused(
            f"bedwright: {file} is there already and is left as it is: {error}; name another file"
        ) from None
    except OSError as error:
        raise Refused(f"bedwright: {file} cannot be read ({error.strerror})") from None
    with planned(document, library, as_of) as plan, using(given.language):
        made = season_calendar(plan, earlier)
    write(file.parent, {file.name: made.text})
    sys.stdout.write(
        f"{file}: {made.standing} events; {made.new} new, {made.changed} changed, "
        f"{made.dropped} called off.\n"
    )


def text_of(file: Path) -> str | None:
    """The text of a file, None where there is none. Raises CalendarError, OSError."""
    from bedwright.reports.calendar.earlier import CalendarError

    try:
        return file.read_bytes().decode("utf-8")
    except FileNotFoundError:
        return None
    except UnicodeDecodeError:
        raise CalendarError("it is not a calendar that can be read") from None
