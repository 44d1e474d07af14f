"""Which zone runs when: one at a time, within what the tap gives and the hours allowed."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from bedwright.guards import not_negative, positive, within
from bedwright.water.irrigation import run_days

_DAYS = 7
_DAY_MINUTES = 1440.0
_HAIR = 1e-6  # minutes or liters an hour, of rounding


@dataclass(frozen=True)
class Zone:
    """Lines on one valve: ``flow_l_h`` together, ``minutes`` a run, ``runs`` a week (0 to 7)."""

    name: str
    flow_l_h: float
    minutes: float
    runs: int

    def __post_init__(self) -> None:
        positive(flow_l_h=self.flow_l_h)
        not_negative(minutes=self.minutes)
        within(0, _DAYS, runs=self.runs)


@dataclass(frozen=True)
class Supply:
    """What the tap or well gives [l/h] and the spells of the day allowed, as minutes after
    midnight (start, end), in order and apart; the pause between two zones.
    """

    flow_l_h: float
    spells: tuple[tuple[float, float], ...]
    pause_minutes: float = 0.0

    def __post_init__(self) -> None:
        positive(flow_l_h=self.flow_l_h)
        not_negative(pause_minutes=self.pause_minutes)
        ends = [each for spell in self.spells for each in spell]
        within(0, _DAY_MINUTES, spells=ends)
        if not ends or any(b <= a for a, b in self.spells) or ends != sorted(ends):
            raise ValueError(
                f"spells must be in order, apart and not empty; they are {self.spells}"
            )


@dataclass(frozen=True)
class Run:
    """One run: the zone, the day of the week (0 to 6), start and end in minutes after midnight."""

    zone: str
    day: int
    start_min: float
    end_min: float


@dataclass(frozen=True)
class Short:
    """What no schedule can mend: ``flow_l_h`` by which a zone asks more than the tap gives;
    ``minutes`` a week that don't fit, at least; ``run_minutes`` by which a zone's single run is
    longer than the longest spell. ``zone`` is empty where it is the week as a whole.
    """

    zone: str
    flow_l_h: float = 0.0
    minutes: float = 0.0
    run_minutes: float = 0.0


@dataclass(frozen=True)
class Week:
    """Runs of a week that repeats, by day and start; empty where something is ``short``."""

    runs: tuple[Run, ...]
    short: tuple[Short, ...]


def zone_week(zones: Sequence[Zone], supply: Supply) -> Week:
    """A week in which no two zones run at once, each zone's runs spread evenly.

    Parameters
    ----------
    zones : with minutes a run and runs a week; names differ
    supply : flow and hours

    Each zone keeps one of the seven shifts of its even pattern, and all its runs the same spell of
    the day. Where no choice of these fits, the least number of minutes a week that do not fit is
    returned instead. Raises ValueError for a name that stands twice.
    """
    names = [each.name for each in zones]
    if len(set(names)) != len(names):
        raise ValueError(f"zones must have names of their own; they are {names}")
    running = [each for each in zones if each.runs and each.minutes > 0]
    short = tuple(_alone(running, supply))
    if short or not running:
        return Week((), short)
    choice, missing = _choose(running, supply)
    if missing > _HAIR:
        return Week((), (Short("", minutes=missing),))
    return Week(tuple(_laid_out(running, supply, choice)), ())


def _alone(zones: Sequence[Zone], supply: Supply) -> list[Short]:
    """Zones that could not run even if they had the tap for themselves."""
    longest = max(end - start for start, end in supply.spells)
    found = []
    for each in zones:
        flow = max(each.flow_l_h - supply.flow_l_h, 0.0)
        over = max(each.minutes - longest, 0.0)
        if flow > _HAIR or over > _HAIR:
            found.append(Short(each.name, flow_l_h=flow, run_minutes=over))
    return found


def _choose(zones: Sequence[Zone], supply: Supply) -> tuple[list[tuple[int, int]], float]:
    """Shift and spell of each zone, and the fewest minutes a week that do not fit."""
    from scipy.optimize import Bounds, LinearConstraint, milp

    spells = len(supply.spells)
    options = [(shift, spell) for shift in range(_DAYS) for spell in range(spells)]
    picks, bins = len(zones) * len(options), _DAYS * spells
    load: NDArray[np.float64] = np.zeros((bins, picks + bins))
    once: NDArray[np.float64] = np.zeros((len(zones), picks + bins))
    bounds = np.ones(picks + bins)
    for z, zone in enumerate(zones):
        for k, (shift, spell) in enumerate(options):
            column = z * len(options) + k
            once[z, column] = 1.0
            start, end = supply.spells[spell]
            bounds[column] = float(zone.minutes <= end - start + _HAIR)
            for day in run_days(zone.runs, shift):
                load[day * spells + spell, column] = zone.minutes + supply.pause_minutes
    load[:, picks:] = -np.eye(bins)  # what does not fit
    bounds[picks:] = np.inf
    room = np.tile([end - start + supply.pause_minutes for start, end in supply.spells], _DAYS)
    cost = np.concatenate([np.zeros(picks), np.ones(bins)])
    found = milp(
        cost,
        integrality=np.concatenate([np.ones(picks), np.zeros(bins)]),
        bounds=Bounds(0.0, bounds),
        constraints=[LinearConstraint(load, ub=room), LinearConstraint(once, 1.0, 1.0)],
        options={"mip_rel_gap": 0.0},
    )
    if found.x is None:
        raise RuntimeError(f"the choice of days was not solved: {found.message}")
    chosen = np.asarray(found.x)[:picks].reshape(len(zones), len(options)).argmax(axis=1)
    return [options[k] for k in chosen], float(found.fun)


def _laid_out(zones: Sequence[Zone], supply: Supply, choice: list[tuple[int, int]]) -> list[Run]:
    """Start times: zones in their order, one after the other through each spell."""
    runs: list[Run] = []
    for day in range(_DAYS):
        clock = [start for start, _ in supply.spells]
        for zone, (shift, spell) in zip(zones, choice, strict=True):
            if day in run_days(zone.runs, shift):
                start = clock[spell]
                runs.append(Run(zone.name, day, start, start + zone.minutes))
                clock[spell] = start + zone.minutes + supply.pause_minutes
    return sorted(runs, key=lambda each: (each.day, each.start_min))
