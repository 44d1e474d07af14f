"""Temperature of the soil at a depth, from the air's: the yearly wave, and day by day.

Day by day the SWAT model is used: a surface temperature from the air's extremes, the sun and what
covers the ground, and below it a lag and a pull towards the yearly mean that grow with depth.
It is meant for bare or residue-covered ground. Known bias: 1.5 C too cold under a grass sward in
Manhattan, Kansas (10 cm, root of mean square 2.7 C), where the soil is on average 1.2 C warmer
than the air; the model's yearly mean is the air's. A gardener's own readings correct it best.

Mulch is a mass of cover. A raised bed has no published correction here: the range of
``raised_bed_over_ground`` in ``parameters.csv`` is a stated assumption.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from bedwright.guards import not_negative, positive, within
from bedwright.working import Source, formula, step

FloatArray = NDArray[np.float64]
Numbers = float | FloatArray

_PLAIN = ("ratio", "-")
_DEPTH = ("depth", "m")
_SWAT = Source("swat_theory", "soil temperature", "")
_DAYS = 365.0
_SETTLE_DAYS = 20  # a start or gap is forgotten to 1 % (0.8^20) by then: computed
_FIRST_LAYER_M = 0.010  # swat_theory: top layer, whose temperature goes into the surface's
_LAG = 0.8  # swat_theory


@dataclass(frozen=True)
class SwatDamping:
    """Damping depth of the SWAT model with what leads to it."""

    value: float
    most_m: float = step("m")
    water_factor: float = step("-")


@dataclass(frozen=True)
class Ground:
    """What the daily model must know of the ground.

    ``damping_depth_m`` [m] of :func:`damping_depth_swat`; ``cover_kg_ha`` of dry mulch, residue
    or living leaves over it [kg/ha]; ``albedo`` [-] of what the sun sees.
    """

    damping_depth_m: float
    cover_kg_ha: float
    albedo: float

    def __post_init__(self) -> None:
        positive(damping_depth_m=self.damping_depth_m)
        not_negative(cover_kg_ha=self.cover_kg_ha)
        within(0, 1, albedo=self.albedo)


@dataclass(frozen=True)
class AnnualWave:
    """A cosine through a year's days: mean, amplitude and the day on which it is highest."""

    mean_c: float
    amplitude_c: float
    warmest_day: float


@formula(
    "damping depth = sqrt(diffusivity x period / pi)",
    result=_DEPTH,
    sources=(Source("kusuda_1965", "", "conduction into the ground"),),
    example={"diffusivity_m2_d": "0.0175392", "period_d": "365"},
    diffusivity_m2_d=_PLAIN,
    period_d=_PLAIN,
)
def damping_depth(diffusivity_m2_d: Numbers, period_d: Numbers) -> FloatArray:
    """Depth at which a wave of the surface's temperature is down to 37 % [m].

    Parameters
    ----------
    diffusivity_m2_d : of heat in the soil [m2/d], above 0
    period_d : of the wave [d], above 0: 365 for the year, 1 for the day

    Raises ValueError for an input outside its range.
    """
    positive(diffusivity_m2_d=diffusivity_m2_d, period_d=period_d)
    return np.asarray(np.sqrt(diffusivity_m2_d * np.asarray(period_d) / np.pi))


@formula(
    "T = mean - amplitude exp(-depth / damping depth) cos(2 pi (day - coldest day) / 365 - depth "
    "/ damping depth)",
    result=_PLAIN,
    sources=(Source("kusuda_1965", "", ""),),
    example={
        "day_of_year": "200",
        "depth_m": "50 cm",
        "mean_c": "25",
        "amplitude_c": "10",
        "coldest_day": "15",
        "damping_depth_m": "142.75 cm",
    },
    day_of_year=_PLAIN,
    depth_m=_DEPTH,
    mean_c=_PLAIN,
    amplitude_c=_PLAIN,
    coldest_day=_PLAIN,
    damping_depth_m=_DEPTH,
)
def soil_temperature_kusuda_1965(
    day_of_year: Numbers,
    depth_m: Numbers,
    mean_c: Numbers,
    amplitude_c: Numbers,
    coldest_day: Numbers,
    damping_depth_m: Numbers,
) -> FloatArray:
    """Temperature of the soil by a yearly wave that fades and lags with depth [C].

    Parameters
    ----------
    day_of_year : 1 to 366, or days counted on
    depth_m : below the surface [m], 0 and up
    mean_c : of the surface over the year [C]
    amplitude_c : of the surface, half of the yearly swing [K], 0 and up
    coldest_day : of the surface, day of the year
    damping_depth_m : of the yearly wave [m], above 0

    Raises ValueError for an input outside its range.
    """
    not_negative(depth_m=depth_m, amplitude_c=amplitude_c)
    positive(damping_depth_m=damping_depth_m)
    down = np.asarray(depth_m, dtype=np.float64) / damping_depth_m
    turned = 2 * np.pi / _DAYS * (np.asarray(day_of_year, dtype=np.float64) - coldest_day)
    return np.asarray(mean_c - amplitude_c * np.exp(-down) * np.cos(turned - down))


