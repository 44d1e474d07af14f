"""Factors of two levels in blocks: each effect, each interaction, and how sure they are."""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from bedwright.guards import within
from bedwright.trials.factorial_design import effects_of, halves_of, levels_of
from bedwright.trials.permuted import DRAWN, MOST_COUNTED, ROUNDING

FloatArray = NDArray[np.float64]
IntArray = NDArray[np.int_]

_AT_ONCE = 2_000


@dataclass(frozen=True)
class Effect:
    """One effect of ``factors``, counted from 0: of one a main effect, of more an interaction.

    ``effect`` of one factor is the mean at its first level less that at its second; of two it is
    half of what the first does more at the first level of the second than at its second; of three
    half of what an interaction of two is more, so that all have one ``standard_error`` in a
    balanced trial. ``f`` and ``p`` have 1 degree of freedom above the line, ``interval`` is
    two-sided, and ``p_drawn`` that of the randomisation test. Unit of the readings, p [-].
    """

    factors: tuple[int, ...]
    effect: float
    standard_error: float
    f: float
    p: float
    interval: tuple[float, float]
    p_drawn: float


@dataclass(frozen=True)
class FactorialComparison:
    """The analysis of a factorial trial in ``blocks``.

    ``confounded`` tells that blocks held half of the combinations each, so that the highest
    interaction is not among ``effects``. ``error`` the mean square of the error with its
    ``degrees_of_freedom``; ``f_blocks`` of the blocks, ``p_blocks`` [-]; ``critical`` Student's t
    at ``level``, two-sided. ``exact`` tells whether all ``arrangements`` were counted out, or so
    many drawn.
    """

    blocks: int
    mean: float
    effects: tuple[Effect, ...]
    confounded: bool
    error: float
    degrees_of_freedom: int
    f_blocks: float
    p_blocks: float
    critical: float
    level: float
    exact: bool
    arrangements: int

    def of(self, *factors: int) -> Effect:
        """The effect of these factors. Raises KeyError for one that can't be told."""
        for each in self.effects:
            if each.factors == factors:
                return each
        raise KeyError(factors)

    def simple(self, factor: int, by: int) -> tuple[float, float, float]:
        """What ``factor`` does at the first and at the second level of ``by``, and half the width
        of the interval of each, all in the unit of the readings."""
        main, both = self.of(factor), self.of(*sorted((factor, by)))
        off = self.critical * math.hypot(main.standard_error, both.standard_error)
        return main.effect + both.effect, main.effect - both.effect, off


def compare_factorial(
    readings: ArrayLike,
    combinations: ArrayLike,
    factors: int,
    *,
    level: float = 0.05,
    seed: int = 0,
) -> FactorialComparison:
    """Analyse two or three factors of two levels each, by least squares with blocks.

    Parameters
    ----------
    readings : (blocks, plots of a block), none missing
    combinations : which combination stood there, as
        :func:`~bedwright.trials.factorial_design.levels_of` counts them, of the same shape: in
        every block all of them, or in every block one of the two halves of
        :func:`~bedwright.trials.factorial_design.halves_of`, both halves being there
    factors : 2 or 3
    level : two-sided level of the intervals [-], 0.001 to 0.5
    seed : for drawing, where there are more than 200,000 arrangements to count out

    Raises ValueError outside of that, where the design leaves no degrees of freedom for the error,
    or the readings no error. The randomisation test lays the readings of each block out anew, and
    asks how often an effect's F comes out as large as the one seen; a drawn p counts that one too.

    Source: W. G. Cochran and G. M. Cox, Experimental Designs, 2nd ed., Wiley, 1957, ch. 5 and 6;
    F. Yates, The Design and Analysis of Factorial Experiments, 1937; randomisation with F: B. F. J.
    Manly, Randomization, Bootstrap and Monte Carlo Methods in Biology, 2nd ed., 1997, ch. 7.
    """
    within(0.001, 0.5, level=level)
    values, places = _checked(readings, combinations, factors)
    from scipy import stats

    blocks, size = values.shape
    halves = size < 2**factors
    named = effects_of(factors, halves=halves)
    signs = levels_of(factors)[places]
    design = np.stack([signs[:, :, list(each)].prod(axis=2) for each in named], axis=2)
    degrees = values.size - blocks - len(named)
    if degrees < 1:
        raise ValueError(f"{blocks} blocks leave no degrees of freedom for the error")
    mean = float(values.mean())
    by_block = values.mean(axis=1)
    fit = _Fit(design.reshape(-1, len(named)).astype(np.float64), degrees)
    within_blocks = values - by_block[:, None]
    half_effects, squares, left = fit.of(within_blocks.reshape(1, -1))
    error = float(left[0]) / degrees
    if error <= 1e-24 * max(1.0, mean * mean):
        raise ValueError("the readings leave no error to judge them by")
    found_f = squares[0] / error
    drawn, exact, arrangements = _randomised(within_blocks, fit, found_f, seed)
    critical = float(stats.t.ppf(1 - level / 2, degrees))
    f_blocks = size * float(((by_block - mean) ** 2).sum()) / (blocks - 1) / error
    effects = []
    for at, each in enumerate(named):
        effect = 2 * float(half_effects[0, at])
        off = 2 * math.sqrt(error * fit.spread[at])
        effects.append(
            Effect(
                factors=each,
                effect=effect,
                standard_error=off,
                f=float(found_f[at]),
                p=float(stats.f.sf(found_f[at], 1, degrees)),
                interval=(effect - critical * off, effect + critical * off),
                p_drawn=float(drawn[at]),
            )
        )
    return FactorialComparison(
        blocks=blocks,
        mean=mean,
        effects=tuple(effects),
        confounded=halves,
        error=error,
        degrees_of_freedom=degrees,
        f_blocks=f_blocks,
        p_blocks=float(stats.f.sf(f_blocks, blocks - 1, degrees)),
        critical=critical,
        level=level,
        exact=exact,
        arrangements=arrangements,
    )


