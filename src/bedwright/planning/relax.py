"""What giving up each of the clashing demands would cost or gain."""

from __future__ import annotations

from dataclasses import dataclass

from bedwright.feeding.blend import Blend, Demand, blend
from bedwright.planning.grouping import RecipeGroup


@dataclass(frozen=True)
class Relaxation:
    """One clashing demand given up: what the blend then reaches of it, and costs.

    ``wanted`` is the bound that was given up, ``reached`` where the demand then stands [per m2];
    ``cost`` the change of the materials' value for all the group's beds, against the nearest
    blend. ``meets_the_rest`` is False where another clash remains.
    """

    key: str
    wanted: float
    reached: float
    cost: float
    meets_the_rest: bool


def relaxations(group: RecipeGroup, nearest: Blend, most_materials: int) -> tuple[Relaxation, ...]:
    """Give up each demand of a group's clash in turn. ``nearest`` is the blend that stands."""
    found: list[Relaxation] = []
    for key in nearest.clash:
        demand = next(each for each in group.demands if each.key == key)
        rest = tuple(each for each in group.demands if each.key != key)
        other = blend(group.candidates, rest, most_materials)
        reached = float(demand.preplant @ other.preplant + demand.later @ other.later)
        found.append(
            Relaxation(
                key,
                _bound(demand, reached),
                reached,
                (other.cost - nearest.cost) * group.area_m2,
                not other.clash,
            )
        )
    return tuple(found)


def _bound(demand: Demand, reached: float) -> float:
    """The bound that the relaxed blend passes."""
    if demand.upper is not None and (demand.lower is None or reached > demand.upper):
        return demand.upper
    return demand.lower or 0.0
