"""``bedwright feed --why``: why a material is not used, answered by forcing it in."""

import pytest

from bedwright.cli.main import run

DAY = ["--as-of", "2026-11-25"]


@pytest.fixture
def kestrel(demo_folder) -> str:
    return str(demo_folder / "kestrel_bend.toml")


@pytest.mark.parametrize(
    ("material", "words"),
    [
        ("greensand", "its potash does not dissolve within seasons"),
        ("feather meal", "is used"),
        ("urea", "It is not in the shed"),
        ("langbeinite", "46.00 USD more"),  # the one package that would have to be bought
    ],
)
def test_the_answer_names_the_reason_or_what_it_would_cost(kestrel, material, words, capsys):
    code = run(["feed", kestrel, *DAY, "--why", material])

    out, err = capsys.readouterr()
    assert (code, err) == (0, "")
    assert words in " ".join(out.split())
    assert [line for line in out.splitlines() if len(line) > 80] == []


def test_a_material_that_nobody_knows_is_refused_with_the_nearest(kestrel, capsys):
    code = run(["feed", kestrel, *DAY, "--why", "fether meal"])

    out, err = capsys.readouterr()
    assert (code, out) == (2, "")
    assert "'fether meal' is not a known material" in err
    assert "feather meal" in err
