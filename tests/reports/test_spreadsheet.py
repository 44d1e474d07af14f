"""The season as a spreadsheet: real types, the plan's own sums, safe cells, the same each time."""

import io
import math
import re
import zipfile
from datetime import date
from itertools import pairwise
from pathlib import Path
from xml.etree import ElementTree

import openpyxl
import pytest
from hypothesis import given
from hypothesis import strategies as st
from python_calamine import CalamineWorkbook

from bedwright.garden.load import load_text
from bedwright.language import LANGUAGES, using
from bedwright.planning.work.model import Act
from bedwright.reference import Library
from bedwright.reports.spreadsheet.model import Column, Sheet
from bedwright.reports.spreadsheet.spreadsheet import season_sheets, spreadsheet_bytes
from bedwright.reports.spreadsheet.workbook import safe, workbook_bytes
from bedwright.reports.words_spreadsheet import SHEET_TITLES
from bedwright.season import SeasonPlan, season_plan
from bedwright.units import UnitSystem

AS_OF = date(2027, 2, 1)
LIBRARY = Library()
POUND = 0.45359237  # kg, NIST Handbook 44, appendix C
SQUARE_FOOT = 0.09290304  # m2, the same
BED = 'length = "20 ft"\nwidth = "4 ft"\ntexture = "silt loam"\n'
NAME = '=HYPERLINK("http://example.invalid/","x") & more'
GARDEN = (
    f"format = 2\n[garden]\nname = '{NAME}'\n{{place}}"
    'note = "-2+3: an invented garden \\u0007_x0041_"\n'
    f'[[bed]]\nid = "A"\n{BED}[[bed]]\nid = "B"\n{BED}[[bed]]\nid = "C"\n{BED}'
    '[[soil_report]]\nid = "fall"\nbeds = ["A", "B"]\nsampled = 2026-10-15\ndepth = "12 in"\n'
    'results = [{{ analyte = "pH", value = 6.7, method = "1:1 soil:water" }},'
    '{{ analyte = "Phosphorus", value = "12 ppm", method = "Bray P1" }},'
    '{{ analyte = "Potassium", value = "60 ppm", method = "ammonium acetate" }}]\n'
    '[[stock]]\nmaterial = "potassium sulfate"\npackage = "10 lb"\nprice = "18 USD"\n'
    '[[stock]]\nmaterial = "blood meal"\npackage = "5 lb"\nprice = "12.50 USD"\non_hand = "1 lb"\n'
    '[[stock]]\nmaterial = "steamed bone meal"\npackage = "5 lb"\n'
    '[[supply]]\nitem = "seed"\ncrop = "carrot"\npackage = "10 g"\nprice = "4 USD"\n'
    '[[history]]\nbed = "A"\nyear = 2025\ncrop = "lettuce"\nharvested = "60 lb"\n'
    'applied = [{{ material = "blood meal", amount = "2 lb", on = 2025-04-01 }}]\n'
    '[[want]]\ncrop = "tomato"\nbeds = ["A"]\nset_out = 2027-05-10\n'
    '[[want]]\ncrop = "carrot"\nbeds = ["B"]\nset_out = 2027-04-20\n'
    '[[want]]\ncrop = "lettuce"\nbeds = ["C"]\nset_out = 2027-04-25\n'
    '[[wish]]\ncrop = "carrot"\na_week = "20 lb"\nfrom_day = "06-01"\nto_day = "09-01"\n'
    "[work]\nhours_per_week = {hours}\n"
)
BARE = f'format = 2\n[garden]\nname = "Two beds"\n[[bed]]\nid = "A"\n{BED}[[bed]]\nid = "B"\n{BED}'


def plan_of(text: str, acts: tuple[Act, ...] = (), only: str | None = None) -> SeasonPlan:
    document = load_text(text, "garden.toml", Path("/nonexistent"), LIBRARY, AS_OF)
    return season_plan(document, LIBRARY, AS_OF, only=only, ahead=False, acts=acts)


def us(hours: int = 9) -> str:
    return GARDEN.format(place="", hours=hours)


@pytest.fixture(scope="module")
def plan() -> SeasonPlan:
    return plan_of(us())


@pytest.fixture(scope="module")
def content(plan: SeasonPlan) -> bytes:
    return spreadsheet_bytes(plan)