@formula(
    "most = 1 + 2.5 density / (density + 686 exp(-5.63 density)) m; wet = water / ((0.356 - 0.144 "
    "density) depth); damping depth = most x (0.5 m / most) ^ (((1 - wet) / (1 + wet))^2)",
    result=_DEPTH,
    sources=(_SWAT,),
    example={"bulk_density_g_cm3": "1.4", "water_m": "120 mm", "depth_m": "1000 mm"},
    bulk_density_g_cm3=_PLAIN,
    water_m=_DEPTH,
    depth_m=_DEPTH,
)
def damping_depth_swat(bulk_density_g_cm3: float, water_m: float, depth_m: float) -> SwatDamping:
    """Damping depth of the SWAT model from the soil's density and water [m].

    Parameters
    ----------
    bulk_density_g_cm3 : of the profile [g/cm3], 0.3 to 2.2
    water_m : that plants can use, in the profile [m], 0 and up
    depth_m : of the profile [m], above 0

    Raises ValueError for an input outside its range.
    """
    within(0.3, 2.2, bulk_density_g_cm3=bulk_density_g_cm3)
    not_negative(water_m=water_m)
    positive(depth_m=depth_m)
    base, rise, half, steep = 1.0, 2.5, 686.0, -5.63  # m, m, g/cm3, cm3/g: swat_theory
    pores, shrink, least = 0.356, 0.144, 0.5  # -, cm3/g, m: swat_theory
    share = bulk_density_g_cm3 / (bulk_density_g_cm3 + half * np.exp(steep * bulk_density_g_cm3))
    most = base + rise * share
    wet = water_m / ((pores - shrink * bulk_density_g_cm3) * depth_m)
    value = most * np.exp(np.log(least / most) * ((1 - wet) / (1 + wet)) ** 2)
    return SwatDamping(float(value), float(most), float(wet))


@formula(
    "pull = z / (z + exp(-0.867 - 2.078 z)), z = depth / damping depth",
    result=_PLAIN,
    sources=(_SWAT,),
    example={"depth_m": "100 mm", "damping_depth_m": "3021.71 mm"},
    depth_m=_DEPTH,
    damping_depth_m=_DEPTH,
)
def depth_factor_swat(depth_m: Numbers, damping_depth_m: Numbers) -> FloatArray:
    """How far the yearly mean, not the surface, rules at a depth [-], 0 to 1.

    Parameters
    ----------
    depth_m : below the surface [m], 0 and up
    damping_depth_m : of :func:`damping_depth_swat` [m], above 0

    Raises ValueError for an input outside its range.
    """
    not_negative(depth_m=depth_m)
    positive(damping_depth_m=damping_depth_m)
    offset, steep = -0.867, -2.078  # swat_theory
    z = np.asarray(depth_m, dtype=np.float64) / damping_depth_m
    return np.asarray(z / (z + np.exp(offset + steep * z)))


