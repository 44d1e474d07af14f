"""``bedwright compare`` as a gardener runs it."""

import json
from pathlib import Path
from uuid import UUID

import pytest
from jsonschema import Draft202012Validator

from bedwright.cli.main import run
from bedwright.journal.tables import to_json
from bedwright.reports.compare_json import compare_schema
from planning.compare.compare_gardens import HEAD, comparison, six_pairs

AS_OF = ["--as-of", "2026-11-25"]
_YEARS = (
    '[[history]]\nbed = "C"\nyear = 2025\ncrop = "tomato"\nharvested = "90 lb"\n'
    '[[labor_time]]\ntask = "clear"\ntime = "50 min"\narea = "200 ft2"\ntimed = 4\n'
)


@pytest.fixture
def garden(tmp_path: Path):
    def written(text: str) -> str:
        file = tmp_path / "garden.toml"
        file.write_text(text, encoding="utf-8")
        return str(file)

    return written


def test_all_is_told_as_text_in_two_languages_and_within_a_page(garden, capsys):
    file = garden(six_pairs() + _YEARS)

    assert run(["compare", file, *AS_OF]) == 0
    text = capsys.readouterr().out
    assert run(["compare", file, *AS_OF, "--language", "es"]) == 0
    spanish = capsys.readouterr().out

    assert "compost less none: 0.85 lb a plot" in text
    assert "Tomato, yield:" in text and "From the table, not from your garden" in text
    assert "compost menos none" in spanish and "Clear" not in spanish
    assert max(len(line) for line in text.splitlines()) <= 80


def test_the_data_satisfies_its_schema_and_is_the_same_twice(garden, capsys):
    file = garden(six_pairs() + _YEARS)
    made = []
    for _ in range(2):
        assert run(["compare", file, *AS_OF, "--format", "json"]) == 0
        made.append(capsys.readouterr().out)

    data = json.loads(made[0])
    Draft202012Validator.check_schema(compare_schema())
    Draft202012Validator(compare_schema()).validate(data)
    assert made[0] == made[1]
    assert data["comparisons"][0]["analysis"]["randomised"]["p"] == 2 / 64
    assert [each["kind"] for each in data["own_figures"]] == ["yield", "labor"]
    assert run(["schema", "comparisons"]) == 0
    assert json.loads(capsys.readouterr().out) == compare_schema()


def test_one_is_told_by_its_id_and_an_unknown_one_is_refused(garden, capsys):
    file = garden(six_pairs())

    assert run(["compare", file, "carrots", *AS_OF]) == 0
    assert "What the years have shown" not in capsys.readouterr().out
    assert run(["compare", file, "beets", *AS_OF]) == 2
    assert "comparisons: carrots" in capsys.readouterr().err


def test_the_journal_gives_results_and_hours(garden, tmp_path, capsys):
    span = "seed = 7\njournal = { from_day = 2026-06-01, to_day = 2026-09-01 }\n"
    journal = tmp_path / "entries.json"
    rows = [
        {"id": str(UUID(int=1)), "kind": "picked", "on": "2026-06-20", "bed": "C",
         "crop": "carrot", "mass": "7 lb"},
        {"id": str(UUID(int=2)), "kind": "did", "on": "2026-06-21", "bed": "C", "what": "worked",
         "task": "shade", "hours": 0.5},
        {"id": str(UUID(int=3)), "kind": "did", "on": "2026-06-22", "bed": "C", "what": "worked",
         "task": "weed", "hours": 0.5},
    ]  # fmt: skip
    journal.write_bytes(to_json(rows).encode("utf-8"))
    file = garden(HEAD + comparison('[["C", "D"]]', more=span))

    assert run(["compare", file, *AS_OF, "--journal", str(journal), "--format", "json"]) == 0

    data = json.loads(capsys.readouterr().out)
    assert [each["value"] for each in data["comparisons"][0]["results"]] == [pytest.approx(7)]
    (labor,) = [each for each in data["own_figures"] if each["kind"] == "labor"]
    # weeding is timed by several methods in the table: by which one, the journal doesn't tell
    assert (labor["key"], labor["count"], labor["weight"]) == ("shade", 1, pytest.approx(0.2))
    assert run(["compare", file, *AS_OF, "--journal", str(tmp_path / "none.json")]) == 2
