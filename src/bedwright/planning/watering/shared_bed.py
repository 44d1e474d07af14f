"""A second crop on a bed: both crops' use of water in one, while both stand and while one does."""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import date

import numpy as np

from bedwright.climate.record import FloatArray
from bedwright.planning.findings import Finding, finding
from bedwright.planning.layout.plantings import Planting
from bedwright.reference import Library
from bedwright.water.beds import BedDays
from bedwright.water.coefficients import Stages, shared_bed_coefficient, stage_coefficient
from bedwright.water.crop_water import CropWater, crop_water

_START_HEIGHT_M = 0.05  # judgement, as for every crop
_USUAL_SHARES = (0.2, 0.5, 0.8)  # of a season without tabled stages: judgement
_BARE_CEILING = 1.2  # fao_56 equation 72: of ground without a crop


@dataclass(frozen=True, eq=False)
class Companion:
    """A crop that stands between another's rows, from the same day on for ``days``.

    ``share`` is the first crop's of the ground while both stand [-].
    """

    crop: str
    name: str
    days: int
    stages: Stages
    water: CropWater
    share: float


def companion_of(
    planting: Planting | None, start: date, library: Library
) -> tuple[Companion | None, tuple[Finding, ...]]:
    """The second crop of a planting with what was taken for it, None without one.

    Parameters
    ----------
    planting : as the layout knows it, None where it lays none
    start : of the first crop's season
    library : the tables

    One without coefficients or dates is left out, with a finding.
    """
    if planting is None or planting.companion is None:
        return None, ()
    second, stay = planting.companion, planting.companion_stay
    bed, crop = planting.bed.id, second.name.lower()
    left_out = (finding("water_companion_left_out", "doubt", bed=bed, crop=crop),)
    if stay is None or stay.end is None or stay.end <= start:
        return None, left_out
    try:
        water = crop_water(library.rows("crop_water"), second.key)
    except LookupError:
        return None, left_out
    days = (stay.end - start).days + 1
    first, full, turn = water.stage_shares or _USUAL_SHARES
    share = library.parameter("companion_ground_share", "-")
    said = finding("water_companion_shares", "assumed", bed=bed, crop=crop,
                   share=share.named("share"), sources=share.sources)  # fmt: skip
    stages = Stages(first * days, full * days, turn * days, float(days))
    return Companion(second.key, second.name, days, stages, water, share.value), (said,)


@dataclass(frozen=True, eq=False)
class CropDays:
    """One crop's days of a balance as if it stood alone, with its height [m], (days,)."""

    days: BedDays
    height_m: FloatArray
    stands: int


def height_by_day(stages: Stages, water: CropWater, days: int) -> FloatArray:
    """A crop's height [m], (days,): it grows with its coefficient and never shrinks (annex 8)."""
    start = min(_START_HEIGHT_M, water.height_m)
    grown = stage_coefficient(np.arange(days), stages, start, water.height_m, water.height_m)
    return np.asarray(grown[:, 0])


def shared_days(first: CropDays, second: CropDays, share: float) -> BedDays:
    """The days of a bed that two crops share, all of the first one's season or longer.

    Parameters
    ----------
    first, second : each alone, over the same days
    share : the first one's of the ground while both stand [-]

    While both stand the coefficient is that of FAO-56 equation 104, cover is by their shares of
    the ground, and the ceiling the higher one; then the one that is left has all of it. Roots
    reach as deep as the deeper of both.
    """
    number = np.arange(len(first.height_m))
    one, two = (number < each.stands for each in (first, second))
    ground = np.where(one, np.where(two, share, 1.0), 0.0)[:, None]
    basal = shared_bed_coefficient(
        ground, first.height_m[:, None], first.days.basal, second.height_m[:, None],
        second.days.basal,
    )  # fmt: skip
    none = ~(one | two)[:, None]
    ceiling = np.maximum(np.where(one[:, None], first.days.ceiling, 0.0),
                         np.where(two[:, None], second.days.ceiling, 0.0))  # fmt: skip
    cover = ground * first.days.cover + np.where(two[:, None], 1 - ground, 0.0) * second.days.cover
    held = np.maximum(first.days.available_m, second.days.available_m)
    return replace(
        first.days,
        basal=np.where(none, 0.0, basal),
        ceiling=np.where(none, _BARE_CEILING, np.maximum(ceiling, basal + 0.05)),
        cover=np.where(none, 0.0, cover),
        available_m=np.maximum.accumulate(held, axis=0),
    )
