"""Why a material is not used: what it would cost to use it, or which limits it would break."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Literal

import numpy as np

from bedwright.feeding.blend import Blend, Demand, blend
from bedwright.feeding.shared import whole_blend
from bedwright.planning.garden_blend import GardenBlend
from bedwright.planning.grouping import RecipeGroup
from bedwright.planning.prescription import Prescription

_FORCED = "forced"
_SHARE = 0.25  # of the need that the material serves best, so that it does real work: judgement


@dataclass(frozen=True)
class Struck:
    """Beds on which a material is left out before anything is blended, with the reason's code."""

    beds: tuple[str, ...]
    reason: str


@dataclass(frozen=True)
class Forced:
    """What happens where a group of beds is made to take a dose of a material [kg/m2].

    ``money``, ``phosphorus_kg`` and ``carried`` are the change for the whole garden against the
    standing plan; None where the dose breaks a limit: ``breaks`` then names the demands that
    cannot be kept with it. ``gives_way`` are the materials of the recipe that are given less.
    """

    beds: tuple[str, ...]
    dose: float
    breaks: tuple[str, ...]
    money: float | None
    phosphorus_kg: float | None
    carried: int | None
    gives_way: tuple[str, ...]


@dataclass(frozen=True)
class WhyNot:
    """The answer: where it is used, struck, and what the best place to force it in would cost."""

    key: str
    verdict: Literal["used", "struck", "costs", "breaks", "not_in_shed"]
    used_on: tuple[str, ...]
    struck: tuple[Struck, ...]
    forced: Forced | None


def why_not(key: str, plans: tuple[Prescription, ...], shared: GardenBlend) -> WhyNot:
    """Force a material in where it hurts least, and solve the garden again.

    Each group that may use it is first tried alone; the one in which it costs least is then
    forced in the blend of the whole garden. Where no group can take the dose, the demands that
    clash with it are named for the group that comes first.
    """
    used_on = tuple(
        bed.bed.id
        for group in shared.groups
        for bed in group.beds
        if _mass(shared.by_planting[bed.planting], key) > 0
    )
    struck = _struck(key, plans)
    if used_on:
        return WhyNot(key, "used", used_on, struck, None)
    places = [
        (at, group)
        for at, group in enumerate(_with_materials(shared))
        if key in group.candidates.keys
    ]
    if not places:
        return WhyNot(key, "struck" if struck else "not_in_shed", (), struck, None)
    tried = [(at, group, *_alone(group, key, shared)) for at, group in places]
    possible = [each for each in tried if not each[3].clash]
    if not possible:
        at, group, dose, nearest = tried[0]
        breaks = tuple(each for each in nearest.clash if each != _FORCED)
        forced = Forced(_ids(group), dose, breaks, None, None, None, ())
        return WhyNot(key, "breaks", (), struck, forced)
    at, group, dose, _ = min(possible, key=lambda each: _added(each[1], each[3], shared))
    return WhyNot(key, "costs", (), struck, _whole(at, group, dose, key, shared))


def _with_materials(shared: GardenBlend) -> list[RecipeGroup]:
    return [group for group in shared.groups if group.candidates.keys]


def _ids(group: RecipeGroup) -> tuple[str, ...]:
    return tuple(bed.bed.id for bed in group.beds)


def _mass(mixed: Blend, key: str) -> float:
    if key not in mixed.keys:
        return 0.0
    at = mixed.keys.index(key)
    return float(mixed.preplant[at] + mixed.later[at])


def _struck(key: str, plans: tuple[Prescription, ...]) -> tuple[Struck, ...]:
    beds: dict[str, list[str]] = {}
    for plan in plans:
        for strike in plan.strikes:
            if strike.material.key == key:
                beds.setdefault(strike.code, []).append(plan.bed.id)
    return tuple(Struck(tuple(named), reason) for reason, named in beds.items())


def _dose(group: RecipeGroup, at: int) -> float:
    """A dose that does real work: a share of the need it serves best, within its bounds."""
    least, most = float(group.candidates.least[at]), float(group.candidates.most[at])
    doses = [
        _SHARE * demand.lower / float(demand.preplant[at])
        for demand in group.demands
        if demand.kind == "need" and demand.lower and demand.preplant[at] > 0
    ]
    return max(least, min([most, *doses]) if doses else least)


def _demand(group: RecipeGroup, at: int, dose: float) -> Demand:
    is_it = np.zeros(len(group.candidates.keys))
    is_it[at] = 1.0
    return Demand(_FORCED, "limit", is_it, is_it, upper=None, lower=dose * (1 - 1e-6))


def _alone(group: RecipeGroup, key: str, shared: GardenBlend) -> tuple[float, Blend]:
    at = group.candidates.keys.index(key)
    dose = _dose(group, at)
    most = shared.prepared.whole[0].most_materials
    forced = replace(_demand(group, at, dose), kind="need")
    return dose, blend(group.candidates, (*_standing(group, shared), forced), most)


def _standing(group: RecipeGroup, shared: GardenBlend) -> tuple[Demand, ...]:
    """The demands that the standing plan keeps: eased to the nearest blend where they clash."""
    place = _with_materials(shared).index(group)
    return shared.prepared.whole[place].demands


def _added(group: RecipeGroup, mixed: Blend, shared: GardenBlend) -> float:
    standing = shared.by_planting[group.beds[0].planting]
    return (mixed.cost - standing.cost) * group.area_m2


def _whole(at: int, group: RecipeGroup, dose: float, key: str, shared: GardenBlend) -> Forced:
    prepared = shared.prepared
    standing = prepared.whole[at]
    forced = replace(_demand(group, group.candidates.keys.index(key), dose), kind="need")
    groups = list(prepared.whole)
    groups[at] = replace(standing, demands=(*standing.demands, forced))
    found = whole_blend(tuple(groups), prepared.shed, prepared.p2o5)
    if found is None:  # the group alone can take it, the shed cannot give it
        return Forced(_ids(group), dose, ("shed",), None, None, None, ())
    before = shared.by_planting[group.beds[0].planting]
    was = before.preplant + before.later
    now = found.preplant[at] + found.later[at]
    gives_way = tuple(
        material
        for material, old, new in zip(group.candidates.keys, was, now, strict=True)
        if old > new + 1e-9 and material != key
    )
    return Forced(
        _ids(group),
        dose,
        (),
        found.money - shared.money,
        found.phosphorus - shared.phosphorus_kg,
        found.carried - shared.carried,
        gives_way,
    )