@pytest.fixture(scope="module")
def metric() -> SeasonPlan:
    return plan_of(GARDEN.format(place='units = "metric"\n', hours=9))


class Read:
    """A sheet as another library reads it."""

    def __init__(self, content: bytes, title: str) -> None:
        book = CalamineWorkbook.from_filelike(io.BytesIO(content))
        self.heads, *self.rows = book.get_sheet_by_name(title).to_python()

    def column(self, head: str) -> list:
        at = self.heads.index(head)
        return [row[at] for row in self.rows]

    def sum(self, head: str, **wanted: str) -> float:
        """The sum of a column over the rows whose other columns are as wanted."""
        kept = [
            row
            for row in self.rows
            if all(row[self.heads.index(key)] == value for key, value in wanted.items())
        ]
        return math.fsum(row[self.heads.index(head)] or 0.0 for row in kept)


# What another library reads ---------------------------------------------------------------------


def test_every_sheet_is_there_with_as_many_rows_as_the_first_one_says(content: bytes):
    book = CalamineWorkbook.from_filelike(io.BytesIO(content))
    about = Read(content, "About")

    assert book.sheet_names == list(SHEET_TITLES.values())
    told = {what: value for part, what, value, _ in about.rows if part == "Sheet"}
    assert told == {title: len(Read(content, title).rows) for title in book.sheet_names[1:]}
    assert min(told.values()) > 0
    assert [v for p, w, v, _ in about.rows if w == "Planned as of"] == [AS_OF]


@pytest.mark.parametrize(
    ("title", "kind", "heads"),
    [
        ("Purchases", date, ["Order by", "Needed on"]),
        ("Purchases", float, ["Bought"]),
        ("Tasks", date, ["No later than"]),
        ("Tasks", float, ["Hours, low", "Hours, typical", "Hours, high", "People"]),
        ("Spreading", float, ["Amount (lb)", "Amount (kg)", "Rate (lb/100 ft2)"]),
        ("Harvest", date, ["Week of"]),
        ("Harvest", float, ["Low", "Typical", "High"]),
        ("Ledger", float, ["Season"]),
    ],
)
def test_days_are_days_and_numbers_are_numbers(content: bytes, title: str, kind, heads):
    for head in heads:
        cells = Read(content, title).column(head)
        assert cells
        assert {type(each) for each in cells} == {kind}, head


def test_the_masses_spread_are_those_of_the_plan(plan: SeasonPlan, content: bytes):
    read = Read(content, "Spreading")

    assert len(plan.totals) > 1
    for each in plan.totals:
        name = each.name.lower()
        assert read.sum("Amount (kg)", Material=name) == pytest.approx(each.needed_kg, rel=1e-6)
        assert read.sum("Amount (lb)", Material=name) * POUND == pytest.approx(
            each.needed_kg, rel=1e-6
        )
    area = 80 * SQUARE_FOOT
    for kg, rate in zip(read.column("Amount (kg)"), read.column("Rate (lb/100 ft2)"), strict=True):
        assert rate == pytest.approx(kg / POUND / (area / (100 * SQUARE_FOOT)), rel=1e-6)


def test_the_same_masses_are_needed_and_less_what_is_on_hand_bought(
    plan: SeasonPlan, content: bytes
):
    needed, bought = Read(content, "Needed and on hand"), Read(content, "Purchases")

    assert needed.sum("Needed", Item="blood meal") * POUND == pytest.approx(
        next(each.needed_kg for each in plan.totals if each.key == "blood_meal"), rel=1e-6
    )
    assert needed.sum("On hand", Item="blood meal") == pytest.approx(1)
    for item in needed.column("Item"):
        assert bought.sum("Bought", Item=item) == pytest.approx(needed.sum("Bought", Item=item))
    blood = needed.sum("Needed", Item="blood meal") - 1
    assert bought.sum("Packages", Item="blood meal") == math.ceil(blood / 5)
    assert bought.sum("Cost (USD)", Item="blood meal") == 12.5 * math.ceil(blood / 5)


