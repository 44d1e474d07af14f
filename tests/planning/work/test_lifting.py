"""The lifting limit: its factors at their ends, and bags."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from bedwright.planning.work.lifting import bag_limit, lifting_limit_niosh, parts_to_lift
from bedwright.reference import Library

BEST = {
    "horizontal_m": 0.25, "height_m": 0.75, "travel_m": 0.25, "turn_deg": 0.0, "grip": 1.0,
    "often": 1.0,
}  # fmt: skip


def test_the_best_lift_is_the_load_constant():
    assert lifting_limit_niosh(**BEST) == pytest.approx(23.0)


@pytest.mark.parametrize(
    "farther", [{"horizontal_m": 0.7}, {"height_m": 1.8}, {"travel_m": 1.8}, {"turn_deg": 140.0}]
)
def test_beyond_the_ends_nothing_is_allowed(farther):
    assert lifting_limit_niosh(**{**BEST, **farther}) == 0.0


@pytest.mark.parametrize(
    ("wrong", "name"),
    [
        ({"horizontal_m": 0.0}, "horizontal_m"),
        ({"height_m": -0.1}, "height_m"),
        ({"grip": 1.1}, "grip"),
        ({"often": -0.1}, "often"),
        ({"turn_deg": -1.0}, "turn_deg"),
    ],
)
def test_a_wrong_input_is_named(wrong, name):
    with pytest.raises(ValueError, match=name):
        lifting_limit_niosh(**{**BEST, **wrong})


@given(st.floats(0, 500), st.floats(1, 25))
def test_no_part_of_a_load_is_above_the_limit(mass: float, limit: float):
    parts = parts_to_lift(mass, limit)

    assert mass / parts <= limit * (1 + 1e-9)
    assert parts == 1 or mass / (parts - 1) > limit * (1 - 1e-9)


def test_a_bag_is_lifted_safer_from_a_barrow(library: Library):
    ground, barrow = (bag_limit(f"bag_from_{each}", library) for each in ("ground", "barrow"))

    assert 0 < ground.value < barrow.value < 23
    assert math.isclose(ground.value, 8.74, abs_tol=0.005)
    assert "niosh_lifting_1994" in {each.source_id for each in ground.sources}


def test_a_situation_that_is_not_in_the_table_is_refused(library: Library):
    with pytest.raises(LookupError, match="shelf"):
        bag_limit("shelf", library)
