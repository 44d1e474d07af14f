"""No pinch that a scale can't show: each part of a recipe is nothing, or worth spreading."""

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from bedwright.feeding.blend import Candidates, Demand
from bedwright.feeding.tidy import tidied
from bedwright.feeding.whole import Group, Package, Shed

AREA = 20.0
CONTENT = 0.12
LEAST = 0.001


def meal(before: float, later: float, ceiling: float = 1.0) -> Group:
    """A bed that wants nitrogen from one meal, before planting and later [kg/m2]."""
    n, none = np.array([CONTENT]), np.zeros(1)
    return Group(
        AREA,
        Candidates(("meal",), np.array([1.0]), np.array([4.0]), np.array([LEAST]),
                   np.array([True])),
        (
            Demand("n_preplant", "need", n, none, before),
            Demand("n_later", "need", none, n, later),
            Demand("n_ceiling", "limit", n, n, upper=ceiling),
        ),
        4,
    )  # fmt: skip


def tidy(group: Group, before: float, later: float, on_hand: float = 100.0):
    shed = Shed({"meal": on_hand}, (Package("meal", 22.7, 50.0),))
    recipe = (np.array([before]), np.array([later]))
    ((x, y),) = tidied((group,), shed, (0.0,), (np.zeros(1),), (recipe,))
    return float(x[0]), float(y[0])


def test_a_pinch_that_is_needed_becomes_a_dose_that_can_be_spread():
    x, y = tidy(meal(1e-7, 0.002), 1e-7 / CONTENT, 0.002 / CONTENT)

    assert x == pytest.approx(LEAST)
    assert y == pytest.approx(0.002 / CONTENT)


def test_a_pinch_that_nobody_needs_is_left_out():
    assert tidy(meal(0.0, 0.002), 1e-6, 0.002 / CONTENT)[0] == 0


def test_a_recipe_of_fair_doses_stays_as_it_is():
    assert tidy(meal(0.001, 0.002), 0.001 / CONTENT, 0.002 / CONTENT) == pytest.approx(
        (0.001 / CONTENT, 0.002 / CONTENT)
    )


def test_where_the_ceiling_leaves_no_room_the_pinch_stays():
    need = 1e-7
    x, _ = tidy(meal(need, 0.002, ceiling=0.002 + need), need / CONTENT, 0.002 / CONTENT)

    assert x == pytest.approx(need / CONTENT)


def test_nothing_is_taken_that_the_shed_does_not_hold():
    later = 0.002 / CONTENT
    x, y = tidy(meal(1e-7, 0.002), 1e-7 / CONTENT, later, on_hand=AREA * (later + 1e-6))

    assert AREA * (x + y) <= AREA * (later + 1e-6) * (1 + 1e-9)


def some(most: float):
    """Nothing, or from a milligram to the square meter up: below that a need is none."""
    return st.one_of(st.just(0.0), st.floats(1e-6, most))


@given(some(0.003), some(0.003), some(0.02), some(0.02))
def test_what_was_kept_is_kept(before, later, more, extra):
    group = meal(before, later)
    group = replace(group, demands=(*group.demands[:2], replace(group.demands[2], upper=0.01)))
    x, y = before / CONTENT + more, later / CONTENT + extra

    new_x, new_y = tidy(group, x, y)

    assert new_x * CONTENT >= min(before, x * CONTENT) * (1 - 1e-5)
    assert new_y * CONTENT >= min(later, y * CONTENT) * (1 - 1e-5)
    assert (new_x + new_y) * CONTENT <= max(0.01, (x + y) * CONTENT) * (1 + 1e-6)
