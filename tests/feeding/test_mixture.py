"""Bags thrown together: their analysis is the mixture's, whatever the labels say one by one."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from bedwright.feeding.mixture import Part, mixture

LB = 0.45359237
UREA_FREE_12_0_0 = (0.12, 0.0, 0.0)
SULFATE_OF_POTASH = (0.0, 0.0, 0.5)
shares = st.integers(0, 330).map(lambda tenth: tenth / 1000)
labels = st.tuples(shares, shares, shares)
parts = st.builds(
    Part,
    st.sampled_from(["meal", "salt", "rock"]),
    st.integers(1, 5000).map(lambda grams: grams / 1000),
    labels,
    labels,
)


def test_five_pounds_of_12_0_0_and_five_of_0_0_50_are_ten_pounds_of_6_0_25():
    both = mixture(
        (
            Part("nitrogen bag", 5 * LB, UREA_FREE_12_0_0, UREA_FREE_12_0_0),
            Part("potash bag", 5 * LB, SULFATE_OF_POTASH, SULFATE_OF_POTASH),
        )
    )

    assert both.mass_kg == pytest.approx(10 * LB)
    assert both.analysis == pytest.approx((0.06, 0.0, 0.25))
    assert both.summed_labels == pytest.approx((0.12, 0.0, 0.50))


def test_labels_added_up_promise_twice_what_two_equal_bags_give():
    both = mixture(
        (
            Part("nitrogen bag", 1.0, UREA_FREE_12_0_0, UREA_FREE_12_0_0),
            Part("potash bag", 1.0, SULFATE_OF_POTASH, SULFATE_OF_POTASH),
        )
    )

    assert both.shortfall(0) == pytest.approx(2.0)
    assert both.shortfall(2) == pytest.approx(2.0)
    assert both.shortfall(1) is None


def test_three_pounds_to_one_weigh_three_to_one():
    mixed = mixture(
        (
            Part("nitrogen bag", 3 * LB, UREA_FREE_12_0_0, UREA_FREE_12_0_0),
            Part("potash bag", 1 * LB, SULFATE_OF_POTASH, SULFATE_OF_POTASH),
        )
    )

    assert mixed.analysis == pytest.approx((0.09, 0.0, 0.125))


def test_a_bag_whose_potash_does_not_dissolve_promises_without_end():
    rock = mixture((Part("rock", 1.0, (0.0, 0.0, 0.05), (0.0, 0.0, 0.0)),))

    assert rock.shortfall(2) == float("inf")


def test_what_is_not_known_of_one_bag_is_not_known_of_the_mixture():
    mixed = mixture(
        (
            Part("known", 1.0, (0.1, 0.1, 0.1), (0.1, 0.1, 0.1)),
            Part("unknown", 1.0, (0.1, 0.1, 0.1), (None, 0.05, 0.1)),
        )
    )

    assert mixed.first_season[0] is None
    assert mixed.shortfall(0) is None
    assert mixed.first_season[1:] == pytest.approx((0.075, 0.1))


@given(st.lists(parts, min_size=1, max_size=6))
def test_no_nutrient_is_made_or_lost_by_mixing(bags):
    mixed = mixture(tuple(bags))

    for at in range(3):
        carried = sum(bag.mass_kg * bag.label[at] for bag in bags)
        assert mixed.mass_kg * mixed.analysis[at] == pytest.approx(carried, rel=1e-12, abs=1e-15)
    assert mixed.mass_kg == pytest.approx(sum(bag.mass_kg for bag in bags))


@given(st.lists(parts, min_size=1, max_size=6))
def test_a_mixture_lies_between_its_poorest_and_its_richest_bag(bags):
    mixed = mixture(tuple(bags))

    for at in range(3):
        inside = [bag.label[at] for bag in bags]
        assert min(inside) - 1e-12 <= mixed.analysis[at] <= max(inside) + 1e-12


@given(st.lists(parts, min_size=2, max_size=6))
def test_the_order_in_which_bags_go_into_the_barrow_does_not_matter(bags):
    one, other = mixture(tuple(bags)), mixture(tuple(reversed(bags)))

    assert one.analysis == pytest.approx(other.analysis)
    assert one.first_season == pytest.approx(other.first_season)


@given(parts)
def test_one_bag_by_itself_keeps_its_label(bag):
    assert mixture((bag,)).analysis == pytest.approx(bag.label)


@pytest.mark.parametrize(
    ("bags", "words"),
    [
        ((), "at least one part"),
        ((Part("empty", 0.0, (0.1, 0, 0), (0.1, 0, 0)),), "mass_kg"),
        ((Part("less than none", -1.0, (0.1, 0, 0), (0.1, 0, 0)),), "mass_kg"),
        ((Part("odd label", 1.0, (-0.1, 0, 0), (0.1, 0, 0)),), "label"),
    ],
)
def test_a_mixture_of_nothing_or_less_is_refused(bags, words):
    with pytest.raises(ValueError, match=words):
        mixture(bags)
