"""Two or three factors of two levels each: their combinations, halves of them, and a drawn order.

A combination is counted as the factors are: 0 has the first level of every factor, and the level
of the last factor changes fastest.
"""

from __future__ import annotations

import itertools
import math

import numpy as np
from numpy.typing import NDArray

from bedwright.guards import within

IntArray = NDArray[np.int_]


def levels_of(factors: int) -> IntArray:
    """The levels of every combination: (2^factors, factors), 1 the first level, -1 the second.

    ``factors`` 2 or 3; raises ValueError otherwise.
    """
    within(2, 3, factors=factors)
    return np.array(list(itertools.product((1, -1), repeat=factors)))


def effects_of(factors: int, *, halves: bool = False) -> tuple[tuple[int, ...], ...]:
    """Which factors, from 0, each effect is of: main effects first, then interactions.

    Where each block holds half of the combinations the highest interaction is not among them: it
    is confounded with blocks.
    """
    within(2, 3, factors=factors)
    highest = factors - 1 if halves else factors
    return tuple(
        each
        for order in range(1, highest + 1)
        for each in itertools.combinations(range(factors), order)
    )


def halves_of(factors: int) -> tuple[tuple[int, ...], tuple[int, ...]]:
    """The two halves of the combinations that confound the highest interaction with blocks.

    Those whose product of levels is 1 and those whose product is -1. Source: F. Yates, The Design
    and Analysis of Factorial Experiments, Imperial Bureau of Soil Science, Technical Communication
    35, 1937; Cochran and Cox, Experimental Designs, 2nd ed., Wiley, 1957, ch. 6.
    """
    product = levels_of(factors).prod(axis=1)
    first, second = (tuple(np.flatnonzero(product == sign).tolist()) for sign in (1, -1))
    return first, second


def drawn_halves(blocks: int, factors: int, seed: int) -> IntArray:
    """Which combination goes to which place of blocks that hold half: (blocks, 2^(factors - 1)).

    Of each two blocks that follow one another, one holds the one half and the other the other;
    which, and the order in each, are drawn. ``blocks`` 2 to 100 and even, ``factors`` 2 or 3;
    raises ValueError otherwise. The caller gives the seed: never draw until one pleases.
    """
    within(2, 100, blocks=blocks)
    if blocks % 2:
        raise ValueError(f"{blocks} blocks: halves come two by two")
    generator = np.random.default_rng(seed)
    halves = np.array(halves_of(factors))
    which = generator.permuted(np.tile([0, 1], (blocks // 2, 1)), axis=1).ravel()
    return np.asarray(generator.permuted(halves[which], axis=1))


def degrees_of_error(blocks: int, factors: int, *, halves: bool = False) -> int:
    """Degrees of freedom that are left for the error; 0 or less leave nothing to judge by."""
    plots = blocks * 2**factors // (2 if halves else 1)
    return int(plots - blocks - len(effects_of(factors, halves=halves)))


def least_p_of_factorial(blocks: int, factors: int, *, halves: bool = False) -> float:
    """The least p that the randomisation test of one effect can give [-].

    Arrangements that exchange combinations of one level alike in all blocks of a half, or turn
    the levels over, leave F as it is, and count together. ``blocks`` 1 to 100, ``factors`` 2 or 3;
    raises ValueError otherwise.
    """
    within(1, 100, blocks=blocks)
    within(2, 3, factors=factors)
    size = 2**factors // (2 if halves else 1)
    alike = 2 * math.factorial(size // 2) ** (4 if halves else 2)
    return float(min(1.0, alike / math.factorial(size) ** blocks))
