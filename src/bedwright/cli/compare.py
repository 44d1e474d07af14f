"""``bedwright compare``: comparisons laid out and judged, the years, one's own figures."""

from __future__ import annotations

import argparse
import json
import sys

from bedwright.cli.frame import Refused, command, garden_argument, language_argument


def add_compare(commands: object) -> None:
    """Register ``compare``."""
    compare = command(
        commands,
        "compare",
        "what worked: strips and beds side by side, and what the years have shown",
        "bedwright compare garden.toml --journal entries.json",
    )
    garden_argument(compare)
    compare.add_argument(
        "name", nargs="?", metavar="NAME", help="one comparison's id (default: all, and the years)"
    )
    compare.add_argument(
        "--journal",
        metavar="FILE",
        help="the journal as the site gives it out, entries.csv or entries.json",
    )
    compare.add_argument("--format", choices=("text", "json"), default="text")
    language_argument(compare)


def compare(given: argparse.Namespace) -> None:
    """Print the comparisons of a garden, or one of them."""
    from bedwright.cli.common import read_garden
    from bedwright.cli.journal import read_journal
    from bedwright.journal import with_journal
    from bedwright.language import using
    from bedwright.planning.compare.analysis import comparisons
    from bedwright.planning.compare.own_figures import own_figures
    from bedwright.planning.compare.years import over_the_years
    from bedwright.planning.own import library_of
    from bedwright.reports.compare_json import compare_dict
    from bedwright.reports.compare_text import compare_text, one_text

    document, library, as_of = read_garden(given)
    ids = [each.id for each in document.garden.comparison]
    if given.name is not None and given.name not in ids:
        known = f"comparisons: {', '.join(ids)}" if ids else "the garden states none"
        raise Refused(f"bedwright: there is no comparison {given.name!r}; {known}")
    entries = [each for each in read_journal(given.journal) if each.on <= as_of]
    own_library = library_of(document, library)
    counted, _notes = with_journal(document, entries, own_library, as_of)
    found = [
        each for each in comparisons(counted, own_library, entries)
        if given.name in (None, each.stated.id)
    ]  # fmt: skip
    whole = given.name is None
    years = over_the_years(counted, own_library, entries) if whole else ()
    own = own_figures(counted, own_library, years) if whole else ()
    place = document.garden.garden
    with using(given.language):
        if given.format == "json":
            text = json.dumps(compare_dict(found, years, own, as_of), indent=1, ensure_ascii=False)
        elif given.name is not None:
            text = "\n".join(one_text(found[0]))
        else:
            text = compare_text(found, years, own, place.name, as_of, place.units, own_library)
    sys.stdout.write(text.rstrip("\n") + "\n")
