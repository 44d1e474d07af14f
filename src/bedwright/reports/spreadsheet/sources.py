"""The publications behind the numbers of the sheets, found in the figures themselves."""

from __future__ import annotations

from collections.abc import Iterator

from bedwright.planning.bed_ledger import BedLedger
from bedwright.planning.prescription import Prescription
from bedwright.reports.cited import sources_in
from bedwright.reports.spreadsheet.model import Cell, Column, Sheet
from bedwright.reports.words_spreadsheet import COLUMNS, SHEET_TITLES, SHEETS_TOLD
from bedwright.season import SeasonPlan

_MOST_PLACES = 12  # of one publication, told in its row


def sources_sheet(plan: SeasonPlan, ledger: BedLedger) -> Sheet:
    """One row for each publication, by its title."""
    columns = (
        Column(COLUMNS["source"]), Column(COLUMNS["authors"]), Column(COLUMNS["publisher"]),
        Column(COLUMNS["year"], "count"), Column(COLUMNS["used_in"]), Column(COLUMNS["places"]),
    )  # fmt: skip
    used: dict[str, dict[str, None]] = {}
    places: dict[str, dict[str, None]] = {}
    for sheet, roots in _roots(plan, ledger):
        for each in sources_in(roots):
            used.setdefault(each.source_id, {})[SHEET_TITLES[sheet]] = None
            held = places.setdefault(each.source_id, {})
            if each.place:
                held[each.place] = None
    rows = [
        _row(plan, key, tuple(used[key]), tuple(places[key]))
        for key in sorted(used)
        if key in plan.library.sources
    ]
    rows.sort(key=lambda row: str(row[0]).casefold())
    return Sheet(SHEET_TITLES["sources"], SHEETS_TOLD["sources"], columns, tuple(rows))


def _row(
    plan: SeasonPlan, key: str, used: tuple[str, ...], places: tuple[str, ...]
) -> tuple[Cell, ...]:
    entry = plan.library.sources[key]
    told = "; ".join(places[:_MOST_PLACES])
    if len(places) > _MOST_PLACES:
        told += f"; … ({len(places)})"
    year: Cell = int(entry.year) if entry.year.isdigit() else entry.year or None
    return (
        entry.title, entry.authors or None, entry.publisher or None, year, ", ".join(used),
        told or None,
    )  # fmt: skip


def _roots(plan: SeasonPlan, ledger: BedLedger) -> Iterator[tuple[str, list[object]]]:
    """What each sheet rests on."""
    work, harvest, purchases = plan.work, plan.harvest, plan.purchases
    yield "purchases", [purchases, *(each.layout for each in plan.grown)]
    yield "tasks", [] if work is None else [work.tasks, work.findings]
    yield (
        "spreading",
        [
            part
            for each in plan.grown
            for part in (*_of_bed(each.prescription), each.nitrogen.findings, each.manure)
        ],
    )
    yield "harvest", [harvest]
    kept = [row for row in range(len(ledger.beds)) if (ledger.told | ledger.planned)[row].any()]
    yield (
        "ledger",
        [
            part
            for row in kept
            for part in (
                ledger.soils[row],
                ledger.outlooks[row],
                ledger.findings.get(ledger.beds[row]),
            )
        ],
    )


def _of_bed(plan: Prescription) -> tuple[object, ...]:
    """What decides a bed's amounts: its tests, needs and materials, not what was left aside."""
    return (
        plan.evidence, plan.read, plan.nitrogen, plan.needs, plan.reaction, plan.salt, plan.wish,
        plan.lines, plan.findings,
    )  # fmt: skip
