"""What the root zone holds for the crop, how far it may be drawn; what drought and salt cost."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike

from bedwright.guards import not_negative, positive, within
from bedwright.water.arrays import FloatArray, floats
from bedwright.working import Source, formula

_FAO = "fao_56"
_SAXTON = "saxton_rawls_2006"
_PLAIN = ("ratio", "-")
_DEPTH = ("depth", "m")
_EC = ("conductivity", "dS/m")
_WILTING_KPA, _CAPACITY_KPA = 1500.0, 33.0  # saxton_rawls_2006


@formula(
    "TAW = (field capacity - wilting point) x root depth",
    result=_DEPTH,
    sources=(Source(_FAO, "equation 82, example 36", ""),),
    example={"field_capacity": "0.32", "wilting_point": "0.15", "root_depth_m": "0.8 m"},
    field_capacity=_PLAIN,
    wilting_point=_PLAIN,
    root_depth_m=_DEPTH,
)
def available_water(
    field_capacity: ArrayLike, wilting_point: ArrayLike, root_depth_m: ArrayLike
) -> FloatArray:
    """Water that roots can take from full soil [m].

    Parameters
    ----------
    field_capacity, wilting_point : water in the soil by volume [m3/m3], 0 to 1
    root_depth_m : [m], 0 and up

    Raises ValueError for an input outside its range.
    """
    within(0, 1, field_capacity=field_capacity, wilting_point=wilting_point)
    not_negative(root_depth_m=root_depth_m)
    held = floats(field_capacity) - floats(wilting_point)
    positive(field_capacity_less_wilting_point=held)
    return np.asarray(held * floats(root_depth_m))


@dataclass(frozen=True, eq=False)
class BedLayers:
    """A bed's soil down to ``depth_m`` and what lies below it; single numbers or one a bed.

    ``available`` water of the bed's soil and ``below`` that of the ground under it [m3/m3]; 0
    below where roots can't go, as under a raised bed on a floor or a tight mesh.
    """

    available: ArrayLike
    depth_m: ArrayLike = np.inf
    below: ArrayLike = 0.0

    def __post_init__(self) -> None:
        positive(available=self.available, depth_m=self.depth_m)
        within(0, 1, available=self.available, below=self.below)

    def roots_m(self, wanted_m: ArrayLike) -> FloatArray:
        """Depth that roots reach [m]: what the crop would, or the bed's floor."""
        floor = np.where(floats(self.below) > 0, np.inf, floats(self.depth_m))
        return np.asarray(np.minimum(floats(wanted_m), floor))

    def available_m(self, root_depth_m: ArrayLike) -> FloatArray:
        """TAW of a root depth through the bed's soil and what lies below it [m]."""
        not_negative(root_depth_m=root_depth_m)
        roots, floor = floats(root_depth_m), floats(self.depth_m)
        inside = np.minimum(roots, floor) * floats(self.available)
        return np.asarray(inside + np.maximum(roots - floor, 0.0) * floats(self.below))

    def growth_m(self, root_depth_m: FloatArray, dryness_below: ArrayLike) -> FloatArray:
        """Shortage of water in soil that roots reach on each day [m], (days, beds).

        ``dryness_below`` is the share of its available water that soil not yet rooted lacks [-].
        """
        within(0, 1, dryness_below=dryness_below)
        held = self.available_m(root_depth_m)
        gained = np.diff(held, axis=0, prepend=held[:1])
        return np.asarray(gained * floats(dryness_below))


@formula(
    "p = p of the table + 0.04 x (5 mm - use of the day), 0.1 to 0.8",
    result=_PLAIN,
    sources=(Source(_FAO, "Table 22 and p. 162", ""),),
    example={"tabled": "0.40", "use_m": "7 mm"},
    tabled=_PLAIN,
    use_m=_DEPTH,
)
def depletion_share(tabled: ArrayLike, use_m: ArrayLike) -> FloatArray:
    """Share of the available water that a crop takes without stress, on a day of that use [-].

    Parameters
    ----------
    tabled : p for 5 mm a day [-], 0 to 1
    use_m : crop evapotranspiration of the day [m], 0 and up

    Raises ValueError for an input outside its range.
    """
    within(0, 1, tabled=tabled)
    not_negative(use_m=use_m)
    share = floats(tabled) + 0.04 * (5 - 1000 * floats(use_m))
    return np.asarray(np.clip(share, 0.1, 0.8))


