"""What a plan is worth, and what it lacks: reckoned from the problem, not from a program."""

from __future__ import annotations

from itertools import pairwise

import numpy as np

from bedwright.planning.rotation.problem import BoolArray, FloatArray, IntArray, RotationProblem


def given_by(problem: RotationProblem, chosen: BoolArray) -> FloatArray:
    """How much of each wish (wishes,) a plan (units, options) gives."""
    return np.array([float(wish.amount[chosen].sum()) for wish in problem.wishes])


def short_of(problem: RotationProblem, chosen: BoolArray) -> FloatArray:
    """How much each wish (wishes,) lacks in a plan (units, options)."""
    wanted = np.array([wish.wanted for wish in problem.wishes])
    return np.maximum(wanted - given_by(problem, chosen), 0.0)


def objective_of(problem: RotationProblem, chosen: BoolArray) -> float:
    """The objective of a plan (units, options): worth, less soft shortages, plus successions."""
    weight = np.array([0.0 if wish.required else wish.weight for wish in problem.wishes])
    total = float(problem.worth[chosen].sum()) - float(weight @ short_of(problem, chosen))
    if problem.successions:
        total += sum(succession_of(problem, unit, chosen[unit]) for unit in range(problem.units))
    return total


def succession_of(problem: RotationProblem, unit: int, chosen: BoolArray) -> float:
    """What the order of one unit's options (options,) gains."""
    options = in_order(problem, chosen)
    total = 0.0
    for each in problem.successions:
        if options.size:
            total += float(each.history[unit, options[0]])
        for one, then in pairwise(options.tolist()):
            before, after = each.before[one], each.after[then]
            if before >= 0 and after >= 0:
                total += float(each.score[before, after])
    return total


def in_order(problem: RotationProblem, chosen: BoolArray) -> IntArray:
    """The chosen options of a unit (options,) in the order of time."""
    options = np.flatnonzero(chosen)
    return options[np.argsort(problem.starts[options], kind="stable")]
