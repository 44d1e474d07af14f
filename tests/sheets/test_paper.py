"""Sheets on paper: pages, faces, bytes, codes, and names that mean mischief."""

import io
from collections.abc import Callable
from dataclasses import replace
from functools import cache
from pathlib import Path

import pytest
from pypdf import PdfReader
from reading_sheets import WORDS, contents, flat, pages, pdf

from bedwright.face import lacking
from bedwright.season import SeasonPlan
from bedwright.sheets import paper as on_paper
from bedwright.sheets.content import SheetContent
from bedwright.sheets.paper import SheetError, bed_address
from bedwright.sheets.signs import lost, printable

POINTS_PER_MM = 72 / 25.4
ADDRESS = "http://192.168.1.20:8477"
# Each garden on both papers, once with a code and once without; the other ways with --full.
USUAL = [
    ("kestrel", "letter", ADDRESS), ("kestrel", "a4", None),
    ("ennery", "letter", None), ("ennery", "a4", ADDRESS),
]  # fmt: skip
OTHERS = [
    ("kestrel", "letter", None), ("kestrel", "a4", ADDRESS),
    ("ennery", "letter", ADDRESS), ("ennery", "a4", None),
]  # fmt: skip


@pytest.fixture(scope="module")
def kestrel(kestrel_plan: SeasonPlan) -> list[SheetContent]:
    return contents(kestrel_plan)


@pytest.fixture(scope="module")
def ennery(ennery_plan: SeasonPlan) -> list[SheetContent]:
    return contents(ennery_plan)


def one(sheets: list[SheetContent], bed: str) -> SheetContent:
    return next(each for each in sheets if each.bed == bed)


@pytest.fixture(scope="module")
def whole(
    kestrel: list[SheetContent], ennery: list[SheetContent]
) -> Callable[[str, str, str | None], bytes]:
    """All sheets of a garden as one file, set once for all who read it."""
    sheets = {"kestrel": kestrel, "ennery": ennery}
    return cache(lambda garden, paper, address: pdf(sheets[garden], paper, address))


@pytest.mark.parametrize(
    ("garden", "paper", "address"),
    [*USUAL, *(pytest.param(*each, marks=pytest.mark.full) for each in OTHERS)],
)
def test_each_bed_has_one_page_with_all_that_is_to_be_done(
    garden: str, paper: str, address: str | None, whole, request: pytest.FixtureRequest
):
    sheets: list[SheetContent] = request.getfixturevalue(garden)

    made = pages(whole(garden, paper, address))

    assert len(made) == len(sheets)
    for text, sheet in zip(made, sheets, strict=True):
        assert text.startswith(f"{sheet.title} {sheet.crop}")
        assert sheet.plan_of in text
        tasks = [task for each in sheet.spreading for task in each.tasks]
        wanted = [word for task in tasks for word in (task.amount, task.measure, task.cautions)]
        wanted += [task.material for task in tasks]
        wanted += [line for each in sheet.spreading for line in (*each.notes, *each.times)]
        wanted += [*sheet.first, *sheet.not_to_add, WORDS["notes"]]
        wanted += [part for day in sheet.days for part in (day.when, day.what, day.note)]
        without_breaks = text.replace("- ", "-")
        missing = [each for each in wanted if flat(each).replace("- ", "-") not in without_breaks]
        assert missing == [], sheet.bed


def test_the_words_of_the_drawing_are_in_the_file(kestrel: list[SheetContent]):
    (text,) = pages(pdf([one(kestrel, "W2")]))

    for word in ("50 ft", "4 ft", "cabbage 2026"):
        assert word in text


@pytest.mark.parametrize(("paper", "wide", "tall"), [("letter", 215.9, 279.4), ("a4", 210, 297)])
def test_papers_have_their_size(kestrel: list[SheetContent], paper: str, wide: float, tall: float):
    (page,) = PdfReader(io.BytesIO(pdf(kestrel[:1], paper))).pages

    assert float(page.mediabox.width) == pytest.approx(wide * POINTS_PER_MM, abs=0.1)
    assert float(page.mediabox.height) == pytest.approx(tall * POINTS_PER_MM, abs=0.1)


def test_only_our_face_is_used_and_it_is_within(whole):
    reader = PdfReader(io.BytesIO(whole("kestrel", "letter", ADDRESS)))
    names = set()
    for page in reader.pages:
        for font in page["/Resources"]["/Font"].values():
            (inner,) = font.get_object()["/DescendantFonts"]
            described = inner.get_object()["/FontDescriptor"].get_object()
            assert "/FontFile2" in described or "/FontFile3" in described
            names.add(str(described["/FontName"]).split("+")[-1])

    assert names == {
        "AtkinsonHyperlegible-Regular",
        "AtkinsonHyperlegible-Bold",
        "AtkinsonHyperlegible-Italic",
    }


def test_the_face_has_every_sign_that_sheets_are_made_of(
    kestrel: list[SheetContent], ennery: list[SheetContent]
):
    for sheet in (*kestrel, *ennery):
        assert lacking(str(sheet)) == "", sheet.bed
    assert lacking("≥≤µ°½¼¾²") == ""


def test_the_file_is_tagged_dated_and_named(kestrel: list[SheetContent]):
    reader = PdfReader(io.BytesIO(pdf(kestrel[:1])))

    assert reader.trailer["/Root"]["/MarkInfo"]["/Marked"]
    assert reader.trailer["/Root"]["/Lang"] == "en"
    assert reader.metadata is not None and reader.metadata.title == "Sheets under test"
    assert reader.metadata.creation_date is not None
    assert reader.metadata.creation_date.date().isoformat() == "2026-11-25"


