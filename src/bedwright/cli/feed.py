"""``bedwright feed``: the blend of the whole garden alone, and why a material is not used."""

from __future__ import annotations

import argparse
import sys
from typing import TYPE_CHECKING

from bedwright.cli.frame import command, garden_argument

if TYPE_CHECKING:
    from datetime import date

    from bedwright.garden import Document
    from bedwright.reference import Library
    from bedwright.season import SeasonBlend


def add_feed(commands: object) -> None:
    """Register ``feed``."""
    feed = command(
        commands,
        "feed",
        "the blend of the whole garden alone, with its alternatives",
        "bedwright feed garden.toml --why greensand",
    )
    garden_argument(feed)
    feed.add_argument(
        "--why", metavar="MATERIAL", help="why is it not used? force it in and solve again"
    )


def feed(given: argparse.Namespace) -> None:
    """The garden's blend with its alternatives."""
    from bedwright.cli.common import read_garden, solver_output_apart

    document, library, as_of = read_garden(given)
    with solver_output_apart():
        if given.why is not None:
            text = _why(given.why, document, library, as_of)
        else:
            text = _blend(document, library, as_of)
    sys.stdout.write(text)


def _blend(document: Document, library: Library, as_of: date) -> str:
    from bedwright.cli.common import progress
    from bedwright.planning.garden_blend import alternatives
    from bedwright.planning.relax import relaxations
    from bedwright.reports.feed_text import feed_text
    from bedwright.season import season_blend

    most = document.garden.limits.most_materials
    made = season_blend(document, library, as_of, progress=progress)
    others = alternatives(made.shared.prepared, _kept_budget(made))
    relaxed = {
        at: relaxations(group, made.shared.by_planting[group.beds[0].planting], most)
        for at, group in enumerate(made.shared.groups)
    }
    return feed_text(made, others, relaxed)


def _kept_budget(made: SeasonBlend) -> float | None:
    """The budget, None where there is none or where it does not reach anyhow."""
    budget = made.document.garden.limits.budget
    return budget.si if budget is not None and made.shared.money <= budget.si else None


def _why(name: str, document: Document, library: Library, as_of: date) -> str:
    """Why a material is not used: forced in, and the garden solved again."""
    from bedwright.cli.common import not_known, progress
    from bedwright.feeding.materials import material
    from bedwright.planning.own import own_key
    from bedwright.planning.why_not import why_not
    from bedwright.reference import UnknownName
    from bedwright.reports.why_text import why_text
    from bedwright.season import season_blend

    try:
        key = own_key(document, library, name)
    except UnknownName as unknown:
        raise not_known(unknown, name, "material") from None
    made = season_blend(document, library, as_of, progress=progress)
    found = why_not(key, made.prescriptions, made.shared)
    shown = material(made.library, key).name
    return why_text(made, found, shown, made.shared.prepared.names)
