"""The season book and the back of a bed's sheet, read back from the paper."""

import io
import re

import pytest
from pypdf import PdfReader
from reading_sheets import WORDS, flat, pages

from bedwright.cli.main import run
from bedwright.garden.load import load_text
from bedwright.language import using
from bedwright.reference import Library
from bedwright.reports.words_work import TASKS
from bedwright.reports.work_text import in_order
from bedwright.season import SeasonPlan, season_plan
from bedwright.sheets.back import bed_rows
from bedwright.sheets.book import book_pdf
from bedwright.sheets.content import sheet_content

LONG = "The Terraces Beyond the Old Mill Race and the Orchard Wall of Upper " + "W" * 60
WANT = """[[want]]
crop = "lettuce"
beds = ["A"]
set_out = 2027-04-20
"""


def document(tmp_path, as_of, name: str, bed: str, rest: str):
    text = (
        f'format = 2\n[garden]\nname = "{name}"\nnote = "Invented for a test."\n[[bed]]\n'
        f'id = "{bed}"\nlength = "20 ft"\nwidth = "4 ft"\ntexture = "silt loam"\n{rest}'
    )
    return load_text(text, "garden.toml", tmp_path, Library(), as_of)


@pytest.fixture
def small(tmp_path, as_of) -> SeasonPlan:
    made = document(tmp_path, as_of, "Small", "A", WANT)
    return season_plan(made, Library(), as_of, ahead=False)


def test_the_book_holds_every_part_and_its_contents_tell_the_true_page(small: SeasonPlan):
    found = pages(book_pdf(small, paper="letter"))

    assert "Season book of Small" in found[0]
    assert "Invented for a test." in found[0]
    for title in (
        "The garden", "Calendar", "Harvest by week", "To buy, by date", "Hours by week",
        "Working in short", "Sources",
    ):  # fmt: skip
        told = re.search(rf"{title} [. ]+ (\d+)", found[1])
        assert told is not None
        assert title in found[int(told[1]) - 1]
    told = re.search(r"Bed A, lettuce [. ]+ (\d+)", found[1])
    assert told is not None
    assert "Bed A" in found[int(told[1]) - 1]
    assert all(table in " ".join(found) for table in small.tables)


def test_the_paper_is_what_was_asked_for_and_the_bytes_are_the_same(small: SeasonPlan):
    first = book_pdf(small, paper="a4")

    assert book_pdf(small, paper="a4") == first
    for paper, wide in (("a4", 595.3), ("letter", 612.0)):
        made = PdfReader(io.BytesIO(book_pdf(small, paper=paper)))
        assert {round(float(each.mediabox.width), 1) for each in made.pages} == {wide}
        assert made.trailer["/Root"]["/MarkInfo"]["/Marked"]


def test_the_back_of_a_sheet_has_the_tasks_of_the_bed_in_their_order(small: SeasonPlan):
    work = small.work
    assert work is not None
    due = in_order(work, [each for each in work.assigned if not each.done])
    names = [TASKS[task.kind].capitalize() for _, task in due if task.bed and not task.repeated]

    rows = bed_rows(small, "A")

    once = [each.task for each in rows if "times" not in each.task]
    assert [each for each in once if each in names] == names
    hours = sum(task.hours.value for _, task in due if task.bed == "A")
    assert sum(float(each.hours or 0) for each in rows) == pytest.approx(hours, abs=0.3)
    (back,) = [each for each in pages(book_pdf(small, paper="letter")) if "A, page 2" in each]
    at = back.index("Work in this bed")
    for each in rows:
        at = back.index(flat(f"{each.when} {each.task}"), at) + 1


def test_a_garden_with_nothing_planned_still_makes_a_book(tmp_path, as_of):
    made = document(tmp_path, as_of, LONG, "A" * 24, "")
    plan = season_plan(made, Library(), as_of, ahead=False)

    found = " ".join(pages(book_pdf(plan, paper="a4")))

    assert "No harvest is expected" in found
    assert "Nothing is to be bought" in found
    assert "No task is planned." in found
    assert "No bed has a crop planned." in found
    assert "Orchard Wall" in found


def test_without_its_back_a_sheet_is_one_page_and_says_no_tasks(small: SeasonPlan):
    system = small.document.garden.garden.units

    assert sheet_content(small, "A", WORDS, system).back is None
    assert sheet_content(small, "A", WORDS, system, back=True).back is not None


def test_the_book_is_said_in_spanish(small: SeasonPlan):
    with using("es"):
        found = pages(book_pdf(small, paper="letter", lang="es"))

    assert "Contenido" in found[1]


def test_the_command_writes_one_file_and_refuses_another_kind(tmp_path, capsys):
    garden = tmp_path / "garden.toml"
    garden.write_text('format = 2\n[garden]\nname = "Bare"\n', encoding="utf-8")
    given = ["book", str(garden), "--as-of", "2027-03-01", "--out"]

    assert run([*given, str(tmp_path / "book.txt")]) == 2
    assert "name one that ends in .pdf" in capsys.readouterr().err
