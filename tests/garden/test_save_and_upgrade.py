"""Saving keeps what the gardener wrote; documents of an older format are still read."""

import copy
import os
import tomllib
from datetime import date
from pathlib import Path

import pytest

from bedwright.garden import FORMAT, GardenError, changed_text, load, write_whole
from bedwright.garden.upgrade import upgrade


@pytest.fixture
def text(folder: Path) -> str:
    return (folder / "whole.toml").read_text(encoding="utf-8")


def differing_lines(old: str, new: str) -> list[tuple[str, str]]:
    pairs = zip(old.splitlines(), new.splitlines(), strict=True)
    return [(before, after) for before, after in pairs if before != after]


@pytest.mark.parametrize(
    ("path", "value", "line"),
    [
        (("bed", 0, "length"), "60 ft", 'length = "60 ft"'),
        (("garden", "name"), 'The "north" field', 'name = "The \\"north\\" field"'),
        (("stock", 1, "can_buy"), True, "can_buy = true"),
        (("limits", "most_materials"), 3, "most_materials = 3"),
        (("bed", 1, "id"), "R2", 'id = "R2" # the raised one'),
        (("want", 0, "beds"), ["A1"], 'beds = ["A1"]'),
        (
            ("soil_report", 0, "results", 1, "value"),
            "90 ppm",
            '  { analyte = "P", value = "90 ppm", method = "Olsen" },',
        ),
        (("climate", "note"), "from the shed", 'note = "from the shed"'),
        (("climate", "soil_temperature", 6), "78 F",
         '  "78 F", "75 F", "66 F", "55 F", "44 F", "3 C",'),
        (("watering", "weekly_drainage"), "3 mm", 'weekly_drainage = "3 mm" # against the salt'),
        (("heap", 0, "system"), "passive", 'system = "passive"'),
        (("heap", 0, "turned", 1), date(2026, 9, 29),
         "turned = [2026-09-24, 2026-09-29] # by fork"),
        (("heap", 0, "readings", 1, "temperature"), "62 C",
         '  { on = 2026-10-04, temperature = "62 C" },'),
        (("heap", 0, "feedstocks", 0, "on_hand"), "90 lb",
         '  { feedstock = "straw", on_hand = "90 lb", origin = "unknown", note = "bought" },'),
        (("compost_report", 0, "c_to_n"), 15.0, "c_to_n = 15.0"),
        (("want", 0, "first_pick"), date(2027, 7, 25), "first_pick = 2027-07-25"),
        (("want", 1, "compost", "most"), "2 in",
         'compost = { material = "yard mix", least = "1/4 in", most = "2 in" }'),
    ],
    ids=lambda each: str(each)[:30],
)  # fmt: skip
def test_a_change_touches_its_own_line_and_no_comment(text: str, path, value, line: str):
    changed = changed_text(text, path, value)

    assert [after for _, after in differing_lines(text, changed)] == [line]


def test_a_change_to_what_stands_already_changes_nothing(text: str):
    assert changed_text(text, ("bed", 0, "length"), "50 ft") == text


@pytest.mark.parametrize(
    "part", ["climate", "watering", "heap", "compost_report", "want", "soil_report"]
)
def test_a_change_elsewhere_keeps_a_part_as_it_was_read(text: str, part: str):
    changed = tomllib.loads(changed_text(text, ("bed", 0, "length"), "60 ft"))

    assert changed[part] == tomllib.loads(text)[part]


def test_a_saved_document_is_read_with_its_newer_parts_alike(
    folder: Path, tmp_path, library, as_of
):
    before = load(folder / "whole.toml", library, as_of)
    (tmp_path / "whole.csv").write_bytes((folder / "whole.csv").read_bytes())
    write_whole(tmp_path / "a.toml", changed_text(before.text, ("garden", "name"), "South field"))

    after = load(tmp_path / "a.toml", library, as_of)

    assert after.garden.garden.name == "South field"
    for part in ("climate", "watering", "heap", "compost_report", "want"):
        assert getattr(after.garden, part) == getattr(before.garden, part), part


