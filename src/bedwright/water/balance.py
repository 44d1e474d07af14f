"""Soil water of many beds, day by day: dual crop coefficients, evaporation layer, stress, drainage.

When water arrives must be said: ``early``, before the day's evaporation (a drip line run in the
morning; the way of FAO-56's examples 35 and 38), or ``late``, after it. The choice changes how
wet the surface is on the day of a run, and whether that day's use can still be met from it.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from bedwright.guards import not_negative
from bedwright.water.balance_day import Block
from bedwright.water.balance_rooms import Choices, State, aligned
from bedwright.water.beds import BedDays, Ground, Refill, Start

FloatArray = NDArray[np.float64]
Timing = Literal["early", "late"]

_CHUNK = 4096  # beds whose day fits a core's nearer cache: judgement, measured
_RAIN_WETS_M = 0.003  # fao_56 p. 147: rain of 3 to 4 mm wets all the ground


@dataclass(frozen=True, eq=False)
class Balance:
    """Each day's flows and the root zone's depletion at its end, (days, beds) [m].

    Where an emptied root zone could not meet the day's use, the flows are what it gave.
    ``end`` is the state from which a next run may start.
    """

    transpiration_m: FloatArray
    evaporation_m: FloatArray
    drainage_m: FloatArray
    depletion_m: FloatArray
    irrigation_m: FloatArray
    start_depletion_m: FloatArray
    end: Start

    def stress(self, days: BedDays) -> FloatArray:
        """What of the crop's use was met [-], Ks of water and salt together, (days, beds); 1 where
        the crop asked for nothing.
        """
        asked = np.broadcast_to(days.basal * days.et0_m, self.transpiration_m.shape)
        met = np.ones_like(self.transpiration_m)
        return np.divide(self.transpiration_m, asked, out=met, where=asked > 0)

    def residual_m(self, days: BedDays) -> FloatArray:
        """What each day's flows leave unexplained of the change of depletion [m]; 0 but for
        rounding.
        """
        before = np.concatenate([self.start_depletion_m[np.newaxis], self.depletion_m[:-1]])
        out = self.transpiration_m + self.evaporation_m + self.drainage_m
        grown = 0.0 if days.growth_m is None else days.growth_m
        into = days.rain_m + self.irrigation_m
        return np.asarray(self.depletion_m - before - grown - out + into)


def daily_balance(
    days: BedDays,
    ground: Ground,
    start: Start,
    irrigation: FloatArray | Refill,
    *,
    timing: Timing,
    fixed_depletion_share: bool = False,
    rain_wets_m: float = _RAIN_WETS_M,
    rain_outranks_drip: bool = True,
) -> Balance:
    """The water balance of every bed on every day (FAO-56 chapters 7 and 8).

    Parameters
    ----------
    days : what each day brings, (days, beds)
    ground : what stays the same on each bed
    start : state on the eve of the first day
    irrigation : net depth that enters the ground [m], (days, beds or 1), or a rule
    timing : ``early`` where water comes before the day's evaporation, ``late`` where after
    fixed_depletion_share : take p as given; else it falls as the day's use rises (p. 162)
    rain_wets_m : rain in a day from which the whole surface counts as wetted [m]
    rain_outranks_drip : on a day with both, such rain wets the whole surface (the errata of
        FAO-56; its printed text keeps the wetted share of the irrigation)

    Water use is cut where the root zone would be drawn below wilting point, so that the balance
    closes on every day. Raises ValueError for a state outside the soil's limits or another timing.
    """
    if timing not in ("early", "late"):
        raise ValueError(f"timing is {timing!r}; it must be early or late")
    shape = days.shape
    state = State.begin(days, ground, start, shape[1])
    choices = Choices(timing == "early", fixed_depletion_share, rain_wets_m, rain_outranks_drip)
    amounts = _amounts(irrigation, shape)
    # one block: large ones are given in larger pages, which is quicker
    crop, bare, drained, depleted = aligned((4, *shape))
    made = (crop, bare, drained, depleted, amounts)
    before = state.depletion.copy()
    for first in range(0, shape[1], _CHUNK):
        part = slice(first, min(first + _CHUNK, shape[1]))
        Block(days, state.part(part), irrigation, made, part, choices).run()
    end = Start(state.depletion, state.surface, state.rain_wetted, state.wetted)
    return Balance(*made, before, end)


def _amounts(irrigation: FloatArray | Refill, shape: tuple[int, int]) -> FloatArray:
    """The given depths, checked, or room for those of the rule."""
    if isinstance(irrigation, Refill):
        np.broadcast_to(irrigation.allowed, shape)
        return np.empty(shape)
    depths = np.broadcast_to(np.asarray(irrigation, dtype=np.float64), shape)
    not_negative(irrigation_m=float(np.min(depths)))
    return depths
