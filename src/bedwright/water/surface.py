"""The soil's surface: how much can evaporate, from which share of the ground, under which mulch."""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike

from bedwright.guards import not_negative, positive, within
from bedwright.water.arrays import FloatArray, floats
from bedwright.working import Source, formula

_FAO = "fao_56"
_PLAIN = ("ratio", "-")
_DEPTH = ("depth", "m")
_MOST_KC_INITIAL = 1.15  # fao_56 annex 7: 1.15 ET0 evaporates from wet bare soil
_LIGHT_M, _HEAVY_M = 0.010, 0.040  # fao_56 equation 59: depths of light and heavy wettings


@formula(
    "TEW = (field capacity - half of wilting point) x depth of the drying layer",
    result=_DEPTH,
    sources=(Source(_FAO, "equation 73, example 35", "depth 0.10 to 0.15 m"),),
    example={"field_capacity": "0.23", "wilting_point": "0.10", "drying_depth_m": "0.10 m"},
    field_capacity=_PLAIN,
    wilting_point=_PLAIN,
    drying_depth_m=_DEPTH,
)
def total_evaporable_water(
    field_capacity: ArrayLike, wilting_point: ArrayLike, drying_depth_m: ArrayLike
) -> FloatArray:
    """Water that can evaporate from the surface layer [m].

    Parameters
    ----------
    field_capacity, wilting_point : water in the soil by volume [m3/m3], 0 to 1
    drying_depth_m : of the layer that evaporation dries [m], above 0

    Raises ValueError for an input outside its range.
    """
    within(0, 1, field_capacity=field_capacity, wilting_point=wilting_point)
    positive(drying_depth_m=drying_depth_m)
    held = floats(field_capacity) - floats(wilting_point) / 2
    positive(field_capacity_less_half_of_wilting_point=held)
    return np.asarray(held * floats(drying_depth_m))


@formula(
    "Kr = (TEW - depletion) / (TEW - REW), 0 to 1",
    result=_PLAIN,
    sources=(Source(_FAO, "equation 74, example 31", ""),),
    example={
        "depletion_m": "14 mm",
        "total_evaporable_m": "20 mm",
        "readily_evaporable_m": "9 mm",
    },
    depletion_m=_DEPTH,
    total_evaporable_m=_DEPTH,
    readily_evaporable_m=_DEPTH,
)
def evaporation_reduction(
    depletion_m: ArrayLike, total_evaporable_m: ArrayLike, readily_evaporable_m: ArrayLike
) -> FloatArray:
    """How freely a drying surface still evaporates [-], 1 down to 0.

    Parameters
    ----------
    depletion_m : of the surface layer [m], 0 and up
    total_evaporable_m, readily_evaporable_m : TEW and REW of the layer [m], TEW the greater

    Raises ValueError for an input outside its range.
    """
    not_negative(depletion_m=depletion_m, readily_evaporable_m=readily_evaporable_m)
    total = floats(total_evaporable_m)
    gap = total - floats(readily_evaporable_m)
    positive(total_less_readily_evaporable_m=gap)
    return np.asarray(np.clip((total - floats(depletion_m)) / gap, 0.0, 1.0))


@formula(
    "few = min(1 - cover, wetted share), under drip min(1 - cover, (1 - 2/3 cover) x wetted share)",
    result=_PLAIN,
    sources=(Source(_FAO, "equation 75, examples 33 and 34; p. 147", ""),),
    example={"cover": "0.53", "wetted_share": "0.3", "drip_under_canopy": "1"},
    cover=_PLAIN,
    wetted_share=_PLAIN,
    drip_under_canopy=_PLAIN,
)
def exposed_wetted_share(
    cover: ArrayLike, wetted_share: ArrayLike, drip_under_canopy: ArrayLike
) -> FloatArray:
    """Share of the ground that is wetted and lies open to the sun [-].

    Parameters
    ----------
    cover : share of the ground that the crop shades [-], 0 to 1
    wetted_share : of the ground that irrigation or rain wetted [-], 0 to 1
    drip_under_canopy : 1 where plants shade the wetted strip, else 0

    Raises ValueError for an input outside its range.
    """
    within(0, 1, cover=cover, wetted_share=wetted_share, drip_under_canopy=drip_under_canopy)
    shade = floats(cover)
    strip = (1 - 2 / 3 * shade * floats(drip_under_canopy)) * floats(wetted_share)
    return np.asarray(np.minimum(1 - shade, strip))


