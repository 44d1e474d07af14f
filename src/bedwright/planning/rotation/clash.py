"""Why there is no plan: the fewest wishes that can't all be met, and what giving one up gains.

Wishes are left out as long as there is still no plan; what remains is a set of which every
smaller part can be met. Dropping whole halves first makes this quick where few wishes clash.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np

from bedwright.planning.mixed import Mixed, maximize
from bedwright.planning.rotation.model import program
from bedwright.planning.rotation.problem import FloatArray, RotationProblem, Wish
from bedwright.planning.rotation.solution import Infeasible, SolveLimits
from bedwright.planning.rotation.solve import solve

_NODES = 5000  # for each question whether there is a plan
_GAP = 1e-6


@dataclass(frozen=True)
class GivenUp:
    """What giving up one wish of a clash gains.

    ``possible`` is the most of it that can be had with the others of the clash kept, ``wanted``
    at most; ``exact`` is False where a limit ended that search. ``objective`` is that of the best
    plan found without it, None where the wishes then still clash or no plan was looked for.
    """

    wish: int
    possible: float
    exact: bool
    objective: float | None


@dataclass(frozen=True)
class Clash:
    """Wishes (by number) that can't all be met, one entry each. ``minimal``: any part of them can.

    A wish that is not required stands here by its most.
    """

    wishes: tuple[int, ...]
    minimal: bool
    given_up: tuple[GivenUp, ...]


def clash(problem: RotationProblem, limits: SolveLimits | None = None) -> Clash | None:
    """The smallest clashing set (none can be left out of it), or None where there is a plan.

    With ``limits`` the best plan without each of the wishes is looked for too, which takes as
    long as a plan does. Raises RuntimeError where the search leaves open whether there is a plan.
    """
    required = [n for n, wish in enumerate(problem.wishes) if wish.required]
    loose = [n for n, wish in enumerate(problem.wishes) if not wish.required]
    hard = [n for n in loose if np.isfinite(problem.wishes[n].most)] + required
    open_questions: list[bool] = []
    if _can(problem, hard, open_questions):
        if open_questions:
            raise RuntimeError("whether the required wishes can be met was not found out")
        return None
    kept = required if not _can(problem, required, open_questions) else hard
    chunk = max(len(kept) // 2, 1)
    while True:
        at = 0
        while at < len(kept):
            without = kept[:at] + kept[at + chunk :]
            if _can(problem, without, open_questions):
                at += chunk
            else:
                kept = without
        if chunk == 1:
            break
        chunk = max(chunk // 2, 1)
    kept = sorted(kept)
    found = tuple(_given_up(problem, kept, number, limits) for number in kept)
    return Clash(tuple(kept), not open_questions, found)


def _can(problem: RotationProblem, wishes: Sequence[int], open_questions: list[bool]) -> bool:
    """Whether these wishes can all be met. An open question counts as yes and is noted."""
    found = _best(_only(problem, wishes), None)
    if found.columns is None and not found.impossible:
        open_questions.append(True)
    return not found.impossible


def _only(
    problem: RotationProblem, wishes: Sequence[int], also: FloatArray | None = None
) -> RotationProblem:
    """The problem with some wishes alone, and nothing to gain.

    Options that none of them (nor ``also``) counts only take room: they are left out.
    """
    kept = [problem.wishes[n] for n in wishes]
    counted = np.zeros(problem.allowed.shape, dtype=bool)
    for amount in [wish.amount for wish in kept if wish.required] + [also]:
        if amount is not None:
            counted |= amount > 0
    eased = tuple(wish if wish.required else _most_only(wish) for wish in kept)
    return replace(
        problem, wishes=eased, successions=(), worth=np.zeros(counted.shape),
        allowed=problem.allowed & counted,
    )  # fmt: skip


def _most_only(wish: Wish) -> Wish:
    return replace(wish, wanted=0.0, required=True)


def _best(problem: RotationProblem, gain: FloatArray | None) -> Mixed:
    """The most of ``gain`` (units, options) that the problem allows; any plan where it is None."""
    made = program(problem)
    gained = np.zeros(made.gain.size)
    if gain is not None:
        gained[: made.placements] = gain[made.unit, made.option]
    return maximize(
        gained, made.rows, made.low, made.high, top=made.top, whole=made.placements,
        nodes=_NODES, gap=_GAP,
    )  # fmt: skip


def _given_up(
    problem: RotationProblem, kept: Sequence[int], number: int, limits: SolveLimits | None
) -> GivenUp:
    wish = problem.wishes[number]
    others = _only(problem, [each for each in kept if each != number], wish.amount)
    found = _best(others, wish.amount)
    amount = 0.0
    if found.columns is not None:
        made = program(others)
        amount = float(wish.amount[made.chosen(found.columns, problem.allowed.shape)].sum())
    exact = found.columns is not None and found.bound <= amount + 1e-6 * max(amount, 1.0)
    if limits is None:
        return GivenUp(number, min(amount, wish.wanted), exact, None)
    left = tuple(
        replace(each, required=False, weight=0.0, most=np.inf) if n == number else each
        for n, each in enumerate(problem.wishes)
    )
    plan = solve(replace(problem, wishes=left), limits)
    objective = None if isinstance(plan, Infeasible) else plan.objective
    return GivenUp(number, min(amount, wish.wanted), exact, objective)