def test_the_cost_and_the_hours_are_the_plans(plan: SeasonPlan, content: bytes):
    bought, tasks, about = (Read(content, each) for each in ("Purchases", "Tasks", "About"))
    sums = [value for part, _, value, _ in about.rows if part == "Sum"]

    assert bought.sum("Cost (USD)") == pytest.approx(plan.purchases.cost) == sums[1] > 0
    for head, end in (
        ("Hours, low", "least"), ("Hours, typical", "value"), ("Hours, high", "most")
    ):  # fmt: skip
        expected = math.fsum(getattr(each.hours, end) for each in plan.work.tasks)
        assert tasks.sum(head) == pytest.approx(expected, rel=1e-6)
    assert len(tasks.rows) == len(plan.work.tasks) > 40
    assert tasks.sum("Hours, typical", State="planned") == pytest.approx(sums[0], rel=1e-6)


def test_tasks_stand_in_their_weeks_as_the_plan_has_them(plan: SeasonPlan, content: bytes):
    tasks = Read(content, "Tasks")
    days = [each for each in tasks.column("Day") if each]

    assert sorted(days) == sorted(each.day for each in plan.work.assigned)
    assert all(before <= after for before, after in pairwise(days))
    for week, monday, day in zip(
        tasks.column("Week"), tasks.column("Week of"), tasks.column("Day"), strict=True
    ):
        if not week:
            continue
        year, number, weekday = monday.isocalendar()
        assert (week, weekday) == (f"{year}-W{number:02d}", 1)
        assert 0 <= (day - monday).days < 7


def test_spreading_stands_on_the_day_of_its_task(plan: SeasonPlan, content: bytes):
    read = Read(content, "Spreading")
    laid = {each.task: each.day for each in plan.work.assigned}

    for bed, crop, on, when in zip(
        read.column("Bed"), read.column("Crop"), read.column("Day"), read.column("Round"),
        strict=True,
    ):  # fmt: skip
        if when == "before planting":
            assert on == laid[f"{bed}/{crop}/spread/1"]


def test_the_harvest_is_the_plans_and_the_wish_is_beside_it(plan: SeasonPlan, content: bytes):
    read = Read(content, "Harvest")

    for crop in plan.harvest.crops:
        name = crop.name.lower()
        picked = read.sum("Picked (lb)", Crop=name) * POUND
        assert picked == pytest.approx(crop.mass.typical, rel=1e-6)
        sold = math.fsum(each.to_sell.typical for each in crop.weeks)
        assert read.sum("Fit to sell (lb)", Crop=name) * POUND == pytest.approx(sold, rel=1e-6)
    lettuce = plan.harvest.of("lettuce")
    week = next(each for each in lettuce.weeks if each.to_sell.typical > 0)
    pieces = week.to_sell.typical / lettuce.unit_mass.value
    row = next(
        row
        for row in read.rows
        if row[read.heads.index("Crop")] == "lettuce"
        and row[read.heads.index("Week of")] == week.monday
    )
    assert row[read.heads.index("Sold by")] == lettuce.unit == "head"
    assert row[read.heads.index("Typical")] == pytest.approx(pieces, rel=1e-6)
    wished = {week for week, wish in zip(read.column("Week"), read.column("Wish"), strict=True)
              if wish != ""}  # fmt: skip
    assert len(wished) == 14  # June 1 to September 1 of 2027 touch fourteen ISO weeks
    assert {"too little"} <= set(read.column("Enough?"))


def test_the_ledger_closes_and_is_that_of_the_plan(plan: SeasonPlan, content: bytes):
    read = Read(content, "Ledger")
    at = {head: read.heads.index(head) for head in read.heads}

    def cell(row: list, head: str) -> float:
        return row[at[f"{head} (lb/100 ft2)"]]

    told = [row for row in read.rows if row[at["Account"]]]
    assert {row[at["State"]] for row in read.rows} == {
        "as told", "as planned", "not told: nothing is counted"
    }  # fmt: skip
    before: dict[tuple, float] = {}
    for row in told:
        key = (row[at["Bed"]], row[at["Account"]])
        if cell(row, "Change") == "" or cell(row, "At the end") == "":
            continue
        assert cell(row, "In") - cell(row, "Out") == pytest.approx(cell(row, "Change"), abs=1e-6)
        if key in before:
            assert before[key] + cell(row, "Change") == pytest.approx(
                cell(row, "At the end"), abs=1e-6
            )
        before[key] = cell(row, "At the end")
    # Blood meal is 12 % nitrogen and 1.5 to 2 % phosphate by its table: of 2 lb on 80 ft2.
    row = next(r for r in told if r[at["Season"]] == 2025 and r[at["Account"]].startswith("phos"))
    assert 0.01 < cell(row, "In") < 0.06


