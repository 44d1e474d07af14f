"""The stages of the garden's blend: least money first, then phosphorus, then bags carried."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from bedwright.feeding.search import PLAIN, least_money
from bedwright.feeding.tidy import tidied
from bedwright.feeding.whole import Group, Shed, WholeProgram

Array = NDArray[np.float64]
Aim = Literal["money", "phosphorus", "carried"]

_HELD = 0.01  # later stages may cost this share more than the first found: one per cent
_LATER_EFFORT = 0.1  # the later stages' share of the search; what they miss costs no money
_FREED, _STEPS = 2, 8  # groups that a later stage frees together; no more such steps than this
_PART_NODES = 40
_TRACE = 1e-6  # of a package: what the solver's rounding takes from one is not taken
_DUST = 1e-9  # kg/m2: what the solver leaves of nothing
_MONEY_FLOOR = 0.01  # a cent: below it a share of the money means nothing


@dataclass(frozen=True)
class WholeBlend:
    """Recipes by group [kg/m2], packages bought, money, and how well the money is proven.

    ``bound`` is a sum of money that no plan can beat; ``phosphorus`` the P2O5 brought [kg];
    ``carried`` the materials that are carried to groups, counted once for each group. ``aims`` are
    those that were reached: fewer than asked for where a search came to its limits. Only the money
    is proven: in a large garden the later aims are worked a few groups at a time.
    """

    preplant: tuple[Array, ...]
    later: tuple[Array, ...]
    bought: tuple[float, ...]
    money: float
    bound: float
    phosphorus: float
    carried: int
    aims: tuple[Aim, ...]

    @property
    def gap(self) -> float:
        """The share by which the money may be above the least."""
        return 0.0 if self.money <= _MONEY_FLOOR else max(0.0, 1 - self.bound / self.money)


def whole_blend(
    groups: tuple[Group, ...],
    shed: Shed,
    p2o5: tuple[Array, ...],
    *,
    aims: tuple[Aim, ...] = ("money", "phosphorus", "carried"),
    budget: float | None = None,
    gap: float = 0.01,
    seconds: float | None = None,
) -> WholeBlend | None:
    """The blend of a garden by aims in order, or None where its demands cannot all be kept.

    Parameters
    ----------
    groups, shed : the recipe groups and what is on hand and to be bought
    p2o5 : P2O5 in a kilogram of each group's candidates [kg/kg]
    aims : what to make least, in order; each later aim keeps the money within one per cent
    budget : the most that may be spent, None for no limit
    gap : share within which the first aim is proven, above 0
    seconds : a stop by the clock for each stage; a plan stopped so is not repeatable
    """
    program = WholeProgram(groups, shed)
    money = program.money()
    bags = program.prices()
    if budget is not None:
        program.row(np.arange(program.columns), bags, -np.inf, budget)
    objectives = {
        "money": money,
        "phosphorus": program.weighed(p2o5) + money * 1e-6,
        "carried": program.switches() + money * 1e-6,
    }
    found: Array | None = None
    bound = 0.0
    for at, aim in enumerate(aims):
        upper = program.top()
        if at > 0 and found is not None:
            for earlier in aims[:at]:
                reached = float(objectives[earlier] @ found)
                spare = max(reached * _HELD, _MONEY_FLOOR if earlier == "money" else 1e-6)
                program.row(
                    np.arange(program.columns), objectives[earlier], -np.inf, reached + spare
                )
            if "money" in aims[:at]:  # no more of a package than the money would buy
                most = float(money @ found) * (1 + _HELD) + _MONEY_FLOOR
                upper = np.where(bags > 0, np.minimum(upper, _affordable(program, most)), upper)
        if at == 0 and aim == "money":
            first = least_money(program, money, gap=gap, seconds=seconds)
            stage = None if first is None or first.columns is None else (first.columns, first.bound)
        elif found is not None and program.switches().sum() > PLAIN:
            better = _polished(program, objectives[aim], found, upper, gap, seconds)
            stage = None if better is None else (better, -np.inf)
        else:
            stage = program.minimize(
                objectives[aim],
                gap=gap,
                upper=upper,
                seconds=seconds,
                effort=1.0 if at == 0 else _LATER_EFFORT,
            )
        if stage is None:
            if found is None:
                return None
            aims = aims[:at]  # nothing found within the limits of the search: the earlier result
            break
        found = stage[0]
        if aim == "money":
            bound = stage[1]
    if found is None:
        return None
    found = _settled(program, found, objectives[aims[-1]])
    return _described(program, found, bound, p2o5, aims)


def _polished(
    program: WholeProgram,
    objective: Array,
    found: Array,
    upper: Array,
    gap: float,
    seconds: float | None,
) -> Array | None:
    """A plan of a large garden made better a few groups at a time, the others keeping materials.

    The plan so far keeps every row, so each step has one to start from; a search over all groups
    at once often comes to its limits before it finds any. None where no step found one.
    """
    count = len(program.groups)
    freed = max(_FREED, -(-count // _STEPS))
    parts = [range(0), *(range(at, min(at + freed, count)) for at in range(0, count, freed))]
    best, any_found = found, False
    for part in parts:
        narrow = upper.copy()
        for at in range(count):
            if at not in part:
                program.keep_materials(at, best, narrow)
        solved = program.solve(
            objective, gap=gap, upper=narrow, nodes=_PART_NODES,
            seconds=None if seconds is None else seconds / len(parts),
        )  # fmt: skip
        if solved is not None and solved.columns is not None:
            any_found = True
            if objective @ solved.columns < objective @ best:
                best = solved.columns
    return best if any_found else None


def _affordable(program: WholeProgram, money: float) -> Array:
    """How many of each package a sum buys, rounded up by a hair; any part of what is sold loose."""
    prices = program.prices()
    whole = np.zeros(program.columns, dtype=bool)
    whole[int(program.starts[-1]) :] = ~program.loose()
    with np.errstate(divide="ignore"):
        most = np.where(prices > 0, money / prices + 1e-6, np.inf)
    return np.where(whole, np.floor(most), most)


def _settled(program: WholeProgram, found: Array, objective: Array) -> Array:
    """The same choice of materials and packages, the masses solved again for it.

    The solver leaves traces behind a switch that is off; cut off, they would leave a need short.
    """
    lower, upper = np.zeros(program.columns), program.top()
    for at in range(len(program.groups)):
        lower[program.slices(at)[2]] = program.keep_materials(at, found, upper)
    start, loose = int(program.starts[-1]), program.loose()
    counts = np.round(found[start:])
    lower[start:] = np.where(loose, 0.0, counts)
    upper[start:] = np.where(loose, upper[start:], counts)
    again = program.minimize(objective, gap=1e-9, lower=lower, upper=upper)
    return found if again is None else again[0]


def _described(
    program: WholeProgram,
    found: Array,
    bound: float,
    p2o5: tuple[Array, ...],
    aims: tuple[Aim, ...],
) -> WholeBlend:
    before, later = [], []
    for at in range(len(program.groups)):
        x, y, z = program.slices(at)
        used = found[z] > 0.5
        before.append(np.where(used & (found[x] > _DUST), found[x], 0.0))
        later.append(np.where(used & (found[y] > _DUST), found[y], 0.0))
    start = int(program.starts[-1])
    bought = tuple(
        float(count) if package.loose else float(round(count))
        for count, package in zip(found[start:], program.shed.packages, strict=True)
    )
    recipes = tidied(
        program.groups, program.shed, bought, p2o5, tuple(zip(before, later, strict=True))
    )
    before, later = [recipe[0] for recipe in recipes], [recipe[1] for recipe in recipes]
    carried = sum(int(np.count_nonzero(x + y > 0)) for x, y in recipes)
    bought = _as_used(program, recipes, bought)
    spent = sum(
        count * package.price for count, package in zip(bought, program.shed.packages, strict=True)
    )
    phosphorus = sum(
        float(content @ (x + y)) * group.area_m2
        for content, x, y, group in zip(p2o5, before, later, program.groups, strict=True)
    )
    return WholeBlend(
        tuple(before), tuple(later), bought, float(spent), bound, phosphorus, carried, aims
    )


def _as_used(
    program: WholeProgram, recipes: tuple[tuple[Array, Array], ...], bought: tuple[float, ...]
) -> tuple[float, ...]:
    """No package that stays shut, and of what is sold loose no more than the recipes take.

    A later aim may pay its share of the money for a bag that it does not open.
    """
    counts, shed = list(bought), program.shed
    dearest_first = sorted(range(len(counts)), key=lambda n: -shed.packages[n].price)
    for at in dearest_first:
        package = shed.packages[at]
        if counts[at] <= 0:
            continue
        taken = sum(
            group.area_m2 * float((x + y)[group.candidates.keys.index(package.key)])
            for group, (x, y) in zip(program.groups, recipes, strict=True)
            if package.key in group.candidates.keys
        )
        others = shed.held_kg(package.key, [*counts[:at], 0.0, *counts[at + 1 :]])
        wanted = max(0.0, (taken - others) / package.mass_kg)
        if not package.loose:
            wanted = float(np.ceil(wanted - _TRACE))
        counts[at] = min(counts[at], wanted)
    return tuple(counts)
