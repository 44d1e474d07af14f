"""``bedwright rotate`` at the keyboard."""

import contextlib
import json
import os
import pty
import signal
import subprocess
import sys
import time
from datetime import date
from pathlib import Path

import jsonschema
import pytest

from bedwright.cli.main import run
from bedwright.garden import load
from bedwright.reference import Library
from bedwright.reports.rotation_json import rotation_schema

DEMO = Path(__file__).parents[2] / "src" / "bedwright" / "demo"
KESTREL = str(DEMO / "kestrel_bend.toml")
ENNERY = str(DEMO / "ennery_flat.toml")
AS_OF = ("--as-of", "2026-11-25")
GARDEN = """format = 2
[garden]
name = "North field"
[rotation]
years = 2
[rotation.weights]
rest = 0
{beds}
[[history]]
bed = "B1"
year = 2025
crop = "potato"
[[wish]]
crop = "tomato"
beds = 1
[[wish]]
crop = "carrot"
beds = 1
"""
BED = '[[bed]]\nid = "{}"\nlength = "50 ft"\nwidth = "4 ft"\n'


@pytest.fixture
def small(tmp_path: Path) -> str:
    path = tmp_path / "garden.toml"
    text = GARDEN.format(beds="".join(BED.format(each) for each in ("B1", "B2", "B3")))
    path.write_text(text, encoding="utf-8")
    return str(path)


def test_the_page_goes_to_the_output_and_nothing_to_the_errors(
    small: str, capsys: pytest.CaptureFixture[str]
):
    assert run(["rotate", small, *AS_OF]) == 0

    shown = capsys.readouterr()
    assert shown.err == ""
    assert "tomato, 1 bed: 2027: met; 2028: met." in shown.out
    assert "  2027: tomato" in shown.out


def test_one_bed_is_shown_in_full(small: str, capsys: pytest.CaptureFixture[str]):
    assert run(["rotate", small, *AS_OF, "--bed", "B1"]) == 0

    out = " ".join(capsys.readouterr().out.split())
    assert "tomato (too soon after its own family)" in out
    assert "B2" not in out


def test_the_data_satisfies_its_schema(small: str, capsys: pytest.CaptureFixture[str]):
    assert run(["rotate", small, *AS_OF, "--json", "--years", "3"]) == 0

    told = json.loads(capsys.readouterr().out)
    jsonschema.validate(told, rotation_schema())
    assert told["years"] == [2027, 2028, 2029]


def test_the_first_year_is_written_as_wants_and_the_document_is_right(
    small: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
):
    new = tmp_path / "next.toml"
    assert run(["rotate", small, *AS_OF, "--accept", str(new)]) == 0

    assert "is written: 2 for 2027 as wants, 0 as pins" in " ".join(capsys.readouterr().err.split())
    made = load(new, Library(), date(2026, 11, 25)).garden
    assert {each.crop for each in made.want} == {"tomato", "carrot"}
    assert "B1" not in next(each.beds for each in made.want if each.crop == "tomato")
    assert run(["rotate", str(new), *AS_OF]) == 0


def test_a_file_that_exists_is_left_as_it_is(small: str, capsys: pytest.CaptureFixture[str]):
    text = Path(small).read_text("utf-8")

    assert run(["rotate", small, *AS_OF, "--accept", small]) == 2
    assert "exists already and is left as it is" in capsys.readouterr().err
    assert Path(small).read_text("utf-8") == text


def test_no_folder_is_made_for_a_file(
    small: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
):
    nowhere = tmp_path / "nowhere"

    for words in (["rotate", "--accept"], ["layout", "--bed", "B2", "--svg"]):
        command, *options = words
        with_want = Path(small).read_text("utf-8") + '[[want]]\ncrop = "beet"\nbeds = ["B2"]\n'
        other = tmp_path / "other.toml"
        other.write_text(with_want, encoding="utf-8")
        assert run([command, str(other), *AS_OF, *options, str(nowhere / "new")]) == 2
        assert f"there is no folder {nowhere}; make it first" in capsys.readouterr().err
    assert not nowhere.exists()


