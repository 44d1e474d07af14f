"""Each command in this process: what it prints, where, and with which exit code."""

import json
import re
import stat
from importlib import import_module
from pathlib import Path

import jsonschema
import pytest

from bedwright.cli import commands, main
from bedwright.cli.main import run
from bedwright.cli.parser import parser
from bedwright.reckon import formulas

DAY = ["--as-of", "2026-11-25"]
COMMANDS = (
    "plan feed ledger dates rotate layout water week sheets weather check reckon new serve backup"
    " restore schema completion calendar record book compare spreadsheet"
).split()
BROKEN = Path(__file__).parents[1] / "garden" / "broken"
BROKEN_DOCUMENTS = sorted(BROKEN.rglob("*.toml"))
BARE = """\
format = 2
[garden]
name = "North field"
[[bed]]
id = "A1"
length = "50 ft"
width = "4 ft"
"""
TWO_HEAPS = """
[climate]
soil_temperature = ["36 F", "38 F", "45 F", "54 F", "63 F", "70 F",
  "77 F", "75 F", "66 F", "55 F", "44 F", "37 F"]

[watering]
method = "drip"

[[heap]]
id = "behind the shed"
built = 2026-09-20
wanted = "900 lb"
turned = [2026-09-24]
readings = [{ on = 2026-09-23, temperature = "136 F" }, { on = 2026-09-24, temperature = "175 F" }]
feedstocks = [
  { feedstock = "straw", on_hand = "180 lb" },
  { feedstock = "grass clippings", on_hand = "400 lb", origin = "own" },
  { feedstock = "poultry manure", on_hand = "150 lb", origin = "own" },
]

[[heap]]
id = "by the gate"
system = "passive"
feedstocks = [{ feedstock = "grass clippings", on_hand = "400 lb", origin = "own" }]

[[compost_report]]
id = "the heap of last year, taken out in fall"
ec = "12 dS/m"
sodium = "0.9 %"
ph = 8.9
boron = "60 ppm"
ammonium_n = "900 ppm"
nitrate_n = "100 ppm"
respiration = 11
"""
FORMULAS = {each.name: each for each in formulas()}


@pytest.fixture
def demo(demo_folder: Path) -> str:
    return str(demo_folder / "ennery_flat.toml")


def refused(arguments: list[str]) -> int:
    """The exit code of a command line that its parser turns away."""
    with pytest.raises(SystemExit) as left:
        run(arguments)
    return int(left.value.code or 0)


def test_a_bed_is_planned_to_the_terminal(demo: str, capsys):
    code = run(["plan", demo, *DAY, "--bed", "1"])

    out, err = capsys.readouterr()
    assert (code, err) == (0, "")
    assert "Bed 1:" in out
    assert "WHY" in out


def test_the_working_shows_steps_and_sources(demo: str, capsys):
    run(["plan", demo, *DAY, "--bed", "1", "--working"])

    out = capsys.readouterr().out
    assert "WORKING OF BED 1" in out
    assert "Soil tests as read" in out
    assert "source: " in out


def test_a_plan_as_json_is_json_and_nothing_else(demo: str, capsys):
    code = run(["plan", demo, *DAY, "--bed", "1", "--format", "json"])

    data = json.loads(capsys.readouterr().out)
    assert code == 0
    assert [bed["bed"] for bed in data["beds"]] == ["1"]


def test_a_plan_with_a_folder_writes_both_files_there(demo: str, tmp_path: Path, capsys):
    folder = tmp_path / "deep" / "plan"

    code = run(["plan", demo, *DAY, "--bed", "1", "--out", str(folder)])

    assert code == 0
    names = {each.name for each in folder.iterdir()}
    charts = {"frost", "soil"}  # of the dates; the crop of this bed is not grown for its fruit
    assert names == {"plan.txt", "plan.json"} | {
        f"{each}.{form}" for each in charts for form in ("svg", "csv")
    }
    assert (folder / "plan.txt").read_text(encoding="utf-8") == capsys.readouterr().out
    assert json.loads((folder / "plan.json").read_text(encoding="utf-8"))["as_of"] == "2026-11-25"


