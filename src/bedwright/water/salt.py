"""Salt in the root zone: what the water brings, what drainage takes, through seasons and years.

The root zone is cut into layers from which the crop draws its water by stated shares. Salt moves
with the water only; water that is drawn leaves its salt, none goes with the crop. At rest the
profile is that from which FAO-29 takes ECe = 1.5 to 1.6 ECw at a leaching fraction of 0.15.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike

from bedwright.guards import not_negative, positive, within
from bedwright.water.arrays import FloatArray, floats
from bedwright.working import Source, formula

_EC = ("conductivity", "dS/m")
_DEPTH = ("depth", "m")
_PLAIN = ("ratio", "-")
_LAYERS = 8  # judgement: two to a quarter, at rest near the mean that FAO-29 takes
_SOIL_WATER_PER_EXTRACT = 2.0  # fao_29, from_memory: soil water at field capacity is 2 x ECe


@dataclass(frozen=True, eq=False)
class SaltDays:
    """Root-zone salt at the end of each step, (steps, beds) [dS/m of the saturation extract];
    ``profile_ds_m`` of the soil water at the end, (layers, beds); ``brought`` and ``leached``
    salt of each step [dS/m x m of water].
    """

    ec_e_ds_m: FloatArray
    profile_ds_m: FloatArray
    brought: FloatArray
    leached: FloatArray


def root_zone_salt(
    start_ec_e_ds_m: ArrayLike,
    arriving_m: FloatArray,
    drained_m: FloatArray,
    ec_arriving_ds_m: FloatArray,
    held_m: ArrayLike,
    quarters: Sequence[float],
    mixing: ArrayLike = 1.0,
) -> SaltDays:
    """Salt through steps of a week or a season, by the water that arrives and drains.

    Parameters
    ----------
    start_ec_e_ds_m : of the root zone at first [dS/m], (beds,) or one number, 0 and up
    arriving_m : irrigation and rain of each step, net [m], (steps, beds), 0 and up
    drained_m : below the roots [m], (steps, beds), 0 and up; more than arrives (a store that
        empties) counts as what arrives
    ec_arriving_ds_m : mean of that water, rain counting as 0 [dS/m], (steps, beds), 0 and up
    held_m : water in the root zone at field capacity [m], (beds,) or one number, above 0
    quarters : shares of the crop's water from the quarters of its root depth, from the top [-],
        together 1
    mixing : share of passing water that takes up the salt of the soil that it passes [-], (steps or
        1, beds or 1), above 0 to 1: 1 for the season's small doses, 0.3 for a step of leaching in
        one go, where it leaves about what Hoffman's curve does (up to half of the soil's depth)

    Raises ValueError for an input outside its range.
    """
    water, drain, salty = np.broadcast_arrays(
        *(floats(each) for each in (arriving_m, drained_m, ec_arriving_ds_m))
    )
    if water.ndim != 2:
        raise ValueError(f"arriving_m has shape {water.shape}; it must be (steps, beds)")
    not_negative(arriving_m=water, drained_m=drain, ec_arriving_ds_m=salty)
    not_negative(start_ec_e_ds_m=start_ec_e_ds_m)
    positive(held_m=held_m, mixing=mixing)
    within(0, 1, mixing=mixing)
    steps, beds = water.shape
    layer_m = np.broadcast_to(floats(held_m) / _LAYERS, (beds,))
    mixed = np.broadcast_to(floats(mixing), (steps, beds))
    soil = np.broadcast_to(floats(start_ec_e_ds_m) * _SOIL_WATER_PER_EXTRACT, (_LAYERS, beds))
    profile = soil.copy()
    ec_e, brought, leached = np.empty((3, steps, beds))
    drawn = floats(quarters)
    within(1 - 1e-9, 1 + 1e-9, sum_of_quarters=float(drawn.sum()))
    edges = np.linspace(0.0, 1.0, len(drawn) + 1)
    above = np.interp(np.arange(_LAYERS + 1) / _LAYERS, edges, np.cumsum([0.0, *drawn]))
    for step in range(steps):
        used = water[step] - np.minimum(drain[step], water[step])
        passing = np.maximum(water[step] - used * above[:, np.newaxis], 0.0)
        brought[step] = salty[step] * water[step]
        flow = brought[step]
        for layer in range(_LAYERS):
            into, out = passing[layer], passing[layer + 1]
            flow = _pass(profile[layer], flow, into, out, layer_m, mixed[step])
        leached[step] = flow
        ec_e[step] = profile.mean(axis=0) / _SOIL_WATER_PER_EXTRACT
    return SaltDays(ec_e, profile, brought, leached)


def _pass(
    soil: FloatArray,
    flow: FloatArray,
    into: FloatArray,
    out: FloatArray,
    layer_m: FloatArray,
    mixing: FloatArray,
) -> FloatArray:
    """Salt that leaves a layer with the water; ``soil`` [dS/m] is brought up to date in place.

    Mixed water leaves with the salt of the step's end, so that no step can overshoot.
    """
    gone = np.divide(out, into, out=np.zeros_like(out), where=into > 0)
    carried = flow * gone
    mixed = mixing * out
    soil *= layer_m
    soil += flow - carried + mixing * carried
    soil /= layer_m + mixed
    return (1 - mixing) * carried + mixed * soil


@formula(
    "fraction = water drained / water infiltrated",
    result=_PLAIN,
    sources=(
        Source("uc_drought_tip_92_16", "", "the measured fraction"),
        Source("ali_2011", "Example 8.5", "infiltration less use"),
    ),
    example={"infiltrated_m": "7.2 cm", "used_m": "6.67 cm"},
    infiltrated_m=_DEPTH,
    used_m=_DEPTH,
)
def leaching_fraction(infiltrated_m: ArrayLike, used_m: ArrayLike) -> FloatArray:
    """Share of the water that passes the roots [-], 0 where the crop uses it all.

    Parameters
    ----------
    infiltrated_m : water that entered the soil [m], above 0
    used_m : evapotranspiration in the same time [m], 0 and up

    Raises ValueError for an input outside its range.
    """
    positive(infiltrated_m=infiltrated_m)
    not_negative(used_m=used_m)
    return np.asarray(np.maximum(1 - floats(used_m) / floats(infiltrated_m), 0.0))


@formula(
    "requirement = ECw / EC of the water that drains",
    result=_PLAIN,
    sources=(
        Source("ali_2011", "Example 8.5", ""),
        Source("from_memory", "", "the older form; some texts take the drainage as 2 x ECe"),
    ),
    example={"ec_water_ds_m": "1.5 dS/m", "ec_drainage_ds_m": "20 dS/m"},
    ec_water_ds_m=_EC,
    ec_drainage_ds_m=_EC,
)
def leaching_requirement_by_drainage(
    ec_water_ds_m: ArrayLike, ec_drainage_ds_m: ArrayLike
) -> FloatArray:
    """Share of the water that must drain for the drainage to be as salty as stated [-].

    Parameters
    ----------
    ec_water_ds_m : of the irrigation water [dS/m], 0 and up
    ec_drainage_ds_m : borne in the water that drains [dS/m], above that of the water

    Raises ValueError where the drainage would have to be no saltier than the water.
    """
    not_negative(ec_water_ds_m=ec_water_ds_m)
    more = floats(ec_drainage_ds_m) - floats(ec_water_ds_m)
    positive(drainage_less_water_ds_m=more)
    return np.asarray(floats(ec_water_ds_m) / floats(ec_drainage_ds_m))


@formula(
    "water = coefficient x depth of soil x ECe now / ECe wanted",
    result=_DEPTH,
    sources=(
        Source("from_memory", "", "Hoffman's reclamation curve: coefficient 0.1 by sprinkler, drip "
               "or in doses, 0.3 ponded"),
    ),
    example={
        "ec_e_now_ds_m": "6 dS/m",
        "ec_e_wanted_ds_m": "3 dS/m",
        "soil_depth_m": "0.3 m",
        "coefficient": "0.1",
    },
    ec_e_now_ds_m=_EC,
    ec_e_wanted_ds_m=_EC,
    soil_depth_m=_DEPTH,
    coefficient=_PLAIN,
)  # fmt: skip
def reclamation_depth(
    ec_e_now_ds_m: ArrayLike,
    ec_e_wanted_ds_m: ArrayLike,
    soil_depth_m: ArrayLike,
    coefficient: ArrayLike,
) -> FloatArray:
    """Water that must drain through to leach in one go [m], beyond what fills the soil.

    Parameters
    ----------
    ec_e_now_ds_m, ec_e_wanted_ds_m : of the soil [dS/m], above 0; 0 m where it is there already
    soil_depth_m : to be leached [m], above 0
    coefficient : 0.1 in doses by drip or sprinkler, 0.3 ponded [-], 0.05 to 0.5

    Raises ValueError for an input outside its range.
    """
    positive(ec_e_now_ds_m=ec_e_now_ds_m, ec_e_wanted_ds_m=ec_e_wanted_ds_m)
    positive(soil_depth_m=soil_depth_m)
    within(0.05, 0.5, coefficient=coefficient)
    ratio = floats(ec_e_now_ds_m) / floats(ec_e_wanted_ds_m)
    depth = floats(coefficient) * floats(soil_depth_m) * ratio
    return np.where(ratio > 1, depth, 0.0)