def test_wishes_that_clash_are_an_answer_and_no_wrong_input(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
):
    path = tmp_path / "garden.toml"
    text = GARDEN.format(beds=BED.format("B1")).replace("beds = 1\n", "beds = 1\nmust = true\n")
    path.write_text(text, encoding="utf-8")

    assert run(["rotate", str(path), *AS_OF, "--json"]) == 0
    assert json.loads(capsys.readouterr().out)["clashes"]


def test_a_standing_plan_is_kept_around_a_bed_that_failed(
    small: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
):
    assert run(["rotate", small, *AS_OF, "--json"]) == 0
    plan = tmp_path / "plan.json"
    plan.write_text(capsys.readouterr().out, "utf-8")

    assert run(["rotate", small, *AS_OF, "--standing", str(plan), "--without", "B2"]) == 0
    out = capsys.readouterr().out
    assert "WHAT CHANGES AGAINST THE PLAN THAT STANDS" in out
    assert "Bed B2 is out of use in this plan." in out


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (["--without", "B9"], "bedwright: there is no bed 'B9'; beds: B1, B2, B3"),
        (["--bed", "B9"], "bedwright: there is no bed 'B9'"),
        (["--standing", "nowhere.json"], "nowhere.json cannot be read"),
        (["--standing", KESTREL], "is not JSON; write one with --json"),
    ],
)
def test_wrong_input_is_refused_with_what_would_be_right(
    small: str, words: list[str], said: str, capsys: pytest.CaptureFixture[str]
):
    assert run(["rotate", small, *AS_OF, *words]) == 2

    shown = capsys.readouterr()
    assert said in shown.err
    assert shown.out == ""


@pytest.mark.parametrize("words", [["--years", "0"], ["--years", "9"], ["--seconds", "x"]])
def test_numbers_out_of_their_range_are_refused(small: str, words: list[str]):
    with pytest.raises(SystemExit) as stopped:
        run(["rotate", small, *words])

    assert stopped.value.code == 2


def test_a_watcher_sees_how_far_the_search_is():
    ours, theirs = pty.openpty()
    command = [
        sys.executable,
        "-m",
        "bedwright",
        "rotate",
        ENNERY,
        *AS_OF,
        "--years",
        "2",
        "--json",
    ]
    with subprocess.Popen(command, stdout=subprocess.PIPE, stderr=theirs, text=True) as process:
        os.close(theirs)
        out, _ = process.communicate(timeout=120)
    seen = os.read(ours, 65536).decode()
    os.close(ours)

    assert json.loads(out)["placements"]
    assert "a first plan, worth" in seen
    assert "% open" in seen


@pytest.mark.usefixtures("ctrl_c_heard")
@pytest.mark.parametrize("worked_s", [0.0, 1.5], ids=["as its child starts", "while it searches"])
def test_ctrl_c_stops_the_search_without_a_traceback_and_leaves_no_child(worked_s: float):
    command = [sys.executable, "-m", "bedwright", "rotate", KESTREL, *AS_OF]
    with subprocess.Popen(
        command, stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True, start_new_session=True
    ) as process:
        while _search_s(process.pid) is None or _search_s(process.pid) < worked_s:
            assert process.poll() is None, "it ended before it could be stopped"
            time.sleep(0.01)
        os.killpg(process.pid, signal.SIGINT)
        out, err = process.communicate(timeout=30)

    assert process.returncode == 130
    assert (out, err.strip()) == ("", "stopped")
    assert _gone(process.pid)


def _search_s(parent: int) -> float | None:
    """CPU seconds of the search that a command has started in a child, None before it has."""
    for child in Path(f"/proc/{parent}/task/{parent}/children").read_text().split():
        with contextlib.suppress(FileNotFoundError):
            if "spawn_main" in Path(f"/proc/{child}/cmdline").read_text():
                counts = Path(f"/proc/{child}/stat").read_text().rpartition(")")[2].split()
                return (int(counts[11]) + int(counts[12])) / os.sysconf("SC_CLK_TCK")
    return None


def _gone(group: int) -> bool:
    """Whether all of a process group has ended; the keeper of shared things ends a moment later."""
    for _ in range(50):
        try:
            os.killpg(group, 0)
        except ProcessLookupError:
            return True
        time.sleep(0.1)
    return False
