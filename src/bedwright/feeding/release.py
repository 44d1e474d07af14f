"""Nitrogen of a season, week by week: what is set free, taken up, bound, lost, and left.

Everything that was spread is split into mineral nitrogen and two first-order pools. The
arrays have the axes (cases, materials, weeks): cases are beds, or the ends of a range.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from bedwright.feeding.response import temperature_factor_q10
from bedwright.guards import not_negative, within

Array = NDArray[np.float64]


@dataclass(frozen=True)
class Pools:
    """Nitrogen that was spread or lies in the soil, with its rates.

    ``mineral``, ``fast``, ``slow`` [kg/m2] and ``tie_up`` (nitrogen that its rotting wants to
    bind) are (cases, materials). ``fast_rate``, ``slow_rate`` [1/week] are
    (cases, materials, weeks) and already answer warmth and moisture. ``wetted`` is the share of
    the soil in which the pools are at work; the rest lies dry and keeps. ``ammonia`` is the
    share of the mineral nitrogen that goes to the air on spreading, ``surface_ammonia`` the
    share of what the pools free in the week of spreading. ``spread`` is the week (materials,).
    """

    mineral: Array
    fast: Array
    slow: Array
    tie_up: Array
    fast_rate: Array
    slow_rate: Array
    wetted: Array
    ammonia: Array
    surface_ammonia: Array
    spread: NDArray[np.int_]


@dataclass(frozen=True)
class Weeks:
    """What the weeks bring: ``demand`` and ``income`` [kg/m2], ``leached`` (share of the mineral
    nitrogen at hand), ``return_rate`` [1/week] of bound nitrogen. All (cases, weeks).
    """

    demand: Array
    income: Array
    leached: Array
    return_rate: Array


@dataclass(frozen=True)
class SeasonNitrogen:
    """A season's nitrogen [kg/m2], (cases, weeks) unless said otherwise.

    ``brought`` (mineral, after ammonia) and ``freed`` are (cases, materials, weeks).
    ``available`` is what each week adds to the mineral nitrogen, bound nitrogen taken off.
    ``in_soil`` is what is left at the end of each week; ``pools_left`` (cases, materials) and
    ``bound_left`` (cases,) at the end of the season. ``wanted_to_bind`` (cases,) found none.
    """

    brought: Array
    freed: Array
    income: Array
    ammonia: Array
    bound: Array
    returned: Array
    uptake: Array
    short: Array
    leached: Array
    in_soil: Array
    pools_left: Array
    bound_left: Array
    wanted_to_bind: Array
    spread: Array

    @property
    def available(self) -> Array:
        """What each week adds to the soil's mineral nitrogen, less what rotting binds."""
        materials = (self.brought + self.freed).sum(axis=1)
        return np.asarray(materials + self.income + self.returned - self.bound)

    @property
    def residual(self) -> Array:
        """What came less what went and what is left (cases,): 0 but for rounding."""
        came = self.spread.sum(axis=1) + self.income.sum(axis=1)
        went = (self.ammonia + self.uptake + self.leached).sum(axis=1)
        left = self.in_soil[:, -1] + self.pools_left.sum(axis=1) + self.bound_left
        return np.asarray(came - went - left)


def rates_by_week(
    rate: Array, q10: Array, reference: Array, temperature: Array, moisture: Array
) -> Array:
    """First-order rates in each week [1/week], (cases, materials, weeks).

    Parameters
    ----------
    rate : at the reference temperature and in moist soil [1/week], (cases, materials)
    q10 : multiple for ten kelvins more [-], (cases, materials)
    reference : temperature at which the rate is stated [K], (cases, materials)
    temperature : of the soil in each week [K], (weeks,)
    moisture : factor of each week [-], 0 to 1, (weeks,)

    Raises ValueError for an input outside its range.
    """
    not_negative(rate=rate)
    within(0, 1, moisture=moisture)
    warmth = temperature_factor_q10(
        temperature[None, None, :], reference[:, :, None], q10[:, :, None]
    )
    return np.asarray(rate[:, :, None] * warmth * moisture[None, None, :])


