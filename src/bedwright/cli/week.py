"""``bedwright week``: this week's tasks in order, with hours, what to bring and cautions."""

from __future__ import annotations

import argparse
import json
import sys

from bedwright.cli.frame import Refused, command, day_like, garden_argument, language_argument


def add_week(commands: object) -> None:
    """Register ``week``."""
    week = command(
        commands,
        "week",
        "this week's tasks in order, with hours, what to bring and what to mind",
        "bedwright week garden.toml 2027-05-10",
    )
    garden_argument(week)
    week.add_argument(
        "day",
        nargs="?",
        type=day_like("2027-05-10"),
        metavar="DATE",
        help="any day of the week (default: the day of planning)",
    )
    week.add_argument("--json", action="store_true", help="as JSON, in hours and SI units")
    language_argument(week)


def week(given: argparse.Namespace) -> None:
    """Print the work of a week."""
    from bedwright.cli.common import planned, read_garden
    from bedwright.language import using
    from bedwright.reports.work_json import week_dict
    from bedwright.reports.work_text import monday_of, week_page

    document, library, as_of = read_garden(given)
    day = given.day or as_of
    if monday_of(day) < monday_of(as_of):
        raise Refused(f"bedwright: the week of {day} lies before {as_of}, the day of planning")
    with planned(document, library, as_of) as made:
        work = made.work
    if work is None:
        raise RuntimeError("a plan of the whole garden has its work")
    with using(given.language):
        text = week_page(made, day)
    if given.json:
        text = json.dumps(week_dict(work, monday_of(day)), indent=1, ensure_ascii=False) + "\n"
    sys.stdout.write(text)
