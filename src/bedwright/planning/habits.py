"""Rules of thumb beside the computation: where a bed's plan departs from them, and why."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from bedwright.planning.prescription import Prescription
from bedwright.reference import Library
from bedwright.working import Figure

_FRUITING = frozenset({"fruiting"})


@dataclass(frozen=True)
class Habit:
    """A rule of the trade without a source, and what this bed gets instead.

    ``ours`` is None where the plan holds nothing of the kind. ``verdict`` says how the two
    compare; ``why`` is the code of the reason.
    """

    code: str
    rule: Figure
    ours: Figure | None
    verdict: Literal["agrees", "less", "more"]
    why: str


def habits(plan: Prescription, library: Library) -> tuple[Habit, ...]:
    """The rules of thumb that touch this bed."""
    found = [_compost(plan, library), _calcium(plan, library)]
    if plan.crop.kind in _FRUITING and plan.lines:
        found.append(_starter(plan, library))
    return tuple(found)


def _compared(rule: Figure, ours: Figure | None) -> Literal["agrees", "less", "more"]:
    value = ours.value if ours is not None else 0.0
    if value < rule.least * 0.95:
        return "less"
    return "more" if value > rule.most * 1.05 else "agrees"


def _compost(plan: Prescription, library: Library) -> Habit:
    rule = library.parameter("habit_compost_depth", "m")
    depth = 0.0
    for line in plan.lines:
        if line.material.kind == "compost" and line.supply.bulk_density is not None:
            depth += line.per_area / line.supply.bulk_density.value
    ours = Figure("compost_depth", depth, "m", "computed", formula="mass per area / bulk density")
    codes = {each.code for each in plan.findings}
    if "no_compost_this_year" in codes:
        why = "phosphorus_stop"
    elif "compost_depth" in plan.blend.clash or "compost_only_by_removal" in codes:
        why = "limits"
    else:
        why = "none_wished" if depth == 0 else "as_wished"
    return Habit("compost_depth", rule, ours, _compared(rule, ours), why)


def _calcium(plan: Prescription, library: Library) -> Habit:
    rule = library.parameter("habit_calcium_rate", "kg/m2")
    rate = sum(
        line.per_area
        for line in plan.lines
        if line.material.kind == "liming" or library.base_of(line.material.key) == "gypsum"
    )
    ours = Figure("calcium_material", rate, "kg/m2", "computed", formula="blend")
    reading = plan.read.get("calcium")
    if rate > 0:
        why = "lime_by_test" if plan.reaction.lime is not None else "called_for"
    elif reading is not None and reading.supply in ("high", "very_high"):
        why = "calcium_ample"
    elif plan.evidence.ground.free_lime:
        why = "free_lime"
    else:
        why = "not_called_for"
    return Habit("calcium_rate", rule, ours, _compared(rule, ours), why)


def _starter(plan: Prescription, library: Library) -> Habit:
    """The analysis of what is spread before planting, compost apart."""
    rule = library.parameter("habit_starter_n", "%")
    lines = [each for each in plan.lines if each.material.kind != "compost"]
    mass = sum(line.preplant.value for line in lines)
    nitrogen = sum(line.preplant.value * line.supply.n_total.value for line in lines)
    share = 100 * nitrogen / mass if mass else 0.0
    ours = Figure("starter_n", share, "%", "computed", formula="nitrogen / mass of the mixture")
    verdict = _compared(rule, ours)
    why = (
        "nothing_before_planting"
        if not mass
        else ("phosphorus_not_called_for" if verdict == "more" else "by_blend")
    )
    return Habit("starter_n", rule, ours, verdict, why)