class _Fit:
    """Least squares on columns of 1 and -1 whose sum is 0 within each block."""

    def __init__(self, design: FloatArray, degrees: int) -> None:
        self._design, self.degrees = design, degrees
        self._inverse = np.linalg.inv(design.T @ design)
        self.spread: FloatArray = np.diag(self._inverse)

    def of(self, rows: FloatArray) -> tuple[FloatArray, FloatArray, FloatArray]:
        """Of each row of readings, less their blocks' means, (rows, plots): coefficients and the
        squares of the effects, (rows, effects), and the sum of squares that is left, (rows,)."""
        found = rows @ self._design @ self._inverse
        # from what is left itself: the difference of two large sums would lose a small error
        left = rows - found @ self._design.T
        return found, found**2 / self.spread, (left**2).sum(axis=1)


def _checked(
    readings: ArrayLike, combinations: ArrayLike, factors: int
) -> tuple[FloatArray, IntArray]:
    values, places = np.asarray(readings, dtype=np.float64), np.asarray(combinations, dtype=np.int_)
    halves = halves_of(factors)
    if values.ndim != 2 or values.shape != places.shape or values.shape[0] < 2:
        raise ValueError(
            f"readings of shape {values.shape} with combinations of shape {places.shape}; give 2 "
            "blocks or more, each reading with its combination"
        )
    if not np.isfinite(values).all():
        raise ValueError("a reading is missing: a block must be whole, or be left out")
    held = [tuple(sorted(row)) for row in places.tolist()]
    if all(each == tuple(range(2**factors)) for each in held):
        return values, places
    if any(each not in halves for each in held):
        raise ValueError("a block holds neither every combination once nor one half of them")
    if len(set(held)) < 2:
        raise ValueError("all blocks hold the same half: effects can't be told from interactions")
    return values, places


def _randomised(
    values: FloatArray, fit: _Fit, seen: FloatArray, seed: int
) -> tuple[FloatArray, bool, int]:
    """The p of each effect, whether all arrangements were counted, and how many there were."""
    ways = math.factorial(values.shape[1]) ** values.shape[0]
    exact = ways <= MOST_COUNTED
    far = np.zeros(seen.size, dtype=np.int_)
    # of what an effect could be at most: the readings are those less their blocks' means
    rounding = ROUNDING * fit.degrees * float((values**2).sum())
    for rows in _every(values) if exact else _drawn(values, seed):
        _found, squares, left = fit.of(rows.reshape(len(rows), -1))
        # without a division: an arrangement may leave no error at all
        far += (squares * fit.degrees >= seen * left[:, None] - rounding).sum(axis=0)
    if exact:
        return far / ways, True, ways
    return (far + 1) / (DRAWN + 1), False, DRAWN


def _drawn(values: FloatArray, seed: int) -> Iterator[FloatArray]:
    generator = np.random.default_rng(seed)
    for _ in range(DRAWN // _AT_ONCE):
        yield generator.permuted(np.broadcast_to(values, (_AT_ONCE, *values.shape)), axis=2)


def _every(values: FloatArray) -> Iterator[FloatArray]:
    blocks, size = values.shape
    orders = np.array(list(itertools.permutations(range(size))))
    ways = len(orders) ** blocks
    for start in range(0, ways, _AT_ONCE):
        which = np.unravel_index(
            np.arange(start, min(start + _AT_ONCE, ways)), (len(orders),) * blocks
        )
        yield np.stack([row[orders[at]] for row, at in zip(values, which, strict=True)], axis=1)
