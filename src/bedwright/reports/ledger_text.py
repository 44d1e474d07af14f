"""A bed's ledger as plain text in 80 columns: where it leads, then what came in and went out."""

from __future__ import annotations

import math
from collections.abc import Callable
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
    lines += ["", *_tables(ledger, row, system)]
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


def _tables(ledger: BedLedger, row: int, system: UnitSystem) -> list[str]:
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
    unit = show(0.0, "mass_per_area", system).split(" ", 1)[1]
    lines = [f"WHAT CAME IN (+) AND WENT OUT (-), {unit}"]
    for title, account, stands in accounts:
        lines += _table(title, account, ledger, row, system, stands)
    return lines


def _table(
    title: str,
    account: Account,
    ledger: BedLedger,
    row: int,
    system: UnitSystem,
    stands: Callable[[float], str] | None,
) -> list[str]:
    if np.isnan(account.closing[row]).all():
        return ["", f"  {title}: not known."]
    items = [*((name, 1, each) for name, each in account.incoming.items()),
             *((name, -1, each) for name, each in account.outgoing.items())]  # fmt: skip
    items = [each for each in items if np.any(each[2][row] != 0)]
    heads = "".join(f"{_ITEMS[name]:>{_COLUMN}}" for name, _, _ in items)
    lines = ["", f"  {title}", f"  season  {heads}{'left':>{_COLUMN}}"]
    for column, year in enumerate(ledger.seasons):
        mark = "*" if ledger.planned[row, column] else ""
        if not ledger.told[row, column] and not mark:
            lines.append(f"  {year}    not told")
            continue
        cells = [_cell(sign * each[row, column], system) for _, sign, each in items]
        left = account.closing[row, column]
        cells.append(_cell(left, system) if stands is None else stands(float(left)))
        lines.append(f"  {f'{year}{mark}':<8}" + "".join(f"{cell:>{_COLUMN}}" for cell in cells))
    if ledger.planned[row].any():
        lines.append("  * as planned")
    return lines


def _cell(amount: float, system: UnitSystem) -> str:
    if math.isnan(amount):
        return "not known"
    text = show(abs(amount), "mass_per_area", system, digits=2).split(" ", 1)[0]
    return text if text == "0" else f"{'-' if amount < 0 else '+'}{text}"
