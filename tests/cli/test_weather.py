"""``bedwright weather`` at the keyboard."""

import re
import sys
from importlib import resources
from pathlib import Path

import pytest

from bedwright.cli import main

sys.path.insert(0, str(Path(__file__).resolve().parent.parent / "climate"))
from test_station_service import STATION, Server

CSV = "date,t_max [C],t_min [C],rain [mm]\n" + "".join(
    f"2021-{month:02d}-{day:02d},{10 + month + day % 2},{month - 6 - day % 3},{day % 3}\n"
    for month in range(1, 13)
    for day in range(1, 29)
)


def run(*words: str) -> int:
    return main.run(["weather", *words])


@pytest.fixture
def file(tmp_path: Path) -> str:
    path = tmp_path / "mine.csv"
    path.write_text(CSV, encoding="utf-8")
    return str(path)


def test_read_says_what_a_file_holds(file: str, capsys: pytest.CaptureFixture[str]):
    assert run("read", file) == 0

    said = capsys.readouterr().out
    assert "mine.csv: CSV with named columns; units: C, mm." in said
    assert "Days: 2021-01-01 to 2021-12-28 (362), from 336 lines." in said
    assert "daily maximum: 336 days, 26 missing" in said
    assert "To know" not in said


def test_read_tells_each_doubt_in_a_sentence(tmp_path: Path, capsys: pytest.CaptureFixture[str]):
    path = tmp_path / "doubtful.csv"
    path.write_text(CSV.replace("2021-03-09,14", "2021-03-09,74"), encoding="utf-8")

    assert run("read", str(path)) == 0

    said = capsys.readouterr().out
    assert "- The daily maximum of 2021-03-09 is 165 F, which no place on earth has" in said


def test_summary_is_in_the_units_asked_for(file: str, capsys: pytest.CaptureFixture[str]):
    assert run("summary", file, "--units", "metric") == 0
    metric = capsys.readouterr().out
    assert run("summary", file) == 0
    us = capsys.readouterr().out

    assert "daily maximum: 11.0 C on 2021-01-02 to 23.0 C on 2021-12-01" in metric
    assert "daily maximum: 52 F on 2021-01-02 to 73 F on 2021-12-01" in us
    assert "at or below 0.0 C: 196 (196 to 196 in 1 years)" in metric  # 168 + 19 + 9
    assert "at or below 32 F: 196 (196 to 196 in 1 years)" in us
    assert "Each rests on 1 months" in us


def test_summary_tells_freeze_dates_their_trend_and_the_heat(
    capsys: pytest.CaptureFixture[str],
):
    record = resources.files("aquacrop").joinpath("data", "champion_climate.txt")
    assert run("summary", str(record)) == 0
    us = capsys.readouterr().out
    assert run("summary", str(record), "--units", "metric") == 0
    metric = capsys.readouterr().out

    assert "  at or below 32 F, 37 seasons:\n    last of spring: May 10 (April 24 to May 26)" in us
    assert "    days between: 141 (119 to 163)\n      no clear move over the decades: " in us
    assert re.search(r"longer by 6\.0 days in 10 years \(1\.3 to 11\.3; p 0\.018\)", us)
    assert "Heat (5 days of 7 at 90 F or more): it comes about July 4 (June 11 to July" in us
    assert "at or below 0 C, 37 seasons:" in metric
    assert "Heat (5 days of 7 at 32 C or more): it comes about July 4" in metric


@pytest.mark.parametrize("command", ["read", "summary"])
def test_a_file_that_cannot_be_used_is_refused_in_one_line(
    command: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
):
    path = tmp_path / "page.csv"
    path.write_text("<html>sorry</html>", encoding="utf-8")

    assert run(command, str(path)) == 2

    shown = capsys.readouterr()
    assert shown.out == ""
    assert shown.err.startswith("bedwright: page.csv: The file is a web page")
    assert shown.err.count("\n") == 1


@pytest.mark.parametrize("name", ["missing.csv", "", "a\0b"])
def test_a_file_that_is_not_there(name: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]):
    assert run("read", str(tmp_path / name) if "\0" not in name else name) == 2
    assert capsys.readouterr().err.startswith("bedwright: ")


def test_units_of_the_file_can_be_stated(tmp_path: Path, capsys: pytest.CaptureFixture[str]):
    path = tmp_path / "winter.csv"
    path.write_text("STATION,DATE,TMAX,TMIN\nUSC00000000,2023-01-05,41,30\n", encoding="utf-8")

    assert run("read", str(path)) == 2
    assert "--file-units" in capsys.readouterr().err
    assert run("read", str(path), "--file-units", "standard") == 0
    assert "units: F and inches" in capsys.readouterr().out


@pytest.mark.allow_hosts(["127.0.0.1"])
def test_fetch_writes_a_file_and_says_what_comes_next(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
):
    server, out = Server(), tmp_path / "station.csv"
    words = ["--out", str(out), "--from", "2020-01-01", "--to", "2020-02-01"]
    try:
        code = run("fetch", STATION, *words, "--service", server.service.address)
    finally:
        server.close()

    assert code == 0
    said = capsys.readouterr().out
    assert f"{out} is written: 32 days of {STATION} from 2020-01-01 to 2020-02-01" in said
    assert run("read", str(out)) == 0
    assert "daily summaries, CSV; units: C and mm." in capsys.readouterr().out


def test_fetch_refuses_a_name_before_it_asks(tmp_path: Path, capsys: pytest.CaptureFixture[str]):
    assert run("fetch", "my town", "--out", str(tmp_path / "x.csv")) == 2
    assert "'my town' is not the name of a station" in capsys.readouterr().err


def test_a_day_that_is_none_is_refused(tmp_path: Path):
    with pytest.raises(SystemExit):
        main.run(["weather", "fetch", STATION, "--out", "x", "--from", "soon"])
