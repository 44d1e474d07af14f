"""A part of the question: some units planned anew, the others kept as they are."""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from bedwright.planning.rotation.problem import (
    BoolArray,
    FloatArray,
    IntArray,
    KeepApart,
    RotationProblem,
    Succession,
    Wish,
)
from bedwright.planning.rotation.score import given_by


def part(
    problem: RotationProblem, units: IntArray, allowed: BoolArray, chosen: BoolArray
) -> tuple[RotationProblem, IntArray]:
    """The problem of ``units`` alone, and the options (of the whole problem) that it has.

    ``allowed`` (units, options) of the whole problem says what they may be given; the other
    units keep what is ``chosen`` (units, options): what it gives is taken off the wishes, and
    what must not stand beside it is left out.
    """
    kept = chosen.copy()
    kept[units] = False
    may = allowed[units] & problem.allowed[units]
    for group in problem.apart_beside:
        may &= ~beside_kept(problem, group, units, kept)
    options = np.flatnonzero(may.any(axis=0))
    given = given_by(problem, kept)
    at = {int(unit): n for n, unit in enumerate(units)}
    block = np.ix_(units, options)
    wishes = []
    for wish, has in zip(problem.wishes, given, strict=True):
        wanted = max(wish.wanted - has, 0.0)
        amount = wish.amount[block]
        if amount.any():
            most = max(wish.most - has, wanted)
            wishes.append(Wish(wish.name, amount, wanted, most, wish.weight, wish.required))
    made = RotationProblem(
        problem.starts[options],
        problem.ends[options],
        problem.years[options],
        may[:, options],
        problem.worth[block],
        tuple(_group(each, units, options) for each in problem.apart),
        tuple(wishes),
        tuple(
            Succession(each.before[options], each.after[options], each.score, each.history[block])
            for each in problem.successions
        ),
        tuple((at[a], at[b]) for a, b in problem.beside if a in at and b in at),
        tuple(_group(each, units, options) for each in problem.apart_beside),
    )
    return made, options


def soft(problem: RotationProblem, weights: FloatArray) -> RotationProblem:
    """The problem with required wishes as others, losing ``weights`` (wishes,) for each unit."""
    wishes = tuple(
        replace(wish, required=False, weight=float(weight)) if wish.required else wish
        for wish, weight in zip(problem.wishes, weights, strict=True)
    )
    return replace(problem, wishes=wishes)


def _group(group: KeepApart, units: IntArray, options: IntArray) -> KeepApart:
    return KeepApart(
        group.name, group.members[options], group.years_away[units], group.gap_days
    )  # fmt: skip


def beside_kept(
    problem: RotationProblem, group: KeepApart, units: IntArray, kept: BoolArray
) -> BoolArray:
    """The group's options (units, options) that would stand beside a member of ``kept``."""
    found = np.zeros((units.size, problem.options), dtype=bool)
    at = {int(unit): n for n, unit in enumerate(units)}
    for pair in problem.beside:
        for mine, theirs in (pair, pair[::-1]):
            if mine not in at or (group.years_away[list(pair)] < 0).any():
                continue
            for other in np.flatnonzero(kept[theirs] & group.members):
                together = (problem.starts < problem.ends[other]) & (
                    problem.starts[other] < problem.ends
                )
                found[at[mine]] |= group.members & together
    return found