@formula(
    "surface = lag x soil yesterday + (1 - lag) x (mean + (radiation (1 - albedo) - 14) / 20 x "
    "(maximum - minimum) / 2), lag = cover / (cover + exp(7.563 - 0.0001297 cover))",
    result=_PLAIN,
    sources=(_SWAT,),
    example={
        "t_max_c": "38",
        "t_min_c": "18",
        "radiation_mj_m2": "25",
        "soil_before_c": "26",
        "cover_kg_ha": "1000",
        "albedo": "0.2",
    },
    t_max_c=_PLAIN,
    t_min_c=_PLAIN,
    radiation_mj_m2=_PLAIN,
    soil_before_c=_PLAIN,
    cover_kg_ha=_PLAIN,
    albedo=_PLAIN,
)
def surface_temperature_swat(
    t_max_c: Numbers,
    t_min_c: Numbers,
    radiation_mj_m2: Numbers,
    soil_before_c: Numbers,
    cover_kg_ha: Numbers,
    albedo: Numbers,
) -> FloatArray:
    """Temperature of the ground's surface on a day [C].

    Parameters
    ----------
    t_max_c, t_min_c : extremes of the air [C]; NaN stays NaN
    radiation_mj_m2 : of the sun on level ground [MJ/m2/d]; NaN stays NaN
    soil_before_c : of the topmost soil on the day before [C]
    cover_kg_ha : of mulch, residue or leaves, dry [kg/ha], 0 and up
    albedo : of what the sun sees [-], 0 to 1

    Raises ValueError for an input outside its range.
    """
    not_negative(cover_kg_ha=cover_kg_ha)
    within(0, 1, albedo=albedo)
    neutral, span = 14.0, 20.0  # MJ/m2/d, swat_theory
    start, bend = 7.563, -1.297e-4  # swat_theory, cover in kg/ha
    high, low = np.asarray(t_max_c, dtype=np.float64), np.asarray(t_min_c, dtype=np.float64)
    gain = (np.asarray(radiation_mj_m2) * (1 - np.asarray(albedo)) - neutral) / span
    bare = (high + low) / 2 + gain * (high - low) / 2
    cover = np.asarray(cover_kg_ha, dtype=np.float64)
    lag = cover / (cover + np.exp(start + bend * cover))
    return np.asarray(lag * np.asarray(soil_before_c) + (1 - lag) * bare)


def soil_temperature_swat(
    t_max_c: Numbers,
    t_min_c: Numbers,
    radiation_mj_m2: Numbers,
    depth_m: Numbers,
    *,
    ground: Ground,
    annual_mean_c: float,
    start_c: float | None = None,
) -> FloatArray:
    """Daily mean temperature of the soil [C], shape (..., days) for one depth, (depths, ..., days)
    for several.

    Parameters
    ----------
    t_max_c, t_min_c, radiation_mj_m2 : of consecutive days (..., days) [C, C, MJ/m2/d]; on a
        missing day the soil is held, and it and the next 20 days are NaN
    depth_m : one or several, 0.01 to 3 m
    ground : its damping depth, cover and albedo
    annual_mean_c : mean temperature of the air over the years [C]
    start_c : of the soil before the first day [C]; without it the first 20 days are NaN

    Raises ValueError for an input outside its range.
    """
    within(_FIRST_LAYER_M, 3, depth_m=depth_m)
    high, low, sun = np.broadcast_arrays(
        *(np.asarray(each, dtype=np.float64) for each in (t_max_c, t_min_c, radiation_mj_m2))
    )
    depths = np.asarray(depth_m, dtype=np.float64)
    layers = np.concatenate([[_FIRST_LAYER_M], depths.reshape(-1)])
    pull = depth_factor_swat(layers, ground.damping_depth_m).reshape(-1, *[1] * (high.ndim - 1))
    soil = np.full((len(layers), *high.shape[:-1]), annual_mean_c if start_c is None else start_c)
    unsure = np.full(high.shape[:-1], _SETTLE_DAYS if start_c is None else 0)
    result = np.empty((len(layers), *high.shape))
    for day in range(high.shape[-1]):
        surface = surface_temperature_swat(
            high[..., day], low[..., day], sun[..., day], soil[0], ground.cover_kg_ha, ground.albedo
        )
        missing = np.isnan(surface)
        new = _LAG * soil + (1 - _LAG) * (pull * (annual_mean_c - surface) + surface)
        soil = np.where(missing, soil, new)
        unsure = np.where(missing, _SETTLE_DAYS + 1, np.maximum(unsure, 0))
        result[..., day] = np.where(unsure > 0, np.nan, soil)
        unsure = unsure - 1
    below = result[1:]
    return below if depths.ndim else below[0]


def annual_wave(day_of_year: Numbers, values_c: Numbers) -> AnnualWave:
    """The cosine of one year that fits daily values best (least squares); NaN left out.

    Parameters
    ----------
    day_of_year : of each value, 1 to 366
    values_c : [C]; at least a year of them, spread over the seasons

    Raises ValueError where too few values are left.
    """
    values = np.asarray(values_c, dtype=np.float64)
    known = ~np.isnan(values)
    if known.sum() < _DAYS:
        raise ValueError(f"values_c holds {known.sum()} days; a yearly wave wants 365 at least")
    turn = 2 * np.pi / _DAYS * np.asarray(day_of_year, dtype=np.float64)[known]
    columns = np.stack([np.ones_like(turn), np.cos(turn), np.sin(turn)], axis=1)
    (mean, along, across), *_ = np.linalg.lstsq(columns, values[known], rcond=None)
    warmest = np.arctan2(across, along) * _DAYS / (2 * np.pi) % _DAYS
    return AnnualWave(float(mean), float(np.hypot(along, across)), float(warmest))
