"""The unit table against pint, an independent unit library that only the tests use."""

import csv
from functools import cache
from importlib import resources

import pint
import pytest
from hypothesis import given
from hypothesis import strategies as st

from bedwright.units import KINDS, UnitError, parse, to_si, unit_factor

# Units of the table that pint calls otherwise. Money and moles of charge are no units of pint's:
# they are declared to it as what they are, so that the arithmetic on them is compared as well.
PINT_NAMES = {
    "ac": "(43560 * foot**2)",
    "ac_in": "(43560 * foot**2 * inch)",
    "ac_ft": "(43560 * foot**3)",
    "m2": "meter**2",
    "cm2": "centimeter**2",
    "ft2": "foot**2",
    "yd2": "yard**2",
    "m3": "meter**3",
    "ft3": "foot**3",
    "yd3": "yard**3",
    "ha": "hectare",
    "gal": "gallon",
    "qt": "quart",
    "pt": "pint",
    "cup": "cup",
    "tbsp": "tablespoon",
    "tsp": "teaspoon",
    "bu": "bushel",
    "t": "metric_ton",
    "ton": "short_ton",
    "cwt": "(100 * pound)",
    "oz": "ounce",
    "d": "day",
    "wk": "week",
    "degC": "kelvin",
    "degF": "(5 / 9 * kelvin)",
    "deg": "degree",
    "S": "siemens",
    "dS": "decisiemens",
    "mS": "millisiemens",
    "uS": "microsiemens",
    "meq": "millieq",
    "cmol": "centieq",
    "pct": "(1 / 100)",
    "ppm": "(1 / 1000000)",
    "ppb": "(1 / 1000000000)",
    "one": "1",
}
CURRENCIES = {"USD", "EUR", "AUD", "GBP", "CAD", "NZD", "ZAR"}
TABLE = list(
    csv.DictReader(
        resources.files("bedwright.units")
        .joinpath("table.csv")
        .read_text(encoding="utf-8")
        .splitlines()
    )
)
COMPOUNDABLE = [
    row for row in TABLE if row["unit"] not in CURRENCIES | {"pct", "ppm", "ppb", "one"}
]


@cache
def registry() -> pint.UnitRegistry:
    units = pint.UnitRegistry()
    units.define("eq = [charge_equivalents]")
    units.define("money = [money]")
    return units


def in_pint(key: str) -> pint.Quantity:
    name = "money" if key in CURRENCIES else PINT_NAMES.get(key, key)
    return registry().Quantity(1.0, "dimensionless") * registry().parse_expression(name)


def dimension_of(quantity: pint.Quantity) -> dict[str, int]:
    names = {"[length]": "m", "[mass]": "kg", "[time]": "s", "[temperature]": "K",
             "[current]": "A", "[charge_equivalents]": "eq", "[money]": "money"}  # fmt: skip
    return {names[base]: int(power) for base, power in quantity.dimensionality.items()}


def in_base_units(dimension: tuple[tuple[str, int], ...]) -> dict[str, int]:
    """Our dimension in pint's bases: the siemens is A2 s3 kg-1 m-2, the radian is 1."""
    whole: dict[str, int] = {}
    for base, power in dimension:
        parts = {"S": {"A": 2, "s": 3, "kg": -1, "m": -2}, "rad": {}}.get(base, {base: 1})
        for part, each in parts.items():
            whole[part] = whole.get(part, 0) + each * power
    return {base: power for base, power in whole.items() if power}


@pytest.mark.parametrize("row", TABLE, ids=lambda row: row["unit"])
def test_each_unit_of_the_table_has_the_size_and_dimension_that_pint_gives_it(row: dict[str, str]):
    theirs = in_pint(row["unit"])
    for word in row["words"].split():
        factor, dimension = unit_factor(word)

        assert factor == pytest.approx(theirs.to_base_units().magnitude, rel=1e-12)
        assert in_base_units(dimension) == dimension_of(theirs)


@given(st.floats(-459, 1e6))
def test_fahrenheit_readings_agree_with_pint(reading: float):
    theirs = registry().Quantity(reading, "degF").to("kelvin").magnitude

    assert to_si(reading, "F", "temperature") == pytest.approx(theirs, rel=1e-9, abs=1e-9)


