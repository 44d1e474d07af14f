"""The twelve months on one page of paper that lies, as PDF."""

from __future__ import annotations

import json
from datetime import UTC, date, datetime

from bedwright.drawings.months_said import said_of
from bedwright.face import FAMILY, FaceError, face_folder
from bedwright.planning.occupancy import Months
from bedwright.reports.days_said import day_year_words
from bedwright.reports.words_months import MONTH_WORDS
from bedwright.season import SeasonPlan
from bedwright.sheets.months import months_svg
from bedwright.sheets.paper import PAPERS, SheetError
from bedwright.sheets.signs import printable

_SOURCE = b"""
#let told = json(bytes(sys.inputs.data))
#set document(title: told.title)
#set page(paper: told.paper, flipped: true, margin: 10mm)
#set text(font: told.face, size: 11pt, lang: told.lang)
#heading(level: 1, text(size: 13pt, told.title))
#v(1mm)
#image(bytes(told.drawing), format: "svg", width: 100%, height: 1fr, fit: "contain",
  alt: told.described)
"""


def months_pdf(plan: SeasonPlan, months: Months, *, paper: str, lang: str = "en") -> bytes:
    """The garden in twelve months on one page; same input, same bytes.

    Parameters
    ----------
    plan : of the garden
    months : what stands where, see :func:`bedwright.sheets.months.garden_months`
    paper : a key of :data:`bedwright.sheets.paper.PAPERS`
    lang : the language in which words are said

    Raises SheetError where the face is missing or the typesetter warns of anything.
    """
    import typst

    title = MONTH_WORDS["months_as_of"].format(
        garden=plan.document.garden.garden.name, day=day_year_words(plan.as_of)
    )
    data = {
        "title": printable(title),
        "paper": PAPERS[paper],
        "face": FAMILY,
        "lang": lang,
        "drawing": printable(months_svg(plan, months=months)),
        "described": printable(said_of(months, MONTH_WORDS)),
    }
    try:
        fonts = typst.Fonts(
            include_system_fonts=False,
            include_embedded_fonts=False,
            font_paths=[str(face_folder())],
        )
        made, warned = typst.compile_with_warnings(
            _SOURCE,
            font_paths=fonts,
            format="pdf",
            sys_inputs={"data": json.dumps(data, ensure_ascii=False)},
            pdf_standards=["ua-1"],
            timestamp=_midnight(plan.as_of),
        )
    except FaceError as error:
        raise SheetError(str(error)) from None
    except typst.TypstError as error:
        raise SheetError(f"the typesetter stopped: {error.message}") from error
    if warned:
        raise SheetError(f"the typesetter warns: {'; '.join(each.message for each in warned)}")
    return bytes(made)


def _midnight(day: date) -> datetime:
    return datetime(day.year, day.month, day.day, tzinfo=UTC)
