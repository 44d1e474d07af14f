"""``bedwright calendar`` as a gardener runs it."""

from pathlib import Path

import pytest
from one_bed import GARDEN

from bedwright.cli.main import run

AS_OF = ["--as-of", "2027-03-01"]


@pytest.fixture
def garden(tmp_path: Path) -> str:
    file = tmp_path / "garden.toml"
    file.write_text(GARDEN, encoding="utf-8")
    return str(file)


def test_the_file_is_written_and_gone_on_from(garden, tmp_path, capsys):
    out = tmp_path / "garden.ics"
    assert run(["calendar", garden, "--out", str(out), *AS_OF]) == 0
    first = out.read_bytes()
    said = capsys.readouterr().out

    assert run(["calendar", garden, "--out", str(out), *AS_OF]) == 0

    assert first.startswith(b"BEGIN:VCALENDAR\r\n") and first.endswith(b"END:VCALENDAR\r\n")
    assert out.read_bytes() == first
    assert said.startswith(f"{out}: ") and said.endswith("new, 0 changed, 0 called off.\n")
    assert " 0 new, 0 changed, 0 called off.\n" in capsys.readouterr().out


@pytest.mark.parametrize(
    ("content", "said"),
    [
        (b"what I owe the neighbors\n", "not a calendar"),
        (b"\xff\xfe\x00", "not a calendar"),
        (b"BEGIN:VCALENDAR\r\nPRODID:-//x//x//EN\r\nUID:1\r\nEND:VCALENDAR\r\n", "did not write"),
        (
            b"BEGIN:VCALENDAR\r\nPRODID:-//bedwright//x//EN\r\nUID:1\r\nX-WR-CALNAME:Elsewhere\r\n"
            b"END:VCALENDAR\r\n",
            "another garden (Elsewhere)",
        ),
    ],
)
def test_another_file_in_its_place_is_left_as_it_is(garden, tmp_path, content, said, capsys):
    out = tmp_path / "notes.txt"
    out.write_bytes(content)

    assert run(["calendar", garden, "--out", str(out), *AS_OF]) == 2

    told = capsys.readouterr().err
    assert said in told and told.count("\n") == 1
    assert out.read_bytes() == content


def test_a_folder_that_is_not_there_is_refused(garden, tmp_path, capsys):
    assert run(["calendar", garden, "--out", str(tmp_path / "no" / "x.ics"), *AS_OF]) == 2

    assert "there is no folder" in capsys.readouterr().err