def season_nitrogen(pools: Pools, weeks: Weeks) -> SeasonNitrogen:
    """Run a season: release in closed form, the soil's mineral nitrogen week by week.

    In each week what is brought and freed comes first, then rotting material binds what it
    wants, then the crop takes what it wants, then drainage carries off its share of the rest.

    Raises ValueError where an input is negative, a share lies outside 0 to 1, or the shapes
    do not agree.
    """
    _check(pools, weeks)
    n_weeks = weeks.demand.shape[1]
    on = pools.spread[:, None] <= np.arange(n_weeks)[None, :]
    at = pools.spread[:, None] == np.arange(n_weeks)[None, :]
    fast, fast_left = _first_order(pools.fast * pools.wetted, pools.fast_rate, on)
    slow, slow_left = _first_order(pools.slow * pools.wetted, pools.slow_rate, on)
    wish, wish_left = _first_order(pools.tie_up * pools.wetted, pools.fast_rate, on)
    dry = (pools.fast + pools.slow) * (1 - pools.wetted)
    arrived = pools.mineral[:, :, None] * at
    to_air = arrived * pools.ammonia[:, :, None]
    out = fast + slow
    from_surface = out * at * pools.surface_ammonia[:, :, None]
    brought, freed = arrived - to_air, out - from_surface
    ammonia = (to_air + from_surface).sum(axis=1)
    gained = (brought + freed).sum(axis=1) + weeks.income
    run = _weekly(gained, wish.sum(axis=1), weeks)
    return SeasonNitrogen(
        brought=brought,
        freed=freed,
        income=weeks.income,
        ammonia=ammonia,
        pools_left=fast_left + slow_left + dry,
        wanted_to_bind=run["backlog"] + wish_left.sum(axis=1),
        spread=pools.mineral + pools.fast + pools.slow,
        bound=run["bound"],
        returned=run["returned"],
        uptake=run["uptake"],
        short=run["short"],
        leached=run["leached"],
        in_soil=run["in_soil"],
        bound_left=run["bound_left"],
    )


def _first_order(start: Array, rate: Array, on: NDArray[np.bool_]) -> tuple[Array, Array]:
    """What leaves a pool in each week, and what is left of it at the end."""
    spent = np.cumsum(rate * on[None, :, :], axis=2)
    before = np.concatenate([np.zeros_like(spent[:, :, :1]), spent[:, :, :-1]], axis=2)
    # exp(-before) - exp(-spent), written so that a week of no decay gives exactly nothing
    leaving = start[:, :, None] * np.exp(-before) * -np.expm1(before - spent)
    return leaving, start - leaving.sum(axis=2)


def _weekly(gained: Array, wish: Array, weeks: Weeks) -> dict[str, Array]:
    cases, n_weeks = gained.shape
    names = ("bound", "returned", "uptake", "short", "leached", "in_soil")
    run: dict[str, Array] = {name: np.zeros((cases, n_weeks)) for name in names}
    mineral, biomass, backlog = np.zeros(cases), np.zeros(cases), np.zeros(cases)
    for week in range(n_weeks):
        returned = biomass * -np.expm1(-weeks.return_rate[:, week])
        mineral = mineral + gained[:, week] + returned
        wanted = backlog + wish[:, week]
        bound = np.minimum(wanted, mineral)
        backlog = wanted - bound
        biomass = biomass - returned + bound
        mineral = mineral - bound
        uptake = np.minimum(weeks.demand[:, week], mineral)
        mineral = mineral - uptake
        leached = mineral * weeks.leached[:, week]
        mineral = mineral - leached
        run["bound"][:, week], run["returned"][:, week] = bound, returned
        run["uptake"][:, week], run["leached"][:, week] = uptake, leached
        run["short"][:, week] = weeks.demand[:, week] - uptake
        run["in_soil"][:, week] = mineral
    return run | {"bound_left": biomass, "backlog": backlog}


def _check(pools: Pools, weeks: Weeks) -> None:
    cases, n_weeks = weeks.demand.shape
    materials = len(pools.spread)
    two, three = (cases, materials), (cases, materials, n_weeks)
    shapes = {
        **{
            name: (getattr(pools, name).shape, two)
            for name in ("mineral", "fast", "slow", "tie_up", "wetted", "ammonia")
        },
        "surface_ammonia": (pools.surface_ammonia.shape, two),
        "fast_rate": (pools.fast_rate.shape, three),
        "slow_rate": (pools.slow_rate.shape, three),
        **{
            name: (getattr(weeks, name).shape, (cases, n_weeks))
            for name in ("income", "leached", "return_rate")
        },
    }
    wrong = [f"{name} is {is_}, should be {be}" for name, (is_, be) in shapes.items() if is_ != be]
    if wrong or n_weeks == 0:
        raise ValueError("; ".join(wrong) or "there are no weeks")
    not_negative(
        mineral=pools.mineral,
        fast=pools.fast,
        slow=pools.slow,
        tie_up=pools.tie_up,
        fast_rate=pools.fast_rate,
        slow_rate=pools.slow_rate,
        demand=weeks.demand,
        income=weeks.income,
        return_rate=weeks.return_rate,
    )
    within(
        0,
        1,
        wetted=pools.wetted,
        ammonia=pools.ammonia,
        surface_ammonia=pools.surface_ammonia,
        leached=weeks.leached,
    )