def test_a_file_in_the_place_of_the_folder_is_left_as_it_is(demo: str, tmp_path: Path, capsys):
    (tmp_path / "plan").write_text("mine", encoding="utf-8")

    code = run(["plan", demo, *DAY, "--bed", "1", "--out", str(tmp_path / "plan")])

    out, err = capsys.readouterr()
    assert (code, out) == (2, "")
    assert str(tmp_path / "plan") in err
    assert [each.name for each in tmp_path.iterdir()] == ["plan"]
    assert (tmp_path / "plan").read_text(encoding="utf-8") == "mine"


def test_a_folder_in_the_place_of_a_plan_leaves_no_half_of_it(demo: str, tmp_path: Path, capsys):
    (tmp_path / "plan.json").mkdir()

    code = run(["plan", demo, *DAY, "--bed", "1", "--out", str(tmp_path)])

    assert code == 2
    assert str(tmp_path) in capsys.readouterr().err
    leftover = {each.name for each in tmp_path.iterdir()} - {"plan.json", "plan.txt"}
    assert leftover == set()


def test_an_older_plan_is_replaced_whole(demo: str, tmp_path: Path, capsys):
    (tmp_path / "plan.txt").write_text("a plan of yore\n" * 10_000, encoding="utf-8")

    run(["plan", demo, *DAY, "--bed", "1", "--out", str(tmp_path)])

    assert "yore" not in (tmp_path / "plan.txt").read_text(encoding="utf-8")
    mode = (tmp_path / "plan.txt").stat().st_mode
    assert mode & stat.S_IRUSR


def test_a_bed_that_is_not_there_is_refused_with_the_names_of_those_that_are(demo: str, capsys):
    code = run(["plan", demo, *DAY, "--bed", "Z9"])

    out, err = capsys.readouterr()
    assert (code, out) == (2, "")
    assert "no bed 'Z9'" in err
    assert "beds: 1, 2, 3" in err


def test_a_bed_without_a_crop_is_refused_with_the_way_out(tmp_path: Path, capsys):
    run(["new", str(tmp_path / "garden.toml")])
    fallow = '\n[[bed]]\nid = "fallow"\nlength = "9 ft"\nwidth = "4 ft"\n'
    with (tmp_path / "garden.toml").open("a", encoding="utf-8") as stream:
        stream.write(fallow)
    capsys.readouterr()

    code = run(["plan", str(tmp_path / "garden.toml"), *DAY, "--bed", "fallow"])

    out, err = capsys.readouterr()
    assert (code, out) == (2, "")
    assert "no crop is wanted for bed fallow" in err


def test_the_blend_of_the_whole_garden_reads_in_eighty_columns(demo_folder: Path, capsys):
    code = run(["feed", str(demo_folder / "kestrel_bend.toml"), *DAY])

    out, err = capsys.readouterr()
    assert (code, err) == (0, "")
    assert "one blend for all beds" in out
    assert [line for line in out.splitlines() if len(line) > 80] == []


def test_a_ledger_of_the_whole_garden_reads_in_eighty_columns(demo_folder: Path, capsys):
    code = run(["ledger", str(demo_folder / "kestrel_bend.toml"), *DAY])

    out, err = capsys.readouterr()
    assert (code, err) == (0, "")
    assert "Bed W1: ledger" in out
    assert "Bed R8: ledger" in out
    assert "WHAT CAME IN (+) AND WENT OUT (-), lb/100 ft2" in out
    assert [line for line in out.splitlines() if len(line) > 80] == []


def test_a_ledger_of_one_bed_shows_that_bed_alone(demo_folder: Path, capsys):
    code = run(["ledger", str(demo_folder / "kestrel_bend.toml"), *DAY, "--bed", "R1"])

    out = capsys.readouterr().out
    assert code == 0
    assert re.findall(r"^Bed (.+): ledger$", out, re.M) == ["R1"]
    assert "WHERE THE HABIT LEADS" in out
    assert re.search(r"^  2027\*", out, re.M)


