"""A bed's ledger as plain text in 80 columns: where it leads, then what came in and went out."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass
from datetime import date

import numpy as np

from bedwright.feeding.ledger import Account
from bedwright.garden import Document
from bedwright.planning.bed_ledger import BedLedger
from bedwright.planning.findings import Finding
from bedwright.reports.fill import sentence
from bedwright.reports.layout import wrapped
from bedwright.units import UnitSystem, show
from bedwright.units.show import plain

_ITEMS = {
    "materials": "materials",
    "harvest": "harvest",
    "mineral": "mineral",
    "released_fresh": "released",
    "released_earlier": "of earlier",
    "water": "water",
    "bases": "bases",
    "acids": "acids",
    "leached": "leached",
    "rotted_fresh": "rotted",
    "mineralized": "mineralized",
}
_COLUMN = 12


def ledger_page(ledger: BedLedger, document: Document, as_of: date, only: str | None) -> str:
    """The ledgers of all beds, or of the one called ``only``, under the garden's name."""
    place = document.garden.garden
    title = f"{place.name}: the ledger of each bed, as of {as_of.isoformat()}"
    lines = [title, "=" * len(title), *(wrapped(place.note) if place.note else [])]
    beds = [only] if only is not None else list(ledger.beds)
    texts = [ledger_text(ledger, bed, place.units) for bed in beds]
    return "\n".join([*lines, "", *texts]).rstrip() + "\n"


def ledger_text(ledger: BedLedger, bed: str, system: UnitSystem) -> str:
    """The ledger of one bed. Raises LookupError for a bed that is not there."""
    row = ledger.row(bed)
    title = f"Bed {bed}: ledger"
    lines = [title, "-" * len(title)]
    found = ledger.findings.get(bed, ())
    if not ledger.seasons or not (ledger.told[row].any() or ledger.planned[row].any()):
        lines += wrapped("The document tells of no season of this bed.")
        return "\n".join(lines) + "\n"
    urgent = [each for each in found if each.weight in ("act", "caution")]
    lines += [line for each in urgent for line in wrapped(sentence(each, system), "* ")]
    notes = [each for each in found if each.weight == "note"]
    lines += _listed("WHERE THE HABIT LEADS", notes, system)
    lines += ["", *_tables(ledger, bed, system)]
    lines += _listed("DOUBTS", [each for each in found if each.weight == "doubt"], system)
    lines += _listed(
        "TAKEN FOR GRANTED", [each for each in found if each.weight == "assumed"], system
    )
    return "\n".join(lines).rstrip() + "\n"


def _listed(title: str, found: list[Finding], system: UnitSystem) -> list[str]:
    if not found:
        return []
    lines = [line for each in found for line in wrapped(sentence(each, system), "  ")]
    return ["", title, *lines]


@dataclass(frozen=True)
class AccountTable:
    """One account of a bed; ``heads`` are empty where nothing is known of it.

    Each of ``rows`` is a season, whether it is planned, and its cells; None for a season of which
    the document does not tell. The last head and cell are what is left.
    """

    title: str
    heads: tuple[str, ...]
    rows: tuple[tuple[int, bool, tuple[str, ...] | None], ...]


def account_tables(ledger: BedLedger, bed: str, system: UnitSystem) -> tuple[AccountTable, ...]:
    """What came in (+) and went out (-) of a bed, account by account.

    Raises LookupError for a bed that is not there.
    """
    row = ledger.row(bed)
    soil = ledger.soils[row]

    def of_salt(stock: float) -> str:
        return f"{plain(stock * soil.ec_per_salt, 2)} dS/m"

    def of_matter(stock: float) -> str:
        return f"{plain(stock / soil.layer * 100, 2)} %"

    accounts: list[tuple[str, Account, Callable[[float], str] | None]] = [
        ("Phosphate (P2O5), change since the start", ledger.phosphate, None),
        ("Potash (K2O), change since the start", ledger.potash, None),
        ("Nitrogen that crops could reach, left over since the start", ledger.nitrogen, None),
        ("Reaction, as lime (CaCO3), change since the start", ledger.reaction, None),
        ("Salt in the tested layer, as ECe", ledger.salt, of_salt),
        ("Organic matter in the tested layer", ledger.organic_matter, of_matter),
    ]
    return tuple(_table(*each, ledger, row, system) for each in accounts)


def _tables(ledger: BedLedger, bed: str, system: UnitSystem) -> list[str]:
    unit = show(0.0, "mass_per_area", system).split(" ", 1)[1]
    lines = [f"WHAT CAME IN (+) AND WENT OUT (-), {unit}"]
    for each in account_tables(ledger, bed, system):
        if not each.heads:
            lines += ["", f"  {each.title}: not known."]
            continue
        heads = "".join(f"{head:>{_COLUMN}}" for head in each.heads)
        lines += ["", f"  {each.title}", f"  season  {heads}"]
        for year, planned, cells in each.rows:
            if cells is None:
                lines.append(f"  {year}    not told")
            else:
                mark = f"{year}*" if planned else str(year)
                lines.append(f"  {mark:<8}" + "".join(f"{cell:>{_COLUMN}}" for cell in cells))
        if any(planned for _, planned, _ in each.rows):
            lines.append("  * as planned")
    return lines


def _table(
    title: str,
    account: Account,
    stands: Callable[[float], str] | None,
    ledger: BedLedger,
    row: int,
    system: UnitSystem,
) -> AccountTable:
    if np.isnan(account.closing[row]).all():
        return AccountTable(title, (), ())
    items = [*((name, 1, each) for name, each in account.incoming.items()),
             *((name, -1, each) for name, each in account.outgoing.items())]  # fmt: skip
    items = [each for each in items if np.any(each[2][row] != 0)]
    rows: list[tuple[int, bool, tuple[str, ...] | None]] = []
    for column, year in enumerate(ledger.seasons):
        planned = bool(ledger.planned[row, column])
        if not ledger.told[row, column] and not planned:
            rows.append((year, False, None))
            continue
        cells = [_cell(sign * each[row, column], system) for _, sign, each in items]
        left = account.closing[row, column]
        cells.append(_cell(left, system) if stands is None else stands(float(left)))
        rows.append((year, planned, tuple(cells)))
    return AccountTable(title, (*(_ITEMS[name] for name, _, _ in items), "left"), tuple(rows))


def _cell(amount: float, system: UnitSystem) -> str:
    if math.isnan(amount):
        return "not known"
    text = show(abs(amount), "mass_per_area", system, digits=2).split(" ", 1)[0]
    return text if text == "0" else f"{'-' if amount < 0 else '+'}{text}"
