"""Numbers as a gardener sees them: in the owner's units, with no more digits than are of use."""

import math
import re

import pytest
from hypothesis import given
from hypothesis import strategies as st

from bedwright.units import UnitSystem, parse, show, show_range
from bedwright.units.show import plain

US, METRIC = UnitSystem.US, UnitSystem.METRIC

SHOWN = [
    ("50 ft", "length", "50 ft", "15.2 m"),
    ("3 in", "depth", "3 in", "7.62 cm"),
    ("200 ft2", "area", "200 ft2", "18.6 m2"),
    ("2 lb/100 ft2", "mass_per_area", "2 lb/100 ft2", "97.6 g/m2"),
    ("1.2 dS/m", "conductivity", "1.2 dS/m", "1.2 dS/m"),
    ("15 meq/100 g", "charge_fraction", "15 meq/100 g", "15 meq/100 g"),
    ("68 F", "temperature", "68 F", "20 C"),
    ("9 F", "temperature_difference", "9 F", "5 C"),
    ("12 %", "fraction", "12 %", "12 %"),
    ("5 gal", "volume", "5 gal", "18.9 l"),
    ("80 lb/ft3", "density", "80 lb/ft3", "1280 kg/m3"),
    ("640 mg/l", "concentration", "640 mg/l", "640 mg/l"),
    ("3 meq/l", "charge_concentration", "3 meq/l", "3 meq/l"),
    ("2 lb 4 oz", "mass", "2 lb 4 oz", "1.02 kg"),
    ("4 oz", "mass", "4 oz", "113 g"),
    ("1.75 oz", "mass", "1.75 oz", "49.6 g"),
    ("0.1 oz", "mass", "0.1 oz", "2.83 g"),
    ("15.9 oz", "mass", "1 lb", "451 g"),
    ("25 lb 3 oz", "mass", "25 lb", "11.4 kg"),
    ("20 kg", "mass", "44 lb", "20 kg"),
    ("0 lb", "mass", "0 oz", "0 g"),
    ("-1 lb", "mass", "-1 lb", "-454 g"),
]


@pytest.mark.parametrize(("text", "kind", "us", "metric"), SHOWN)
def test_a_quantity_is_shown_in_the_owners_units(text: str, kind: str, us: str, metric: str):
    si = parse(text, kind).si

    assert (show(si, kind, US), show(si, kind, METRIC)) == (us, metric)


def test_a_range_is_shown_with_both_ends():
    low, high = (
        parse("1 lb/100 ft2", "mass_per_area").si,
        parse("2.04 lb/100 ft2", "mass_per_area").si,
    )

    assert show_range(low, high, "mass_per_area", US) == "1 lb/100 ft2 to 2 lb/100 ft2"


@pytest.mark.parametrize("unknown", [math.nan, math.inf, -math.inf])
def test_what_is_not_known_is_not_shown_as_a_number(unknown: float):
    with pytest.raises(ValueError, match="not known"):
        show(unknown, "mass", US)


def test_a_kind_without_a_unit_to_be_shown_in_is_refused():
    with pytest.raises(KeyError):
        show(1.0, "pressure", US)


SHOWABLE = sorted({kind for _, kind, _, _ in SHOWN} - {"mass", "temperature"})
SIGNED = st.floats(1e-6, 1e6) | st.floats(-1e6, -1e-6)


@given(st.sampled_from(SHOWABLE), st.sampled_from([US, METRIC]), SIGNED, st.integers(1, 4))
def test_no_more_digits_are_printed_than_are_asked_for(kind, system, si: float, digits: int):
    number = show(si, kind, system, digits=digits).split(" ")[0]

    significant = re.sub(r"[-.]", "", number).lstrip("0").rstrip("0")
    assert len(significant) <= digits
    assert "e" not in number


@given(st.sampled_from(SHOWABLE), st.sampled_from([US, METRIC]), SIGNED)
def test_what_is_shown_reads_back_as_nearly_the_same(kind, system, si: float):
    again = parse(show(si, kind, system), kind).si

    assert again == pytest.approx(si, rel=0.0051)


@given(st.floats(1e-6, 1000) | st.floats(-100, -1e-6))
def test_a_shown_us_mass_reads_back_within_what_a_scale_shows(kilograms: float):
    shown = show(kilograms, "mass", US)

    sign = -1 if shown.startswith("-") else 1
    ounce = parse("1 oz", "mass").si
    again = sign * parse(shown.removeprefix("-"), "mass").si
    assert again == pytest.approx(kilograms, abs=0.51 * ounce, rel=0.026)


@given(SIGNED, st.integers(1, 5))
def test_a_plain_number_is_off_by_less_than_half_of_its_last_digit(value: float, digits: int):
    step = 10.0 ** (math.floor(math.log10(abs(value))) - digits + 1)

    assert float(plain(value, digits)) == pytest.approx(value, abs=0.5001 * step, rel=1e-9)
