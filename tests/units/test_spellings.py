"""The spellings of quantities that a grower may use, and the messages for slips of the pen."""

import math

import pytest

from bedwright.units import UnitError, parse, unit_factor

INCH, FOOT, POUND, OUNCE = 0.0254, 0.3048, 0.45359237, 0.028349523125
ACRE, HUNDRED_FT2 = 43560 * FOOT**2, 100 * FOOT**2

SPELLINGS = [
    ("3 in", "depth", 3 * INCH),
    ("3in", "depth", 3 * INCH),
    ("3 inches", "depth", 3 * INCH),
    ("3 in.", "depth", 3 * INCH),
    ('3"', "depth", 3 * INCH),
    ("3 IN", "depth", 3 * INCH),
    ("1 1/2 in", "depth", 1.5 * INCH),
    ("1/2 in", "depth", 0.5 * INCH),
    (".5 in", "depth", 0.5 * INCH),
    ("50 ft", "length", 50 * FOOT),
    ("50'", "length", 50 * FOOT),
    ("50 feet", "length", 50 * FOOT),
    ("5 ft 6 in", "length", 5.5 * FOOT),
    ("5 ft. 6 in.", "length", 5.5 * FOOT),
    ("5' 6\"", "length", 5.5 * FOOT),
    ("-3 ft", "length", -3 * FOOT),
    ("15 m", "length", 15.0),
    ("15 metres", "length", 15.0),
    ("200 sq ft", "area", 2 * HUNDRED_FT2),
    ("200 sq. ft.", "area", 2 * HUNDRED_FT2),
    ("200 square feet", "area", 2 * HUNDRED_FT2),
    ("200 ft²", "area", 2 * HUNDRED_FT2),
    ("1 acre", "area", ACRE),
    ("2.5 ha", "area", 25000.0),
    ("2 lb/100 ft2", "mass_per_area", 2 * POUND / HUNDRED_FT2),
    ("2 lb/100 sq ft", "mass_per_area", 2 * POUND / HUNDRED_FT2),
    ("2 lb / 100 ft2", "mass_per_area", 2 * POUND / HUNDRED_FT2),
    ("2 lbs per 100 square feet", "mass_per_area", 2 * POUND / HUNDRED_FT2),
    ("40 lb/1000 ft2", "mass_per_area", 4 * POUND / HUNDRED_FT2),
    ("40 lb/1,000 sq ft", "mass_per_area", 4 * POUND / HUNDRED_FT2),
    ("100 lb/ac", "mass_per_area", 100 * POUND / ACRE),
    ("100 lb per acre", "mass_per_area", 100 * POUND / ACRE),
    ("2 tons/acre", "mass_per_area", 4000 * POUND / ACRE),
    ("1.5 t/ha", "mass_per_area", 0.15),
    ("1500 kg/ha", "mass_per_area", 0.15),
    ("150 g/m2", "mass_per_area", 0.15),
    ("12 ppm", "fraction", 12e-6),
    ("12 parts per million", "fraction", 12e-6),
    ("12 mg/kg", "fraction", 12e-6),
    ("1.2 %", "fraction", 0.012),
    ("1.2%", "fraction", 0.012),
    ("12 g/kg", "fraction", 0.012),
    ("12 ppm", "concentration", 0.012),
    ("12 mg/L", "concentration", 0.012),
    ("1.2 dS/m", "conductivity", 0.12),
    ("1.2 mS/cm", "conductivity", 0.12),
    ("1.2 mmho/cm", "conductivity", 0.12),
    ("1.2 mmhos/cm", "conductivity", 0.12),
    ("1200 uS/cm", "conductivity", 0.12),
    ("1200 µS/cm", "conductivity", 0.12),
    ("15 meq/100 g", "charge_fraction", 0.15),
    ("15 meq/100g", "charge_fraction", 0.15),
    ("15 me/100 g", "charge_fraction", 0.15),
    ("15 cmol/kg", "charge_fraction", 0.15),
    ("15 cmol(+)/kg", "charge_fraction", 0.15),
    ("150 mmolc/kg", "charge_fraction", 0.15),
    ("3 meq/l", "charge_concentration", 3.0),
    ("68 F", "temperature", 293.15),
    ("68 °F", "temperature", 293.15),
    ("68 deg F", "temperature", 293.15),
    ("20 C", "temperature", 293.15),
    ("-40 F", "temperature", 233.15),
    ("68 F", "temperature_difference", 68 * 5 / 9),
    ("20 C", "temperature_difference", 20.0),
    ("2 lb 4 oz", "mass", 2.25 * POUND),
    ("2 lbs. 4 oz.", "mass", 2.25 * POUND),
    ("36 oz", "mass", 2.25 * POUND),
    ("1,200 lb", "mass", 1200 * POUND),
    ("1.2e3 lb", "mass", 1200 * POUND),
    ("1 ton", "mass", 2000 * POUND),
    ("1 short ton", "mass", 2000 * POUND),
    ("1 t", "mass", 1000.0),
    ("1 metric ton", "mass", 1000.0),
    ("2 cups", "volume", 2 * 231 * INCH**3 / 16),
    ("5 gal", "volume", 5 * 231 * INCH**3),
    ("3 cubic yards", "volume", 81 * FOOT**3),
    ("3 cu yd", "volume", 81 * FOOT**3),
    ("1 acre-inch", "volume", ACRE * INCH),
    ("1 acre foot", "volume", ACRE * FOOT),
    ("0.3 lb/cup", "density", 0.3 * POUND / (231 * INCH**3 / 16)),
    ("1.3 kg/l", "density", 1300.0),
    ("10 lb/ton", "mass_per_mass", 0.005),
    ("20 deg", "angle", math.radians(20)),
    ("2 weeks", "time", 14 * 86400.0),
    ("30 cb", "pressure", 30000.0),
    ("32.50 USD", "money", 32.5),
    ("32.50 $", "money", 32.5),
    ("6.8", "ratio", 6.8),
    ("2 %", "ratio", 0.02),
]


