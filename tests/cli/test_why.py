"""``bedwright feed --why``: why a material is not used, answered by forcing it in."""

from pathlib import Path

import pytest

from bedwright.cli.main import run

DAY = ["--as-of", "2026-11-25"]
GARDEN = """format = 2
[garden]
name = "Small"
[[bed]]
id = "A"
length = "50 ft"
width = "4 ft"
texture = "silt loam"
[[bed]]
id = "B"
length = "30 ft"
width = "4 ft"
texture = "silt loam"
[[soil_report]]
id = "fall"
beds = ["A", "B"]
sampled = 2026-10-15
depth = "12 in"
results = [
  { analyte = "pH", value = 6.7, method = "1:1 soil:water" },
  { analyte = "EC", value = "0.5 dS/m", method = "saturated paste" },
  { analyte = "Organic matter", value = "2.0 %", method = "loss on ignition" },
  { analyte = "NO3-N", value = "5 ppm", method = "KCl" },
  { analyte = "Phosphorus", value = "12 ppm", method = "Bray P1" },
  { analyte = "Potassium", value = "90 ppm", method = "ammonium acetate" },
]
[[stock]]
material = "feather meal"
on_hand = "40 lb"
[[stock]]
material = "steamed bone meal"
on_hand = "40 lb"
[[stock]]
material = "potassium sulfate"
on_hand = "40 lb"
[[stock]]
material = "langbeinite"
package = "50 lb"
price = "46 USD"
[[stock]]
material = "greensand"
on_hand = "20 lb"
[[want]]
crop = "tomato"
beds = ["A"]
set_out = 2027-05-10
[[want]]
crop = "cabbage"
beds = ["B"]
set_out = 2027-04-10
"""


@pytest.fixture
def garden(tmp_path: Path) -> str:
    file = tmp_path / "garden.toml"
    file.write_text(GARDEN, encoding="utf-8")
    return str(file)


@pytest.mark.parametrize(
    ("material", "words"),
    [
        ("greensand", "Not on A, B: its potash does not dissolve within seasons"),
        ("feather meal", "Feather meal is used ---------"),
        ("urea", "It is not in the shed"),
        ("langbeinite", "46.00 USD more"),  # the one package that would have to be bought
    ],
)
def test_the_answer_names_the_reason_or_what_it_would_cost(garden, material, words, capsys):
    code = run(["feed", garden, *DAY, "--why", material])

    out, err = capsys.readouterr()
    assert (code, err) == (0, "")
    assert words in " ".join(out.split())
    assert [line for line in out.splitlines() if len(line) > 80] == []


@pytest.mark.full
@pytest.mark.parametrize(
    ("material", "words"),
    [("greensand", "does not dissolve within seasons"), ("langbeinite", "46.00 USD more")],
)
def test_a_large_garden_is_answered_within_eighty_columns(demo_folder, material, words, capsys):
    code = run(["feed", str(demo_folder / "kestrel_bend.toml"), *DAY, "--why", material])

    out, err = capsys.readouterr()
    assert (code, err) == (0, "")
    assert words in " ".join(out.split())
    assert [line for line in out.splitlines() if len(line) > 80] == []


def test_a_material_that_nobody_knows_is_refused_with_the_nearest(garden, capsys):
    code = run(["feed", garden, *DAY, "--why", "fether meal"])

    out, err = capsys.readouterr()
    assert (code, out) == (2, "")
    assert "'fether meal' is not a known material" in err
    assert "feather meal" in err
