"""The five years worked by hand in docs/ledger-example.md, to the digits printed there."""

import re
from functools import cache
from pathlib import Path

import numpy as np
import pytest

from bedwright.feeding.ledger import (
    account,
    matter_kept,
    organic_matter_account,
    organic_release,
)
from bedwright.feeding.outlook import soil_test_change, steady_depth, years_until
from bedwright.feeding.salt_ledger import salt_account

PAGE = Path(__file__).parents[2] / "docs" / "ledger-example.md"
COMPOST, MANURE = 0, 1
ORGANIC_N = np.array([0.008, 0.0025])
MATTER = np.array([0.20, 0.15])
RELEASE = np.array([[0.07, 0.04, 0.03, 0.02], [0.35, 0.12, 0.05, 0.0]])
LAYER = 187.5


@cache
def table(first_column_after_year: str) -> np.ndarray:
    """The numbers of the table whose second heading this is, without the years."""
    text = PAGE.read_text("utf-8")
    found = re.search(rf"^\| year \| {re.escape(first_column_after_year)}.*?\n\n", text + "\n",
                      re.M | re.S)  # fmt: skip
    assert found is not None
    rows = [line.strip("| ").split("|") for line in found[0].strip().splitlines()[2:]]
    return np.array([[float(cell) for cell in row] for row in rows])[:, 1:]


def spread() -> np.ndarray:
    """Kilograms a square meter by material, bed and season."""
    return table("compost, kg")[:, :2].T[:, None, :]


def per_square_meter(contents: np.ndarray) -> np.ndarray:
    """Grams by bed and season."""
    return np.einsum("m,mbs->bs", contents, spread()) * 1000


def printed(*numbers: str) -> bool:
    text = PAGE.read_text("utf-8")
    return all(f"**{number}" in text for number in numbers)


def test_phosphate_closes_as_worked_by_hand():
    came, harvest = per_square_meter(np.array([0.005, 0.002])), table("compost, kg")[:, 2][None]

    kept = account(np.zeros(1), {"materials": came}, {"harvest": harvest})

    rows = np.stack([came[0], harvest[0], kept.closing[0]], axis=1)
    assert rows == pytest.approx(table("came in"), abs=1e-9)


def test_the_soil_test_rises_and_passes_fifty_as_worked_by_hand():
    rise = soil_test_change(0.0292 * 0.436429, 0.08, 1250, 0.15)
    years = years_until(np.array([30.0]), np.array([rise]), 50.0)[0]

    assert (f"{rise:.3f}", f"{years:.3f}") == ("5.437", "3.678")
    assert printed("5.437 mg/kg a year", "3.678 years")


def test_a_film_of_compost_holds_phosphorus_steady():
    assert steady_depth(0.0024, 0.0, 0.005, 600) == pytest.approx(0.0008)
    assert printed("0.0008 m")


def test_nitrogen_of_earlier_dressings_is_released_as_worked_by_hand():
    organic = spread() * ORGANIC_N[:, None, None] * 1000
    found = organic_release(organic, RELEASE)

    rows = [organic.sum(axis=0)[0], found.released[0], found.carried_over[0], found.left[0]]
    assert np.stack(rows, axis=1) == pytest.approx(table("organic N spread"), abs=1e-9)


def test_salt_is_leached_as_worked_by_hand():
    added = per_square_meter(np.array([0.008, 0.005]))
    water = np.full((1, 5), 300.0)
    kept = salt_account(np.array([100.0]), added, water, np.full((1, 5), 0.5), np.array([100.0]))

    rows = [added[0], water[0], kept.outgoing["leached"][0], kept.closing[0]]
    assert np.stack(rows, axis=1) == pytest.approx(table("materials"), abs=1e-9)


def test_organic_matter_rots_and_lasts_as_worked_by_hand():
    fresh = per_square_meter(MATTER)
    lasting = [
        matter_kept(share, n * (1 - years[0]), 1 - years[0], 11, 1.724)
        for share, n, years in zip(MATTER, ORGANIC_N, RELEASE, strict=True)
    ]
    kept = organic_matter_account(
        np.array([5625.0]), fresh, per_square_meter(np.array(lasting)), 0.015
    )

    rows = [fresh[0], *(each[0] for each in kept.outgoing.values()), kept.closing[0]]
    assert np.stack(rows, axis=1) == pytest.approx(table("spread"), abs=0.0501)
