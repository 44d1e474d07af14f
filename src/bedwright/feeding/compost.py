"""A compost heap: how much of which feedstock, and whether it was hot for long enough.

The recipe is a small linear program. C:N and moisture are ratios of sums; multiplied out they
are linear in the masses, so that any number of feedstocks is balanced at once.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from bedwright.feeding.heap import carbon_to_nitrogen_of_mixture, moisture_of_mixture
from bedwright.guards import not_negative, positive, within
from bedwright.working import Source, formula

Array = NDArray[np.float64]
Clash = Literal["c_to_n_low", "c_to_n_high", "moisture_low", "moisture_high"]

_SLACK = 1e-3  # kg: a gram; less than that of a feedstock is none, and no heap
_MASS_KEPT = 1 - 1e-9  # the second stage may not shrink the heap by more than rounding


@dataclass(frozen=True)
class Feedstocks:
    """What a heap may be made of; arrays hold one entry for each.

    ``carbon`` and ``nitrogen`` are contents of the material as it lies [kg/kg], ``moisture`` its
    water [kg/kg], ``on_hand`` the mass that there is [kg].
    """

    keys: tuple[str, ...]
    carbon: Array
    nitrogen: Array
    moisture: Array
    on_hand: Array

    def __post_init__(self) -> None:
        within(0, 1, carbon=self.carbon, nitrogen=self.nitrogen, moisture=self.moisture)
        not_negative(on_hand=self.on_hand, rest=1 - self.carbon - self.nitrogen - self.moisture)


@dataclass(frozen=True)
class Targets:
    """What the mixture should be at the start: C:N [-] and moisture [kg/kg], each from - to."""

    c_to_n: tuple[float, float]
    moisture: tuple[float, float]

    def __post_init__(self) -> None:
        positive(c_to_n=self.c_to_n[0])
        within(0, 1, moisture=self.moisture)
        not_negative(
            c_to_n_range=self.c_to_n[1] - self.c_to_n[0],
            moisture_range=self.moisture[1] - self.moisture[0],
        )


@dataclass(frozen=True)
class Recipe:
    """A heap: masses in the order of the feedstocks [kg], water to add [kg], and what it is.

    ``c_to_n`` [-] and ``moisture`` [kg/kg] are None where nothing could be mixed. ``clash``
    names the targets that stand in the way; each, given up alone, would let a heap be made.
    """

    masses: Array
    water: float
    c_to_n: float | None
    moisture: float | None
    clash: tuple[Clash, ...] = ()


def recipe(
    stocks: Feedstocks, targets: Targets, *, wanted: float | None = None, water: bool = True
) -> Recipe:
    """The largest heap that keeps the targets, up to a mass wanted; near the middle of C:N.

    Parameters
    ----------
    stocks : the feedstocks and what there is of them
    targets : C:N and moisture of the mixture at the start
    wanted : mass of the heap, water included [kg], above 0; None for as much as there is
    water : whether water may be added

    Of heaps of the same mass the one nearest the middle of the C:N range is taken, then the
    one that needs the least water.
    """
    if wanted is not None:
        positive(wanted=wanted)
    masses = _solve(stocks, targets, wanted, water, ())
    if masses[:-1].sum() <= _SLACK:  # water alone is no heap
        tried: tuple[Clash, ...] = ("c_to_n_low", "c_to_n_high", "moisture_low", "moisture_high")
        clash = tuple(
            each
            for each in tried
            if _solve(stocks, targets, wanted, water, (each,))[:-1].sum() > _SLACK
        )
        return Recipe(np.zeros(len(stocks.keys)), 0.0, None, None, clash)
    solids, added = masses[:-1], float(masses[-1])
    ratio = carbon_to_nitrogen_of_mixture(
        tuple(solids), tuple(stocks.carbon * 100), tuple(stocks.nitrogen * 100)
    )
    moisture = moisture_of_mixture(tuple(masses), (*(stocks.moisture * 100), 100.0))
    return Recipe(solids, added, float(ratio), float(moisture / 100))


def _solve(
    stocks: Feedstocks,
    targets: Targets,
    wanted: float | None,
    water: bool,
    dropped: tuple[Clash, ...],
) -> Array:
    """Masses of the feedstocks and of water [kg]: the mass first, then the balance, then water."""
    from scipy.optimize import linprog

    carbon, nitrogen = np.append(stocks.carbon, 0.0), np.append(stocks.nitrogen, 0.0)
    moisture = np.append(stocks.moisture, 1.0)
    count = len(carbon)
    limits: dict[Clash, Array] = {
        "c_to_n_low": targets.c_to_n[0] * nitrogen - carbon,
        "c_to_n_high": carbon - targets.c_to_n[1] * nitrogen,
        "moisture_low": targets.moisture[0] - moisture,
        "moisture_high": moisture - targets.moisture[1],
    }
    rows = [row for name, row in limits.items() if name not in dropped]
    upper = [0.0] * len(rows)
    if wanted is not None:
        rows.append(np.ones(count))
        upper.append(wanted)
    most_water = None if water else 0.0
    there = np.where(stocks.on_hand < _SLACK, 0.0, stocks.on_hand)
    bounds = [(0.0, float(each)) for each in there] + [(0.0, most_water)]
    if water:  # finite even where the lower moisture target is dropped
        bounds[-1] = (0.0, _most_water(stocks, targets))
    first = linprog(-np.ones(count), A_ub=np.array(rows), b_ub=upper, bounds=bounds)
    if not first.success or first.fun is None or -first.fun <= _SLACK:
        return np.zeros(count)
    middle = sum(targets.c_to_n) / 2
    off = carbon - middle * nitrogen
    # The last variable is the distance from the middle; it is made least, then the water.
    wide = [np.append(row, 0.0) for row in rows]
    wide += [np.append(off, -1.0), np.append(-off, -1.0), np.append(-np.ones(count), 0.0)]
    upper += [0.0, 0.0, float(first.fun) * _MASS_KEPT]
    cost = np.append(np.zeros(count), 1.0)
    cost[count - 1] = 1e-6
    second = linprog(cost, A_ub=np.array(wide), b_ub=upper, bounds=[*bounds, (0.0, None)])
    best = second.x[:-1] if second.success and second.x is not None else first.x
    return np.asarray(best, dtype=float)


def _most_water(stocks: Feedstocks, targets: Targets) -> float:
    dry = float((stocks.on_hand * (1 - stocks.moisture)).sum())
    top = min(targets.moisture[1], 1 - 1e-9)
    return dry * top / (1 - top)


@formula(
    "second material = first x N1 x (R - C1/N1) x (100 - M1) / (N2 x (C2/N2 - R) x (100 - M2))",
    result=("mass", "kg"),
    sources=(Source("cornell_cwmi", "carbon to nitrogen ratio", "the mixing rule, solved"),),
    example={
        "mass": "10 kg", "carbon": "45 %", "nitrogen": "2.4 %", "moisture": "77 %",
        "other_carbon": "50 %", "other_nitrogen": "0.75 %", "other_moisture": "35 %",
        "goal": "30 -",
    },
    mass=("mass", "kg"),
    carbon=("fraction", "%"),
    nitrogen=("fraction", "%"),
    moisture=("fraction", "%"),
    other_carbon=("fraction", "%"),
    other_nitrogen=("fraction", "%"),
    other_moisture=("fraction", "%"),
    goal=("ratio", "-"),
)  # fmt: skip
def mass_to_reach_c_to_n(
    mass: float,
    carbon: float,
    nitrogen: float,
    moisture: float,
    other_carbon: float,
    other_nitrogen: float,
    other_moisture: float,
    goal: float,
) -> float:
    """Mass of a second material that brings a mixture to the C:N wanted [kg].

    Parameters
    ----------
    mass : of the first material as it lies [kg], 0 and up
    carbon, nitrogen : of the first material's dry matter [%], 0 to 100
    moisture : of the first material [%], 0 to 100
    other_carbon, other_nitrogen : of the second material's dry matter [%], 0 to 100
    other_moisture : of the second material [%], 0 to below 100
    goal : C:N wanted [-], above 0

    Raises ValueError where the goal does not lie between the two materials' C:N.
    """
    not_negative(mass=mass)
    within(0, 100, carbon=carbon, nitrogen=nitrogen, moisture=moisture)
    within(0, 100, other_carbon=other_carbon, other_nitrogen=other_nitrogen)
    within(0, 100, other_moisture=other_moisture)
    positive(goal=goal, other_dry_matter=100 - other_moisture)
    lacks = (goal * nitrogen - carbon) * (100 - moisture)
    brings = (other_carbon - goal * other_nitrogen) * (100 - other_moisture)
    if lacks == 0:
        return 0.0
    if lacks * brings <= 0:
        raise ValueError(f"goal is {goal:g}; it does not lie between the two materials' C:N")
    return mass * lacks / brings


@dataclass(frozen=True)
class Heat:
    """What a temperature record shows: days in the range, the longest run of them, turnings.

    ``verdict`` is ``met``, ``met_with_breaks`` (enough days, but not one after the other),
    ``too_few_days``, ``too_few_turnings`` or ``no_record``.
    """

    verdict: Literal["met", "met_with_breaks", "too_few_days", "too_few_turnings", "no_record"]
    days_in_range: int
    longest_run: int
    turnings: int
    too_hot_days: int


def heat(
    days: NDArray[np.int64],
    temperatures: Array,
    turned: NDArray[np.int64],
    *,
    low: float,
    high: float,
    days_needed: int,
    turnings_needed: int,
) -> Heat:
    """Hold a temperature record against a rule of days within a range and of turnings.

    Parameters
    ----------
    days : number of the day of each reading (several a day: the coldest and the hottest count)
    temperatures : read on these days [any one unit of temperature]
    turned : numbers of the days on which the heap was turned
    low, high : the range, both ends within it [the same unit]
    days_needed : days within the range, 1 and up
    turnings_needed : turnings from the first to the last of the days that count, 0 and up

    A day without a reading does not count and breaks the run: unknown is not hot.
    Raises ValueError for lists of unlike length.
    """
    if len(days) != len(temperatures):
        raise ValueError(f"{len(days)} days but {len(temperatures)} temperatures")
    positive(days_needed=days_needed)
    if not len(days):
        return Heat("no_record", 0, 0, len(turned), 0)
    unique = np.unique(days)
    coldest = np.array([temperatures[days == day].min() for day in unique])
    hottest = np.array([temperatures[days == day].max() for day in unique])
    good = unique[(coldest >= low) & (hottest <= high)]
    over = int((hottest > high).sum())
    runs = _runs(good)
    longest = max((len(run) for run in runs), default=0)
    counted = [int(np.isin(turned, np.arange(run[0], run[-1] + 1)).sum()) for run in runs]
    whole = int(((turned >= good[0]) & (turned <= good[-1])).sum()) if len(good) else 0
    enough = [turns for run, turns in zip(runs, counted, strict=True) if len(run) >= days_needed]
    if enough:
        turns = max(enough)
        verdict: Literal["met", "too_few_turnings"] = (
            "met" if turns >= turnings_needed else "too_few_turnings"
        )
        return Heat(verdict, len(good), longest, turns, over)
    if len(good) < days_needed:
        return Heat("too_few_days", len(good), longest, whole, over)
    if whole < turnings_needed:
        return Heat("too_few_turnings", len(good), longest, whole, over)
    return Heat("met_with_breaks", len(good), longest, whole, over)


def _runs(days: NDArray[np.int64]) -> list[NDArray[np.int64]]:
    """Days that follow one another."""
    if not len(days):
        return []
    return np.split(days, np.flatnonzero(np.diff(days) > 1) + 1)


@formula(
    "hot-water boron = total boron x share dissolved, between 30 % at pH 6 and 10 % at pH 7.5",
    result=("fraction", "mg/kg"),
    sources=(Source("brinton_2008", "abstract", "straight line between the two points"),),
    example={
        "total": "28 mg/kg", "ph": "6 -", "share_at_6": "0.3 -", "share_at_7_5": "0.1 -",
    },
    total=("fraction", "mg/kg"),
    ph=("ratio", "-"),
    share_at_6=("fraction", "-"),
    share_at_7_5=("fraction", "-"),
)  # fmt: skip
def hot_water_boron(total: float, ph: float, share_at_6: float, share_at_7_5: float) -> float:
    """Boron of a compost that hot water dissolves [mg/kg].

    Parameters
    ----------
    total : total boron of the dry matter [mg/kg], 0 and up
    ph : of the compost [-], 3 to 11; below 6 and above 7.5 the nearer point holds
    share_at_6, share_at_7_5 : share dissolved at these pH [-], 0 to 1

    Raises ValueError for an input outside its range.
    """
    not_negative(total=total)
    within(3, 11, ph=ph)
    within(0, 1, share_at_6=share_at_6, share_at_7_5=share_at_7_5)
    return total * float(np.interp(ph, (6.0, 7.5), (share_at_6, share_at_7_5)))  # brinton_2008
