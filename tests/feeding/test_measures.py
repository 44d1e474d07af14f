"""Pounds in the measures of a hand: teaspoons, level cups, quarts, bucketfuls."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from bedwright.feeding.measures import Measure, metric_measure, us_measure

LB, CUP, GALLON, LITER = 0.45359237, 236.5882365e-6, 3.785411784e-3, 1e-3
HALF_A_POUND_A_CUP = 0.5 * LB / CUP  # kg/m3
VOLUMES = {  # m3, worked from the gallon of 231 cubic inches
    "teaspoon": GALLON / 768,
    "tablespoon": GALLON / 256,
    "cup": GALLON / 16,
    "quart": GALLON / 4,
    "bucket": 5 * GALLON,
}
METRIC_VOLUMES = {"milliliter": 1e-6, "liter": LITER, "bucket": 10 * LITER}
masses = st.integers(1, 100_000_000).map(lambda milligrams: milligrams / 1e6)
densities = st.integers(200, 2000).map(float)


@pytest.mark.parametrize(
    ("pounds", "bulky", "count", "unit"),
    [
        (1.0, False, 2.0, "cup"),
        (0.25, False, 0.5, "cup"),
        (0.125, False, 0.25, "cup"),
        (1.2, False, 2.5, "cup"),
        (0.5 / 16, False, 1.0, "tablespoon"),
        (0.5 / 48, False, 1.0, "teaspoon"),
        (3.5, False, 7.0, "cup"),
        (8.0, False, 4.0, "quart"),
        (9.0, False, 4.5, "quart"),
        (40.0, True, 1.0, "bucket"),
        (100.0, True, 2.5, "bucket"),
        (400.0, False, 10.0, "bucket"),
    ],
)
def test_a_bag_of_half_a_pound_to_the_cup_measures_out(pounds, bulky, count, unit):
    found = us_measure(pounds * LB, HALF_A_POUND_A_CUP, bulky=bulky)

    assert found == Measure(pytest.approx(count), unit)


@pytest.mark.parametrize(
    ("liters", "bulky", "count", "unit"),
    [
        (0.25, False, 250, "milliliter"),
        (0.015, False, 15, "milliliter"),
        (1.5, False, 1.5, "liter"),
        (20.0, False, 20.0, "liter"),
        (20.0, True, 2.0, "bucket"),
        (60.0, False, 6.0, "bucket"),
    ],
)
def test_metric_hands_count_in_milliliters_liters_and_pails(liters, bulky, count, unit):
    found = metric_measure(liters * 0.8, 800.0, bulky=bulky)

    assert found == Measure(pytest.approx(count), unit)


@given(mass=masses, density=densities, bulky=st.booleans())
def test_a_measure_misses_the_mass_by_no_more_than_half_its_smallest_part(mass, density, bulky):
    found = us_measure(mass, density, bulky=bulky)

    volume = mass / density
    part = {"teaspoon": 4, "tablespoon": 2, "quart": 2, "bucket": 4}.get(found.unit, 4)
    if found.unit == "cup" and found.count >= 4:
        part = 2
    if found.unit == "bucket" and found.count >= 10:
        part = 1
    missed = abs(found.count * VOLUMES[found.unit] - volume)
    floor = VOLUMES["teaspoon"] / 4  # less than a quarter teaspoon is called that
    assert missed <= VOLUMES[found.unit] / part / 2 * (1 + 1e-9) or volume < floor


@given(mass=masses, density=densities, bulky=st.booleans())
def test_a_metric_measure_misses_the_mass_by_no_more_than_half_its_smallest_part(
    mass, density, bulky
):
    found = metric_measure(mass, density, bulky=bulky)

    volume = mass / density
    part = {"bucket": 2.5 * LITER, "liter": LITER / 10, "milliliter": 1e-5}[found.unit]
    if found.unit == "milliliter" and volume < LITER / 10:
        part = 1e-6
    missed = abs(found.count * METRIC_VOLUMES[found.unit] - volume)
    assert missed <= part / 2 * (1 + 1e-9) or volume < 1e-6  # a milliliter is the least


@given(mass=masses, more=masses, density=densities)
def test_more_to_spread_is_never_less_to_measure(mass, more, density):
    def volume(kilograms: float) -> float:
        found = us_measure(kilograms, density, bulky=False)
        return found.count * VOLUMES[found.unit]

    # Rounding goes to parts of other measures at the seams: a part of the larger may be lost.
    assert volume(mass + more) >= volume(mass) * 0.9


def test_something_is_never_measured_as_nothing():
    assert us_measure(1e-6, 1000.0, bulky=False) == Measure(0.25, "teaspoon")


@pytest.mark.parametrize("measure", [us_measure, metric_measure])
@pytest.mark.parametrize(("mass", "density"), [(-1.0, 800.0), (1.0, 0.0), (1.0, -5.0)])
def test_a_mass_below_nothing_or_a_bag_without_weight_is_refused(measure, mass, density):
    with pytest.raises(ValueError, match="must"):
        measure(mass, density, bulky=False)


def test_a_metric_measure_of_something_is_never_nothing():
    assert metric_measure(1e-7, 1000.0, bulky=False).count > 0