@formula(
    "Ke = min(Kr (Kc max - Kcb), few x Kc max)",
    result=_PLAIN,
    sources=(Source(_FAO, "equation 71, examples 32 to 34", ""),),
    example={
        "reduction": "1",
        "ceiling": "1.30",
        "basal": "0.9",
        "exposed_wetted": "0.19",
    },
    reduction=_PLAIN,
    ceiling=_PLAIN,
    basal=_PLAIN,
    exposed_wetted=_PLAIN,
)
def evaporation_coefficient(
    reduction: ArrayLike, ceiling: ArrayLike, basal: ArrayLike, exposed_wetted: ArrayLike
) -> FloatArray:
    """Ke: evaporation from the soil for each unit of reference evapotranspiration [-].

    Parameters
    ----------
    reduction : Kr [-], 0 to 1
    ceiling : Kc max [-], not below ``basal``
    basal : Kcb [-], 0 and up
    exposed_wetted : few [-], 0 to 1

    Raises ValueError for an input outside its range.
    """
    within(0, 1, reduction=reduction, exposed_wetted=exposed_wetted)
    not_negative(basal=basal, ceiling_less_basal=floats(ceiling) - floats(basal))
    top = floats(ceiling)
    left = floats(reduction) * (top - floats(basal))
    return np.asarray(np.minimum(left, floats(exposed_wetted) * top))


@formula(
    "1 - 0.05 for each tenth of the ground that the mulch covers",
    result=_PLAIN,
    sources=(Source(_FAO, "chapter 10, p. 197", "organic mulch; Kcb stays"),),
    example={"covered": "0.5"},
    covered=_PLAIN,
)
def organic_mulch_factor(covered: ArrayLike) -> FloatArray:
    """What straw or another organic mulch leaves of evaporation [-], 0.5 to 1.

    Parameters
    ----------
    covered : share of the ground under the mulch [-], 0 to 1

    Raises ValueError for an input outside its range.
    """
    within(0, 1, covered=covered)
    return np.asarray(1 - 0.05 * 10 * floats(covered))


@formula(
    "open = ground beside the sheet + share of holes x how far their evaporation reaches",
    result=_PLAIN,
    sources=(
        Source(_FAO, "chapter 10, pp. 195 to 198", "a hole evaporates as 2 to 4 times its area"),
        Source("judgement", "", "3, the middle, where nothing else is given"),
    ),
    example={"covered": "0.8", "hole_share": "0.02", "reach": "3"},
    covered=_PLAIN,
    hole_share=_PLAIN,
    reach=_PLAIN,
)
def open_share_of_sheet(
    covered: ArrayLike, hole_share: ArrayLike, reach: ArrayLike = 3.0
) -> FloatArray:
    """Share of the ground that can evaporate where a plastic sheet lies [-], 0.01 to 1.

    Parameters
    ----------
    covered : share of the ground under the sheet [-], 0 to 1
    hole_share : of the sheet that is holes [-], 0 to 1
    reach : how many times its area a hole evaporates [-], 1 to 4

    Raises ValueError for an input outside its range.
    """
    within(0, 1, covered=covered, hole_share=hole_share)
    within(1, 4, reach=reach)
    sheet = floats(covered)
    through = np.minimum(floats(hole_share) * floats(reach), 1.0)
    return np.asarray(np.clip(1 - sheet + sheet * through, 0.01, 1.0))


@formula(
    "K under a sheet = K x (1 - share taken off)",
    result=_PLAIN,
    sources=(
        Source(_FAO, "chapter 10, pp. 195 to 198, example 45", "Kc 10 to 30 % less, Kcb 5 to 15 %"),
    ),
    example={"tabled": "1.0", "taken_off": "0.15"},
    tabled=_PLAIN,
    taken_off=_PLAIN,
)
def coefficient_under_sheet(tabled: ArrayLike, taken_off: ArrayLike) -> FloatArray:
    """Kc or Kcb of a crop on ground that a plastic sheet covers [-].

    Parameters
    ----------
    tabled : without a sheet [-], 0 and up
    taken_off : share by which the sheet lowers it [-], 0 to 0.5

    Raises ValueError for an input outside its range.
    """
    not_negative(tabled=tabled)
    within(0, 0.5, taken_off=taken_off)
    return np.asarray(floats(tabled) * (1 - floats(taken_off)))


