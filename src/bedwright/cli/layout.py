"""``bedwright layout``: how the rows of a bed lie, and what they take."""

from __future__ import annotations

import argparse
import json
import sys
from pathlib import Path

from bedwright.cli.frame import Refused, command, garden_argument, language_argument


def add_layout(commands: object) -> None:
    """Register ``layout``."""
    layout = command(
        commands,
        "layout",
        "how the rows of a bed lie: plants, seed, trellis, light, and why so",
        "bedwright layout garden.toml --bed W9 --svg W9.svg",
    )
    garden_argument(layout)
    layout.add_argument("--bed", metavar="ID", required=True, help="the bed")
    layout.add_argument("--json", action="store_true", help="as JSON, in SI units")
    layout.add_argument("--svg", metavar="FILE", help="also write the bed's drawing there")
    language_argument(layout)


def layout(given: argparse.Namespace) -> None:
    """Print the layout of a bed, one page for each crop of its year."""
    from bedwright.cli.common import read_garden, require_beds, require_folder_of, write
    from bedwright.language import using
    from bedwright.planning.layout.bed import bed_layouts
    from bedwright.planning.layout.plantings import grounds_of
    from bedwright.planning.pinned_wants import with_pins
    from bedwright.planning.timing import garden_dates

    document, library, as_of = read_garden(given)
    require_beds(document, given.bed)
    document = with_pins(document, library, as_of)
    garden = document.garden
    undated = any(each.set_out is None for each in garden.want)
    dates = garden_dates(document, library, as_of) if undated and garden.weather else None
    grounds = grounds_of(document, library, dates)
    layouts = bed_layouts(grounds, given.bed)
    with using(given.language):
        from bedwright.reports.layout_text import layout_sentence, layout_text
        from bedwright.reports.words_layout import LAYOUT
        from bedwright.sheets.bed_layout import layout_drawing

        units = garden.garden.units
        if not layouts:
            told = [layout_sentence(each, units) for each in grounds.not_laid.get(given.bed, ())]
            told = told or [LAYOUT["nothing"].format(bed=given.bed)]
            raise Refused("bedwright: " + " ".join(told))
        if given.svg is not None:
            path = Path(given.svg)
            drawn = {
                path.name if not at else f"{path.stem}-{at + 1}{path.suffix}": layout_drawing(
                    each, document, units
                )
                for at, each in enumerate(layouts)
            }
            require_folder_of(path)
            write(path.parent, drawn)
        if given.json:
            from bedwright.reports.layout_json import layout_dict

            sys.stdout.write(json.dumps([layout_dict(each) for each in layouts], indent=2) + "\n")
            return
        pages = (layout_text(each, library, garden.garden.name, units) for each in layouts)
        sys.stdout.write("\n".join(pages))
