"""The ledger of the beds as a sheet: one row for each bed, season and account."""

from __future__ import annotations

import math

from bedwright.feeding.ledger import Account
from bedwright.planning.bed_ledger import BedLedger
from bedwright.reports.spreadsheet.model import Cell, Column, Measures, Sheet, number, unit_word
from bedwright.reports.words_spreadsheet import (
    ACCOUNT_ITEMS,
    ACCOUNTS,
    COLUMNS,
    SHEET_TITLES,
    SHEETS_TOLD,
    SPREADSHEET,
)
from bedwright.units.show import plain

_ACCOUNTS = ("phosphate", "potash", "nitrogen", "reaction", "salt", "organic_matter")


def ledger_sheet(ledger: BedLedger, units: Measures) -> Sheet:
    """What came in and went out of each bed and what was left, per area.

    A season of which the document does not tell has one row that says so.
    """
    columns = (
        Column(COLUMNS["bed"]), Column(COLUMNS["season"], "count"), Column(COLUMNS["state"]),
        Column(COLUMNS["account"]),
        *(
            Column(COLUMNS[each].format(unit=unit_word(units.rate)), "number")
            for each in ("in", "out", "change", "left")
        ),
        Column(COLUMNS["ec"], "number"), Column(COLUMNS["matter"], "number"),
        Column(COLUMNS["made_of"]),
    )  # fmt: skip
    rows: list[tuple[Cell, ...]] = []
    for row, bed in enumerate(ledger.beds):
        if not (ledger.told[row].any() or ledger.planned[row].any()):
            continue
        for column, year in enumerate(ledger.seasons):
            planned = bool(ledger.planned[row, column])
            if not planned and not ledger.told[row, column]:
                rows.append((bed, year, SPREADSHEET["season_not_told"], *[None] * 8))
                continue
            state = SPREADSHEET["planned_season" if planned else "told_season"]
            for name in _ACCOUNTS:
                cells = _account(ledger, name, row, column, units)
                rows.append((bed, year, state, ACCOUNTS[name], *cells))
    return Sheet(SHEET_TITLES["ledger"], SHEETS_TOLD["ledger"], columns, tuple(rows))


def _account(
    ledger: BedLedger, name: str, row: int, column: int, units: Measures
) -> tuple[Cell, ...]:
    account: Account = getattr(ledger, name)
    closing = float(account.closing[row, column])
    came = {key: float(each[row, column]) for key, each in account.incoming.items()}
    went = {key: float(each[row, column]) for key, each in account.outgoing.items()}
    sums = [math.fsum(each.values()) for each in (came, went)]
    soil, kept = ledger.soils[row], not math.isnan(closing)
    salt = closing * soil.ec_per_salt if name == "salt" and kept else None
    matter = closing / soil.layer * 100 if name == "organic_matter" and kept else None
    told = [
        f"{ACCOUNT_ITEMS[key]} {sign}{_rate(amount, units)}"
        for sign, items in (("+", came), ("-", went))
        for key, amount in items.items()
        if amount and not math.isnan(amount)
    ]
    unknown = [
        f"{ACCOUNT_ITEMS[key]}: {SPREADSHEET['not_known']}"
        for key, amount in (came | went).items()
        if math.isnan(amount)
    ]
    if not kept and not unknown:
        unknown = [SPREADSHEET["not_known"]]
    return (
        *(_number(each, units) for each in (*sums, sums[0] - sums[1], closing)),
        None if salt is None else number(salt),
        None if matter is None else number(matter),
        "; ".join([*told, *unknown]) or None,
    )


def _number(amount: float, units: Measures) -> float | None:
    """A mass per area in the garden's unit; None where it is not known."""
    return None if math.isnan(amount) else units.of(amount, units.rate)


def _rate(amount: float, units: Measures) -> str:
    shown = _number(abs(amount), units)
    assert shown is not None
    return plain(shown, 2)
