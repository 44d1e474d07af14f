"""Two and three factors of two levels, in whole blocks and in halves."""

import itertools

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from bedwright.trials.blocks import compare_in_blocks
from bedwright.trials.factorial import compare_factorial
from bedwright.trials.factorial_design import (
    degrees_of_error,
    drawn_halves,
    effects_of,
    halves_of,
    least_p_of_factorial,
    levels_of,
)


def whole(blocks: int, factors: int) -> np.ndarray:
    return np.tile(np.arange(2**factors), (blocks, 1))


def halved(blocks: int, factors: int) -> np.ndarray:
    return np.array([halves_of(factors)[block % 2] for block in range(blocks)])


@given(st.integers(2, 4), st.integers(2, 3), st.integers(0, 1000))
def test_the_effects_of_whole_blocks_part_what_the_combinations_differ_by(blocks, factors, seed):
    """Cochran and Cox, 1957, sec. 5.2: the squares of the effects add up to those of treatments."""
    readings = np.random.default_rng(seed).normal(10, 1, (blocks, 2**factors))

    found = compare_factorial(readings, whole(blocks, factors), factors)

    ways = compare_in_blocks(readings)
    assert (found.error, found.degrees_of_freedom) == pytest.approx(
        (ways.error, ways.degrees_of_freedom)
    )
    assert np.mean([each.f for each in found.effects]) == pytest.approx(ways.f)
    assert found.f_blocks == pytest.approx(ways.f_blocks)


def test_effects_and_interactions_are_yates_sums_by_hand():
    # 2 blocks, (both, first alone, second alone, neither): means 13, 10, 8, 9
    readings = np.array([[14.0, 10.0, 9.0, 9.0], [12.0, 10.0, 7.0, 9.0]])

    found = compare_factorial(readings, whole(2, 2), 2)

    assert found.of(0).effect == pytest.approx((13 + 10) / 2 - (8 + 9) / 2)  # 3
    assert found.of(1).effect == pytest.approx((13 + 8) / 2 - (10 + 9) / 2)  # 1
    assert found.of(0, 1).effect == pytest.approx(((13 - 8) - (10 - 9)) / 2)  # 2
    first, second, off = found.simple(0, 1)
    assert (first, second) == pytest.approx((13 - 8, 10 - 9))
    # a difference of two means of two plots each
    assert off == pytest.approx(found.critical * (found.error * 2 / 2) ** 0.5)
    with pytest.raises(KeyError):
        found.of(2)


@pytest.mark.parametrize(("blocks", "factors"), [(6, 2), (6, 3), (5, 3), (3, 3)])
def test_halves_are_least_squares_with_a_level_for_each_block(blocks, factors):
    """The same model written out with a column for each block, solved by numpy; blocks that are
    not as many of the one half as of the other too."""
    generator = np.random.default_rng(4)
    places = halved(blocks, factors)
    readings = generator.normal(10, 1, places.shape) + generator.normal(0, 5, (blocks, 1))
    signs = levels_of(factors)[places].reshape(-1, factors)
    effects = effects_of(factors, halves=True)
    design = np.hstack(
        [
            np.repeat(np.eye(blocks), places.shape[1], axis=0),
            np.stack([signs[:, list(each)].prod(axis=1) for each in effects], axis=1),
        ]
    )
    solved, rest, rank, _ = np.linalg.lstsq(design, readings.ravel(), rcond=None)
    degrees = readings.size - rank
    spread = np.diag(np.linalg.inv(design.T @ design))[blocks:]

    found = compare_factorial(readings, places, factors)

    assert found.confounded and found.degrees_of_freedom == degrees
    assert degrees == degrees_of_error(blocks, factors, halves=True)
    assert found.error == pytest.approx(rest[0] / degrees)
    assert [each.effect for each in found.effects] == pytest.approx(2 * solved[blocks:])
    assert [each.standard_error for each in found.effects] == pytest.approx(
        2 * (spread * found.error) ** 0.5
    )


def test_a_richer_block_moves_no_effect_though_it_holds_one_half_alone():
    places = halved(4, 3)
    readings = np.random.default_rng(2).normal(10, 1, places.shape)

    plain = compare_factorial(readings, places, 3)
    lifted = compare_factorial(readings + np.array([[0.0], [50.0], [-3.0], [7.0]]), places, 3)

    for one, other in zip(plain.effects, lifted.effects, strict=True):
        assert (one.effect, one.f, one.p_drawn) == pytest.approx(
            (other.effect, other.f, other.p_drawn)
        )