def test_two_runs_give_the_same_bytes(kestrel: list[SheetContent]):
    first, second = (pdf(kestrel[:3], address="http://localhost:8477") for _ in range(2))

    assert first == second


def test_a_code_leads_to_the_beds_page_and_none_is_told(kestrel: list[SheetContent]):
    with_code = pages(pdf(kestrel[:1], address="http://localhost:8477"))[0]
    without = pages(pdf(kestrel[:1]))[0]

    assert "Scan for W1's page" in with_code and WORDS["no_code"] not in with_code
    assert WORDS["no_code"] in without and "Scan" not in without


def test_the_code_holds_the_address(monkeypatch: pytest.MonkeyPatch, kestrel: list[SheetContent]):
    import segno

    encoded = []
    make = segno.make
    monkeypatch.setattr(
        segno, "make", lambda text, **more: encoded.append(text) or make(text, **more)
    )

    pdf(kestrel[:1], address="http://localhost:8477/")

    assert encoded == ["http://localhost:8477/bed/W1/"]


def test_addresses():
    assert bed_address("https://garden.test/site/", "a b/#?") == (
        "https://garden.test/site/bed/a%20b%2F%23%3F/"
    )
    for wrong in ("garden.test", "ftp://garden.test", "http://", "http://a.test/?x=1", "file:///x"):
        with pytest.raises(ValueError, match=r"address|question"):
            bed_address(wrong, "W1")


# Names that mean mischief -------------------------------------------------------------------------

HOSTILE = [
    "#panic()", "*x* _y_", "$ x^2 $", "= heading", "<label> @ref", "`raw`", '"quoted" \\n #{1}',
    "// comment", "]#read(\"/etc/passwd\")[", "</text><script>", "{bed}", "{page}",
]  # fmt: skip


@pytest.mark.parametrize("name", HOSTILE)
def test_names_print_as_they_are_written(name: str, kestrel: list[SheetContent]):
    sheet = one(kestrel, "W2")
    task = replace(sheet.spreading[0].tasks[0], material=name)
    spreading = (replace(sheet.spreading[0], tasks=(task,)), *sheet.spreading[1:])
    sheet = replace(
        sheet, bed=name, title=f"Bed {name}", note=name, crop=name, spreading=spreading,
        first=(name,), not_to_add=(name,), plan_of=name,
    )  # fmt: skip

    (text,) = pages(pdf([sheet], address="http://localhost:8477"))

    # A long name may be broken into lines: compared without spaces.
    whole, dense = text.replace(" ", ""), name.replace(" ", "")
    assert whole.startswith(f"Bed{dense}{dense}")
    assert whole.count(dense) >= 8


def test_a_sign_without_a_shape_shows_as_missing_and_that_is_told(kestrel: list[SheetContent]):
    strange = replace(kestrel[0], note="苗床 CO₂ e\u0301 \x07\u202eabc")

    (text,) = pages(pdf([strange]))

    assert "?? CO2 é abc" in text
    assert WORDS["stand_in"] in text
    assert WORDS["stand_in"] not in pages(pdf(kestrel[:1]))[0]


def test_signs():
    assert printable("½ ≥ µ ₂") == "½ ≥ µ 2"
    assert lost("苗") and not lost("why?")


def test_a_name_of_forty_wide_letters_stays_on_the_paper(kestrel: list[SheetContent]):
    wide = replace(kestrel[0], title="Bed " + "W" * 40, bed="W" * 40, note="m" * 500)
    reader = PdfReader(io.BytesIO(pdf([wide])))
    right: list[float] = []
    (page,) = reader.pages
    page.extract_text(
        visitor_text=lambda text, cm, tm, font, size: right.append(
            cm[0] * tm[4] + cm[4] + (len(text.strip()) * size * 0.9 if "WWW" in text else 0)
        )
    )

    assert "W" * 40 in flat(page.extract_text()).replace(" ", "")
    assert max(right) < float(page.mediabox.width)
    assert page.extract_text().count("m") > 500


# Too much for a page ------------------------------------------------------------------------------


def test_what_does_not_fit_goes_on_on_a_second_page_with_its_name(kestrel: list[SheetContent]):
    sheet = one(kestrel, "W2")
    many = replace(sheet.spreading[0], tasks=sheet.spreading[0].tasks * 6)
    long = replace(sheet, spreading=(many, *sheet.spreading[1:]))

    made = pages(pdf([long, one(kestrel, "W3")]))

    assert len(made) >= 3
    assert [text.startswith(f"W2, page {at}") for at, text in enumerate(made[1:-1], 2)] == (
        [True] * (len(made) - 2)
    )
    whole = " ".join(made[:-1])
    assert whole.count("249 lb") == 6
    assert all(flat(line) in whole for line in (*long.not_to_add, *long.spreading[-1].notes))
    assert made[-1].startswith("Bed W3") and "page" not in made[-1].split("Before planting")[0]


def test_reasons_give_way_before_a_second_page(kestrel: list[SheetContent]):
    sheet = one(kestrel, "W1")
    filler = replace(sheet, why=("Because. " * 900,), why_short=("Briefly because.",))

    (text,) = pages(pdf([filler]))

    assert "Briefly because." in text and "Because. Because." not in text


# Faults -------------------------------------------------------------------------------------------


def test_a_missing_face_is_a_clear_error(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, kestrel: list[SheetContent]
):
    monkeypatch.setattr(on_paper, "face_folder", lambda: tmp_path)

    with pytest.raises(SheetError, match="typesetter warns: unknown font family"):
        pdf(kestrel[:1])


def test_no_sheet_at_all_is_an_error():
    with pytest.raises(ValueError, match="no sheet"):
        pdf([])
