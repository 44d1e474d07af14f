"""What may stand in the light, and what is refused."""

import numpy as np
import pytest
from light_gardens import box

from bedwright.light.scene import Cloth, Prism, Screen, foliage_transmission

SQUARE = box(0, 0, 1, 1)


def test_an_outline_may_run_either_way_round():
    assert np.array_equal(Prism(SQUARE[::-1], 0, 1).footprint, SQUARE)


@pytest.mark.parametrize(
    ("make", "said"),
    [
        (lambda: Prism(SQUARE[:2], 0, 1), r"\(3 or more, 2\)"),
        (lambda: Prism(SQUARE * np.nan, 0, 1), "not a number"),
        (lambda: Prism(np.array([[0, 0], [1, 1], [2, 2]]), 0, 1), "area_m2 is 0"),
        (lambda: Prism(SQUARE, 2, 1), "top_m is 1; it must be above base_m, 2"),
        (lambda: Prism(SQUARE, -1, 1), "base_m is -1"),
        (lambda: Prism(SQUARE, 0, 1, 1.2), "transmission is 1.2"),
        (lambda: Prism(SQUARE, 0, 1, 1.0, -1.0), "extinction_per_m is -1"),
        (lambda: Screen(SQUARE[0], SQUARE[0], 0, 1), "length_m is 0"),
        (lambda: Screen(np.zeros(3), SQUARE[0], 0, 1), "east and north"),
        (lambda: Screen(SQUARE[0], SQUARE[1], 0, np.inf), "top_m is inf"),
        (lambda: Screen(SQUARE[0], SQUARE[1], 0, 1, -0.1), "transmission is -0.1"),
        (lambda: Cloth(SQUARE, 0, 0.5), "height_m is 0"),
        (lambda: Cloth(SQUARE, 1, np.nan), "transmission is nan"),
    ],
)
def test_what_cannot_stand_is_refused_by_name_and_value(make, said):
    with pytest.raises(ValueError, match=said):
        make()


def test_a_leaf_area_index_of_three_takes_about_nine_tenths_of_the_light():
    # CIRAD course on GreenLab: extinction 0.5 to 0.9, an index of 3 absorbs about 90 %
    low, high = foliage_transmission(np.array([0.9, 0.5]), 3.0, 1.0)

    assert low < 0.1 < high
    assert foliage_transmission(0.7, 3.0, 1.0) == pytest.approx(0.122, abs=0.001)


def test_twice_the_way_through_leaves_squares_the_share():
    assert foliage_transmission(0.7, 4, 0.6) == pytest.approx(
        foliage_transmission(0.7, 4, 0.3) ** 2
    )
    with pytest.raises(ValueError, match="extinction is 2"):
        foliage_transmission(2, 4, 0.3)
