"""``bedwright spreadsheet`` as a gardener runs it."""

from pathlib import Path

import pytest
from one_bed import GARDEN
from python_calamine import CalamineWorkbook

from bedwright.cli.main import run

AS_OF = ["--as-of", "2027-03-01"]


@pytest.fixture
def garden(tmp_path: Path) -> str:
    file = tmp_path / "garden.toml"
    file.write_text(GARDEN, encoding="utf-8")
    return str(file)


def test_the_file_is_written_the_same_each_time(garden, tmp_path, capsys):
    out = tmp_path / "season.xlsx"
    assert run(["spreadsheet", garden, "--out", str(out), *AS_OF]) == 0
    first = out.read_bytes()

    assert run(["spreadsheet", garden, "--out", str(out), *AS_OF]) == 0

    assert out.read_bytes() == first
    assert capsys.readouterr().out == f"{out}\n" * 2
    assert "Tasks" in CalamineWorkbook.from_path(str(out)).sheet_names
    assert [each.name for each in tmp_path.iterdir() if each.name.startswith(".")] == []


@pytest.mark.parametrize(
    ("name", "said"),
    [
        ("no/season.xlsx", "there is no folder"),
        ("season.csv", "end its name in .xlsx"),
        ("season", "end its name in .xlsx"),
        ("made.xlsx", "is a folder"),
    ],
)
def test_a_place_that_cannot_hold_it_is_refused_before_anything_is_planned(
    garden, tmp_path, name, said, capsys
):
    (tmp_path / "made.xlsx").mkdir()

    assert run(["spreadsheet", garden, "--out", str(tmp_path / name), *AS_OF]) == 2

    told = capsys.readouterr()
    assert said in told.err and told.err.count("\n") == 1
    assert told.out == ""


def test_a_file_that_cannot_be_written_is_said_and_the_old_one_stays(
    garden, tmp_path, monkeypatch, capsys
):
    out = tmp_path / "season.xlsx"
    out.write_bytes(b"as it was")

    def full(*_: object) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr("bedwright.garden.save.os.fsync", full)
    assert run(["spreadsheet", garden, "--out", str(out), *AS_OF]) == 2

    assert "cannot be written (No space left on device)" in capsys.readouterr().err
    assert out.read_bytes() == b"as it was"
