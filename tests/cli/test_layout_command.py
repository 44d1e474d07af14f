"""``bedwright layout`` as a gardener runs it."""

import json
from pathlib import Path
from xml.etree import ElementTree

import pytest

from bedwright.cli.main import run

AS_OF = ["--as-of", "2026-11-25"]


def test_the_page_tells_rows_plants_posts_and_why(demo_folder: Path, capsys):
    code = run(["layout", str(demo_folder / "kestrel_bend.toml"), "--bed", "W9", *AS_OF])

    told = capsys.readouterr().out
    assert code == 0
    assert told.startswith("BED W9, Kestrel Bend: pole bean\n")
    for words in ("75 plants", "8 posts, 8 ft or longer, 31 in of it in the ground",
                  "4 mesh panels", "hung 12 in above the", "call", "eye protection", "WHY SO",
                  "Drip: 2 lines spread over the bed, 100 ft in all.",
                  "Path to bed W8 on the west side: 2 ft."):  # fmt: skip
        assert words in " ".join(told.split()), words
    assert told.index("eye protection") < told.index("8 posts, 8 ft")
    assert max(len(line) for line in told.splitlines()) <= 78


def test_a_metric_garden_is_told_in_its_units(demo_folder: Path, capsys):
    assert run(["layout", str(demo_folder / "ennery_flat.toml"), "--bed", "6", *AS_OF]) == 0

    told = capsys.readouterr().out
    assert " cm " in told and " in in the" not in told and " ft" not in told


def test_as_json_it_holds_the_same_in_si(demo_folder: Path, capsys):
    code = run(["layout", str(demo_folder / "kestrel_bend.toml"), "--bed", "W9", "--json", *AS_OF])

    (layout,) = json.loads(capsys.readouterr().out)
    assert code == 0
    assert layout["rows"][0]["places"] == 75
    assert layout["trellises"][0]["posts"] == 8
    assert layout["trellises"][0]["post_depth"]["value"] == pytest.approx(0.787, abs=0.001)
    assert len(layout["rows"][0]["light_mol_m2_d"]) == 12
    most = zip(layout["rows"][0]["light_mol_m2_d"], layout["open_light_mol_m2_d"], strict=True)
    assert all(light <= open_ * (1 + 1e-6) for light, open_ in most)


def test_the_drawing_is_written_and_holds_a_tick_for_each_plant(
    demo_folder: Path, tmp_path: Path, capsys
):
    file = tmp_path / "W9.svg"
    garden = str(demo_folder / "kestrel_bend.toml")

    assert run(["layout", garden, "--bed", "W9", "--svg", str(file), *AS_OF]) == 0

    root = ElementTree.fromstring(file.read_text(encoding="utf-8"))
    groups = {each.get("class"): each for each in root.iter("{http://www.w3.org/2000/svg}g")}
    assert groups["plants"].get("data-count") == "75" == str(len(list(groups["plants"])))
    assert groups["posts"].get("data-count") == "8" == str(len(list(groups["posts"])))
    assert groups["light"] is not None


def test_in_spanish_it_says_the_sides_in_spanish(demo_folder: Path, capsys):
    garden = str(demo_folder / "kestrel_bend.toml")

    assert run(["layout", garden, "--bed", "W9", "--language", "es", *AS_OF]) == 0
    assert "west" not in capsys.readouterr().out


@pytest.mark.parametrize(("bed", "said"), [("Z9", "there is no bed 'Z9'"), ("E10", "E10")])
def test_a_bed_that_is_not_there_or_not_wanted_is_said_so(demo_folder: Path, capsys, bed, said):
    garden = str(demo_folder / "kestrel_bend.toml")

    assert run(["layout", garden, "--bed", bed, *AS_OF]) == 2
    assert said in capsys.readouterr().err
