"""Charts as files: words that really appear, the same bytes each time, whole or not at all."""

import csv
import io
import xml.etree.ElementTree as Tree
from pathlib import Path

import pytest
from pictures import pdf_words, png_grays, png_size

from bedwright import face
from bedwright.charts import export as export_module
from bedwright.charts.export import ExportError, export, export_all, write_charts
from bedwright.face import FaceError


@pytest.fixture(scope="module")
def pictures(release, of_ledger):
    charts = {"release": release("W11"), "ledger": of_ledger("W2")}
    return charts, export_all(charts, ["svg", "png", "pdf"], ppi=72)


def flat(text: str) -> str:
    return "".join(text.split())


@pytest.mark.parametrize(("name", "words"), [
    ("release", ["short from June 13", "within reach", "the crop wants", "April", "set out March"]),
    ("ledger", ["passes 50 ppm", "100 ppm: no manure", "2040", "tested: 24"]),
])  # fmt: skip
def test_the_words_appear_in_page_and_print(pictures, name, words):
    made = pictures[1]
    svg = Tree.fromstring(made[name, "svg"].decode())
    on_page = flat(" ".join(svg.itertext()))
    in_print = flat(pdf_words(made[name, "pdf"]))
    for each in words:
        assert flat(each) in on_page
        assert flat(each) in in_print


def test_print_carries_the_face_in_both_weights(pictures):
    data = pictures[1]["release", "pdf"]

    assert b"AtkinsonHyperlegible-Regular" in data
    assert b"AtkinsonHyperlegible-Bold" in data


def test_a_gray_print_shows_paper_band_and_ink_apart(pictures):
    rows = png_grays(pictures[1]["release", "png"])
    counts = [0] * 256
    for row in rows:
        for gray in row:
            counts[gray] += 1
    wide, high = png_size(pictures[1]["release", "png"])

    assert counts[255] > 0.4 * wide * high
    assert counts[217] > 0.02 * wide * high  # the band, #d9d9d9
    assert sum(counts[:70]) > 0.01 * wide * high  # ink
    assert sum(counts[100:200]) < sum(counts[:70])  # only the edges of ink lie between


def test_the_same_chart_gives_the_same_bytes(pictures):
    charts, made = pictures
    assert export_all(charts, ["svg", "png", "pdf"], ppi=72) == made


def test_print_is_sharper_at_more_points_to_the_inch(release, pictures):
    twice = png_size(export(release("W11"), "png", ppi=144))
    once = png_size(pictures[1]["release", "png"])

    assert twice == tuple(pytest.approx(2 * each, abs=2) for each in once)


def test_files_are_written_with_the_figures_beside_them(release, tmp_path: Path):
    paths = write_charts({"release-W2": release("W2")}, tmp_path / "new")

    assert [path.name for path in paths] == ["release-W2.svg", "release-W2.csv"]
    rows = list(csv.reader(io.StringIO(paths[1].read_text(encoding="utf-8"))))
    assert rows[0][0] == "week from"
    assert len(rows) == 21
    assert sorted(path.name for path in (tmp_path / "new").iterdir()) == sorted(
        path.name for path in paths
    )


def test_a_name_that_leads_out_of_the_folder_is_refused(release, tmp_path: Path):
    with pytest.raises(ValueError, match="no file can be called"):
        write_charts({"../release": release("W2")}, tmp_path)
    assert list(tmp_path.iterdir()) == []


def test_a_missing_face_is_an_error_and_no_file_without_words(release, tmp_path, monkeypatch):
    monkeypatch.setattr(face, "_PACKAGE", "no_such_face_is_installed")

    with pytest.raises(FaceError, match="is not installed"):
        write_charts({"chart": release("W2")}, tmp_path)
    assert list(tmp_path.iterdir()) == []


def test_a_sign_that_would_vanish_in_print_is_an_error(release):
    spec = release("W2") | {"description": "bed 一"}

    with pytest.raises(FaceError, match="no sign for 一"):
        export(spec, "pdf")


def test_a_chart_that_cannot_be_drawn_is_an_error_with_its_reason():
    with pytest.raises(ExportError, match="could not be made"):
        export({"mark": "no such mark", "data": {"values": []}, "encoding": {}}, "svg")


def test_a_child_that_hangs_is_given_up(release, monkeypatch):
    monkeypatch.setattr(export_module, "_SECONDS", 0.01)

    with pytest.raises(ExportError, match="not made within"):
        export(release("W2"), "svg")


def test_the_renderer_is_not_loaded_in_this_process(pictures):
    import sys

    assert "vl_convert" not in sys.modules
