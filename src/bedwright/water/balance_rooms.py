"""What the daily balance works on: its choices, the beds' state, and the arrays of a span of days.

Used by :mod:`bedwright.water.balance_day`.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import ArrayLike, NDArray

from bedwright.guards import not_negative, within
from bedwright.water.beds import BedDays, Ground, Start

FloatArray = NDArray[np.float64]

_HAIR_M = 1e-12
_CANOPY_SHADE = 2 / 3  # fao_56 p. 147: wetting under the plants is shaded by 2/3 of the cover


@dataclass(frozen=True)
class Choices:
    """How the balance is to be worked; see :func:`bedwright.water.balance.daily_balance`."""

    early: bool
    fixed_depletion_share: bool
    rain_wets_m: float
    rain_outranks_drip: bool


@dataclass(eq=False)
class State:
    """Beds' constants and state, each (beds,); the state is worked on in place."""

    depletion: FloatArray
    surface: FloatArray
    rain_wetted: FloatArray
    share: FloatArray
    total: FloatArray
    per_range: FloatArray
    wetted: FloatArray
    shade: FloatArray  # what the canopy takes off the wetted strip, for each unit of cover
    open_share: FloatArray
    factor: FloatArray

    @classmethod
    def begin(cls, days: BedDays, ground: Ground, start: Start, beds: int) -> State:
        """The state before the first day. Raises ValueError where the soil can't be so."""

        def each(values: ArrayLike) -> FloatArray:
            return np.array(np.broadcast_to(np.asarray(values, dtype=np.float64), (beds,)))

        total = each(ground.total_evaporable_m)
        state = cls(
            depletion=each(start.depletion_m),
            surface=each(start.surface_depletion_m),
            rain_wetted=each(start.all_wetted),
            share=each(ground.depletion_share),
            total=total,
            per_range=1 / (total - each(ground.readily_evaporable_m)),
            wetted=each(ground.wetted_share if start.wetted_share is None else start.wetted_share),
            shade=_CANOPY_SHADE * each(ground.drip_under_canopy),
            open_share=each(ground.open_share),
            factor=each(ground.evaporation_factor),
        )
        not_negative(depletion_m=state.depletion, surface_depletion_m=state.surface)
        within(0, 1, all_wetted=state.rain_wetted, wetted_share=state.wetted)
        above = float(np.max(state.depletion - days.available_m[0]))
        if above > _HAIR_M:
            raise ValueError(f"depletion_m is {above:g} m more than the root zone holds")
        state.depletion = np.minimum(state.depletion, days.available_m[0])
        if np.any(state.surface > total + _HAIR_M):
            raise ValueError("surface_depletion_m is more than the surface layer holds")
        return state

    def part(self, part: slice) -> State:
        """The same of some beds, as views: what is worked on them shows here."""
        return State(**{name: values[part] for name, values in vars(self).items()})


@dataclass(eq=False)
class Days:
    """Days of some beds as views, (days, beds or 1): what is given, and the results to be filled.

    Until a day is walked, its ``crop`` is what the crop asks for and its ``bare`` the most that can
    evaporate from the ground exposed; until its span is done, ``depleted`` is what is held.
    """

    et0: FloatArray
    rain: FloatArray
    basal: FloatArray
    ceiling: FloatArray
    cover: FloatArray
    available: FloatArray
    salt: FloatArray | None
    growth: FloatArray | None
    wetted: FloatArray | None
    water: NDArray[Any]  # irrigation, or whether the rule allows it
    crop: FloatArray
    bare: FloatArray
    drained: FloatArray
    depleted: FloatArray
    irrigated: FloatArray

    def part(self, days: slice) -> Days:
        """The same of some days."""
        each: list[Any] = [None if rows is None else rows[days] for rows in vars(self).values()]
        return Days(*each)


@dataclass(eq=False)
class Room:
    """Room for what is worked ahead for a span of days, (days, beds)."""

    gained: FloatArray  # water in soil that roots newly reach [m]
    kept: FloatArray  # before evaporation, the share kept from the crop, as use of a day [m]
    scale: FloatArray  # what makes water held [m] of that [-]
    top: FloatArray  # Kc max ET0 [m]
    spare: FloatArray  # (Kc max - Kcb) ET0: what the crop leaves to evaporation [m]
    arriving: FloatArray  # rain and irrigation over all the ground [m]
    fallen: FloatArray  # the same where it falls, in units of ``free``
    drying: FloatArray  # what evaporation takes off ``free`` [1/m]
    exposed: FloatArray  # share of the ground that is both wetted and exposed [-]
    # constants of the beds: equal shapes are quicker in a ufunc than a row spread over days
    wetted: FloatArray
    shaded: FloatArray
    per_range: FloatArray
    per_wetted: FloatArray  # what irrigation adds to ``free`` [1/m]
    kept_at_rest: FloatArray

    def part(self, days: slice) -> Room:
        """The same of some days."""
        return Room(*(rows[days] for rows in vars(self).values()))


def aligned(shape: tuple[int, ...]) -> FloatArray:
    """Room that begins where a line of the cache does, which spares a ufunc split reads."""
    size, line = math.prod(shape), 64 // 8
    room = np.empty(size + line)
    first = -(room.ctypes.data // 8) % line
    return room[first : first + size].reshape(shape)


def rows_of(values: NDArray[Any] | None, part: slice, days: int) -> Any:
    """The block's share of a series, to be walked day by day; a single column serves all beds."""
    if values is None:
        return None
    wide = values if values.shape[1] == 1 else values[:, part]
    return np.broadcast_to(wide, (days, wide.shape[1])) if len(wide) < days else wide


def bedwise(values: ArrayLike, part: slice, beds: int) -> FloatArray:
    """The block's share of what is one number or one a bed, as a row."""
    array = np.asarray(values, dtype=np.float64)
    return np.broadcast_to(array[part] if array.ndim else array, (beds,))
