"""What a water balance is told: the days, the beds' ground, the state before, when to irrigate.

Depths are in meters of water over the bed's ground. Beds are the last axis, days the first; years
may stand side by side as further beds.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from bedwright.guards import not_negative, positive, within

FloatArray = NDArray[np.float64]

_MOST_SHARE = 0.9  # fao_56 p. 162 holds p to 0.8; room for a fixed share of the gardener's own
_MOST_COVER = 0.99  # fao_56 p. 149
_LEAST_WETTED = 0.03  # of the ground, so that a third of it, under plants, is 0.01: judgement
_HAIR_M = 1e-12  # of rounding, on depths that are compared


@dataclass(frozen=True, eq=False)
class BedDays:
    """What each day brings to each bed; every field (days, beds) or (days, 1).

    ``et0_m`` reference evapotranspiration and ``rain_m`` rain that enters the ground [m];
    ``basal`` Kcb, ``ceiling`` Kc max and ``cover`` fc, the share of ground shaded, at most 0.99
    [-]; ``available_m`` TAW of the day's root zone [m], never falling: a new crop is a new run;
    ``salt_stress`` Ks by salt, None without; ``growth_m`` shortage of water in the soil that
    roots reach on that day [m], None where it is at field capacity; ``wetted_share`` fw of that
    day's irrigation [-], None where it is that of the bed on every day.
    """

    et0_m: FloatArray
    rain_m: FloatArray
    basal: FloatArray
    ceiling: FloatArray
    cover: FloatArray
    available_m: FloatArray
    salt_stress: FloatArray | None = None
    growth_m: FloatArray | None = None
    wetted_share: FloatArray | None = None

    def __post_init__(self) -> None:
        given = {name: each for name, each in vars(self).items() if each is not None}
        if any(np.ndim(each) != 2 for each in given.values()):
            shapes = {name: np.shape(each) for name, each in given.items()}
            raise ValueError(f"each field must have days and beds as its axes; shapes: {shapes}")
        np.broadcast_shapes(*(np.shape(each) for each in given.values()))
        if any(np.size(each) == 0 for each in given.values()):
            raise ValueError("there must be at least one day and one bed")
        # the least of a series is NaN where any of it is: a balance needs every day
        not_negative(**{name: float(np.min(each)) for name, each in given.items()})
        positive(available_m=float(np.min(self.available_m)))
        within(0, _MOST_COVER, cover=float(np.max(self.cover)))
        for name in ("salt_stress", "wetted_share"):
            within(0, 1, **{name: float(np.max(given.get(name, 0.0)))})
        if self.wetted_share is not None:
            within(_LEAST_WETTED, 1, wetted_share=float(np.min(self.wetted_share)))
        gained = np.diff(self.available_m, axis=0)
        if np.min(gained, initial=0.0) < -_HAIR_M:
            raise ValueError("available_m falls: roots never shrink; a new crop is a new run")
        if self.growth_m is not None:
            held = np.broadcast_to(
                self.available_m, (len(self.growth_m), np.shape(self.available_m)[1])
            )
            gained = np.diff(held, axis=0)
            excess = float(np.max(self.growth_m[1:] - gained, initial=0.0))
            if excess > _HAIR_M or np.any(self.growth_m[0] > _HAIR_M):
                raise ValueError("growth_m is more than the newly reached soil holds")

    @property
    def shape(self) -> tuple[int, int]:
        """Days and beds."""
        given = [np.shape(each) for each in vars(self).values() if each is not None]
        days, beds = np.broadcast_shapes(*given)
        return days, beds


@dataclass(frozen=True, eq=False)
class Ground:
    """What stays the same on each bed through the season; single values or one for each bed.

    ``total_evaporable_m`` TEW and ``readily_evaporable_m`` REW of the surface layer [m];
    ``depletion_share`` p of the crop's table; ``wetted_share`` fw of irrigation [-], 0.03 to 1;
    ``drip_under_canopy`` 1 where the plants shade the wetted strip, 0 where not; ``open_share``
    of the ground from which water can evaporate [-], below 1 under a plastic sheet, at least
    0.01; ``evaporation_factor`` what a mulch leaves of evaporation.
    """

    total_evaporable_m: ArrayLike
    readily_evaporable_m: ArrayLike
    depletion_share: ArrayLike
    wetted_share: ArrayLike = 1.0
    drip_under_canopy: ArrayLike = 0.0
    open_share: ArrayLike = 1.0
    evaporation_factor: ArrayLike = 1.0

    def __post_init__(self) -> None:
        within(0, _MOST_SHARE, depletion_share=self.depletion_share)
        within(_LEAST_WETTED, 1, wetted_share=self.wetted_share)
        within(1 - _MOST_COVER, 1, open_share=self.open_share)
        within(0, 1, drip_under_canopy=self.drip_under_canopy)
        within(0, 1, evaporation_factor=self.evaporation_factor)
        not_negative(readily_evaporable_m=self.readily_evaporable_m)
        gap = np.asarray(self.total_evaporable_m) - np.asarray(self.readily_evaporable_m)
        positive(total_less_readily_evaporable_m=gap)


@dataclass(frozen=True, eq=False)
class Start:
    """State on the eve of the first day: ``depletion_m`` of the root zone and
    ``surface_depletion_m`` of the surface layer [m]; ``all_wetted`` 1 where rain wetted the ground
    last; ``wetted_share`` of the last irrigation [-], None where it is that of the ground.
    """

    depletion_m: ArrayLike
    surface_depletion_m: ArrayLike
    all_wetted: ArrayLike = 1.0
    wetted_share: ArrayLike | None = None


@dataclass(frozen=True, eq=False)
class Refill:
    """Irrigate up to field capacity, when it is allowed and has become worth it.

    ``allowed`` days (days, beds or 1); ``trigger_share`` of readily available water (by the tabled
    p) that must be used up first, 0 to refill on every allowed day; ``most_m`` in a day [m];
    ``leaching_share`` of the water applied that is to drain, below 1.
    """

    allowed: NDArray[np.bool_]
    trigger_share: ArrayLike = 1.0
    most_m: ArrayLike = np.inf
    leaching_share: ArrayLike = 0.0

    def __post_init__(self) -> None:
        within(0, 2, trigger_share=self.trigger_share)
        within(0, 0.9, leaching_share=self.leaching_share)
        positive(most_m=self.most_m)
