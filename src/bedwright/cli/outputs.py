"""All that a season plan is shown as, by the name of the file that it goes into."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

from bedwright.cli.common import progress
from bedwright.cli.frame import Refused

if TYPE_CHECKING:
    from bedwright.season import SeasonPlan

CALENDAR, SPREADSHEET = "calendar.ics", "season.xlsx"
BOOK, MONTHS = "season-book.pdf", "months.pdf"
WEEK, RECORD = "week.txt", "record.txt"


def season_files(made: SeasonPlan, folder: Path, language: str) -> dict[str, str | bytes]:
    """The week, the calendar, the spreadsheet, the beds' record, the months, the season book.

    A calendar that lies in ``folder`` already is gone on from.
    """
    from bedwright.language import spoken, using
    from bedwright.reports.bed_record.gather import garden_record
    from bedwright.reports.bed_record.text import record_text
    from bedwright.reports.spreadsheet.spreadsheet import spreadsheet_bytes
    from bedwright.reports.work_text import week_page
    from bedwright.sheets.months import garden_months
    from bedwright.sheets.months_paper import months_pdf
    from bedwright.units import UnitSystem

    place = made.document.garden.garden
    with using(language):
        progress("writing the calendar")
        found: dict[str, str | bytes] = {CALENDAR: _calendar(made, folder / CALENDAR)}
        found[WEEK] = week_page(made, made.as_of)
        record = garden_record(made.document, made.library, made.as_of, [])
        found[RECORD] = record_text(record, place.name, place.units, made.library)
        progress("filling the spreadsheet")
        found[SPREADSHEET] = spreadsheet_bytes(made)
        progress("setting the season book")
        paper = "letter" if place.units is UnitSystem.US else "a4"
        found[BOOK] = book_of(made, paper)
        found[MONTHS] = months_pdf(made, garden_months(made), paper=paper, lang=spoken())
    return found


def _calendar(made: SeasonPlan, file: Path) -> str:
    from bedwright.cli.calendar import text_of
    from bedwright.reports.calendar.calendar_file import calendar_text
    from bedwright.reports.calendar.earlier import CalendarError

    try:
        return calendar_text(made, text_of(file))
    except CalendarError as error:
        raise Refused(f"bedwright: {file} is there already and is left as it is: {error}") from None
    except OSError as error:
        raise Refused(f"bedwright: {file} cannot be read ({error.strerror})") from None


def book_of(made: SeasonPlan, paper: str) -> bytes:
    """The season book on a paper, in the language of the moment."""
    from bedwright.language import spoken
    from bedwright.sheets.book import book_pdf
    from bedwright.sheets.paper import SheetError

    try:
        return book_pdf(made, paper=paper, lang=spoken())
    except SheetError as error:
        raise Refused(f"bedwright: the season book cannot be set: {error}") from None
