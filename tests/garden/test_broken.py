"""A broken document is met with its fault, its line and the way out; never with another error."""

import csv
import os
import random
from datetime import date
from pathlib import Path

import pytest

from bedwright.garden import GardenError, load
from bedwright.reference import Library

BROKEN = Path(__file__).parent / "broken"
AS_OF = date(2026, 11, 25)
with (BROKEN / "expected.csv").open(encoding="utf-8", newline="") as stream:
    EXPECTED = list(csv.DictReader(stream))
TWO_FAULTS = {"empty.toml", "only_a_comment.toml"}  # neither a garden nor a bed


def faults_of(path: Path, library: Library):
    with pytest.raises(GardenError) as caught:
        load(path, library, AS_OF)
    return caught.value.faults


@pytest.mark.parametrize("case", EXPECTED, ids=lambda case: case["file"])
def test_a_broken_document_is_told_what_is_wrong_and_where(case: dict[str, str], library: Library):
    faults = faults_of(BROKEN / case["file"], library)

    found = [fault for fault in faults if case["words"] in str(fault)]
    assert [str(fault.line or "") for fault in found] == [case["line"]]


@pytest.mark.parametrize("case", EXPECTED, ids=lambda case: case["file"])
def test_one_slip_makes_one_fault_and_no_others_in_its_wake(case: dict[str, str], library: Library):
    faults = faults_of(BROKEN / case["file"], library)

    assert len(faults) == (2 if case["file"] in TWO_FAULTS else 1)


@pytest.mark.parametrize("case", EXPECTED, ids=lambda case: case["file"])
def test_a_message_fits_on_a_screen(case: dict[str, str], library: Library):
    faults = faults_of(BROKEN / case["file"], library)

    assert all(len(fault.problem) <= 300 and len(fault.remedy) <= 600 for fault in faults)
    assert not any("\n" in str(fault) for fault in faults)


def test_every_broken_document_is_expected_and_there_are_enough_of_them():
    written = {str(path.relative_to(BROKEN)) for path in BROKEN.rglob("*.toml")}

    assert written == {case["file"] for case in EXPECTED}
    assert len(written) >= 55


def test_a_file_that_is_not_there_is_named(tmp_path: Path, library: Library):
    (fault,) = faults_of(tmp_path / "absent.toml", library)

    assert "absent.toml: there is no such file" in str(fault)


def test_a_folder_is_not_a_document(tmp_path: Path, library: Library):
    (fault,) = faults_of(tmp_path, library)

    assert "this is not a file" in fault.problem


def test_a_pipe_is_not_waited_for(tmp_path: Path, library: Library):
    os.mkfifo(tmp_path / "garden.toml")

    (fault,) = faults_of(tmp_path / "garden.toml", library)

    assert "this is not a file" in fault.problem


def test_a_file_of_100_megabytes_is_refused_unread(tmp_path: Path, library: Library):
    with (tmp_path / "garden.toml").open("wb") as stream:
        stream.truncate(100_000_000)  # a hole: no disk is filled

    (fault,) = faults_of(tmp_path / "garden.toml", library)

    assert fault.problem == "the file has 100 MB; a garden document has at most 5 MB"


def test_a_document_in_another_encoding_is_told_the_line(tmp_path: Path, library: Library):
    text = 'format = 2\n[garden]\nname = "Jardín"\n'
    (tmp_path / "garden.toml").write_bytes(text.encode("latin-1"))

    (fault,) = faults_of(tmp_path / "garden.toml", library)

    assert (fault.line, fault.problem) == (3, "the file is not in UTF-8")


@pytest.mark.parametrize("encoding", ["utf-16", "utf-32"])
def test_a_document_in_wide_letters_is_refused(encoding: str, tmp_path: Path, library: Library):
    (tmp_path / "garden.toml").write_bytes('[garden]\nname = "x"\n'.encode(encoding))

    (fault,) = faults_of(tmp_path / "garden.toml", library)

    assert fault.problem == "the file is not in UTF-8"


@pytest.mark.parametrize("seed", range(5))
def test_a_binary_file_is_refused(seed: int, tmp_path: Path, library: Library):
    (tmp_path / "garden.toml").write_bytes(b"\x89PNG\r\n\0" + random.Random(seed).randbytes(5000))

    (fault,) = faults_of(tmp_path / "garden.toml", library)

    assert "not in UTF-8" in fault.problem


def test_a_file_of_nul_bytes_is_not_toml(tmp_path: Path, library: Library):
    (tmp_path / "garden.toml").write_bytes(bytes(100))

    (fault,) = faults_of(tmp_path / "garden.toml", library)

    assert "not TOML" in fault.problem


@pytest.mark.parametrize("depth", [50, 150, 250, 350, 450, 600, 1000, 20_000])
@pytest.mark.parametrize(
    "nest",
    [
        lambda n: "note = " + "[" * n + "]" * n,
        lambda n: "note = " + "{ a = " * n + "1" + " }" * n,
        lambda n: ".".join("a" * n) + " = 1",
        lambda n: f"[{'.'.join('a' * n)}]",
    ],
    ids=["arrays", "inline tables", "dotted key", "dotted table"],
)
def test_deep_nesting_is_refused_whatever_its_depth(nest, depth: int, read_faults):
    faults = read_faults(f'{nest(depth)}\n[garden]\nname = "North field"\n')

    assert any("nested too deeply" in each or "is not a field here" in each for each in faults)


@pytest.fixture
def read_faults(tmp_path: Path, library: Library):
    def read(text: str) -> list[str]:
        (tmp_path / "garden.toml").write_text(text, encoding="utf-8")
        return [str(fault) for fault in faults_of(tmp_path / "garden.toml", library)]

    return read


@pytest.mark.parametrize("number", ["9" * 5000, "0x" + "f" * 5000, "0b" + "1" * 20000, "1" * 30])
def test_a_number_longer_than_toml_allows_is_refused(number: str, read_faults):
    (fault,) = read_faults(f"format = 2\nextra = {number}\n")

    assert "too large" in fault or "too many digits" in fault


def test_a_thousand_faulty_beds_are_refused_without_a_thousand_messages(read_faults):
    faults = read_faults('[garden]\nname = "x"\n' + '[[bed]]\nid = "A"\nlength = 3\n' * 1000)

    assert len(faults) == 200
