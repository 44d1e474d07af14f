"""``bedwright dates`` at the keyboard."""

import csv
import re
from pathlib import Path

import pytest

from bedwright.cli.main import run
from bedwright.reference import Library
from bedwright.reports.words_dates import COVERS, NO_DATE

DEMO = Path(__file__).parents[2] / "src" / "bedwright" / "demo"
KESTREL = str(DEMO / "kestrel_bend.toml")
AS_OF = ("--as-of", "2026-11-25")
SMALL = """format = 2
[garden]
name = "North field"
latitude = "46 N"
[[bed]]
id = "A1"
length = "50 ft"
width = "4 ft"
[[want]]
crop = "tomato"
beds = ["A1"]
protection = "row cover heavy"
"""
MONTHLY = """[weather.monthly]
t_max = ["40 F", "47 F", "57 F", "66 F", "76 F", "85 F", "93 F", "92 F", "82 F", "67 F", "51 F", "40 F"]
t_min = ["26 F", "28 F", "33 F", "40 F", "47 F", "54 F", "60 F", "58 F", "50 F", "40 F", "32 F", "26 F"]
years = 10
"""  # noqa: E501


def said(capsys: pytest.CaptureFixture[str], *words: str) -> str:
    assert run(["dates", *words, *AS_OF]) == 0

    shown = capsys.readouterr()
    assert shown.err == ""
    return shown.out


def section(text: str, crop: str) -> str:
    """What stands under a crop's heading, its lines joined."""
    found = text[text.index(f"\n{crop}") :].split("\n\n", maxsplit=1)[0]
    return " ".join(found.split())


@pytest.fixture(scope="module")
def kestrel(tmp_path_factory: pytest.TempPathFactory) -> str:
    out = tmp_path_factory.mktemp("dates")
    assert run(["dates", KESTREL, *AS_OF, "--out", str(out)]) == 0
    return (out / "dates.txt").read_text(encoding="utf-8")


def test_the_demo_says_that_its_weather_is_invented(kestrel: str):
    head = " ".join(kestrel.partition("\n\n")[0].split())

    assert "The weather behind the dates is invented: 60 years" in head
    assert "You accept a risk of 2 years of 10." in head


@pytest.mark.parametrize("crop", ["Sweet pepper", "Muskmelon", "Lettuce", "Carrot"])
def test_the_text_says_when_and_why_then_and_what_a_week_changes(kestrel: str, crop: str):
    text = section(kestrel, crop)

    assert re.search(r"(Set out|Sow) (from )?(March|April|May|June) \d+", text)
    assert re.search(r"Why then: .{0,90}before \w+ \d+ .{12,}", text)
    assert re.search(r"A week earlier, \w+ \d+: .{12,}?\.", text)
    assert re.search(r"A week later, \w+ \d+: .{12,}?\.", text)
    assert re.search(r"Your date, \w+ \d+, is ", text)
    assert re.search(r"order seed by .* spread by .* lay drip by .* first harvest about", text)


def test_the_page_keeps_to_its_width_and_leaves_nothing_unfilled(kestrel: str):
    assert max(len(line) for line in kestrel.splitlines()) <= 78
    assert not re.search(r"[{}]|nan|None|_", kestrel)


def test_one_crop_alone(capsys: pytest.CaptureFixture[str]):
    text = said(capsys, KESTREL, "--crop", "cantaloupe")

    assert "Muskmelon, bed W6" in text
    assert "Tomato" not in text


def test_the_south_plants_its_tomatoes_in_its_spring(capsys: pytest.CaptureFixture[str]):
    text = section(said(capsys, str(DEMO / "ennery_flat.toml"), "--crop", "tomato"), "Tomato")

    assert re.search(r"Set out (September|October) \d+, 2027 to January \d+, 2028", text)
    assert re.search(r"tomato wants 16 C", text)
    assert re.search(r"first harvest about January \d+", text)


