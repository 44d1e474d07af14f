"""The garden month by month: every bed with its state, readable, to scale, and within its paper."""

import re
from datetime import date

import pytest
from hypothesis import given
from hypothesis import strategies as st
from reading_drawings import SVG, apart, area, garden_of, read_drawing

from bedwright.drawings.geometry import Polygon
from bedwright.drawings.months import months_drawing
from bedwright.drawings.months_ground import Size
from bedwright.drawings.months_said import letters_of
from bedwright.drawings.parted import parted
from bedwright.garden import Document
from bedwright.planning.assignment.units import units_of
from bedwright.planning.occupancy import Cell, Doing, Held, Months
from bedwright.reports.words_months import MONTH_WORDS

EMPTY = Cell(Doing.EMPTY, ())
SIZES = {
    "telephone": Size(360.0, columns=1),
    "desk": Size(760.0, columns=2),
    "paper": Size(960.0, height=690.0, letters=8.0),
}


def grown(name: str, doing: Doing = Doing.GROWING, *, proposed: bool = False) -> Cell:
    return Cell(doing, (Held(name, name, doing, proposed),))


def twelve(document: Document, *cells: Cell) -> Months:
    """Months in which the units do in turn what the cells say."""
    units = units_of(document)
    rows = tuple(
        tuple(cells[(at + month) % len(cells)] for month in range(12)) for at in range(len(units))
    )
    months = tuple(date(2027, each, 1) for each in range(1, 13))
    return Months(months, units, rows, (), ())


def svg_of(document: Document, months: Months, size: Size = SIZES["desk"], **more) -> str:
    names = {held.name for row in months.cells for cell in row for held in cell.held}
    given = {"words": MONTH_WORDS, "called": str.lower, "codes": letters_of(sorted(names))}
    return months_drawing(document, months, size=size, **(given | more))


@pytest.fixture(params=["kestrel_bend", "ennery_flat"])
def demo(request) -> Document:
    return request.getfixturevalue(request.param)


@pytest.fixture(params=sorted(SIZES))
def size(request) -> Size:
    return SIZES[request.param]


CELLS = (
    grown("Sweet pepper", Doing.RESTING),
    grown("Tomato"),
    grown("Cereal rye", Doing.COVER, proposed=True),
    EMPTY,
    grown("Onion", Doing.PICKED),
)


def test_every_bed_of_every_month_stands_there_to_scale(demo, size):
    drawn = read_drawing(svg_of(demo, twelve(demo, *CELLS), size))

    assert len(drawn.all("month")) == 12
    for month in drawn.all("month"):
        beds = {each.get("data-bed"): each for each in month.iter() if each.get("class") == "bed"}
        assert set(beds) == {each.id for each in demo.garden.bed}
        scales = []
        for bed in demo.garden.bed:
            (outline,) = (e for e in beds[bed.id] if e.get("class") == "outline")
            corners = [tuple(map(float, p.split(","))) for p in outline.get("points").split()]
            scales.append(abs(area(corners)) / bed.area_m2)
        assert max(scales) == pytest.approx(min(scales), rel=0.01)


def test_its_words_are_on_paper_and_on_nothing_else(demo, size):
    drawn = read_drawing(svg_of(demo, twelve(demo, *CELLS), size))

    width, height = drawn.size
    for text in drawn.texts:
        assert text.size >= size.letters
        for x, y in text.corners:
            assert -0.01 <= x <= width + 0.01, text
            assert -0.01 <= y <= height + 0.01, text
    for at, one in enumerate(drawn.texts):
        for other in drawn.texts[at + 1 :]:
            assert apart(one.corners, other.corners), (one, other)


def test_it_keeps_to_the_height_of_its_paper(demo):
    _, height = read_drawing(svg_of(demo, twelve(demo, *CELLS), SIZES["paper"])).size

    assert height <= 690.0


def fills(svg: str) -> list[str]:
    """The fills of the pieces of ground of the first month, in order."""
    month = read_drawing(svg).all("month")[0]
    return [
        each.get("fill").removeprefix("url(#months-").rstrip(")")
        for each in month.iter(f"{SVG}polygon")
        if each.get("fill") != "none"
    ]


def test_each_state_has_a_pattern_and_empty_ground_is_paper():
    beds = [{"id": f"B{at}", "length": "40 ft", "width": "6 ft"} for at in range(5)]
    document = garden_of(*beds)

    svg = svg_of(document, twelve(document, *CELLS))

    assert fills(svg) == ["resting", "growing", "cover", "#ffffff", "picked"]
    patterns = re.findall(r'<pattern id="months-(\w+)".*?<path d="([^"]+)"', svg)
    assert len(patterns) == len({path for _, path in patterns}) == 4


PARTED = {"id": "P", "length": "40 ft", "width": "8 ft", "parts": 2, "corner": ["0 ft", "0 ft"],
          "long_axis": "N-S"}  # fmt: skip


def test_a_bed_in_parts_is_divided_its_first_part_in_the_south():
    document = garden_of(PARTED)
    first, second = grown("Beet"), grown("Kale", Doing.PICKED)
    months = twelve(document, first, second)

    drawn = read_drawing(svg_of(document, months))
    month = drawn.all("month")[0]
    tops = {
        each.get("class").split("-")[-1]: min(
            float(p.split(",")[1]) for p in each.get("points").split()
        )
        for each in month.iter(f"{SVG}polygon")
        if "ground-" in (each.get("class") or "")
    }

    assert set(tops) == {"growing", "picked"}
    assert tops["growing"] > tops["picked"]  # lower on the page is south


