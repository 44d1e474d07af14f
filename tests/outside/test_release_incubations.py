"""Published incubations beside our pools, and the published answers of decay to warmth.

The table release_incubations.csv holds every figure, ours, the difference and its cause. Rows
marked ``fitted`` gave the pools their constants, so they test the arithmetic only.
"""

import csv
import math

import numpy as np
import pytest
from incubations import TABLE, Incubation, incubations, release, rows

from bedwright.feeding import response
from bedwright.feeding.materials import material
from bedwright.feeding.pools import material_pools
from bedwright.reference import Library

ALL = incubations()
LIBRARY = Library()
LARGEST = "alfalfa pellets, 12 weeks"


@pytest.mark.parametrize("each", ALL, ids=[each.case for each in ALL])
def test_the_table_holds_what_the_pools_give_now(each: Incubation):
    written = next(row for row in rows() if row["case"] == each.case)

    assert f"{each.ours:.3f}" == written["ours"]
    assert f"{each.difference:+.3f}" == written["difference"]


def test_eight_materials_and_more_stand_beside_a_published_figure():
    named = {each.material for each in ALL if not each.material.startswith("c_to_n")}

    assert len(named) >= 8
    assert sum(each.role == "independent" for each in ALL) >= 8


def test_every_difference_has_its_cause_and_source():
    assert [each.case for each in ALL if len(each.cause) < 15] == []
    assert {each.source_id for each in ALL} <= LIBRARY.sources.keys()


def test_the_largest_difference_is_the_one_that_is_explained(capsys: pytest.CaptureFixture[str]):
    worst = max(ALL, key=lambda each: abs(each.difference))
    with capsys.disabled():
        print(f"\nlargest difference: {worst.case}: {worst.difference:+.3f}; {worst.cause}")

    assert worst.case == LARGEST
    assert -0.25 < worst.difference < -0.23


@pytest.mark.parametrize("key", ["alfalfa_pellets", "poultry_manure_pellets"])
def test_where_a_trial_lies_far_off_the_high_end_of_the_range_is_set_by_it(key: str):
    trial = next(each for each in ALL if each.material == key and each.role == "independent")
    pools = material_pools(LIBRARY, material(LIBRARY, key))
    assert pools is not None and trial.high is not None
    out = [release(LIBRARY, key, "organic", trial.weeks, celsius) for celsius in trial.celsius]
    quick = (pools.fast.most - pools.fast.value) * -math.expm1(-pools.k_fast.value * 12 * 0.68)

    assert np.mean(out) < trial.published
    assert np.mean(out) + quick == pytest.approx(trial.high, abs=0.03)


def test_the_hand_fit_is_marked_as_our_judgement_and_not_as_published():
    for row in LIBRARY.rows("release_pools"):
        if "hand fit" in row.source.note:
            assert row.source.source_id == "judgement", row.line
    marked = [
        r for r in LIBRARY.rows("release_pools") if "hand fit of the dossier" in r.source.note
    ]
    assert len(marked) == 12


def test_csv_is_written_as_its_maker_writes_it():
    with TABLE.open(encoding="utf-8", newline="") as stream:
        cells = [len(row) for row in csv.reader(stream)]

    assert set(cells) == {13}


# Rates and factors (dossier T34 and its table 6.3).


@pytest.mark.parametrize(("celsius", "rate"), [(35, 0.0531), (25, 0.0299), (15, 0.0162)])
def test_campbells_line_gives_its_rates(celsius: float, rate: float):
    ours = response.mineralization_rate_campbell_1981(273.15 + celsius)

    assert f"{float(ours):.4f}" == f"{rate:.4f}"


@pytest.mark.parametrize(
    ("celsius", "mean_rate", "half_life"), [(35, 0.058, 11.9), (25, 0.031, 22.4), (15, 0.018, 38.5)]
)
def test_campbells_mean_rates_give_the_printed_half_lives(
    celsius: float, mean_rate: float, half_life: float
):
    """The line lies a tenth below the means of the five soils, as the dossier says."""
    assert math.log(2) / mean_rate == pytest.approx(half_life, abs=0.06)
    line = float(response.mineralization_rate_campbell_1981(273.15 + celsius))
    assert -0.12 < line / mean_rate - 1 < 0


@pytest.mark.parametrize(
    ("celsius", "ceres", "rothc", "daisy", "q10"),
    [
        (5, 0.00, 0.50, 0.50, 0.25),
        (10, 0.17, 1.10, 1.00, 0.35),
        (15, 0.33, 1.90, 1.50, 0.50),
        (20, 0.50, 2.82, 2.02, 0.71),
        (25, 0.67, 3.80, 2.72, 1.00),
        (30, 0.83, 4.79, 4.04, 1.41),
        (35, 1.00, 5.76, 6.61, 2.00),
    ],
)
def test_the_models_answers_to_warmth(
    celsius: float, ceres: float, rothc: float, daisy: float, q10: float
):
    kelvin = 273.15 + celsius

    assert float(response.temperature_factor_ceres(kelvin)) == pytest.approx(ceres, abs=0.005)
    assert float(response.temperature_factor_rothc(kelvin)) == pytest.approx(rothc, abs=0.006)
    assert float(response.temperature_factor_daisy(kelvin)) == pytest.approx(daisy, abs=0.005)
    assert float(response.temperature_factor_q10(kelvin, 298.15, 2.0)) == pytest.approx(
        q10, abs=0.005
    )
