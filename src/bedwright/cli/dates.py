"""``bedwright dates``: when to plant what is wanted, with the odds."""

from __future__ import annotations

import argparse
import sys
from collections.abc import Collection
from pathlib import Path
from typing import TYPE_CHECKING

from bedwright.cli.frame import Refused, command, garden_argument

if TYPE_CHECKING:
    from datetime import date

    from bedwright.charts.theme import Spec
    from bedwright.garden import Document
    from bedwright.planning.timing_model import GardenDates
    from bedwright.reference import Library


def add_dates(commands: object) -> None:
    """Register ``dates``."""
    dates = command(
        commands,
        "dates",
        "when to plant each crop, and what a week earlier or later costs",
        "bedwright dates garden.toml --crop tomato --out dates",
    )
    garden_argument(dates)
    dates.add_argument("--crop", metavar="NAME", help="this crop alone")
    dates.add_argument("--out", metavar="DIR", help="also write dates.txt and the charts there")


def dates(given: argparse.Namespace) -> None:
    """Print the dates of a garden's wants, or of one crop."""
    from bedwright.cli.common import read_garden, write
    from bedwright.planning.pinned_wants import with_pins
    from bedwright.planning.timing import garden_dates
    from bedwright.reports.dates_text import dates_page

    document, library, as_of = read_garden(given)
    document = with_pins(document, library, as_of)
    only = None if given.crop is None else _crop(given.crop, document, library)
    found = garden_dates(document, library, as_of)
    place = document.garden.garden
    text = dates_page(found, place.name, place.units, as_of, only)
    if given.out is not None:
        charts = dates_charts(found, document, as_of, None if only is None else {only})
        write(Path(given.out), {"dates.txt": text}, charts)
    sys.stdout.write(text)


def _crop(name: str, document: Document, library: Library) -> str:
    """The key of a crop that is wanted. Refuses any other, saying what would be right."""
    from bedwright.cli.common import not_known
    from bedwright.reference import UnknownName

    wanted = {
        document.key("want", at, "crop"): want.crop for at, want in enumerate(document.garden.want)
    }
    try:
        key = library.resolve("crop_names", "crop", name)
    except UnknownName as unknown:
        raise not_known(unknown, name, "crop") from None
    if key not in wanted:
        listed = ", ".join(dict.fromkeys(wanted.values())) or "none"
        raise Refused(f"bedwright: no {name} is wanted; add it to a [[want]]. Wanted: {listed}")
    return key


def dates_charts(
    found: GardenDates, document: Document, as_of: date, only: Collection[str] | None = None
) -> dict[str, Spec]:
    """The charts of a garden's dates by the name of their file; of these crops, or of all."""
    from bedwright.charts.garden_dates import garden_dates_charts
    from bedwright.reports.words_charts import CHART_WORDS
    from bedwright.reports.words_dates import DATES_CHARTS

    words = {**CHART_WORDS, **DATES_CHARTS}
    return garden_dates_charts(found, document, as_of, words, only)
