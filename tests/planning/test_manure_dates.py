"""Raw-manure intervals, 7 CFR 205.203(c)(1): 120 days where the crop touches soil, else 90."""

from datetime import date
from pathlib import Path

import pytest

from bedwright.garden import Document, load
from bedwright.planning.manure_dates import manure_dates
from bedwright.planning.own import library_of
from bedwright.reference import Library

PAGE = """
format = 2
[garden]
name = "Invented"
[[bed]]
id = "A"
length = "10 m"
width = "1 m"
[[history]]
bed = "A"
year = 2026
applied = [{{ material = "{material}", amount = "5 kg", on = 2026-04-01 }}]
[[want]]
crop = "{crop}"
beds = ["A"]
{set_out}
{pick}
"""


def garden(
    tmp_path: Path, library: Library, crop: str, material: str, set_out: str, pick: str = ""
) -> Document:
    path = tmp_path / "garden.toml"
    line = f"set_out = {set_out}" if set_out else ""
    path.write_text(PAGE.format(crop=crop, material=material, set_out=line, pick=pick), "utf-8")
    return load(path, library, date(2026, 11, 25))


def dates(tmp_path: Path, library: Library, crop: str, *, material: str = "fresh cow manure",
          set_out: str = "2026-05-20", pick: str = ""):  # fmt: skip
    document = garden(tmp_path, library, crop, material, set_out, pick)
    want = document.garden.want[0]
    return manure_dates(document, want, 0, "A", library_of(document, library))


@pytest.mark.parametrize(
    ("crop", "first"), [("lettuce", date(2026, 7, 30)), ("sweet pepper", date(2026, 6, 30))]
)
def test_the_first_harvest_waits_for_the_interval(tmp_path, library, crop, first):
    found = dates(tmp_path, library, crop)

    assert found.spread == (("Cow manure, fresh", date(2026, 4, 1), first),)


def test_no_raw_manure_from_the_interval_before_the_first_pick(tmp_path, library):
    found = dates(tmp_path, library, "sweet pepper", pick="days_to_first_pick = 70")

    assert found.first_pick == date(2026, 7, 29)
    assert found.forbidden_from == date(2026, 4, 30)
    assert [each.code for each in found.findings] == ["raw_manure_forbidden_from"]


def test_a_pick_too_soon_is_forbidden_with_the_day_that_is_free(tmp_path, library):
    found = dates(tmp_path, library, "lettuce", pick="first_pick = 2026-07-01")
    (late,) = [each for each in found.findings if each.code == "raw_manure_too_late"]

    assert late.values["allowed"] == "2026-07-30"
    assert {source.source_id for source in late.sources} == {"cfr_205_203"}


def test_an_unstated_first_pick_is_assumed_early_and_said(tmp_path, library):
    found = dates(tmp_path, library, "lettuce")

    assert found.first_pick == date(2026, 6, 9)
    assert "first_pick_assumed" in {each.code for each in found.findings}


def test_without_a_day_of_setting_out_there_is_no_date(tmp_path, library):
    found = dates(tmp_path, library, "lettuce", set_out="")

    assert found.forbidden_from is None
    assert [each.code for each in found.findings] == ["first_pick_not_known"]


def test_compost_has_no_interval(tmp_path, library):
    assert dates(tmp_path, library, "lettuce", material="plant compost").spread == ()


def test_every_crop_has_a_kind_with_an_early_first_pick(library):
    for row in library.rows("crops"):
        assert library.parameter(f"days_to_first_pick_{row['kind']}", "day").value >= 0


def test_the_table_of_contact_speaks_of_known_crops(library):
    known = {row["crop"] for row in library.rows("crops")}

    assert {row["crop"] for row in library.rows("soil_contact")} <= known
    assert {row["contact"] for row in library.rows("soil_contact")} == {"touches", "clear"}
