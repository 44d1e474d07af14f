"""Sheets of plain rows as an Office Open XML workbook: real types, safe cells, ready to print."""

from __future__ import annotations

import io
import re
import textwrap
import zipfile
from collections.abc import Sequence
from copy import copy
from datetime import date, datetime, time
from typing import TYPE_CHECKING, Any

from bedwright.language import spoken
from bedwright.reports.spreadsheet.model import Cell, Kind, Sheet
from bedwright.units import UnitSystem

if TYPE_CHECKING:
    from openpyxl import Workbook
    from openpyxl.worksheet.worksheet import Worksheet

_FORMATS: dict[Kind, str] = {
    "text": "General",
    "day": "yyyy-mm-dd",
    "number": "#,##0.0##",
    "count": "0",
    "money": "#,##0.00",
}
_LIKE_A_FORMULA = ("=", "+", "-", "@", "\t", "\r")
# What XML 1.0 cannot hold, and the carriage return, which it turns into a line's end.
_CONTROL = re.compile("[\x00-\x08\x0b-\x1f\x7f\ufffe\uffff]")
_ESCAPED = re.compile("_(?=x[0-9A-Fa-f]{4}_)")  # would be read as a character by its number
_LONGEST = 32_767  # characters of a cell, by the file's own limit
_EARLIEST = 1980  # a zip knows no year before
_LEAST_WIDTH, _MOST_WIDTH = 8.0, 44.0  # characters
_LINE_HEIGHT = 15.0  # points
_INK, _HEAD, _LINE = "FF1A1A1A", "FFE6E6E6", "FF7F7F7F"
_MARGIN_IN = 0.5


def workbook_bytes(sheets: Sequence[Sheet], title: str, as_of: date, system: UnitSystem) -> bytes:
    """The workbook of some sheets.

    Its own dates are ``as_of``, so that the same sheets give the same bytes. It prints on US
    letter or A4 by ``system``.
    """
    from openpyxl import Workbook

    book = Workbook()
    if book.active is not None:
        book.remove(book.active)
    for each in sheets:
        _write(book.create_sheet(safe(each.title)), each, title, system)
    moment = datetime.combine(as_of, time())
    about = book.properties
    about.creator, about.lastModifiedBy = "bedwright", "bedwright"
    about.title, about.language = safe(title), spoken()
    about.created = about.modified = moment
    return _same_each_time(_saved(book), as_of)


def safe(text: str) -> str:
    """A text that a cell can hold: without control characters, not too long."""
    held = _CONTROL.sub(" ", text)
    return held if len(held) <= _LONGEST else f"{held[: _LONGEST - 1]}…"


def _write(page: Worksheet, sheet: Sheet, title: str, system: UnitSystem) -> None:
    from openpyxl.styles import Alignment, Border, Font, PatternFill, Side
    from openpyxl.utils import get_column_letter

    head = {
        "font": Font(bold=True, color=_INK),
        "fill": PatternFill("solid", fgColor=_HEAD),
        "border": Border(bottom=Side("thin", color=_LINE)),
        "alignment": Alignment(vertical="top", wrap_text=True),
    }
    for at, column in enumerate(sheet.columns, 1):
        cell = page.cell(1, at)
        _put(cell, column.head)
        for name, style in head.items():
            setattr(cell, name, style)
    styles = _Styles(page)
    for row, cells in enumerate(sheet.rows, 2):
        for at, (column, value) in enumerate(zip(sheet.columns, cells, strict=True), 1):
            if value is None:
                continue
            cell = page.cell(row, at)
            _put(cell, value)
            styles.onto(cell, value, column.kind)
    widths = [
        _width(column.head, [cells[at] for cells in sheet.rows])
        for at, column in enumerate(sheet.columns)
    ]
    for at, width in enumerate(widths, 1):
        page.column_dimensions[get_column_letter(at)].width = width
    # not every program finds the height of a wrapped text by itself when it opens the file
    heads: tuple[Cell, ...] = tuple(each.head for each in sheet.columns)
    for row, words in enumerate((heads, *sheet.rows), 1):
        lines = max(_lines(each, width) for each, width in zip(words, widths, strict=True))
        if lines > 1:
            page.row_dimensions[row].height = lines * _LINE_HEIGHT
    page.freeze_panes = "A2"
    last = get_column_letter(len(sheet.columns))
    page.auto_filter.ref = f"A1:{last}{len(sheet.rows) + 1}"
    _on_paper(page, title, system)


