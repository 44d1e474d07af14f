"""What a search for a rotation returns: limits in, plans, progress and refusals out."""

from __future__ import annotations

from dataclasses import dataclass

from bedwright.planning.rotation.problem import BoolArray, FloatArray


@dataclass(frozen=True)
class SolveLimits:
    """When to stop: at a share ``gap`` of the objective, after ``nodes``, or by ``seconds``.

    Gap and nodes give the same plan each time. ``seconds`` depend on the machine: a plan that
    was stopped by them is marked as not repeatable.
    """

    gap: float = 0.005
    nodes: int = 2000
    seconds: float | None = None


@dataclass(frozen=True, eq=False)
class RotationSolution:
    """A plan: ``chosen`` (units, options), and how good it is.

    No plan has an objective above ``bound``; ``gap`` is (bound - objective) / |objective|.
    ``short`` (wishes,) is what each wish lacks. ``repeatable`` is False where the clock ended
    the search.
    """

    chosen: BoolArray
    objective: float
    bound: float
    gap: float
    short: FloatArray
    repeatable: bool


@dataclass(frozen=True, eq=False)
class Progress:
    """One better plan or bound on the way: ``step`` is "first", "bound", "better" or "last"."""

    solution: RotationSolution
    step: str
    nodes: int


@dataclass(frozen=True)
class Infeasible:
    """No plan meets the required wishes. ``proven``: False where the limits ended the search."""

    proven: bool