def test_a_ledger_of_a_bed_that_is_not_there_is_refused_with_those_that_are(demo: str, capsys):
    code = run(["ledger", demo, *DAY, "--bed", "Z9"])

    out, err = capsys.readouterr()
    assert (code, out) == (2, "")
    assert "no bed 'Z9'" in err
    assert "beds: 1, 2, 3" in err


@pytest.mark.parametrize(
    "name", ["missing_unit.toml", "not_toml.toml", "empty.toml", "heap_read_in_the_future.toml"]
)
def test_a_ledger_of_a_broken_document_is_refused_with_its_fault(name: str, capsys):
    code = run(["ledger", str(BROKEN / name), *DAY])

    out, err = capsys.readouterr()
    assert (code, out) == (2, "")
    assert name in err
    assert "fault of bedwright" not in err


def test_a_ledger_without_any_history_says_so(tmp_path: Path, capsys):
    (tmp_path / "garden.toml").write_text(BARE, encoding="utf-8")

    code = run(["ledger", str(tmp_path / "garden.toml"), *DAY])

    out, err = capsys.readouterr()
    assert (code, err) == (0, "")
    assert out.count("The document tells of no season of this bed.") == 1
    assert "WHAT CAME IN" not in out


def test_a_ledger_without_history_still_shows_the_season_that_is_planned(tmp_path: Path, capsys):
    run(["new", str(tmp_path / "garden.toml")])
    capsys.readouterr()

    run(["ledger", str(tmp_path / "garden.toml"), *DAY])

    out = capsys.readouterr().out
    assert "tells of no season" not in out
    assert re.findall(r"^  (20\d\d)\*? ", out, re.M) == ["2027"] * 5  # no salt account
    assert "Salt in the tested layer, as ECe: not known." in out


def test_a_plan_with_two_heaps_reads_in_eighty_columns(tmp_path: Path, capsys):
    run(["new", str(tmp_path / "garden.toml")])
    with (tmp_path / "garden.toml").open("a", encoding="utf-8") as stream:
        stream.write(TWO_HEAPS)
    capsys.readouterr()

    code = run(["plan", str(tmp_path / "garden.toml"), *DAY])

    out, err = capsys.readouterr()
    assert (code, err) == (0, "")
    assert re.findall(r"^Compost heap (.+)$", out, re.M) == ["behind the shed", "by the gate"]
    assert "Compost report the heap of last year, taken out in fall" in out
    assert "NITROGEN BY WEEK" in out
    assert [line for line in out.splitlines() if len(line) > 80] == []


def test_the_days_of_spreading_stand_in_a_plan_only_where_the_warmth_is_stated(
    tmp_path: Path, capsys
):
    run(["new", str(tmp_path / "garden.toml")])
    capsys.readouterr()
    run(["plan", str(tmp_path / "garden.toml"), *DAY])
    without = capsys.readouterr().out
    with (tmp_path / "garden.toml").open("a", encoding="utf-8") as stream:
        stream.write(TWO_HEAPS)
    run(["plan", str(tmp_path / "garden.toml"), *DAY])
    stated = capsys.readouterr().out

    assert "No soil or air temperature is stated" in without
    assert "NITROGEN BY WEEK" not in without
    assert "BEFORE PLANTING (set out 2027-05-20)" in without
    assert "No soil or air temperature is stated" not in stated
    assert re.search(r"BEFORE PLANTING \(spread by 2027-0[345]-\d\d, set out 2027-05-20\)", stated)
    assert re.search(r"SIDE-DRESSING, on or about 2027-0[678]-\d\d", stated)


def test_the_working_follows_the_nitrogen_by_week(demo_folder: Path, capsys):
    run(["plan", str(demo_folder / "kestrel_bend.toml"), *DAY, "--bed", "W2", "--working"])

    out = capsys.readouterr().out
    table = out.partition("Nitrogen by week, lb/100 ft2: low / typical / high supply\n")[2]
    weeks = re.findall(r"^  (\d{4}-\d\d-\d\d) ", table, re.M)
    assert weeks[0] == "2027-05-01"  # the day of spreading
    assert len(weeks) > 12
    assert weeks == sorted(set(weeks))


