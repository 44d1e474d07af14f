"""``bedwright week`` as a gardener runs it."""

import json
from pathlib import Path

import pytest

from bedwright.cli.main import run

GARDEN = """format = 2
[garden]
name = "Small"
[[bed]]
id = "A"
length = "20 ft"
width = "4 ft"
texture = "silt loam"
[[stock]]
material = "blood meal"
[[want]]
crop = "tomato"
beds = ["A"]
set_out = 2027-05-10
[work]
hours_per_week = {hours}
"""
AS_OF = ["--as-of", "2027-03-01"]


@pytest.fixture
def garden(tmp_path: Path) -> str:
    file = tmp_path / "garden.toml"
    file.write_text(GARDEN.format(hours=9), encoding="utf-8")
    return str(file)


def test_the_week_tells_tasks_in_order_with_what_to_bring(garden, capsys):
    assert run(["week", garden, "2027-04-21", *AS_OF]) == 0

    page = capsys.readouterr().out
    text = " ".join(page.split())
    assert page.startswith("Small: work of the week of April 19, 2027\n")
    assert "blood meal: wear a dust mask" in text.lower()
    assert text.index("Spread, A (tomato)") < text.index("Work in, A (tomato)")
    assert "Bring: " in text
    assert "9.0 h there are" in text
    assert max(len(line) for line in page.splitlines()) <= 78


def test_json_tells_the_same_week_in_figures(garden, capsys):
    assert run(["week", garden, "2027-04-21", *AS_OF, "--json"]) == 0

    found = json.loads(capsys.readouterr().out)
    assert found["week"] == "2027-04-19"
    (week,) = found["weeks"]
    told = sum(each["hours"][1] for each in found["tasks"] if each["week"] == "2027-04-19")
    assert week["hours"] == pytest.approx(told)
    assert {each["kind"] for each in found["tasks"]} >= {"spread", "work_in"}


def test_what_does_not_fit_is_told_with_ways_out(tmp_path, capsys):
    file = tmp_path / "garden.toml"
    file.write_text(GARDEN.format(hours=0.4), encoding="utf-8")

    assert run(["week", str(file), *AS_OF]) == 0

    text = " ".join(capsys.readouterr().out.split())
    assert "DOES NOT FIT" in text
    assert "too few hours" in text
    assert "WHAT WOULD MAKE IT FIT" in text
    assert "h more in all" in text


def test_spanish_speaks_of_the_week(garden, capsys):
    assert run(["week", garden, "2027-04-21", *AS_OF, "--language", "es"]) == 0

    assert "trabajo de la semana" in capsys.readouterr().out


@pytest.mark.parametrize(
    ("arguments", "said"),
    [(["2027-02-01"], "lies before"), (["soon"], "is not a date")],
)
def test_a_wrong_day_is_refused(garden, arguments, said, capsys):
    try:
        code = run(["week", garden, *arguments, *AS_OF])
    except SystemExit as left:
        code = left.code

    assert code == 2
    assert said in capsys.readouterr().err
