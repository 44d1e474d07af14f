"""What the layout of a bed says: rows, counts, trellis, drip, paths, light, and why."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

from bedwright.planning.findings import Finding
from bedwright.planning.layout.drip import Drip
from bedwright.planning.layout.pairs import Pair
from bedwright.planning.layout.plantings import Planting
from bedwright.planning.layout.rows import PlantRow
from bedwright.planning.layout.seeds import CropCount
from bedwright.planning.layout.sides import Choice
from bedwright.planning.layout.stays import CropDays, crop_days
from bedwright.planning.layout.surroundings import Path
from bedwright.planning.layout.trellis import TrellisParts

FloatArray = NDArray[np.float64]


@dataclass(frozen=True, eq=False)
class RowLight:
    """The light along one row. ``stations_m`` (stations,) are along the bed [m]; light
    [mol/m2/d] and hours of direct sun are (stations, 12), January first."""

    stations_m: tuple[float, ...]
    light_mol_m2_d: FloatArray
    sun_h: FloatArray


@dataclass(frozen=True, eq=False)
class RowLights:
    """The light on all rows of a bed in their order, beside that of open ground (12,).

    ``month`` (0 to 11) is the one that is shown: that in which the low rows have the least of
    their open light. ``months`` are those in which the bed's crops stand.
    """

    rows: tuple[RowLight, ...]
    open_mol_m2_d: FloatArray
    open_sun_h: FloatArray
    month: int
    months: tuple[int, ...]


@dataclass(frozen=True, eq=False)
class BedLayout:
    """How one planting of a bed is laid.

    ``side`` is None where no row stands over others, ``lights`` where the latitude is not stated,
    ``pair`` where the bed bears one crop. ``grid`` is the count on a triangular grid of the
    crop's ``grid_spacing``, for a crop that stands alone and low.
    """

    planting: Planting
    rows: tuple[PlantRow, ...]
    counts: tuple[CropCount, ...]
    trellises: tuple[TrellisParts, ...]
    side: Choice | None
    pair: Pair | None
    lights: RowLights | None
    drip: Drip
    paths: tuple[Path, ...]
    grid: int | None
    findings: tuple[Finding, ...]

    @property
    def companion_days(self) -> CropDays | None:
        """The days of the companion that is laid; None without one, or where none are known."""
        planting = self.planting
        companion, stay = planting.companion, planting.companion_stay
        if companion is None or stay is None or companion.key not in {e.crop for e in self.rows}:
            return None
        return crop_days(companion, stay)

    @property
    def least_apart_m(self) -> float | None:
        """How near the nearest two rows stand [m]; None for a single row."""
        places = sorted(each.offset_m for each in self.rows)
        return min((b - a for a, b in pairwise(places)), default=None)