@formula(
    "(TEW - (TEW - REW) exp(-(interval - t1) x 1.15 ET0 x (1 + REW / (TEW - REW)) / TEW)) / "
    "(interval x ET0), t1 = REW / (1.15 ET0); 1.15 where wetted at least every t1 days",
    result=_PLAIN,
    sources=(
        Source(_FAO, "annex 7, example 7-1", "the printed 0.57 is of another expression; the "
               "formula gives 0.533"),
    ),
    example={
        "interval_days": "3.5",
        "et0_m": "5 mm",
        "total_evaporable_m": "10 mm",
        "readily_evaporable_m": "2.683 mm",
    },
    interval_days=_PLAIN,
    et0_m=_DEPTH,
    total_evaporable_m=_DEPTH,
    readily_evaporable_m=_DEPTH,
)  # fmt: skip
def initial_coefficient(
    interval_days: ArrayLike,
    et0_m: ArrayLike,
    total_evaporable_m: ArrayLike,
    readily_evaporable_m: ArrayLike,
) -> FloatArray:
    """Kc of the initial stage by how often the bare ground is wetted [-].

    Parameters
    ----------
    interval_days : between wettings [d], above 0
    et0_m : reference evapotranspiration [m/d], above 0
    total_evaporable_m, readily_evaporable_m : TEW and REW, as that size of wetting fills them [m]

    Raises ValueError for an input outside its range.
    """
    positive(interval_days=interval_days, et0_m=et0_m)
    not_negative(readily_evaporable_m=readily_evaporable_m)
    total, ready = (floats(each) for each in (total_evaporable_m, readily_evaporable_m))
    positive(total_less_readily_evaporable_m=total - ready)
    demand = floats(et0_m)
    rate, interval = _MOST_KC_INITIAL * demand, floats(interval_days)
    beyond = interval - ready / rate
    fall = np.exp(-beyond * rate * (1 + ready / (total - ready)) / total)
    slowed = (total - (total - ready) * fall) / (interval * demand)
    return np.asarray(np.where(beyond <= 0, _MOST_KC_INITIAL, slowed))


@formula(
    "Kc = wetted share x (light + (depth / wetted share - 10 mm) / 30 mm x (heavy - light)), the "
    "depth where it falls held to 10 to 40 mm",
    result=_PLAIN,
    sources=(Source(_FAO, "equations 59 to 61, examples 25 and 26", ""),),
    example={"depth_m": "12 mm", "wetted_share": "0.4", "light": "0.85", "heavy": "1.15"},
    depth_m=_DEPTH,
    wetted_share=_PLAIN,
    light=_PLAIN,
    heavy=_PLAIN,
)
def partly_wetted_initial_coefficient(
    depth_m: ArrayLike, wetted_share: ArrayLike, light: ArrayLike, heavy: ArrayLike
) -> FloatArray:
    """Kc of the initial stage between light and heavy wettings, on a part of the ground [-].

    Parameters
    ----------
    depth_m : of a wetting, over all the ground [m], above 0
    wetted_share : of the ground [-], above 0, at most 1
    light, heavy : Kc for wettings of 10 mm or less, and of 40 mm or more [-]

    Raises ValueError for an input outside its range.
    """
    positive(depth_m=depth_m, wetted_share=wetted_share)
    within(0, 1, wetted_share=wetted_share)
    not_negative(light=light, heavy=heavy)
    share = floats(wetted_share)
    fallen = np.clip(floats(depth_m) / share, _LIGHT_M, _HEAVY_M)
    way = (fallen - _LIGHT_M) / (_HEAVY_M - _LIGHT_M)
    return np.asarray(share * (floats(light) + way * (floats(heavy) - floats(light))))
