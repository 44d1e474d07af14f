"""A laboratory's CSV report: four columns, and a message for each row that cannot be read."""

from pathlib import Path

import pytest

from bedwright.garden import GardenError
from bedwright.garden.soil_csv import read_soil_csv
from bedwright.reference import Library

HEADER = "analyte,value,unit,extractant\n"


@pytest.fixture
def read_csv(tmp_path: Path, library: Library):
    def read(text: str | bytes):
        path = tmp_path / "soil.csv"
        path.write_bytes(text if isinstance(text, bytes) else text.encode("utf-8"))
        return read_soil_csv(path, library)

    return read


@pytest.fixture
def csv_faults(read_csv):
    def faults(text: str | bytes):
        with pytest.raises(GardenError) as caught:
            read_csv(text)
        return caught.value.faults

    return faults


def test_a_row_becomes_a_result_that_says_where_it_stood(read_csv):
    (result,) = read_csv(HEADER + "P,18,ppm,Olsen\n")

    assert (result.analyte, result.extractant, result.unit) == ("phosphorus", "olsen", "mg/kg")
    assert result.value == pytest.approx(18)
    assert (result.text, result.where) == ("18 ppm", "soil.csv line 2")


@pytest.mark.parametrize(
    "text",
    [
        HEADER + "P,18,ppm,Olsen",
        HEADER.upper() + "P,18,ppm,Olsen\n",
        " analyte , value ,unit, extractant\nP , 18 , ppm , Olsen\n",
        HEADER + "\n,,,\nP,18,ppm,Olsen\n\n",
        HEADER + '"P","18","ppm","Olsen"\n',
        (HEADER + "P,18,ppm,Olsen\n").replace("\n", "\r\n"),
        "\ufeff" + HEADER + "P,18,ppm,Olsen\n",
        HEADER + "P,18 ppm,,Olsen\n",
    ],
)
def test_the_dress_of_a_csv_file_does_not_matter(read_csv, text: str):
    (result,) = read_csv(text)

    assert (result.analyte, result.extractant, result.text) == ("phosphorus", "olsen", "18 ppm")


def test_every_unreadable_row_is_told_with_its_line_and_column(csv_faults):
    faults = csv_faults(
        HEADER
        + "pH,7.9,,\n"
        + "unobtainium,1,ppm,\n"
        + "\n"
        + "P,18,ppm,Olson\n"
        + "K,many,ppm,Mehlich 3\n"
        + "Zn,1.2,ppm\n"
        + "Fe,1.2,ppm,DTPA,fine\n"
        + "P,18,ppm,\n"
    )

    assert [(fault.line, fault.field) for fault in faults] == [
        (3, "analyte"),
        (5, "extractant"),
        (6, "value"),
        (7, ""),
        (8, ""),
        (9, "extractant"),
    ]
    assert all(fault.file.endswith("soil.csv") for fault in faults)


def test_a_line_separator_inside_a_cell_does_not_shift_the_lines(csv_faults):
    (fault,) = csv_faults(HEADER + "pH,7.9,,\u2028\nP,18,ppm,Olson\n")

    assert fault.line == 3


def test_a_file_in_another_encoding_is_told_the_line(csv_faults):
    (fault,) = csv_faults((HEADER + "pH,7.9,,\nP,18,ppm,Mé\n").encode("latin-1"))

    assert (fault.line, fault.problem) == (3, "the file is not in UTF-8")


def test_a_spreadsheet_file_is_no_csv(csv_faults):
    (fault,) = csv_faults(b"PK\x03\x04" + bytes(200))

    assert "binary data" in fault.problem


def test_a_report_of_100_megabytes_is_refused_unread(tmp_path: Path, library: Library):
    with (tmp_path / "soil.csv").open("wb") as stream:
        stream.truncate(100_000_000)

    with pytest.raises(GardenError, match="the file has 100 MB; a soil report has at most 1 MB"):
        read_soil_csv(tmp_path / "soil.csv", library)


def test_a_folder_in_place_of_the_file_is_refused(tmp_path: Path, library: Library):
    with pytest.raises(GardenError, match="this is not a file"):
        read_soil_csv(tmp_path, library)