@pytest.mark.parametrize(
    ("crop", "message"),
    [("okra", "no okra is wanted"), ("tomatoe", "is not a known crop. Nearest: tomato")],
)
def test_a_crop_that_is_not_wanted_or_not_known(
    crop: str, message: str, capsys: pytest.CaptureFixture[str]
):
    assert run(["dates", KESTREL, "--crop", crop, *AS_OF]) == 2

    shown = capsys.readouterr()
    assert shown.out == ""
    assert message in shown.err


@pytest.fixture
def garden(tmp_path: Path) -> Path:
    path = tmp_path / "garden.toml"
    path.write_text(SMALL + MONTHLY, encoding="utf-8")
    return path


def test_the_charts_lie_beside_the_text_with_their_figures(
    garden: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
):
    text = said(capsys, str(garden), "--out", str(tmp_path / "out"))

    files = {each.name for each in (tmp_path / "out").iterdir()}
    charts = {"frost", "soil", "fruit-set-tomato"}
    assert files == {"dates.txt", *(f"{c}.{form}" for c in charts for form in ("svg", "csv"))}
    assert (tmp_path / "out" / "dates.txt").read_text(encoding="utf-8") == text
    with (tmp_path / "out" / "frost.csv").open(encoding="utf-8", newline="") as stream:
        rows = list(csv.reader(stream))
    numbers = [float(cell) for row in rows[1:] for cell in row[1:] if cell]
    assert len(rows) > 30
    assert min(numbers) >= 0 and max(numbers) <= 100


def test_a_cover_is_told_with_the_day_on_which_it_comes_off(
    garden: Path, capsys: pytest.CaptureFixture[str]
):
    text = section(said(capsys, str(garden)), "Tomato")

    assert ", under a heavy row cover." in text
    assert re.search(r"Take the cover off about \w+ \d+", text)


def test_every_cover_and_every_reason_against_a_date_has_words(library: Library):
    covers = {row["protection"] for row in library.rows("protection")} - {"none"}

    assert set(COVERS) == covers
    assert set(NO_DATE) == {"kill", "soil", "lost", "bolting", "together", "unknown"}


def test_without_weather_it_is_said_how_to_get_dates(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
):
    path = tmp_path / "garden.toml"
    path.write_text(SMALL, encoding="utf-8")

    text = " ".join(said(capsys, str(path), "--out", str(tmp_path / "out")).split())

    assert "Nothing is said of the weather: no dates are worked out." in text
    assert {each.name for each in (tmp_path / "out").iterdir()} == {"dates.txt"}


@pytest.mark.parametrize("command", ["dates", "check", "plan"])
@pytest.mark.parametrize(
    ("content", "words"),
    [
        ("<html>sorry</html>", "The file is a web page"),
        ("date,t_max,t_min [C]\n2020-01-01,3,1\n", "Column 't_max' has no unit"),
        ("one,two\n1,2\n", "starts a format that is known"),
    ],
)
def test_a_weather_file_that_is_no_good_is_a_fault_with_its_name(
    command: str, content: str, words: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
):
    path = tmp_path / "garden.toml"
    path.write_text(SMALL + '[weather]\nfile = "station.csv"\n', encoding="utf-8")
    (tmp_path / "station.csv").write_text(content, encoding="utf-8")

    assert run([command, str(path), *AS_OF]) == 2

    shown = capsys.readouterr()
    assert shown.out == ""
    assert "station.csv" in shown.err.partition(":")[0]
    assert words in shown.err
    assert ".." not in shown.err


def test_the_plan_says_the_dates_of_each_bed(garden: Path, capsys: pytest.CaptureFixture[str]):
    assert run(["plan", str(garden), *AS_OF]) == 0

    text = capsys.readouterr().out
    assert "WHEN TO PLANT" in text
    assert "A week earlier, " in text
    assert "The weather behind the dates is invented" in text


def test_a_crop_without_a_day_is_planned_for_its_best_one(
    garden: Path, capsys: pytest.CaptureFixture[str]
):
    assert run(["plan", str(garden), *AS_OF]) == 0

    text = capsys.readouterr().out
    (taken,) = re.findall(r"No date of planting is stated: the plan takes (\S+)\.", text)
    assert re.search(rf"BEFORE PLANTING \(.*set out {taken}\)", text)
    assert taken.startswith(("2027-04-", "2027-05-"))  # under a cover
