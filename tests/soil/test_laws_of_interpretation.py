"""Laws of reading a soil test: its own table, its own crop, and doubts where they belong."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from bedwright.reference import Library
from bedwright.soil.conversion import charge_from_concentration
from bedwright.soil.interpretation import (
    SUPPLIES,
    Ground,
    Measurement,
    NoTable,
    Reading,
    read_class,
)
from bedwright.working import Figure

LIBRARY = Library()
TABLES = sorted(
    {
        (row["analyte"], row["extractant"], row["test_group"], row["unit"])
        for row in LIBRARY.rows("soil_classes")
        if row.used
    }
)
ALKALINE = Ground(ph=8.0, carbonate_percent=None, gypsum=False, compost_filled=False)
ACID = Ground(ph=5.5, carbonate_percent=None, gypsum=False, compost_filled=False)


def _read(table: tuple[str, str, str, str], value: float) -> Reading:
    analyte, extractant, group, unit = table
    measurement = Measurement(analyte, extractant, Figure(analyte, value, unit, "measured"))
    return read_class(LIBRARY, measurement, group, "any_crop", ACID)


@given(table=st.sampled_from(TABLES), one=st.floats(0, 3000), other=st.floats(0, 3000))
@settings(max_examples=300)
def test_a_higher_value_is_never_read_as_a_lower_supply(table, one: float, other: float):
    low, high = (_read(table, each) for each in sorted((one, other)))
    assert low.row["extractant"] == table[1] and low.test_group == table[2]
    assert SUPPLIES.index(low.supply) <= SUPPLIES.index(high.supply)


@pytest.mark.parametrize("table", TABLES, ids="-".join)
def test_each_class_of_a_table_begins_at_its_lower_limit(table):
    points = _read(table, 0.0).breakpoints
    for at, point in enumerate(points):
        assert _read(table, point.lower).word == point.word
        if at:
            assert points[at - 1].upper == point.lower, "the classes leave a gap"
    assert points[-1].upper is None


@given(st.floats(0.01, 2000))
def test_charge_and_concentration_are_read_alike(ppm: float):
    found = [
        read_class(
            LIBRARY,
            Measurement("potassium", "ammonium_acetate", Figure("k", value, unit, "measured")),
            "tomato",
            "warm_season",
            ACID,
        )
        for value, unit in (
            (ppm, "mg/kg"),
            (charge_from_concentration("potassium", ppm), "meq/100 g"),
        )
    ]
    assert found[0].value == pytest.approx(found[1].value)


def test_a_table_per_acre_is_read_by_its_own_furrow_slice():
    measurement = Measurement("potassium", "mehlich_3", Figure("k", 70.0, "mg/kg", "measured"))
    reading = read_class(LIBRARY, measurement, "tomato", "warm_season", ACID)
    assert (reading.unit, reading.value) == ("lb/ac", pytest.approx(140))
    per_acre = Measurement("potassium", "mehlich_3", Figure("k", 140.0, "lb/ac", "measured"))
    assert read_class(LIBRARY, per_acre, "tomato", "warm_season", ACID).others == reading.others
    assert reading.others


@pytest.mark.parametrize("value", [float("nan"), -1.0])
def test_a_value_that_cannot_be_is_not_read_as_the_lowest_class(value: float):
    measurement = Measurement("phosphorus", "olsen", Figure("p", value, "mg/kg", "measured"))
    with pytest.raises(ValueError, match="phosphorus"):
        read_class(LIBRARY, measurement, "tomato", "warm_season", ACID)


def test_an_extractant_without_a_table_is_refused_with_those_that_have_one():
    measurement = Measurement("phosphorus", "melted_cheese", Figure("p", 20, "mg/kg", "measured"))
    with pytest.raises(NoTable) as refused:
        read_class(LIBRARY, measurement, "tomato", "warm_season", ALKALINE)
    assert "olsen" in refused.value.available


@pytest.mark.parametrize(
    ("extractant", "ground", "doubt"),
    [
        ("bray_1", ALKALINE, "acid_extractant_on_free_lime"),
        ("mehlich_3", ALKALINE, "mehlich_3_on_free_lime"),
        ("olsen", ACID, "olsen_on_acid_soil"),
    ],
)
def test_a_method_off_its_ground_is_doubted(extractant: str, ground: Ground, doubt: str):
    measurement = Measurement("phosphorus", extractant, Figure("p", 20, "mg/kg", "measured"))
    other = ACID if ground is ALKALINE else ALKALINE
    assert doubt in read_class(LIBRARY, measurement, "tomato", "warm_season", ground).doubts
    assert doubt not in read_class(LIBRARY, measurement, "tomato", "warm_season", other).doubts


@pytest.mark.parametrize(
    ("ph", "carbonate", "free_lime"),
    [
        (8.0, None, True),
        (6.5, None, False),
        (None, None, None),
        (8.0, 0.0, False),
        (6.5, 3.0, True),
    ],
)
def test_a_measured_carbonate_outranks_the_ph(ph, carbonate, free_lime):
    assert Ground(ph, carbonate, gypsum=False, compost_filled=False).free_lime is free_lime
