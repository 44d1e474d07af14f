"""The sheets of a season plan, and the file of them."""

from __future__ import annotations

from bedwright.planning.bed_ledger import BedLedger, bed_ledger
from bedwright.planning.ledger_entries import planned_season
from bedwright.reports.spreadsheet.about import about_sheet
from bedwright.reports.spreadsheet.harvest import harvest_sheet
from bedwright.reports.spreadsheet.ledger import ledger_sheet
from bedwright.reports.spreadsheet.model import Sheet, measures
from bedwright.reports.spreadsheet.purchases import needed_sheet, purchases_sheet
from bedwright.reports.spreadsheet.sources import sources_sheet
from bedwright.reports.spreadsheet.spreading import spreading_sheet
from bedwright.reports.spreadsheet.tasks import tasks_sheet
from bedwright.reports.spreadsheet.workbook import workbook_bytes
from bedwright.reports.words_spreadsheet import SPREADSHEET
from bedwright.season import SeasonPlan


def spreadsheet_bytes(plan: SeasonPlan, ledger: BedLedger | None = None) -> bytes:
    """The season plan as an Office Open XML workbook (.xlsx), in the language of the moment.

    ``ledger`` is that of all beds with the plan, where it is at hand. The same plan gives the
    same bytes. Raises LookupError for a plan of one bed alone, which has no work and no purchases.
    """
    place = plan.document.garden.garden
    title = SPREADSHEET["title"].format(garden=place.name, as_of=plan.as_of.isoformat())
    sheets = season_sheets(plan, ledger)
    return workbook_bytes(sheets, title, plan.as_of, place.units)


def season_sheets(plan: SeasonPlan, ledger: BedLedger | None = None) -> tuple[Sheet, ...]:
    """The sheets of the workbook as plain rows. Raises LookupError as :func:`spreadsheet_bytes`."""
    work, purchases, harvest = plan.work, plan.purchases, plan.harvest
    if work is None or purchases is None or harvest is None:
        raise LookupError("a plan of one bed alone has no spreadsheet: plan the whole garden")
    place = plan.document.garden.garden
    units = measures(place.units)
    if ledger is None:
        planned = tuple(planned_season(each.prescription) for each in plan.plantings)
        ledger = bed_ledger(plan.document, plan.library, planned)
    sheets = (
        purchases_sheet(purchases, units, place.currency),
        needed_sheet(purchases, units, place.currency),
        tasks_sheet(plan, work),
        spreading_sheet(plan, work, units),
        harvest_sheet(harvest, units, place.units),
        ledger_sheet(ledger, units),
        sources_sheet(plan, ledger),
    )
    return (about_sheet(plan, work, purchases, units, sheets), *sheets)
