"""A plan at once: unit after unit takes what is best beside what the earlier ones took."""

from __future__ import annotations

import numpy as np

from bedwright.planning.rotation.parts import beside_kept
from bedwright.planning.rotation.problem import BoolArray, FloatArray, RotationProblem
from bedwright.planning.rotation.sequences import SequenceSearch

_LISTED = 4


def first_plan(problem: RotationProblem, search: SequenceSearch, net: FloatArray) -> BoolArray:
    """A plan (units, options) that keeps all but the required wishes. ``net`` holds the prices.

    Beside the prices a placement that would exceed a wish's most is left out, and a wish that
    is met already counts no more than its price.
    """
    chosen = np.zeros(problem.allowed.shape, dtype=bool)
    wishes = problem.wishes
    missing = np.array([wish.wanted for wish in wishes])
    room = np.array([wish.most for wish in wishes])
    weight = np.array([0.0 if wish.required else wish.weight for wish in wishes])
    for unit in range(problem.units):
        worth = net[unit].copy()
        amounts = np.array([wish.amount[unit] for wish in wishes]).reshape(-1, problem.options)
        # half by the prices, half by what is still short: prices alone send all units to one crop
        shortage = np.minimum(amounts, missing[:, None]).T @ weight if wishes else 0.0
        worth = 0.5 * worth + 0.5 * (problem.worth[unit] + shortage)
        for group in problem.apart_beside:
            worth[beside_kept(problem, group, np.array([unit]), chosen)[0]] = -np.inf
        taken: tuple[int, ...] = ()
        barred = (amounts > room[:, None] + 1e-9).any(axis=0) if wishes else np.zeros(0, dtype=bool)
        if barred.size:
            worth[barred] = -np.inf
        worth[~problem.allowed[unit]] = -np.inf
        found = search.best(worth[None, :], _LISTED, np.array([unit]))
        for sequence in found.sequences[0]:
            gives = amounts[:, list(sequence)].sum(axis=1)
            if (gives <= room + 1e-9).all():
                taken = sequence
                break
        chosen[unit, list(taken)] = True
        gives = amounts[:, list(taken)].sum(axis=1)
        missing, room = np.maximum(missing - gives, 0.0), room - gives
    return chosen
