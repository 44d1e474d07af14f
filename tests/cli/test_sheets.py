"""``bedwright sheets`` at the keyboard."""

import io
import os
from pathlib import Path

import pytest
from one_bed import GARDEN
from pypdf import PdfReader

from bedwright.cli.main import run

DEMO = Path(__file__).parents[2] / "src" / "bedwright" / "demo"
ENNERY = str(DEMO / "ennery_flat.toml")
AS_OF = ("--as-of", "2026-11-25")
BEDS = ["1", "2", "3", "4", "5", "6"]


@pytest.fixture(scope="module")
def small(tmp_path_factory: pytest.TempPathFactory) -> str:
    """A garden of bed A, and of one without a crop."""
    file = tmp_path_factory.mktemp("small") / "garden.toml"
    fallow = '[[bed]]\nid = "fallow"\nlength = "9 ft"\nwidth = "4 ft"\n'
    file.write_text(GARDEN + fallow, encoding="utf-8")
    return str(file)


@pytest.fixture(scope="module")
def made(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("sheets") / "deep" / "er"
    assert run(["sheets", ENNERY, *AS_OF, "--out", str(folder), "--paper", "a4"]) == 0
    return folder


def test_a_file_a_bed_and_one_with_all(made: Path):
    assert sorted(path.name for path in made.iterdir()) == [
        *(f"sheet-{bed}.pdf" for bed in BEDS),
        "sheets.pdf",
    ]
    assert len(PdfReader(made / "sheets.pdf").pages) == 2 * len(BEDS)
    for bed in BEDS:
        page, _back = PdfReader(made / f"sheet-{bed}.pdf").pages
        assert f"Bed {bed}" in page.extract_text()
        assert float(page.mediabox.width) == pytest.approx(595.3, abs=0.1)


def test_the_files_are_named_and_beds_without_a_crop_told(
    tmp_path: Path, small: str, capsys: pytest.CaptureFixture[str]
):
    first, again = tmp_path / "first", tmp_path / "again"
    assert run(["sheets", small, *AS_OF, "--out", str(first)]) == 0

    shown = capsys.readouterr()
    assert shown.out.splitlines() == [str(first / "sheet-A.pdf"), str(first / "sheets.pdf")]
    assert shown.err == "No sheet, as no crop is wanted: fallow.\n"

    assert run(["sheets", small, *AS_OF, "--out", str(again)]) == 0
    assert len(list(first.iterdir())) == 2
    for path in first.iterdir():
        assert (again / path.name).read_bytes() == path.read_bytes()


def test_one_bed_leaves_the_file_of_all_as_it_is(tmp_path: Path):
    (tmp_path / "sheets.pdf").write_bytes(b"all")

    assert run(["sheets", ENNERY, *AS_OF, "--out", str(tmp_path), "--bed", "6"]) == 0

    assert sorted(path.name for path in tmp_path.iterdir()) == ["sheet-6.pdf", "sheets.pdf"]
    assert (tmp_path / "sheets.pdf").read_bytes() == b"all"


@pytest.mark.parametrize(
    ("more", "message"),
    [
        (["--bed", "Z9"], "bedwright: there is no bed 'Z9'; beds: A, fallow"),
        (["--bed", "fallow"], "bedwright: no crop is wanted for bed fallow; add it to a [[want]]"),
        (
            ["--address", "garden"],
            "bedwright: 'garden' is not the address of a site; write it like",
        ),
    ],
)
def test_wrong_input(
    more: list[str], message: str, small: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
):
    assert run(["sheets", small, *AS_OF, "--out", str(tmp_path / "out"), *more]) == 2

    shown = capsys.readouterr()
    assert shown.out == "" and shown.err.startswith(message)
    assert not (tmp_path / "out").exists()


@pytest.mark.parametrize("more", [["--paper", "legal"], []])
def test_options_that_are_missing_or_wrong(more: list[str], capsys: pytest.CaptureFixture[str]):
    with pytest.raises(SystemExit) as ended:
        run(["sheets", ENNERY, *AS_OF, *more])

    assert ended.value.code == 2
    assert "usage:" in capsys.readouterr().err


def test_a_folder_that_cannot_be_written(
    tmp_path: Path, small: str, capsys: pytest.CaptureFixture[str]
):
    taken = tmp_path / "taken"
    taken.write_text("a file", encoding="utf-8")

    assert run(["sheets", small, *AS_OF, "--out", str(taken), "--bed", "A"]) == 2

    assert "cannot be written" in capsys.readouterr().err
    assert [path.name for path in tmp_path.iterdir()] == ["taken"]
    assert taken.read_text(encoding="utf-8") == "a file"


def test_a_full_disk_leaves_no_half_file(
    tmp_path: Path, small: str, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
):
    def full(descriptor: int) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(os, "fsync", full)

    assert run(["sheets", small, *AS_OF, "--out", str(tmp_path), "--bed", "A"]) == 2

    assert "No space left on device" in capsys.readouterr().err
    assert list(tmp_path.iterdir()) == []


def test_a_missing_face_is_told_and_nothing_is_written(
    tmp_path: Path, small: str, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
):
    from bedwright.face import FaceError
    from bedwright.sheets import paper

    def missing() -> Path:
        raise FaceError("the face is not installed")

    monkeypatch.setattr(paper, "face_folder", missing)

    assert run(["sheets", small, *AS_OF, "--out", str(tmp_path / "out"), "--bed", "A"]) == 2

    shown = capsys.readouterr().err
    assert shown.splitlines()[0] == (
        "bedwright: the sheets cannot be printed: the face is not installed"
    )
    assert not (tmp_path / "out").exists()


def test_names_that_mean_mischief_reach_the_paper(tmp_path: Path):
    garden = tmp_path / "garden.toml"
    garden.write_text(
        """format = 2
[garden]
name = "#panic() *garden*"
note = "$ = #read(1)"
[[bed]]
id = "#panic() *x*"
length = "50 ft"
width = "4 ft"
[[want]]
crop = "tomato"
beds = ["#panic() *x*"]
set_out = 2027-05-10
""",
        encoding="utf-8",
    )

    assert run(["sheets", str(garden), *AS_OF, "--out", str(tmp_path / "out")]) == 0

    text = PdfReader(io.BytesIO((tmp_path / "out" / "sheet-#panic() *x*.pdf").read_bytes()))
    words = text.pages[0].extract_text()
    assert "Bed #panic() *x*" in words and "#panic() *garden*" in words and "$ = #read(1)" in words
