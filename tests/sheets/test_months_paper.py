"""The twelve months on paper: one page that lies, readable back, the same at every run."""

from datetime import date
from functools import cache
from io import BytesIO
from pathlib import Path

import pytest
from pypdf import PdfReader

from bedwright.garden.load import load_text
from bedwright.language import using
from bedwright.reference import Library
from bedwright.season import SeasonPlan, season_plan
from bedwright.sheets.months import garden_months, months_svg, months_table
from bedwright.sheets.months_paper import months_pdf

AS_OF = date(2026, 11, 25)
LIBRARY = Library()
GARDEN = """format = 2
[garden]
name = "Small & <green>"
[[bed]]
id = "A"
length = "40 ft"
width = "6 ft"
corner = ["0 ft", "0 ft"]
long_axis = "E-W"
texture = "loam"
[[want]]
crop = "tomato"
beds = ["A"]
set_out = 2027-05-10
"""


@cache
def plan() -> SeasonPlan:
    document = load_text(GARDEN, "garden.toml", Path("/nonexistent"), LIBRARY, AS_OF)
    return season_plan(document, LIBRARY, AS_OF, ahead=False)


def pdf(paper: str = "letter", first: date = AS_OF, lang: str = "en") -> bytes:
    return months_pdf(plan(), garden_months(plan(), first=first), paper=paper, lang=lang)


@pytest.mark.parametrize(("paper", "size"), [("letter", (792, 612)), ("a4", (841.89, 595.28))])
def test_they_stand_on_one_page_that_lies(paper, size):
    (page,) = PdfReader(BytesIO(pdf(paper))).pages

    assert (float(page.mediabox.width), float(page.mediabox.height)) == pytest.approx(size, abs=0.1)


def test_the_page_says_whose_months_they_are_and_what_grows():
    (page,) = PdfReader(BytesIO(pdf(first=date(2027, 3, 1)))).pages
    text = page.extract_text()

    assert "Small & <green>, month by month, as of November 25, 2026" in text
    assert "March 2027" in text
    assert "February 2028" in text
    assert "tomato" in text


def test_the_same_plan_gives_the_same_bytes():
    assert pdf() == pdf()


def test_it_is_said_in_spanish():
    with using("es"):
        (page,) = PdfReader(BytesIO(pdf(first=date(2027, 1, 1), lang="es"))).pages
        text = page.extract_text()

    assert "enero" in text
    assert "January" not in text


def test_the_table_tells_what_the_drawing_tells():
    months = garden_months(plan(), first=date(2027, 1, 1))
    heads, (row,) = months_table(months)

    assert heads[4] == "May 2027"
    assert row.cells[4][1] == "tomato, growing"
    svg = months_svg(plan(), months=months)
    for head, (_, words) in zip(heads, row.cells, strict=True):
        assert f">{head}<" in svg
        assert f">A: {words}<" in svg
