"""What the tables say of a crop's water, and a season's days made from it for the balance."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike

from bedwright.guards import not_negative, positive
from bedwright.reference import Row
from bedwright.water.arrays import FloatArray, floats
from bedwright.water.beds import BedDays
from bedwright.water.coefficients import Stages, cover_share, most_coefficient
from bedwright.water.root_zone import BedLayers
from bedwright.working import Source

_BLOCK = 16_384  # numbers that fit a core's nearer cache: judgement, measured
_STAGES = ("stage_initial", "stage_development", "stage_middle", "stage_late")
_START_ROOTS_M, _START_HEIGHT_M = 0.2, 0.05  # fao_56 annex 8 (roots); judgement (height)


@dataclass(frozen=True)
class CropWater:
    """A crop's coefficients and roots, as the tables have them: for 45 % least humidity, 2 m/s.

    ``root_depth_m`` is the lesser (for scheduling) and the greater; ``stage_shares`` are the
    shares of the season gone when the initial, development and middle stages end, None where the
    table has no lengths; ``yield_response`` Ky or None; ``sources`` of every row taken.
    """

    kc: tuple[float, float, float]
    kcb: tuple[float, float, float]
    height_m: float
    root_depth_m: tuple[float, float]
    depletion_share: float
    yield_response: float | None
    stage_shares: tuple[float, float, float] | None
    sources: tuple[Source, ...]


def crop_water(rows: Iterable[Row], crop: str, condition: str = "") -> CropWater:
    """A crop's rows of ``crop_water.csv``; those of a condition (``trellised``) come before others.

    Parameters
    ----------
    rows : of the table
    crop : its key
    condition : how it is grown, or empty

    Raises LookupError for a crop of which the table does not say enough.
    """
    found: dict[str, Row] = {}
    for row in rows:
        if row["crop"] == crop and row.used and row["condition"] in ("", condition):
            key = row["property"]
            if key not in found or row["condition"] == condition:
                found[key] = row
    names = [f"{kind}_{stage}" for kind in ("kc", "kcb") for stage in ("initial", "middle", "end")]
    names += ["height", "root_depth", "depletion_share"]
    lacking = [name for name in names if name not in found]
    if lacking:
        raise LookupError(f"crop_water.csv has no {', '.join(lacking)} of {crop!r}")
    values = {name: row.typical() for name, row in found.items()}
    roots = found["root_depth"]
    lesser, greater = (roots.number(end) or roots.typical() for end in ("low", "high"))
    shares = None
    if all(name in values for name in _STAGES):
        gone = np.cumsum([values[name] for name in _STAGES])
        shares = (float(gone[0] / gone[3]), float(gone[1] / gone[3]), float(gone[2] / gone[3]))
    return CropWater(
        kc=(values["kc_initial"], values["kc_middle"], values["kc_end"]),
        kcb=(values["kcb_initial"], values["kcb_middle"], values["kcb_end"]),
        height_m=values["height"],
        root_depth_m=(lesser, greater),
        depletion_share=values["depletion_share"],
        yield_response=values.get("yield_response"),
        stage_shares=shares,
        sources=tuple(dict.fromkeys(row.source for row in found.values())),
    )


@dataclass(frozen=True, eq=False)
class Plants:
    """What stands on each bed; single numbers or (beds,).

    ``kcb`` at the start, in the middle and at the end, adjusted to climate and cover [-];
    ``height_m`` and ``root_depth_m`` at the start and full grown [m]; ``least_kcb`` of bare dry
    soil [-]; ``ceiling_base`` of Kc max [-]: 1.2, 1.1 where wetted nearly every day, more for a
    small plot in dry surroundings.
    """

    kcb: tuple[ArrayLike, ArrayLike, ArrayLike]
    height_m: tuple[ArrayLike, ArrayLike]
    root_depth_m: tuple[ArrayLike, ArrayLike]
    least_kcb: ArrayLike = 0.15
    ceiling_base: ArrayLike = 1.2

    def __post_init__(self) -> None:
        not_negative(kcb=min(float(np.min(each)) for each in self.kcb))
        for name in ("height_m", "root_depth_m"):
            start, full = (floats(each) for each in getattr(self, name))
            positive(**{f"{name}_at_the_start": start})
            not_negative(**{f"{name}_full_less_start": full - start})


def plants_of(crop: CropWater, kcb_middle: ArrayLike, kcb_end: ArrayLike) -> Plants:
    """Plants of one crop, with coefficients that are adjusted to climate and cover.

    Parameters
    ----------
    crop : of :func:`crop_water`
    kcb_middle, kcb_end : adjusted [-]

    Roots start at 0.2 m and reach the lesser depth of the table; height starts at 0.05 m.
    """
    roots = crop.root_depth_m[0]
    return Plants(
        (crop.kcb[0], kcb_middle, kcb_end),
        (min(_START_HEIGHT_M, crop.height_m), crop.height_m),
        (min(_START_ROOTS_M, roots), roots),
        least_kcb=crop.kcb[0],
    )


@dataclass(frozen=True, eq=False)
class SeasonWeather:
    """Weather of the season's days, (days, beds) or (days, 1): ``et0_m``, ``rain_m`` [m],
    ``wind_m_s`` at 2 m and ``humidity_min_percent``; one number where only a mean is known.
    """

    et0_m: FloatArray
    rain_m: FloatArray
    wind_m_s: ArrayLike
    humidity_min_percent: ArrayLike


def crop_days(
    day_numbers: ArrayLike,
    stages: Stages,
    plants: Plants,
    layers: BedLayers,
    weather: SeasonWeather,
    *,
    salt_stress: FloatArray | None = None,
    dryness_below: ArrayLike = 0.0,
    wetted_share: FloatArray | None = None,
) -> BedDays:
    """The days of a balance: coefficients, cover, roots and what they hold (FAO-56 chapters 7, 8).

    Parameters
    ----------
    day_numbers : of the season, as the stages count them, (days,)
    stages, plants, layers : of the beds
    weather : of the days
    salt_stress : Ks by salt [-], (days or 1, beds or 1), None without
    dryness_below : share of its water that soil lacks which roots have not reached [-], 0 to 1
    wetted_share : of the ground, where it differs from day to day [-], (days, beds or 1)

    Height and roots grow with Kcb and never shrink (annex 8).
    """
    numbers = floats(day_numbers)
    beds = np.broadcast_shapes(
        *(np.shape(each) for each in (*plants.kcb, *plants.height_m, *plants.root_depth_m)),
        *(np.shape(each) for each in vars(stages).values()),
        *(np.shape(each) for each in vars(layers).values()),
        np.shape(weather.wind_m_s)[1:],
        np.shape(weather.humidity_min_percent)[1:],
        (1,),
    )
    basal, ceiling, cover, roots = np.empty((4, len(numbers), *beds))
    step = max(1, _BLOCK // beds[0])
    for first in range(0, len(numbers), step):
        part = slice(first, first + step)
        risen, fallen = stages.ramps(numbers[part])
        height = _between(plants.height_m, risen)
        basal[part] = (
            _between(plants.kcb[:2], risen)
            + (floats(plants.kcb[2]) - floats(plants.kcb[1])) * fallen
        )
        roots[part] = layers.roots_m(_between(plants.root_depth_m, risen))
        ceiling[part] = most_coefficient(
            basal[part],
            _of_days(weather.wind_m_s, part),
            _of_days(weather.humidity_min_percent, part),
            height,
            plants.ceiling_base,
        )
        cover[part] = cover_share(basal[part], ceiling[part], plants.least_kcb, height)
    dry = bool(np.any(floats(dryness_below) > 0))
    growth = layers.growth_m(roots, dryness_below) if dry else None
    for first in range(0, len(numbers), step):
        part = slice(first, first + step)
        roots[part] = layers.available_m(roots[part])
    return BedDays(
        et0_m=weather.et0_m,
        rain_m=weather.rain_m,
        basal=basal,
        ceiling=ceiling,
        cover=cover,
        available_m=roots,
        salt_stress=salt_stress,
        growth_m=growth,
        wetted_share=wetted_share,
    )


def _between(ends: tuple[ArrayLike, ...], way: FloatArray) -> FloatArray:
    """From the first value to the second, by the share of the way gone."""
    start, full = floats(ends[0]), floats(ends[1])
    return np.asarray(start + (full - start) * way)


def _of_days(values: ArrayLike, part: slice) -> FloatArray:
    """The part's rows of a series of days; one number serves all."""
    array = floats(values)
    return array[part] if array.ndim and len(array) > 1 else array
