"""``bedwright water``: today's minutes for each zone, the season's watering, salt over years."""

from __future__ import annotations

import argparse
import json
import sys
from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING

from bedwright.cli.frame import Refused, command, day_like, garden_argument

if TYPE_CHECKING:
    from bedwright.charts.theme import Spec
    from bedwright.garden import Document
    from bedwright.garden.model_water import Readings
    from bedwright.planning.watering.garden_water import GardenWater


def add_water(commands: object) -> None:
    """Register ``water``."""
    water = command(
        commands,
        "water",
        "how long each zone runs today, and what the season and the salt ask for",
        "bedwright water garden.toml --date 2027-07-15 --readings july.toml",
    )
    garden_argument(water)
    water.add_argument("--bed", metavar="ID", help="this bed alone, with its weeks")
    water.add_argument(
        "--date",
        type=day_like("2027-07-15"),
        metavar="DAY",
        help="the day to be watered (default: the day of planning)",
    )
    water.add_argument(
        "--readings", metavar="FILE", help="gauge and soil readings beside those of the document"
    )
    water.add_argument("--json", action="store_true", help="as JSON, in SI units")
    water.add_argument("--out", metavar="DIR", help="also write water.txt and the charts there")


def water(given: argparse.Namespace) -> None:
    """Print the water of a day."""
    from bedwright.cli.common import read_garden, require_beds, write
    from bedwright.planning.watering.garden_water import garden_water
    from bedwright.reports.water_json import water_dict
    from bedwright.reports.water_text import water_page

    document, library, as_of = read_garden(given)
    on = given.date or as_of
    readings = _readings(given.readings, document, max(on, as_of))
    require_beds(document, given.bed)
    found = garden_water(document, library, as_of, on, readings, given.bed)
    place = document.garden.garden
    text = water_page(found, place.name, place.units, place.currency, table=given.bed is not None)
    if given.out is not None:
        write(Path(given.out), {"water.txt": text}, water_charts(found, document))
    if given.json:
        text = json.dumps(water_dict(found), indent=2, ensure_ascii=False) + "\n"
    sys.stdout.write(text)


def _readings(file: str | None, document: Document, as_of: date) -> Readings:
    """The readings of a file. Refuses it with every fault."""
    from bedwright.garden import GardenError
    from bedwright.garden.readings import read_readings

    beds = [bed.id for bed in document.garden.bed]
    try:
        return read_readings(None if file is None else Path(file), beds, as_of)
    except GardenError as error:
        raise Refused(str(error)) from None


def water_charts(found: GardenWater, document: Document) -> dict[str, Spec]:
    """The balance of each planting, by the name of its file."""
    from bedwright.charts.water_chart import water_chart
    from bedwright.reports.words_charts import CHART_WORDS
    from bedwright.reports.words_water import WATER_CHARTS

    words = {**CHART_WORDS, **WATER_CHARTS}
    units = document.garden.garden.units
    return {
        f"water-{each.stand.bed}-{each.stand.crop}": water_chart(
            each.stand, each.years, units, words
        )
        for each in found.stands
    }