def test_sources_are_publications_of_the_table_and_say_where_they_serve(
    plan: SeasonPlan, content: bytes
):
    read = Read(content, "Sources")

    titles = {each.title for each in plan.library.sources.values()}
    assert set(read.column("Source")) <= titles
    assert len(read.rows) > 10
    used = {each for told in read.column("Used in") for each in told.split(", ")}
    assert used == {"Purchases", "Tasks", "Spreading", "Harvest", "Ledger"}


# Other gardens ----------------------------------------------------------------------------------


def test_a_metric_garden_reads_kilograms_once(metric: SeasonPlan):
    read = Read(spreadsheet_bytes(metric), "Spreading")

    assert [head for head in read.heads if "Amount" in head] == ["Amount (kg)"]
    assert "Rate (g/m2)" in read.heads
    total = math.fsum(each.needed_kg for each in metric.totals)
    assert read.sum("Amount (kg)") == pytest.approx(total, rel=1e-6)


def test_what_does_not_fit_and_what_is_done_say_so():
    made = spreadsheet_bytes(plan_of(us(hours=1), (Act("clear", AS_OF, "B", "carrot"),)))
    read = Read(made, "Tasks")

    states = dict(zip(read.column("State"), read.rows, strict=True))
    assert "done" in states
    assert any(each.startswith("does not fit: ") for each in states)
    left = next(row for state, row in states.items() if state.startswith("does not fit"))
    assert left[read.heads.index("Week")] == left[read.heads.index("Day")] == ""


def test_a_garden_with_nothing_but_two_beds_has_sheets_without_rows():
    made = spreadsheet_bytes(plan_of(BARE))

    about = Read(made, "About")
    told = {what: value for part, what, value, _ in about.rows if part == "Sheet"}
    assert set(told.values()) == {0.0}
    assert Read(made, "Tasks").heads[:2] == ["Week", "Week of"]


def test_a_plan_of_one_bed_alone_is_refused():
    with pytest.raises(LookupError, match="one bed alone has no spreadsheet"):
        spreadsheet_bytes(plan_of(us(), only="A"))


# The file ---------------------------------------------------------------------------------------


def parts(content: bytes) -> dict[str, bytes]:
    with zipfile.ZipFile(io.BytesIO(content)) as found:
        assert found.testzip() is None
        return {each: found.read(each) for each in found.namelist()}


def test_two_runs_give_the_same_bytes(plan: SeasonPlan, content: bytes):
    again = plan_of(us())
    with zipfile.ZipFile(io.BytesIO(content)) as found:
        moments = {each.date_time for each in found.infolist()}

    assert spreadsheet_bytes(again) == content
    assert moments == {(2027, 2, 1, 0, 0, 0)}
    core = parts(content)["docProps/core.xml"].decode()
    assert re.findall(r"\d{4}-\d\d-\d\dT[\d:]+Z?", core) == ["2027-02-01T00:00:00Z"] * 2


def test_no_cell_is_a_formula_whatever_its_text_begins_with(content: bytes):
    found = parts(content)

    sheets = [found[each] for each in found if each.startswith("xl/worksheets/sheet")]
    assert len(sheets) == len(SHEET_TITLES)
    for each in sheets:
        tree = ElementTree.fromstring(each)
        assert not tree.findall(".//{*}f")
        assert not tree.findall(".//{*}hyperlink")
        assert {cell.get("t") for cell in tree.iter() if cell.tag.endswith("}c")} <= {
            "inlineStr", "n"
        }  # fmt: skip
    assert not [each for each in found if "externalLink" in each or "vba" in each.lower()]


def test_text_like_a_formula_stays_the_text_and_is_kept_from_becoming_one(content: bytes):
    book = openpyxl.load_workbook(io.BytesIO(content))
    cells = [cell for row in book["About"].iter_rows() for cell in row if cell.value]

    name = next(cell for cell in cells if cell.value == NAME)
    note = next(cell for cell in cells if str(cell.value).startswith("-2+3"))
    plain = next(cell for cell in cells if cell.value == "Garden")
    assert (name.data_type, name.quotePrefix) == ("s", True)
    assert (note.data_type, note.quotePrefix) == ("s", True)
    assert not plain.quotePrefix
    about = Read(content, "About")
    assert NAME in about.column("Value")
    assert "-2+3: an invented garden  _x0041_" in about.column("To know")


