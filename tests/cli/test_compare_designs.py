"""``bedwright compare`` on beds without blocks and on factors."""

import json
from pathlib import Path

import pytest
from jsonschema import Draft202012Validator

from bedwright.cli.main import run
from bedwright.reports.compare_json import compare_schema
from planning.compare.compare_gardens import FOUR_BLOCKS, TEN_BEDS, TWO, design, of_bed, of_block

AS_OF = ["--as-of", "2026-11-25"]
FACTORS = design(
    TWO + FOUR_BLOCKS,
    "".join(
        of_block(block, f"{one} + {other}", 10 + (one == "compost") * 3 + block * at % 5 / 4)
        for block in range(1, 5)
        for at, (one, other) in enumerate(
            [("compost", "mulch"), ("compost", "bare"), ("no compost", "mulch"),
             ("no compost", "bare")], 1)
    ),
)  # fmt: skip
OF_BEDS = design(TEN_BEDS, "".join(of_bed(f"P{n}", f"{10 + n * n % 7}") for n in range(1, 11)))


@pytest.mark.parametrize("text", [FACTORS, OF_BEDS, design(TWO + FOUR_BLOCKS), design(TEN_BEDS)])
def test_the_data_satisfies_its_schema_and_the_text_fits_a_page(text, tmp_path: Path, capsys):
    file = tmp_path / "garden.toml"
    file.write_text(text, encoding="utf-8")

    assert run(["compare", str(file), *AS_OF, "--format", "json"]) == 0
    data = json.loads(capsys.readouterr().out)
    assert run(["compare", str(file), "x", *AS_OF]) == 0
    told = capsys.readouterr().out

    Draft202012Validator(compare_schema()).validate(data)
    assert max(len(line) for line in told.splitlines()) <= 80
    assert "{" not in told


def test_each_effect_stands_in_the_data_with_its_interval(tmp_path: Path, capsys):
    file = tmp_path / "garden.toml"
    file.write_text(FACTORS, encoding="utf-8")

    assert run(["compare", str(file), *AS_OF, "--format", "json"]) == 0

    (one,) = json.loads(capsys.readouterr().out)["comparisons"]
    assert one["factors"] == [["compost", "no compost"], ["mulch", "bare"]]
    effects = one["analysis"]["of_factors"]["effects"]
    assert [each["factors"] for each in effects] == [[0], [1], [0, 1]]
    for each in effects:
        low, high = each["interval"]
        assert low < each["effect"] < high