@pytest.mark.parametrize(("text", "kind", "si"), SPELLINGS, ids=str)
def test_a_growers_spelling_is_read(text: str, kind: str, si: float):
    quantity = parse(text, kind)

    assert quantity.si == pytest.approx(si, rel=1e-12)
    assert quantity.kind == kind
    assert quantity.text == text


MISTAKES = [
    ("3", "depth", "'3' is a depth without a unit", "in, cm, mm"),
    ("", "depth", "nothing is written where a depth belongs", "in, cm, mm"),
    ("   ", "mass", "nothing is written where a mass belongs", "oz, lb, g, kg"),
    ("in", "depth", "does not begin with a number", "in, cm, mm"),
    ("about 3 in", "depth", "does not begin with a number", "in, cm, mm"),
    ("3 furlong", "length", "'furlong' is not a unit that is known here", "in, ft, cm, m"),
    ("3 inchs", "depth", "did you mean inches or inch", "in, cm, mm"),
    ("3 ppm", "depth", "'ppm' is not a unit of a depth", "in, cm, mm"),
    ("3 lb", "mass_per_area", "'lb' is not a unit of a mass per area", "lb/100 ft2"),
    ("3 dS/m", "fraction", "'dS/m' is not a unit of a share by mass", "%, ppm, mg/kg"),
    ("3 in 4", "depth", "without a unit", "in, cm, mm"),
    ("3 in 2 lb", "depth", "'lb' is not a unit of a depth", "in, cm, mm"),
    ("1 000 g", "mass", "two numbers before its unit", "oz, lb, g, kg"),
    ("1,20 lb", "mass", "is not a unit", "oz, lb, g, kg"),
    ("3-4 in", "depth", "is not a unit", "in, cm, mm"),
    ("1/0 in", "depth", "a fraction has 0 below the line", "in, cm, mm"),
    ("1 ft/0", "length", "is not a unit", "in, ft, cm, m"),
    ("3 ft/", "length", "'ft/' is not a unit", "in, ft, cm, m"),
    ("3 ft//m", "length", "is not a unit", "in, ft, cm, m"),
    ("3 km^999", "length", "is not a unit", "in, ft, cm, m"),
    ("18 ppm ppm", "fraction", "'ppm ppm' is not a unit", "%, ppm"),
    ("nan ft", "length", "does not begin with a number", "in, ft, cm, m"),
    ("inf ft", "length", "does not begin with a number", "in, ft, cm, m"),
    ("1e999 ft", "length", "is not a finite number", "in, ft, cm, m"),
    ("2 lb -4 oz", "mass", "", "oz, lb, g, kg"),
    ("20 C 3 C", "temperature", "is more than one temperature", "F, C"),
    ("-500 C", "temperature", "-500 C is below absolute zero", "F, C"),
    ("20 m", "temperature", "'m' is not a unit of a temperature", "F, C"),
    ("9" * 300 + " ft", "length", "a text of 303 letters is not a length", "in, ft, cm, m"),
]


@pytest.mark.parametrize(("text", "kind", "problem", "fits"), MISTAKES, ids=lambda e: str(e)[:30])
def test_a_slip_is_refused_with_the_units_that_fit(text: str, kind: str, problem: str, fits: str):
    with pytest.raises(UnitError) as caught:
        parse(text, kind)

    assert problem in str(caught.value)
    assert f"units that fit: {fits}" in str(caught.value)


def test_the_letter_case_tells_a_megagram_from_a_milligram():
    assert parse("1 Mg", "mass").si == 1000.0
    assert parse("1 mg", "mass").si == 1e-6
    with pytest.raises(UnitError, match="'MG' is not a unit"):
        parse("1 MG", "mass")


def test_ppm_in_water_is_milligrams_per_litre_and_in_soil_a_share():
    water, soil = parse("640 ppm", "concentration"), parse("640 ppm", "fraction")

    assert water.si == pytest.approx(0.640)
    assert soil.si == pytest.approx(0.000640)


@pytest.mark.parametrize(
    ("expression", "factor", "dimension"),
    [
        ("kg m", 1, {"kg": 1, "m": 1}),
        ("kg·m", 1, {"kg": 1, "m": 1}),
        ("kg*m/s^2", 1, {"kg": 1, "m": 1, "s": -2}),
        ("kg/m2 d", 1 / 86400, {"kg": 1, "m": -2, "s": -1}),
        ("kg/m2/d", 1 / 86400, {"kg": 1, "m": -2, "s": -1}),
        ("kg/d*m", 1 / 86400, {"kg": 1, "m": 1, "s": -1}),
        ("lb per acre foot", POUND / (ACRE * FOOT), {"kg": 1, "m": -3}),
        ("g per m", 0.001, {"kg": 1, "m": -1}),
    ],
)
def test_units_multiply_side_by_side_and_divide_to_the_end_of_the_denominator(
    expression: str, factor: float, dimension: dict[str, int]
):
    found, exponents = unit_factor(expression)

    assert found == pytest.approx(factor, rel=1e-12)
    assert dict(exponents) == dimension
