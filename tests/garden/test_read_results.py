"""A laboratory's words are understood: analyte, method, and the value in one unit each."""

import pytest

from bedwright.garden.results import ResultError, needs_method, read_result
from bedwright.reference import Library


def read(library: Library, analyte: str, value: object, unit=None, method=None):
    return read_result(library, analyte, value, unit, method, "test")


METHODS = [
    ("Olsen", "olsen"),
    ("bicarb", "olsen"),
    ("NaHCO3", "olsen"),
    ("NaHCO3-P", "olsen"),
    ("sodium bicarbonate", "olsen"),
    ("M3", "mehlich_3"),
    ("Mehlich-3", "mehlich_3"),
    ("mehlich 3", "mehlich_3"),
    ("MEHLICH III", "mehlich_3"),
    ("M1", "mehlich_1"),
    ("weak Bray", "bray_1"),
    ("Bray P1", "bray_1"),
    ("Bray-1", "bray_1"),
    ("strong Bray", "bray_2"),
    ("modified Morgan", "modified_morgan"),
    ("AB-DTPA", "ab_dtpa"),
    (" olsen ", "olsen"),
    ("mehlich_3", "mehlich_3"),
]


@pytest.mark.parametrize(("written", "key"), METHODS)
def test_a_method_is_known_by_what_laboratories_call_it(library, written: str, key: str):
    assert read(library, "P", "18 ppm", method=written).extractant == key


ANALYTES = [
    ("P", "phosphorus"),
    ("phosphorus", "phosphorus"),
    ("K", "potassium"),
    ("NO3-N", "nitrate_n"),
    ("Zn", "zinc"),
    ("Boron", "boron"),
]


@pytest.mark.parametrize(("written", "key"), ANALYTES)
def test_an_analyte_is_known_by_its_symbol_or_name(library, written: str, key: str):
    assert read(library, written, "18 ppm").analyte == key


VALUES = [
    ("P", "18 ppm", None, "fraction", 18, "mg/kg"),
    ("P", 18, "ppm", "fraction", 18, "mg/kg"),
    ("P", "18", "mg/kg", "fraction", 18, "mg/kg"),
    ("P", 18.5, "ppm", "fraction", 18.5, "mg/kg"),
    ("P", "36 lb/ac", None, "mass_per_area", 36 * 0.45359237 / 4046.8564224, "kg/m2"),
    ("K", "1.1 meq/100 g", None, "charge_fraction", 1.1, "meq/100 g"),
    ("K", "11 mmolc/kg", None, "charge_fraction", 1.1, "meq/100 g"),
    ("Na", "3 meq/l", None, "charge_concentration", 3, "meq/l"),
    ("boron", "0.3 mg/l", None, "concentration", 0.3, "mg/l"),
    ("organic matter", 9.8, "%", "fraction", 9.8, "%"),
    ("organic matter", "98 g/kg", None, "fraction", 9.8, "%"),
    ("EC", "2.4 dS/m", None, "conductivity", 2.4, "dS/m"),
    ("EC", "2400 uS/cm", None, "conductivity", 2.4, "dS/m"),
    ("pH", 7.9, None, "ratio", 7.9, "-"),
    ("pH", "7.9", None, "ratio", 7.9, "-"),
    ("pH", 2, None, "ratio", 2, "-"),
    ("pH", 12, None, "ratio", 12, "-"),
    ("CEC", "15 cmol/kg", None, "charge_fraction", 15, "meq/100 g"),
    ("P", 0, "ppm", "fraction", 0, "mg/kg"),
]


@pytest.mark.parametrize("case", VALUES, ids=str)
def test_a_value_is_brought_to_the_unit_of_its_kind(library: Library, case):
    analyte, value, unit, kind, number, house = case

    result = read(library, analyte, value, unit)

    assert (result.kind, result.unit) == (kind, house)
    assert result.value == pytest.approx(number, rel=1e-12)


MISTAKES = [
    ("unobtainium", "1 ppm", None, None, "analyte", "'unobtainium' is not a known analyte"),
    ("phosphoru", "1 ppm", None, None, "analyte", "Nearest: phosphorus"),
    ("P", "1 ppm", None, "Olson", "method", "'Olson' is not a known extractant Nearest: olsen"),
    ("P", "1 ppm", None, "Mehlich 4", "method", "mehlich 3"),
    ("P", "1 ppm", None, "DTPA", "method", "'DTPA' is no method for phosphorus"),
    ("Zn", "1 ppm", None, "Olsen", "method", "DTPA"),
    ("P", 18, None, None, "value", "without a unit"),
    ("P", "18 ft", None, None, "value", "Units that fit: %, ppm, mg/kg, g/kg, lb/100 ft2"),
    ("P", "18 ppm", "ppm", None, "value", "Write the unit once"),
    ("P", "18 ppm", "mg/kg", None, "value", "Write the unit once"),
    ("P", "<5 ppm", None, None, "value", "Leave the line out"),
    ("P", "<5", "ppm", None, "value", "Leave the line out"),
    ("P", "-1 ppm", None, None, "value", "is less than 0"),
    ("P", "nan ppm", None, None, "value", "does not begin with a number"),
    ("P", "120 %", None, None, "value", "more than the whole"),
    ("organic matter", "120 %", None, None, "value", "more than the whole"),
    ("EC", "1e300 dS/m", None, None, "value", "more than a garden can hold"),
    ("pH", "7.9 ppm", None, None, "value", "pH has no unit"),
    ("pH", "7.9%", None, None, "value", "pH has no unit"),
    ("pH", 7.9, "dS/m", None, "value", "pH has no unit"),
    ("pH", 79, None, None, "value", "a pH of 79"),
    ("pH", 1.9, None, None, "value", "a pH of 1.9"),
    ("pH", "alkaline", None, None, "value", "does not begin with a number"),
    ("", "1 ppm", None, None, "analyte", "is not a known analyte"),
]


@pytest.mark.parametrize("case", MISTAKES, ids=str)
def test_a_result_that_means_nothing_is_refused_with_its_field(library: Library, case):
    analyte, value, unit, method, field, words = case

    with pytest.raises(ResultError) as caught:
        read(library, analyte, value, unit, method)

    assert caught.value.field == field
    assert words in str(caught.value)


@pytest.mark.parametrize("analyte", ["phosphorus", "potassium", "zinc", "boron", "ec", "buffer_ph"])
def test_a_value_that_depends_on_its_method_needs_one(library, analyte: str):
    assert needs_method(library, analyte)


@pytest.mark.parametrize("analyte", ["ph", "organic_matter", "cec", "sar"])
def test_a_value_that_hardly_depends_on_its_method_needs_none(library, analyte: str):
    assert not needs_method(library, analyte)