def test_a_document_that_is_right_is_called_right(demo: str, capsys):
    code = run(["check", demo, *DAY])

    out, err = capsys.readouterr()
    assert (code, err) == (0, "")
    assert "ennery_flat.toml: right." in out


def test_a_document_that_is_not_there_is_named(tmp_path: Path, capsys):
    for command in ("plan", "feed", "ledger", "check"):
        code = run([command, str(tmp_path / "absent.toml"), *DAY])

        out, err = capsys.readouterr()
        assert (code, out) == (2, "")
        assert "absent.toml: there is no such file" in err


def test_there_are_broken_documents_to_try():
    assert BROKEN_DOCUMENTS


@pytest.mark.parametrize("broken", BROKEN_DOCUMENTS, ids=lambda path: str(path.relative_to(BROKEN)))
def test_a_broken_document_is_refused_and_nothing_is_written(broken: Path, tmp_path: Path, capsys):
    for arguments in (
        ["plan", str(broken), *DAY, "--out", str(tmp_path / "out")],
        ["check", str(broken), *DAY],
    ):
        code = run(arguments)

        out, err = capsys.readouterr()
        assert (code, out) == (2, "")
        assert broken.stem.split()[0] in err or broken.parent.name in err or broken.name in err
        assert "Traceback" not in err
        assert "fault of bedwright" not in err
    assert not list(tmp_path.rglob("*"))


def test_a_garden_planned_before_its_own_samples_is_told_so(demo: str, capsys):
    code = run(["plan", demo, "--as-of", "2020-01-01"])

    out, err = capsys.readouterr()
    assert (code, out) == (2, "")
    assert "soil_report" in err


def test_reckon_alone_lists_every_formula(capsys):
    code = run(["reckon"])

    out = capsys.readouterr().out
    assert code == 0
    assert [line for line in out.splitlines() if line and not line.startswith(" ")] == list(
        FORMULAS
    )


@pytest.mark.parametrize("name", sorted(FORMULAS))
def test_every_formula_works_its_own_example(name: str, capsys):
    given = [f"{key}={value}" for key, value in FORMULAS[name].example.items()]
    assert given, "the formula states no example"

    code = run(["reckon", name, *given])

    out, err = capsys.readouterr()
    assert (code, err) == (0, "")
    assert any(figure.isdigit() for figure in out)


def test_a_salt_loss_is_reckoned_as_by_hand(capsys):
    # 100 - 9.9 x (4 - 2.5) = 85.15 %
    run(["reckon", "relative_yield", "ec_e=4 dS/m", "threshold=2.5 dS/m", "slope=9.9"])

    assert "85" in capsys.readouterr().out


@pytest.mark.parametrize(
    ("arguments", "words"),
    [
        (["relative_yeild"], "Nearest: relative_yield"),
        (["relative_yield", "ec_e=4 dS/m"], "threshold is missing"),
        (["relative_yield", "ec_e=4 lb", "threshold=2.5 dS/m", "slope=9.9"], "ec_e: "),
        (["relative_yield", "ec_e"], "is not key=value"),
        (["relative_yield", "salt=4"], "salt is not an input"),
        (["relative_yield", "ec_e=-4 dS/m", "threshold=2.5 dS/m", "slope=9.9"], "ec_e"),
    ],
)
def test_a_formula_that_cannot_be_worked_says_why(arguments: list[str], words: str, capsys):
    code = run(["reckon", *arguments])

    out, err = capsys.readouterr()
    assert (code, out) == (2, "")
    assert words in err


def test_a_new_document_is_written_and_passes_its_check(tmp_path: Path, capsys):
    file = tmp_path / "garden.toml"

    assert run(["new", str(file)]) == 0
    assert run(["check", str(file), *DAY]) == 0
    assert "right." in capsys.readouterr().out


