"""``bedwright water`` as a gardener runs it."""

import json
from pathlib import Path

import pytest

from bedwright.cli.main import run

AS_OF = ["--as-of", "2026-11-25"]
JULY = [*AS_OF, "--date", "2027-07-15"]


@pytest.fixture
def garden(demo_folder: Path) -> str:
    return str(demo_folder / "kestrel_bend.toml")


def told(capsys) -> str:
    return " ".join(capsys.readouterr().out.split())


def test_the_page_begins_with_todays_minutes_and_their_reason(garden, capsys):
    assert run(["water", garden, *JULY]) == 0

    page = capsys.readouterr().out
    text = " ".join(page.split())
    assert page.startswith("Kestrel Bend: water on July 15, 2027\n")
    for words in ("west drip: run ", "It is a day of its runs.", "fit a backflow preventer",
                  "In a heat wave (104 F) run it every day", "of rain leave it off for 1 day",
                  "Monday: 04:00", "is to drain, to hold the salt at",
                  "With leaching"):  # fmt: skip
        assert words in text, words
    assert text.index("west drip: run") < text.index("What this rests on")
    assert max(len(line) for line in page.splitlines()) <= 78


def test_one_bed_is_told_with_its_weeks(garden, capsys):
    assert run(["water", garden, *JULY, "--bed", "W2"]) == 0

    text = told(capsys)
    assert "W2, sweet pepper: week by week" in text and "week from needs runs min. each" in text
    assert "W3" not in text


def test_readings_change_the_minutes(garden, tmp_path: Path, capsys):
    file = tmp_path / "july.toml"
    file.write_text(
        '[[gauge]]\non = 2027-07-14\nrain = "12 mm"\n\n'
        '[[soil_moisture]]\nbed = "W3"\non = 2027-07-15\nfeel = "slightly moist"\n',
        encoding="utf-8",
    )

    assert run(["water", garden, *JULY, "--readings", str(file)]) == 0

    text = told(capsys)
    assert "W3 was felt or read on July 15: 38 % of its water was left" in text
    assert "usual weather is taken up to this day" not in text


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("[[gauge]]\non = 2027-07-14\n", "july.toml, line 1, gauge 1: nothing was read"),
        ('[[gauge]]\non = 2027-08-14\nrain = "1 in"\n', "2027-08-14 lies after 2027-07-15"),
        ('[[soil_moisture]]\nbed = "X9"\non = 2027-07-14\nfeel = "wet"\n', "there is no bed 'X9'"),
        ("gauge = [", "this is not TOML"),
    ],
)
def test_readings_that_are_wrong_are_told_and_nothing_is_printed(
    garden, tmp_path: Path, capsys, text: str, words: str
):
    file = tmp_path / "july.toml"
    file.write_text(text, encoding="utf-8")

    assert run(["water", garden, *JULY, "--readings", str(file)]) == 2

    printed = capsys.readouterr()
    assert printed.out == ""
    assert words in printed.err


def test_as_json_and_with_charts_in_a_folder(garden, tmp_path: Path, capsys):
    code = run(["water", garden, *JULY, "--bed", "W2", "--json", "--out", str(tmp_path)])

    found = json.loads(capsys.readouterr().out)
    assert code == 0
    (zone,) = found["today"]["zones"]
    assert zone["zone"] == "west drip" and zone["beds"][0]["bed"] == "W2"
    assert found["plantings"][0]["weeks"][8]["runs"] >= 4
    assert len(found["salt"][0]["with_leaching_ds_m"]) == 10
    names = {path.name for path in tmp_path.iterdir()}
    assert {"water.txt", "water-W2-pepper_sweet.svg", "water-W2-pepper_sweet.csv"} <= names


def test_a_garden_without_weather_is_told_what_is_missing(tmp_path: Path, capsys):
    file = tmp_path / "garden.toml"
    file.write_text(
        'format = 2\n\n[garden]\nname = "x"\n\n'
        '[[bed]]\nid = "A1"\nlength = "9 ft"\nwidth = "4 ft"\n',
        encoding="utf-8",
    )

    assert run(["water", str(file), *AS_OF]) == 0

    assert "Without [weather] no use of water can be reckoned." in told(capsys)


def test_a_bed_that_is_not_there_is_refused(garden, capsys):
    assert run(["water", garden, *JULY, "--bed", "Z1"]) == 2
    assert "there is no bed 'Z1'" in capsys.readouterr().err