def test_every_arrangement_within_blocks_is_counted():
    readings = np.array([[9.0, 4.0, 6.0, 3.0], [8.0, 7.0, 4.0, 5.0]])

    found = compare_factorial(readings, whole(2, 2), 2)

    seen = [each.f for each in found.effects]
    orders = list(itertools.permutations(range(4)))
    far = np.zeros(3)
    for first, second in itertools.product(orders, orders):
        laid = np.stack([readings[0][list(first)], readings[1][list(second)]])
        by_way = laid.mean(axis=0)
        left = laid - by_way - laid.mean(axis=1, keepdims=True) + laid.mean()
        error = (left**2).sum() / 3
        signs = levels_of(2)
        columns = (signs[:, 0], signs[:, 1], signs[:, 0] * signs[:, 1])
        squares = [(column @ laid.sum(axis=0)) ** 2 / 8 for column in columns]
        far += [s >= f * error - 1e-9 for s, f in zip(squares, seen, strict=True)]

    assert found.exact and found.arrangements == 24**2
    assert [each.p_drawn for each in found.effects] == pytest.approx(far / 24**2)


def test_nothing_done_is_called_something_no_oftener_than_the_level_though_another_factor_works():
    """The test by drawing goes by F, so that what one factor does is not taken for chance of
    another: with a large effect of the second, the first and the interaction keep their level."""
    generator = np.random.default_rng(13)
    second = levels_of(2)[:, 1] * 2.0
    called = []
    for _ in range(200):
        readings = generator.normal(10, 1, (3, 4)) + second
        found = compare_factorial(readings, whole(3, 2), 2)
        called.append([found.of(0).p_drawn <= 0.1, found.of(0, 1).p_drawn <= 0.1])

    assert np.mean(called, axis=0) == pytest.approx([0.1, 0.1], abs=0.06)


@pytest.mark.parametrize(
    ("blocks", "factors", "halves"), [(2, 2, False), (6, 2, True), (4, 2, True)]
)
def test_the_least_p_comes_out_where_an_effect_is_as_clear_as_can_be(blocks, factors, halves):
    places = (halved if halves else whole)(blocks, factors)
    # every combination does the same in every block, all but a hundredth
    does = np.array([[100.0, 107.0, 13.0, 0.0]])[0][places]
    readings = does + np.random.default_rng(5).normal(0, 0.01, places.shape)

    found = compare_factorial(readings, places, factors)

    assert found.exact
    assert found.of(0).p_drawn == pytest.approx(
        least_p_of_factorial(blocks, factors, halves=halves)
    )


@given(st.integers(1, 8), st.integers(2, 3), st.integers(0, 2**32 - 1))
def test_two_blocks_of_halves_hold_every_combination(pairs, factors, seed):
    order = drawn_halves(2 * pairs, factors, seed)

    assert (order == drawn_halves(2 * pairs, factors, seed)).all()
    for two in order.reshape(pairs, -1):
        assert sorted(two.tolist()) == list(range(2**factors))
    assert {tuple(sorted(row)) for row in order.tolist()} == set(halves_of(factors))


def test_which_block_of_two_holds_which_half_is_drawn():
    first = [0 in drawn_halves(2, 3, seed)[0] for seed in range(200)]

    assert np.mean(first) == pytest.approx(0.5, abs=0.12)


@pytest.mark.parametrize(
    ("readings", "places", "factors", "words"),
    [
        ([[1.0, 2, 3, 4]], [[0, 1, 2, 3]], 2, "2 blocks or more"),
        ([[1.0, 2, 3]] * 2, [[0, 1, 2]] * 2, 2, "neither every combination"),
        ([[1.0, 2], [2, 3]], [[0, 3]] * 2, 2, "same half"),
        ([[1.0, 2], [2, 4]], [[0, 3], [1, 2]], 2, "no degrees of freedom"),
        ([[1.0, 2, 3, 4]] * 2, [[0, 1, 2, 3]] * 2, 2, "no error to judge"),
        ([[1.0, 2, 3, float("nan")]] * 2, [[0, 1, 2, 3]] * 2, 2, "missing"),
        ([[1.0, 2, 3, 4]] * 2, [[0, 1, 2, 3]] * 2, 4, "factors"),
    ],
)
def test_what_cannot_be_judged_is_told(readings, places, factors, words):
    with pytest.raises(ValueError, match=words):
        compare_factorial(readings, places, factors)


def test_what_a_factor_does_not_do_at_all_is_as_likely_as_can_be():
    # 0.1 + 0.2 - 0.3 and the like: nothing, but for the rounding of decimals
    readings = np.array([[1.3, 1.2, 1.1, 1.0], [0.9, 1.0, 0.8, 0.9], [0.3, 0.1, 0.2, 0.0]])
    means = readings.mean(axis=0)
    readings[:, 0] -= means[0] - means[1]  # the second factor's levels are alike on the whole
    readings[:, 2] -= means[2] - means[3]

    found = compare_factorial(readings, whole(3, 2), 2)
    alike = [at for at, each in enumerate(found.effects) if abs(each.effect) < 1e-12]

    assert alike
    assert all(found.effects[at].p_drawn == 1.0 for at in alike)