def test_a_new_document_can_be_planned_as_it_stands(tmp_path: Path, capsys):
    file = tmp_path / "garden.toml"
    run(["new", str(file)])

    assert run(["plan", str(file), *DAY]) == 0
    assert "Bed 1:" in capsys.readouterr().out


def test_a_new_document_never_takes_the_place_of_an_old_one(tmp_path: Path, capsys):
    file = tmp_path / "garden.toml"
    file.write_text("mine", encoding="utf-8")

    code = run(["new", str(file)])

    assert code == 2
    assert "left as it is" in capsys.readouterr().err
    assert file.read_text(encoding="utf-8") == "mine"


def test_a_new_document_without_a_name_is_printed(capsys):
    code = run(["new"])

    assert code == 0
    assert "format = 2" in capsys.readouterr().out


@pytest.mark.parametrize("what", [[], ["garden"], ["plan"]])
def test_a_schema_is_a_schema(what: list[str], capsys):
    code = run(["schema", *what])

    schema = json.loads(capsys.readouterr().out)
    assert code == 0
    jsonschema.Draft202012Validator.check_schema(schema)
    assert schema["type"] == "object"


@pytest.mark.parametrize("shell", ["bash", "zsh", "tcsh"])
def test_a_shell_gets_its_completion(shell: str, capsys):
    code = run(["completion", shell])

    script = capsys.readouterr().out
    assert code == 0
    assert "bedwright" in script
    assert all(command in script for command in COMMANDS)


@pytest.mark.parametrize("command", COMMANDS)
def test_the_help_of_a_command_ends_with_an_example(command: str, capsys):
    code = refused([command, "--help"])

    out = capsys.readouterr().out
    assert code == 0
    example = out.partition("example:\n")[2]
    assert f"bedwright {command}" in example


def test_the_first_help_names_every_command_and_the_exit_codes(capsys):
    code = refused(["--help"])

    out = capsys.readouterr().out
    assert code == 0
    assert all(f"  {command}" in out for command in COMMANDS)
    assert "exit codes: 0 done, 2 wrong input" in out
    assert max(len(line) for line in out.splitlines()) <= 80


def test_every_command_has_somebody_who_does_it():
    doers = {each: import_module(f"bedwright.cli.{main._ROOMS.get(each, 'commands')}")
             for each in COMMANDS}  # fmt: skip
    assert [each for each, room in doers.items() if not callable(getattr(room, each, None))] == []


def test_every_command_of_the_parser_is_tried_here():
    (known,) = [each.choices for each in parser()._actions if each.dest == "command"]

    assert sorted(known) == sorted(COMMANDS)


@pytest.mark.parametrize(
    "arguments",
    [
        [],
        ["dig"],
        ["plan"],
        ["plan", "garden.toml", "--format", "pdf"],
        ["plan", "garden.toml", "--as-of", "yesterday"],
        ["plan", "garden.toml", "--form", "json"],
        ["completion", "fish"],
        ["schema", "soil"],
    ],
)
def test_a_command_line_that_is_not_understood_is_wrong_input(arguments: list[str], capsys):
    code = refused(arguments)

    out, err = capsys.readouterr()
    assert (code, out) == (2, "")
    assert "usage: bedwright" in err


def test_a_fault_of_our_own_is_called_one_without_a_traceback(monkeypatch, capsys):

    def broken(given) -> int:
        raise ZeroDivisionError("a spade broke")

    monkeypatch.setattr(commands, "check", broken)

    code = run(["check", "garden.toml"])

    out, err = capsys.readouterr()
    assert (code, out) == (70, "")
    assert "fault of bedwright itself" in err
    assert "a spade broke" in err
    assert "Traceback" not in err


def test_a_stop_by_the_keyboard_is_a_stop(monkeypatch, capsys):

    def stopped(given) -> int:
        raise KeyboardInterrupt

    monkeypatch.setattr(commands, "check", stopped)

    assert run(["check", "garden.toml"]) == 130
    assert capsys.readouterr().err == "stopped\n"
