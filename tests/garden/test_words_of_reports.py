"""What laboratories print, as it stands on paper."""

from __future__ import annotations

import pytest

from bedwright.garden.results import ResultError, read_result
from bedwright.reference import Library

LIBRARY = Library()


def read(analyte: str, value: object, unit: str | None = None, **more: object):
    return read_result(LIBRARY, analyte, value, unit, None, "here", **more)


@pytest.mark.parametrize(
    ("analyte", "value", "key", "extractant"),
    [
        ("Olsen P", "12 ppm", "phosphorus", "olsen"),
        ("pH (CaCl2)", 6.2, "ph", "calcium_chloride"),
        ("EC 1:5", "0.3 dS/m", "ec", "water_1_5"),
    ],
)
def test_a_method_named_within_the_analyte_counts(analyte, value, key, extractant):
    found = read(analyte, value)

    assert (found.analyte, found.extractant) == (key, extractant)


def test_parts_per_million_in_water_are_milligrams_in_a_liter():
    found = read("NO3-N", "6 ppm", of_water=True)

    assert (found.unit, found.value) == ("mg/l", pytest.approx(6.0))


def test_parts_per_million_in_soil_are_milligrams_in_a_kilogram():
    found = read("NO3-N", "6 ppm")

    assert (found.unit, found.value) == ("mg/kg", pytest.approx(6.0))


def test_ph_units_are_no_unit():
    assert read("pH", 6.2, "units").value == pytest.approx(6.2)


def test_pounds_per_capital_a_are_per_acre():
    assert read("K", "200 lb/A").value == pytest.approx(0.022417, rel=1e-4)


def test_an_analyte_that_no_method_explains_is_told_in_its_own_words():
    with pytest.raises(ResultError, match="'Olsen moonlight' is not a known analyte"):
        read("Olsen moonlight", "3 ppm")