def test_a_new_field_is_added_to_its_part(text: str):
    changed = tomllib.loads(changed_text(text, ("bed", 2, "note"), "by the gate"))

    expected = tomllib.loads(text)
    expected["bed"][2]["note"] = "by the gate"
    assert changed == expected


@pytest.mark.parametrize("path", [("bed", 9, "length"), ("pond", "depth")])
def test_a_change_to_a_part_that_is_not_there_is_refused(text: str, path):
    with pytest.raises((KeyError, IndexError)):
        changed_text(text, path, "1 ft")


def test_a_file_is_written_with_its_folder(tmp_path: Path):
    write_whole(tmp_path / "new" / "garden.toml", "name = 'é'\n")

    assert (tmp_path / "new" / "garden.toml").read_bytes() == "name = 'é'\n".encode()


def test_a_rewritten_file_keeps_its_permissions(tmp_path: Path):
    path = tmp_path / "garden.toml"
    path.write_text("old")
    path.chmod(0o600)

    write_whole(path, "new")

    assert path.read_text() == "new"
    assert path.stat().st_mode & 0o777 == 0o600


@pytest.mark.parametrize("step", ["fsync", "replace", "encoding"])
def test_the_old_file_stays_when_writing_fails(step: str, tmp_path: Path, monkeypatch):
    path = tmp_path / "garden.toml"
    path.write_text("old")

    def fail(*_: object) -> None:
        raise OSError("the disk is full")

    if step == "fsync":
        monkeypatch.setattr(os, "fsync", fail)
    elif step == "replace":
        monkeypatch.setattr(Path, "replace", fail)
    new = "\ud800" if step == "encoding" else "new"

    with pytest.raises((OSError, UnicodeEncodeError)):
        write_whole(path, new)

    assert path.read_text() == "old"
    assert [each.name for each in tmp_path.iterdir()] == ["garden.toml"]


def test_a_document_of_format_1_is_read_as_of_today(folder: Path, library, as_of):
    document = load(folder / "format_1.toml", library, as_of)

    assert document.garden.format == FORMAT
    assert [want.beds for want in document.garden.want] == [["A1"], ["A2"]]
    assert document.garden.want[0].compost.depth.si == pytest.approx(0.0254)
    assert document.garden.want[1].compost is None


def test_upgrading_leaves_the_given_document_as_it_was(folder: Path):
    data = tomllib.loads((folder / "format_1.toml").read_text())
    before = copy.deepcopy(data)

    upgrade(data)

    assert data == before


def test_a_document_of_the_present_format_is_not_changed(text: str):
    data = tomllib.loads(text)

    assert upgrade(data) == data


def test_a_newer_format_is_refused_with_what_this_program_knows(faults_of, bed: str):
    (fault,) = faults_of(f'[garden]\nname = "x"\n{bed}'.replace("[garden]", "format = 3\n[garden]"))

    assert fault == (
        "garden.toml, line 1, format: the document has format 3; this program knows up to 2."
    )


@pytest.mark.parametrize("odd", [0, -1, True, "2", 2.0, [2]])
def test_a_format_that_is_no_number_is_refused(odd: object):
    with pytest.raises(ValueError, match="is not a format number"):
        upgrade({"format": odd})


@pytest.mark.parametrize(
    "parts",
    [
        "bed = 5",
        "want = 5",
        'bed = "A1"',
        "bed = [1, 2]",
        'bed = [{ id = ["A1"], compost = 3 }]',
        'want = [{ crop = "lettuce", bed = ["A1"] }]',
        "want = [{ bed = { a = 1 } }]",
    ],
)
def test_odd_parts_of_an_old_document_are_faults_not_crashes(read, parts: str):
    with pytest.raises(GardenError):
        read(f'format = 1\n{parts}\n[garden]\nname = "x"\n')
