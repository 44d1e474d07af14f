"""``bedwright ledger``: what came into each bed and went out, and where the habit leads."""

from __future__ import annotations

import argparse
import sys
from pathlib import Path
from typing import TYPE_CHECKING

from bedwright.cli.frame import bed_argument, command, garden_argument

if TYPE_CHECKING:
    from collections.abc import Sequence

    from bedwright.charts.theme import Spec
    from bedwright.garden import Document
    from bedwright.planning.bed_ledger import BedLedger


def add_ledger(commands: object) -> None:
    """Register ``ledger``."""
    ledger = command(
        commands,
        "ledger",
        "what came into each bed and went out, and where the habit leads",
        "bedwright ledger garden.toml --bed R1",
    )
    garden_argument(ledger)
    bed_argument(ledger)
    ledger.add_argument("--out", metavar="DIR", help="also write ledger.txt and the charts there")


def ledger(given: argparse.Namespace) -> None:
    """What came in and went out of each bed, season by season, and where the habit leads."""
    from bedwright.cli.common import (
        progress,
        read_garden,
        require_beds,
        solver_output_apart,
        write,
    )
    from bedwright.planning.bed_ledger import bed_ledger
    from bedwright.planning.ledger_entries import planned_season
    from bedwright.reports.ledger_text import ledger_page
    from bedwright.season import season_blend

    document, library, as_of = read_garden(given)
    require_beds(document, given.bed)
    with solver_output_apart():
        made = season_blend(document, library, as_of, progress=progress)
    kept = bed_ledger(document, made.library, [planned_season(each) for each in made.prescriptions])
    text = ledger_page(kept, document, as_of, given.bed)
    if given.out is not None:
        charts = _ledger_charts(kept, [given.bed] if given.bed else kept.beds, document)
        write(Path(given.out), {"ledger.txt": text}, charts)
    sys.stdout.write(text)


def _ledger_charts(kept: BedLedger, beds: Sequence[str], document: Document) -> dict[str, Spec]:
    from bedwright.charts.ledger_chart import ledger_chart
    from bedwright.reports.words_charts import CHART_WORDS

    system = document.garden.garden.units
    charts = {bed: ledger_chart(kept, bed, system, CHART_WORDS) for bed in beds}
    return {f"ledger-{bed}": chart for bed, chart in charts.items() if chart is not None}