@formula(
    "Ks = (TAW - depletion) / ((1 - p) TAW), 0 to 1",
    result=_PLAIN,
    sources=(Source(_FAO, "equation 84, example 37", ""),),
    example={"depletion_m": "67 mm", "available_m": "160 mm", "share": "0.4"},
    depletion_m=_DEPTH,
    available_m=_DEPTH,
    share=_PLAIN,
)
def drought_stress(depletion_m: ArrayLike, available_m: ArrayLike, share: ArrayLike) -> FloatArray:
    """What of its water a crop still takes from a drying root zone [-], 1 down to 0.

    Parameters
    ----------
    depletion_m : of the root zone [m], 0 and up
    available_m : TAW [m], above 0
    share : p, that is taken without stress [-], 0 to 0.9

    Raises ValueError for an input outside its range.
    """
    not_negative(depletion_m=depletion_m)
    positive(available_m=available_m)
    within(0, 0.9, share=share)
    full = floats(available_m)
    return np.asarray(np.clip((full - floats(depletion_m)) / ((1 - floats(share)) * full), 0, 1))


@formula(
    "Ks = 1 - slope / (100 Ky) x (ECe - threshold), 0 to 1",
    result=_PLAIN,
    sources=(
        Source(_FAO, "equation 91, example 39", "over a season, for ECe up to threshold "
               "+ 50 / slope; Ky = 1 where not known"),
    ),
    example={
        "ec_e_ds_m": "1.5 dS/m",
        "threshold_ds_m": "1.0 dS/m",
        "slope": "19",
        "yield_response": "1.15",
    },
    ec_e_ds_m=_EC,
    threshold_ds_m=_EC,
    slope=_PLAIN,
    yield_response=_PLAIN,
)  # fmt: skip
def salt_stress(
    ec_e_ds_m: ArrayLike,
    threshold_ds_m: ArrayLike,
    slope: ArrayLike,
    yield_response: ArrayLike = 1.0,
) -> FloatArray:
    """What of its water a crop takes from a salty root zone that is not dry [-], 1 down to 0.

    With drought the two are multiplied (equation 92).

    Parameters
    ----------
    ec_e_ds_m : of the root zone's saturation extract [dS/m], 0 and up
    threshold_ds_m : that the crop bears without loss [dS/m], above 0
    slope : loss of yield for each dS/m above it [% per dS/m], above 0
    yield_response : Ky of the crop [-], above 0

    Raises ValueError for an input outside its range.
    """
    not_negative(ec_e_ds_m=ec_e_ds_m)
    positive(threshold_ds_m=threshold_ds_m, slope=slope, yield_response=yield_response)
    above = np.maximum(floats(ec_e_ds_m) - floats(threshold_ds_m), 0.0)
    return np.asarray(np.clip(1 - floats(slope) / (100 * floats(yield_response)) * above, 0, 1))


@formula(
    "yield kept = 1 - Ky x (1 - use / use without stress), 0 to 1",
    result=_PLAIN,
    sources=(Source(_FAO, "equation 90", "Ky of Table 24"),),
    example={"use_share": "0.9", "yield_response": "1.05"},
    use_share=_PLAIN,
    yield_response=_PLAIN,
)
def yield_kept(use_share: ArrayLike, yield_response: ArrayLike) -> FloatArray:
    """Share of the yield that a season of short water leaves [-], 0 to 1.

    Parameters
    ----------
    use_share : evapotranspiration over that without stress [-], 0 to 1
    yield_response : Ky of the crop [-], above 0

    Raises ValueError for an input outside its range.
    """
    within(0, 1, use_share=use_share)
    positive(yield_response=yield_response)
    return np.asarray(np.clip(1 - floats(yield_response) * (1 - floats(use_share)), 0.0, 1.0))