@pytest.mark.parametrize(
    ("text", "held"),
    [
        ("plain", "plain"),
        ("a\x00b\x1fc", "a b c"),
        ("tab\tand\nline", "tab\tand\nline"),
        ("\ufffe", " "),
        ("x" * 40_000, "x" * 32_766 + "…"),
    ],
)
def test_what_a_cell_cannot_hold_is_left_out(text: str, held: str):
    assert safe(text) == held


# A text of blanks alone may be read as nothing.
TEXTS = st.text(min_size=1, max_size=20).filter(lambda text: safe(text).strip())


@given(st.lists(TEXTS, min_size=1, max_size=30))
def test_any_text_comes_back_as_it_went_in(texts: list[str]):
    sheet = Sheet("Any", "", (Column("=1+1"),), tuple((each,) for each in texts))
    content = workbook_bytes([sheet], "=1+1 &D", AS_OF, UnitSystem.METRIC)

    book = CalamineWorkbook.from_filelike(io.BytesIO(content))
    assert book.get_sheet_by_name("Any").to_python() == [["=1+1"], *([safe(t)] for t in texts)]
    assert b"<f>" not in parts(content)["xl/worksheets/sheet1.xml"]


@pytest.mark.parametrize(("garden", "paper"), [("plan", 1), ("metric", 9)])
def test_sheets_print_landscape_on_the_gardens_paper_with_their_headings(
    garden: str, paper: int, request: pytest.FixtureRequest
):
    """Paper sizes 1 and 9 are US letter and A4 (ECMA-376 part 1, 18.3.1.63)."""
    book = openpyxl.load_workbook(io.BytesIO(spreadsheet_bytes(request.getfixturevalue(garden))))

    for page in book:
        assert page.page_setup.orientation == "landscape"
        assert page.page_setup.paperSize == paper
        assert (page.page_setup.fitToWidth, page.page_setup.fitToHeight) == (1, 0)
        assert page.sheet_properties.pageSetUpPr.fitToPage
        assert page.print_title_rows == "$1:$1"
        assert page.freeze_panes == "A2"
        assert page.auto_filter.ref == page.dimensions
        assert "&& more" in page.oddFooter.left.text
        widths = [each.width for each in page.column_dimensions.values()]
        assert len(widths) == page.max_column
        assert 8 <= min(widths) <= max(widths) <= 44


def test_number_formats_are_those_of_what_stands_there(content: bytes):
    book = openpyxl.load_workbook(io.BytesIO(content))
    page = book["Purchases"]
    formats = {head.value: cell.number_format for head, cell in zip(page[1], page[2], strict=True)}

    assert formats["Order by"] == "yyyy-mm-dd"
    assert formats["Bought"] == "#,##0.0##"
    paid = next(row for row in page.iter_rows(min_row=2) if row[10].value)
    assert paid[10].number_format == "#,##0.00"


# Languages --------------------------------------------------------------------------------------


@pytest.mark.parametrize("code", LANGUAGES)
def test_every_language_has_titles_that_a_sheet_may_bear(plan: SeasonPlan, code: str):
    with using(code):
        sheets = season_sheets(plan)

    titles = [each.title for each in sheets]
    assert len(set(titles)) == len(titles)
    for each in sheets:
        assert 0 < len(each.title) <= 31
        assert not set(each.title) & set("[]:*?/\\")
        assert len({column.head for column in each.columns}) == len(each.columns)


def test_spanish_says_the_same_numbers(plan: SeasonPlan, content: bytes):
    with using("es"):
        spanish = spreadsheet_bytes(plan)
        title = SHEET_TITLES["spreading"]

    def numbers(made: bytes, of: str) -> list:
        return [[c for c in row if not isinstance(c, str)] for row in Read(made, of).rows]

    assert title != "Spreading"
    assert numbers(spanish, title) == numbers(content, "Spreading")
    assert "harina de sangre" in str(Read(spanish, title).rows).lower()