def _put(cell: Any, value: Cell) -> None:
    """Put a value into a cell as what it is; a text is never a formula."""
    if not isinstance(value, str):
        cell.value = value
        return
    cell.value = _ESCAPED.sub("_x005F_", safe(value))
    cell.data_type = "s"


class _Styles:
    """How cells look, each way made once: to style each cell anew takes most of the time."""

    def __init__(self, page: Worksheet) -> None:
        self.page = page
        self.made: dict[tuple[Kind, bool, bool], Any] = {}

    def onto(self, cell: Any, value: Cell, kind: Kind) -> None:
        """Give a cell the look of a value in a column of a kind."""
        text = isinstance(value, str)
        shown: Kind = "day" if isinstance(value, date) else "text" if text else kind
        if shown == "text" and isinstance(value, float | int):
            shown = "count" if float(value).is_integer() else "number"
        # Keeps it a text when somebody edits the cell, or hands it on.
        quoted = isinstance(value, str) and value.startswith(_LIKE_A_FORMULA)
        look = (shown, text, quoted)
        if look not in self.made:
            self.made[look] = self._look(*look)
        cell._style = copy(self.made[look]._style)

    def _look(self, shown: Kind, text: bool, quoted: bool) -> Any:
        """A cell of that look that stands on no sheet."""
        from openpyxl.cell.cell import Cell as NewCell
        from openpyxl.styles import Alignment

        made: Any = NewCell(self.page, row=1, column=1)
        made.alignment = Alignment(vertical="top", wrap_text=text)
        made.number_format = _FORMATS[shown]
        made.quotePrefix = quoted
        return made


def _width(head: str, cells: Sequence[Cell]) -> float:
    """A width that holds most of a column; longer texts are wrapped."""
    longest = max((_length(each) for each in cells), default=0)
    words = max(len(word) for word in head.split())
    wanted = max(longest, words, min(len(head), 14)) + 3  # room for the filter's button
    return min(max(float(wanted), _LEAST_WIDTH), _MOST_WIDTH)


def _lines(value: Cell, width: float) -> int:
    """Lines that a wrapped text takes in a column, a word never cut."""
    if not isinstance(value, str):
        return 1
    return sum(max(len(textwrap.wrap(line, int(width))), 1) for line in value.split("\n"))


def _length(value: Cell) -> int:
    if value is None:
        return 0
    if isinstance(value, date):
        return 10
    return len(value) if isinstance(value, str) else len(f"{value:,.2f}")


def _on_paper(page: Worksheet, title: str, system: UnitSystem) -> None:
    """Landscape, as wide as the paper, with the headings on every page."""
    from openpyxl.worksheet.properties import PageSetupProperties

    page.sheet_properties.pageSetUpPr = PageSetupProperties(fitToPage=True)
    page.page_setup.orientation = "landscape"
    page.page_setup.paperSize = int(
        page.PAPERSIZE_LETTER if system is UnitSystem.US else page.PAPERSIZE_A4
    )
    page.page_setup.fitToWidth, page.page_setup.fitToHeight = 1, 0
    page.print_title_rows = "1:1"
    for side in ("left", "right", "top", "bottom"):
        setattr(page.page_margins, side, _MARGIN_IN)
    # An ampersand begins a code there, so a name's own is doubled.
    footer: Any = page.oddFooter
    footer.left.text = safe(title).replace("&", "&&")
    footer.center.text = "&A"
    footer.right.text = "&P / &N"


def _saved(book: Workbook) -> bytes:
    """The workbook as openpyxl writes it. Its own ``save`` would write the clock's time into it."""
    from openpyxl.writer.excel import ExcelWriter

    stream = io.BytesIO()
    with zipfile.ZipFile(stream, "w", zipfile.ZIP_DEFLATED) as archive:
        ExcelWriter(book, archive).write_data()
    return stream.getvalue()


def _same_each_time(content: bytes, as_of: date) -> bytes:
    """A zip with the times of its parts set to a day."""
    moment = (max(as_of.year, _EARLIEST), as_of.month, as_of.day, 0, 0, 0)
    stream = io.BytesIO()
    with (
        zipfile.ZipFile(io.BytesIO(content)) as given,
        zipfile.ZipFile(stream, "w", zipfile.ZIP_DEFLATED) as made,
    ):
        for each in given.infolist():
            entry = zipfile.ZipInfo(each.filename, moment)
            entry.compress_type = zipfile.ZIP_DEFLATED
            entry.external_attr = 0o600 << 16
            made.writestr(entry, given.read(each))
    return stream.getvalue()