@st.composite
def compounds(draw: st.DrawFn) -> tuple[str, pint.Quantity]:
    """An expression such as ``3 lb*ft^2/100 m s``, and the same built by pint."""
    above = draw(st.lists(st.sampled_from(COMPOUNDABLE), min_size=1, max_size=2))
    below = draw(st.lists(st.sampled_from(COMPOUNDABLE), max_size=2))
    number = draw(st.sampled_from([1, 10, 100, 1000, 43560]))
    theirs = registry().Quantity(1.0, "dimensionless")
    words = []
    for row in above:
        power = draw(st.integers(1, 3))
        word = draw(st.sampled_from(row["words"].split()))
        words.append(word if power == 1 else f"{word}^{power}")
        theirs = theirs * in_pint(row["unit"]) ** power
    expression = "*".join(words)
    for position, row in enumerate(below):
        sign = draw(st.sampled_from(["/", " / ", " per "]))
        many = f"{number} " if position == 0 and number != 1 else ""
        expression += f"{sign}{many}{draw(st.sampled_from(row['words'].split()))}"
        theirs = theirs / in_pint(row["unit"]) / (number if many else 1)
    return expression, theirs


@given(compounds())
def test_compound_units_agree_with_pint(pair: tuple[str, pint.Quantity]):
    expression, theirs = pair

    factor, dimension = unit_factor(expression)

    assert factor == pytest.approx(theirs.to_base_units().magnitude, rel=1e-9)
    assert in_base_units(dimension) == dimension_of(theirs)


WRITABLE = {
    "length": ["in", "ft", "yd", "cm", "m"],
    "area": ["ft2", "sq ft", "ac", "m2", "ha"],
    "volume": ["cup", "gal", "ft3", "yd3", "l", "acre-inch"],
    "mass": ["oz", "lb", "ton", "g", "kg", "t"],
    "mass_per_area": ["lb/100 ft2", "lb/1000 sq ft", "lb/ac", "ton/ac", "g/m2", "kg/ha", "t/ha"],
    "fraction": ["%", "ppm", "mg/kg", "g/kg"],
    "conductivity": ["dS/m", "mmho/cm", "uS/cm"],
    "charge_fraction": ["meq/100 g", "cmol/kg", "mmolc/kg"],
    "temperature_difference": ["F", "C", "K"],
    "density": ["lb/ft3", "lb/cup", "kg/l"],
}


@given(st.data(), st.sampled_from(sorted(WRITABLE)), st.floats(1e-6, 1e6))
def test_what_is_written_in_one_unit_comes_back_from_si_unchanged(data, kind: str, value: float):
    unit = data.draw(st.sampled_from(WRITABLE[kind]))

    si = parse(f"{value!r} {unit}", kind).si

    assert si / unit_factor(unit)[0] == pytest.approx(value, rel=1e-12)


@given(st.sampled_from(sorted(KINDS)), st.text(max_size=60))
def test_any_text_at_all_is_either_a_quantity_or_a_unit_error(kind: str, text: str):
    try:
        quantity = parse(text, kind)
    except UnitError as error:
        assert str(error)
    else:
        assert quantity.kind == kind


NEARLY = st.lists(
    st.sampled_from(
        ["3", "1/2", "0", "-", "/", "per", "*", "^", "2", "lb", "ft2", "100", "sq", "ft.", "%",
         "e9", "ppm", ",", ".", "(", "deg", "F", " ", "acre", "foot", "1e999", "^-9", "km"]
    ),
    max_size=9,
).map(" ".join)  # fmt: skip


@given(st.sampled_from(sorted(KINDS)), NEARLY, st.booleans())
def test_what_nearly_is_a_quantity_is_one_or_a_unit_error(kind: str, text: str, close: bool):
    written = text.replace(" ", "") if close else text
    try:
        quantity = parse(written, kind)
    except UnitError as error:
        assert str(error)
    else:
        assert abs(quantity.si) < float("inf")
