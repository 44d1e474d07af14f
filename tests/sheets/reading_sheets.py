"""Making sheets in a test, and what can be read from them again."""

import io
import re
from datetime import date

from pypdf import PdfReader

from bedwright.reports.words_drawings import DRAWING_WORDS
from bedwright.reports.words_spreading import SHEET_WORDS
from bedwright.season import SeasonPlan
from bedwright.sheets.content import SheetContent, sheet_content
from bedwright.sheets.paper import printed

WORDS = {**DRAWING_WORDS, **SHEET_WORDS}


def contents(plan: SeasonPlan) -> list[SheetContent]:
    """The sheets of all planned beds."""
    system = plan.document.garden.garden.units
    return [sheet_content(plan, each.prescription.bed.id, WORDS, system) for each in plan.beds]


def pdf(sheets: list[SheetContent], paper: str = "letter", address: str | None = None) -> bytes:
    return printed(
        sheets, paper=paper, as_of=date(2026, 11, 25), title="Sheets under test", address=address
    )


def pages(made: bytes) -> list[str]:
    """The text of each page, in one line, without the places where words may be broken."""
    return [flat(page.extract_text()) for page in PdfReader(io.BytesIO(made)).pages]


def flat(text: str) -> str:
    return re.sub(r"\s+", " ", text.replace("\u200b", "")).strip()