@formula(
    "t + 0.14 t - 0.02, t = -0.024 S + 0.487 C + 0.006 OM + 0.005 S OM - 0.013 C OM + 0.068 S C "
    "+ 0.031",
    result=_PLAIN,
    sources=(Source(_SAXTON, "equation 1, at 1500 kPa", "read in open scientific code"),),
    example={"sand": "0.20", "clay": "0.15", "organic_percent": "2.5"},
    sand=_PLAIN,
    clay=_PLAIN,
    organic_percent=_PLAIN,
)
def wilting_point_saxton_rawls_2006(
    sand: ArrayLike, clay: ArrayLike, organic_percent: ArrayLike
) -> FloatArray:
    """Water in the soil at wilting point, by texture and organic matter [m3/m3].

    Parameters
    ----------
    sand, clay : shares of the fine earth by mass [-], 0 to 1, clay to 0.6
    organic_percent : organic matter by mass [%], 0 to 8

    Raises ValueError for an input outside its range.
    """
    s, c, o = _texture(sand, clay, organic_percent)
    first = -0.024 * s + 0.487 * c + 0.006 * o + 0.005 * s * o - 0.013 * c * o + 0.068 * s * c
    first = first + 0.031
    return np.asarray(first + 0.14 * first - 0.02)


@formula(
    "t + 1.283 t^2 - 0.374 t - 0.015, t = -0.251 S + 0.195 C + 0.011 OM + 0.006 S OM - 0.027 C OM "
    "+ 0.452 S C + 0.299",
    result=_PLAIN,
    sources=(Source(_SAXTON, "equation 2, at 33 kPa", "read in open scientific code"),),
    example={"sand": "0.20", "clay": "0.15", "organic_percent": "2.5"},
    sand=_PLAIN,
    clay=_PLAIN,
    organic_percent=_PLAIN,
)
def field_capacity_saxton_rawls_2006(
    sand: ArrayLike, clay: ArrayLike, organic_percent: ArrayLike
) -> FloatArray:
    """Water in the soil at field capacity, by texture and organic matter [m3/m3].

    Parameters
    ----------
    sand, clay : shares of the fine earth by mass [-], 0 to 1, clay to 0.6
    organic_percent : organic matter by mass [%], 0 to 8

    Raises ValueError for an input outside its range.
    """
    s, c, o = _texture(sand, clay, organic_percent)
    first = -0.251 * s + 0.195 * c + 0.011 * o + 0.006 * s * o - 0.027 * c * o + 0.452 * s * c
    first = first + 0.299
    return np.asarray(first + 1.283 * first * first - 0.374 * first - 0.015)


def _texture(
    sand: ArrayLike, clay: ArrayLike, organic_percent: ArrayLike
) -> tuple[FloatArray, FloatArray, FloatArray]:
    within(0, 1, sand=sand)
    within(0, 0.6, clay=clay)
    within(0, 8, organic_percent=organic_percent)
    within(0, 1, sand_and_clay=floats(sand) + floats(clay))
    return floats(sand), floats(clay), floats(organic_percent)


@formula(
    "share = (water - wilting point) / (field capacity - wilting point), water = field capacity x "
    "(33 kPa / tension) ^ (1 / B), B = ln(1500 / 33) / ln(field capacity / wilting point)",
    result=_PLAIN,
    sources=(Source(_SAXTON, "tension from 33 to 1500 kPa", "read in open scientific code"),),
    example={"tension_kpa": "60", "field_capacity": "0.31", "wilting_point": "0.11"},
    tension_kpa=_PLAIN,
    field_capacity=_PLAIN,
    wilting_point=_PLAIN,
)
def available_share_of_tension(
    tension_kpa: ArrayLike, field_capacity: ArrayLike, wilting_point: ArrayLike
) -> FloatArray:
    """Share of the available water that is left, by a tensiometer's reading [-], 0 to 1.

    Parameters
    ----------
    tension_kpa : of the soil water, 1 centibar being 1 kPa [kPa], 0 and up; up to 33 kPa the soil
        counts as full
    field_capacity, wilting_point : water in the soil by volume [m3/m3], above 0

    Raises ValueError for an input outside its range.
    """
    not_negative(tension_kpa=tension_kpa)
    full, low = floats(field_capacity), floats(wilting_point)
    positive(wilting_point=low, field_capacity_less_wilting_point=full - low)
    power = np.log(full / low) / np.log(_WILTING_KPA / _CAPACITY_KPA)
    water = full * (_CAPACITY_KPA / np.maximum(floats(tension_kpa), _CAPACITY_KPA)) ** power
    return np.asarray(np.clip((water - low) / (full - low), 0.0, 1.0))
