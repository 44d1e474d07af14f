"""Water on particular days: before planting, over germinating seed, after rain, in a heat wave."""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike

from bedwright.guards import not_negative, positive, within
from bedwright.water.arrays import FloatArray, floats
from bedwright.working import Source, formula

_FAO = "fao_56"
_DEPTH = ("depth", "m")
_PLAIN = ("ratio", "-")
_WET_BARE = 1.15  # fao_56 annex 7: what wet bare soil evaporates for each unit of ET0
_IGNORED_SHARE = 0.2  # fao_56 p. 153: rain below 0.2 ET0 evaporates at once


@formula(
    "fill = available water of the depth to be wetted x (1 - share that is left)",
    result=_DEPTH,
    sources=(Source(_FAO, "equation 87", "depletion at the start"),),
    example={"available_m": "60 mm", "left_share": "0.4"},
    available_m=_DEPTH,
    left_share=_PLAIN,
)
def filling_depth(available_m: ArrayLike, left_share: ArrayLike) -> FloatArray:
    """Net depth that fills the soil before planting [m]; also the depletion by any reading.

    Parameters
    ----------
    available_m : TAW of the depth that is to be wetted [m], 0 and up
    left_share : of that water still there, by feel, tensiometer or balance [-], 0 to 1

    Raises ValueError for an input outside its range.
    """
    not_negative(available_m=available_m)
    within(0, 1, left_share=left_share)
    return np.asarray(floats(available_m) * (1 - floats(left_share)))


@formula(
    "runs a day = 1.15 ET0 x evaporation left / (share x readily evaporable water), rounded up",
    result=_PLAIN,
    sources=(
        Source(_FAO, "annex 7", "1.15 ET0 evaporates from wet bare ground"),
        Source("judgement", "", "seed is kept above the share of the readily evaporable water that "
               "may be used between runs; half where nothing else is given"),
    ),
    example={"et0_m": "7 mm", "readily_evaporable_m": "8 mm", "share": "0.5", "factor": "1"},
    et0_m=_DEPTH,
    readily_evaporable_m=_DEPTH,
    share=_PLAIN,
    factor=_PLAIN,
)  # fmt: skip
def germination_runs_per_day(
    et0_m: ArrayLike,
    readily_evaporable_m: ArrayLike,
    share: ArrayLike = 0.5,
    factor: ArrayLike = 1.0,
) -> FloatArray:
    """How often a day a seeded row is wetted so that its surface never dries [-], 1 and up.

    Parameters
    ----------
    et0_m : reference evapotranspiration of the day [m], 0 and up
    readily_evaporable_m : REW of the surface layer [m], above 0
    share : of it that may go between two runs [-], above 0, at most 1
    factor : evaporation that a cover over the row leaves [-], 0 to 1

    Raises ValueError for an input outside its range.
    """
    not_negative(et0_m=et0_m)
    positive(readily_evaporable_m=readily_evaporable_m, share=share)
    within(0, 1, share=share, factor=factor)
    lost = _WET_BARE * floats(et0_m) * floats(factor)
    runs = np.ceil(lost / (floats(share) * floats(readily_evaporable_m)) - 1e-9)
    return np.asarray(np.maximum(runs, 1.0))


def germination_depth(
    et0_m: ArrayLike, runs_per_day: ArrayLike, factor: ArrayLike = 1.0
) -> FloatArray:
    """Net depth of one such run [m]: what the surface has lost since the last.

    Parameters
    ----------
    et0_m : reference evapotranspiration of the day [m], 0 and up
    runs_per_day : of :func:`germination_runs_per_day` [-], 1 and up
    factor : evaporation that a cover over the row leaves [-], 0 to 1
    """
    not_negative(et0_m=et0_m)
    within(1, np.inf, runs_per_day=runs_per_day)
    within(0, 1, factor=factor)
    return np.asarray(_WET_BARE * floats(et0_m) * floats(factor) / floats(runs_per_day))


@formula(
    "rain counts where it is at least 0.2 ET0, and up to what the root zone lacks",
    result=_DEPTH,
    sources=(Source(_FAO, "p. 153", "smaller rain evaporates at once"),),
    example={"rain_m": "12 mm", "et0_m": "4 mm", "depletion_m": "9 mm"},
    rain_m=_DEPTH,
    et0_m=_DEPTH,
    depletion_m=_DEPTH,
)
def rain_credit(rain_m: ArrayLike, et0_m: ArrayLike, depletion_m: ArrayLike) -> FloatArray:
    """Rain that the root zone keeps [m]; the rest evaporates at once or drains.

    Parameters
    ----------
    rain_m : of the day [m], 0 and up
    et0_m : reference evapotranspiration of the day [m], 0 and up
    depletion_m : of the root zone before it [m], 0 and up

    Raises ValueError for an input outside its range.
    """
    not_negative(depletion_m=depletion_m)
    return np.asarray(np.minimum(counted_rain(rain_m, et0_m), floats(depletion_m)))


def counted_rain(rain_m: ArrayLike, et0_m: ArrayLike) -> FloatArray:
    """Rain for the balance [m]: days of less than 0.2 ET0 count as dry (FAO-56 p. 153).

    Parameters
    ----------
    rain_m, et0_m : of the days [m], 0 and up, of shapes that broadcast
    """
    not_negative(rain_m=rain_m, et0_m=et0_m)
    rain = floats(rain_m)
    return np.where(rain >= _IGNORED_SHARE * floats(et0_m), rain, 0.0)


@formula(
    "days off = rain kept / (coefficient x ET0), whole days",
    result=_PLAIN,
    sources=(Source("computed", "", "the days that the rain waters in place of the line"),),
    example={"kept_m": "9 mm", "coefficient": "1.0", "et0_m": "4 mm"},
    kept_m=_DEPTH,
    coefficient=_PLAIN,
    et0_m=_DEPTH,
)
def days_off_after_rain(kept_m: ArrayLike, coefficient: ArrayLike, et0_m: ArrayLike) -> FloatArray:
    """Days for which the lines may rest after rain [d], rounded down.

    Parameters
    ----------
    kept_m : of :func:`rain_credit` [m], 0 and up
    coefficient : Kc of the days ahead [-], above 0
    et0_m : reference evapotranspiration of the days ahead [m/d], above 0

    Raises ValueError for an input outside its range.
    """
    not_negative(kept_m=kept_m)
    positive(coefficient=coefficient, et0_m=et0_m)
    return np.asarray(np.floor(floats(kept_m) / (floats(coefficient) * floats(et0_m)) + 1e-9))
