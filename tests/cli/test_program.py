"""The program as the shell starts it: pipes, exit codes, the time of its help."""

import json
import os
import resource
import shutil
import subprocess
import sys
from pathlib import Path

import pytest
from one_bed import GARDEN

from bedwright.cli.main import run
from bedwright.garden.edit import unset_field
from stripped import without

PROGRAM = [sys.executable, "-m", "bedwright"]
DAY = ["--as-of", "2026-11-25"]


def started(*arguments: str, **rest) -> subprocess.CompletedProcess[str]:
    return subprocess.run(
        [*PROGRAM, *arguments], capture_output=True, text=True, timeout=120, check=False, **rest
    )


@pytest.fixture(scope="module")
def small(tmp_path_factory: pytest.TempPathFactory) -> str:
    file = tmp_path_factory.mktemp("small") / "garden.toml"
    file.write_text(GARDEN, encoding="utf-8")
    return str(file)


def test_a_plan_comes_through_a_pipe_as_clean_json(small: str):
    done = started("plan", small, *DAY, "--format", "json")

    assert (done.returncode, done.stderr) == (0, "")
    assert [bed["bed"] for bed in json.loads(done.stdout)["beds"]] == ["A"]


def test_what_the_solver_says_of_itself_stays_out_of_the_pipe(small: str, capsys):
    # On this garden the solver's own code prints a line of its search.
    done = started("feed", small, *DAY)
    run(["feed", small, *DAY])

    assert (done.returncode, done.stderr) == (0, "")
    assert done.stdout == capsys.readouterr().out


@pytest.mark.full
@pytest.mark.parametrize(("garden", "beds"), [("ennery_flat", 3), ("kestrel_bend", 20)])
def test_the_whole_demo_comes_through_a_pipe_as_clean_json(
    demo_folder: Path, garden: str, beds: int
):
    done = started("plan", str(demo_folder / f"{garden}.toml"), *DAY, "--format", "json")

    assert (done.returncode, done.stderr) == (0, "")
    data = json.loads(done.stdout)
    assert len(data["beds"]) > beds


@pytest.fixture(scope="module")
def southern(
    demo_folder: Path, tmp_path_factory: pytest.TempPathFactory
) -> subprocess.CompletedProcess[str]:
    """The southern demo as a terminal without unicode gets it; without its years ahead, which
    take most of its time."""
    folder = tmp_path_factory.mktemp("southern") / "demo"
    shutil.copytree(demo_folder, folder)
    garden = folder / "ennery_flat.toml"
    text = unset_field(garden.read_text(encoding="utf-8"), ("rotation",))
    garden.write_text(without(text, "wish"), encoding="utf-8")
    plain = os.environ | {"LC_ALL": "C", "PYTHONIOENCODING": "ascii"}
    return started("plan", str(garden), *DAY, env=plain)


def test_the_southern_demo_is_planned_in_metric_units(southern):
    assert "g/m2" in southern.stdout
    assert "lb/100 ft2" not in southern.stdout


def test_a_terminal_without_unicode_gets_its_plan(southern):
    assert (southern.returncode, southern.stderr) == (0, "")
    assert southern.stdout.isascii()


def test_a_wrong_document_ends_with_two_and_no_traceback(tmp_path: Path):
    (tmp_path / "garden.toml").write_text("format = 2\n[garden\n", encoding="utf-8")

    done = started("plan", "garden.toml", *DAY, cwd=tmp_path)

    assert (done.returncode, done.stdout) == (2, "")
    assert "garden.toml" in done.stderr
    assert "Traceback" not in done.stderr


def test_the_console_script_is_the_same_program():
    script = Path(sys.executable).parent / "bedwright"

    done = subprocess.run([script, "--version"], capture_output=True, text=True, check=False)

    assert done.returncode == 0
    assert done.stdout == started("--version").stdout


def test_a_reader_that_leaves_the_pipe_is_no_fault(small: str):
    with subprocess.Popen(  # more is written than a pipe holds
        [*PROGRAM, "plan", small, *DAY, "--format", "json"],
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        text=True,
    ) as program:
        assert program.stdout is not None
        assert program.stderr is not None
        program.stdout.read(1)
        program.stdout.close()
        said = program.stderr.read()

    assert program.returncode == 0
    assert said == ""


def child_cpu(*command: str) -> float:
    before = resource.getrusage(resource.RUSAGE_CHILDREN)
    subprocess.run([*command], capture_output=True, check=True)
    after = resource.getrusage(resource.RUSAGE_CHILDREN)
    return after.ru_utime + after.ru_stime - before.ru_utime - before.ru_stime


def test_help_answers_in_under_three_tenths_of_a_second_of_work():
    assert min(child_cpu(*PROGRAM, "--help") for _ in range(3)) < 0.3


@pytest.mark.full
def test_the_demo_is_planned_in_under_a_minute_of_work(demo_folder: Path):
    demo = str(demo_folder / "kestrel_bend.toml")

    assert min(child_cpu(*PROGRAM, "plan", demo, *DAY) for _ in range(2)) < 60.0


def test_the_parser_alone_brings_in_nothing_heavy():
    asked = (
        "import sys, bedwright.cli.parser; "
        "print(sorted({'numpy', 'scipy', 'pydantic', 'tomlkit', 'shtab'} & set(sys.modules)))"
    )

    done = subprocess.run([sys.executable, "-c", asked], capture_output=True, text=True, check=True)

    assert done.stdout.strip() == "[]"
