"""``bedwright plan --quick``, and days of planning that no garden has."""

import json
from pathlib import Path

import pytest

from bedwright.cli.main import run

GARDEN = """
format = 2
[garden]
name = "Small"
[[bed]]
id = "A"
length = "20 ft"
width = "4 ft"
texture = "silt loam"
[[want]]
crop = "tomato"
beds = ["A"]
set_out = 2027-05-10
[[wish]]
crop = "carrot"
beds = 1
[rotation]
years = 2
[work]
hours_per_week = 0.3
"""


@pytest.fixture
def garden(tmp_path: Path) -> str:
    file = tmp_path / "garden.toml"
    file.write_text(GARDEN)
    return str(file)


def test_a_quick_plan_says_what_it_leaves_out(garden: str, capsys):
    assert run(["plan", garden, "--as-of", "2027-02-01", "--quick"]) == 0
    quick = " ".join(capsys.readouterr().out.split())

    assert "the years ahead are not planned" in quick
    assert "without the search for the best weeks" in quick
    assert "Leave out --quick" in quick
    assert "Bed A: tomato" in quick
    assert "The years ahead, 2027 to 2028" not in quick


def test_a_quick_plan_has_its_tasks_and_no_choices(garden: str, capsys):
    command = ["plan", garden, "--as-of", "2027-02-01", "--format", "json"]
    assert run([*command, "--quick"]) == 0
    quick = json.loads(capsys.readouterr().out)
    assert run(command) == 0
    whole = json.loads(capsys.readouterr().out)

    assert whole["years"] is not None
    assert whole["work"]["choices"]
    assert whole["findings"] == []
    assert quick["years"] is None
    assert quick["work"]["choices"] == quick["work"]["overloads"] == []
    assert {e["id"] for e in quick["work"]["tasks"]} == {e["id"] for e in whole["work"]["tasks"]}
    assert quick["beds"] == whole["beds"]
    assert [each["code"] for each in quick["findings"]] == ["plan_quick", "plan_quick_years"]


@pytest.mark.parametrize("command", ["plan", "water", "week", "dates"])
@pytest.mark.parametrize("day", ["9999-12-31", "0001-01-01"])
def test_a_day_that_no_garden_has_is_refused_in_one_line(garden: str, capsys, command, day):
    with pytest.raises(SystemExit) as ended:
        run([command, garden, "--as-of", day])

    assert ended.value.code == 2
    assert f"{day!r} lies too far off; write a day from 1800 to 2200" in capsys.readouterr().err
