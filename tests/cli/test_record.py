"""``bedwright record`` as a gardener runs it."""

import csv
import io
from pathlib import Path
from uuid import UUID

import pytest

from bedwright.cli.main import run
from bedwright.journal.tables import to_csv, to_json

GARDEN = """format = 2
[garden]
name = "Small"
[[bed]]
id = "A"
length = "20 ft"
width = "4 ft"
[[bed]]
id = "B"
length = "20 ft"
width = "4 ft"
[[history]]
bed = "A"
year = 2026
crop = "tomato"
applied = [{ material = "gypsum", amount = "3 lb", on = 2026-04-20 }]
"""
AS_OF = ["--as-of", "2026-11-01"]
ROWS = [
    {"id": str(UUID(int=1)), "kind": "did", "on": "2026-05-02", "bed": "A", "what": "spread",
     "material": "blood meal", "amount": "2 lb", "revision": 1, "made_by": "ann"},
    {"id": str(UUID(int=2)), "kind": "did", "on": "2026-05-03", "bed": "A", "what": "spread",
     "material": "borax", "amount": "1 lb", "undone_at": "2026-05-04T00:00:00+00:00"},
]  # fmt: skip


@pytest.fixture
def garden(tmp_path: Path) -> str:
    file = tmp_path / "garden.toml"
    file.write_text(GARDEN, encoding="utf-8")
    return str(file)


def test_the_document_alone_is_told(garden, capsys):
    assert run(["record", garden, "--bed", "A", *AS_OF]) == 0

    text = " ".join(capsys.readouterr().out.split())
    assert "Spread: gypsum, 3 lb (garden document)" in text
    assert "Bed B" not in text


@pytest.mark.parametrize(("name", "write"), [("j.csv", to_csv), ("j.json", to_json)])
def test_the_journals_file_is_counted_in_without_what_was_taken_back(
    garden, tmp_path, name, write, capsys
):
    journal = tmp_path / name
    journal.write_bytes(write(ROWS).encode("utf-8"))

    assert run(["record", garden, "--journal", str(journal), "--format", "csv", *AS_OF]) == 0

    rows = list(csv.DictReader(io.StringIO(capsys.readouterr().out)))
    assert [(each["what"], each["source"]) for each in rows if each["act"] == "Spread"] == [
        ("gypsum", "garden document"),
        ("blood meal", "journal"),
    ]


def test_out_writes_the_file_and_prints_nothing(garden, tmp_path, capsys):
    out = tmp_path / "record.csv"
    assert run(["record", garden, "--format", "csv", "--out", str(out), *AS_OF]) == 0

    assert capsys.readouterr().out == ""
    assert out.read_bytes().count(b"\r\n") == 3


@pytest.mark.parametrize(
    ("arguments", "said"),
    [
        (["--bed", "Z"], "there is no bed 'Z'"),
        (["--journal", "{tmp}/none.csv"], "cannot be read"),
        (["--journal", "{tmp}/garden.toml"], "cannot be read as a journal"),
        (["--out", "{tmp}/no/x.txt"], "there is no folder"),
    ],
)
def test_what_can_not_be_is_refused_in_a_line(garden, tmp_path, arguments, said, capsys):
    given = [each.format(tmp=tmp_path) for each in arguments]
    assert run(["record", garden, *given, *AS_OF]) == 2

    told = capsys.readouterr()
    assert said in told.err and told.out == ""