def test_parts_that_do_the_same_are_not_divided():
    document = garden_of(PARTED)

    assert fills(svg_of(document, twelve(document, grown("Beet")))) == ["growing"]


def test_two_crops_at_once_share_the_bed_lengthwise_and_two_in_turn_are_written_so():
    document = garden_of(PARTED | {"parts": 1})
    held = (Held("a", "Pea", Doing.PICKED, False), Held("b", "Beet", Doing.GROWING, False))

    beside = svg_of(document, twelve(document, Cell(Doing.PICKED, held, beside=True)))
    then = svg_of(document, twelve(document, Cell(Doing.PICKED, held)))

    assert fills(beside) == ["picked", "growing"]
    assert fills(then) == ["picked"]
    assert "pea > beet" in read_drawing(then).words()
    assert "pea, being picked; beside it beet, growing" in beside
    assert "pea, being picked; then beet, growing" in then


def test_what_the_years_propose_is_slanting_and_what_has_no_day_is_named():
    document = garden_of(PARTED | {"parts": 1})
    months = twelve(document, grown("Beet", proposed=True))
    months = Months(months.months, months.units, months.cells, (("P", "Okra"),), (("P", "Leek"),))

    svg = svg_of(document, months)

    assert '<text x="0" y="4.25" text-anchor="middle" font-size="12.5" font-style="italic">' in svg
    words = " ".join(read_drawing(svg).words())
    assert "okra (P)" in words
    assert "leek (P)" in words


def test_beds_are_linked_for_the_hand_and_not_again_for_the_keyboard():
    document = garden_of(PARTED)

    svg = svg_of(document, twelve(document, EMPTY), link=lambda bed: f"/bed/{bed}/")

    assert svg.count('href="/bed/P/"') == svg.count('tabindex="-1"') == 12


def test_what_it_says_to_a_screen_reader_counts_the_beds_of_each_month():
    document = garden_of({"id": "A", "length": "9 ft", "width": "3 ft"},
                         {"id": "B", "length": "9 ft", "width": "3 ft"})  # fmt: skip
    months = twelve(document, grown("Beet"), EMPTY)

    root = read_drawing(svg_of(document, months)).root

    assert root.get("role") == "img"
    said = root.find(f"{SVG}desc").text
    assert "January 2027: 1 empty, 1 growing." in said
    assert said.count(" 2027: ") == 12


def test_names_cannot_break_out_of_the_drawing():
    document = garden_of(PARTED | {"parts": 1})

    svg = svg_of(document, twelve(document, grown('<script>"&')))

    assert "<script" not in svg
    read_drawing(svg)


@pytest.mark.parametrize("size", [Size(100.0), Size(300.0, height=100.0), Size(300.0, columns=12)])
def test_paper_that_is_too_small_is_refused(size):
    document = garden_of(PARTED)

    with pytest.raises(ValueError, match="px"):
        svg_of(document, twelve(document, EMPTY), size)


def test_a_crop_without_letters_is_refused():
    document = garden_of(PARTED)

    with pytest.raises(ValueError, match="Beet"):
        svg_of(document, twelve(document, grown("Beet")), codes={})


@given(st.lists(st.text(max_size=12), unique=True, max_size=60))
def test_no_two_crops_have_the_same_letters(names):
    letters = letters_of(names)

    assert len(set(letters.values())) == len(names)
    assert all(2 <= len(each) <= 4 for each in letters.values())


@pytest.mark.parametrize("lengthwise", [False, True])
@pytest.mark.parametrize("axis", ["N-S", "E-W", "20 deg"])
@pytest.mark.parametrize("count", [2, 3, 5])
def test_pieces_of_a_bed_are_equal_and_make_up_the_whole(axis, count, lengthwise):
    document = garden_of(PARTED | {"long_axis": axis})
    ground = _ground(document)

    pieces = parted(document.garden.bed[0], ground, count, lengthwise=lengthwise)

    whole = abs(area(list(ground)))
    assert [abs(area(list(each))) for each in pieces] == pytest.approx([whole / count] * count)


@pytest.mark.parametrize("lengthwise", [False, True])
def test_pieces_of_an_outline_make_up_the_whole(lengthwise):
    corners = [("0 ft", "0 ft"), ("20 ft", "0 ft"), ("20 ft", "6 ft"), ("8 ft", "6 ft"),
               ("8 ft", "30 ft"), ("0 ft", "30 ft")]  # fmt: skip
    document = garden_of({"id": "L", "outline": corners, "corner": ["0 ft", "0 ft"]})
    ground = _ground(document)

    pieces = parted(document.garden.bed[0], ground, 3, lengthwise=lengthwise)

    assert sum(abs(area(list(each))) for each in pieces) == pytest.approx(abs(area(list(ground))))


def _ground(document: Document) -> Polygon:
    from bedwright.garden.ground_plan import ground_plan

    return tuple((10 * east, -10 * north) for east, north in ground_plan(document.garden.bed[0]))
