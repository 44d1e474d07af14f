"""On which side the tall rows of a bed stand: by the light that they leave to the low ones."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from bedwright.garden import Document
from bedwright.light.needs import LightNeed
from bedwright.planning.layout.arrange import Arrangement
from bedwright.planning.layout.frame import BedFrame
from bedwright.planning.layout.rows import PlantRow
from bedwright.planning.light_map import TallRow, ground_points, light_on, month_scenes
from bedwright.planning.sunlight import Sunlight

FloatArray = NDArray[np.float64]

_STATIONS = 9  # points along a row
_FACING = 0.34  # cosine from which a side faces a quarter of the sky: 70 degrees, judgement
_ALIKE = 0.015  # share by which ground light must differ to count: judgement
_ALIKE_FED = 0.05  # the same for low rows that have all they ask for on either side: judgement


@dataclass(frozen=True, eq=False)
class Beside:
    """A bed beside, whose crop the tall rows must leave its light. ``need`` None: not known."""

    bed: str
    frame: BedFrame
    months: tuple[int, ...]
    need: LightNeed | None


@dataclass(frozen=True, eq=False)
class Asked:
    """What the choice of a side goes by.

    ``tops_m`` are the tall rows' heights by month; ``months`` those in which tall and low stand
    together, or in which the tall stands alone; ``need`` that of the low crop, None where there
    is none or it is not known. ``relief`` are the months in which the low crop wants afternoon
    shade. ``others`` are the tall rows of beds beside.
    """

    document: Document
    sun: Sunlight
    frame: BedFrame
    tops_m: tuple[float, ...]
    months: tuple[int, ...]
    need: LightNeed | None
    relief: tuple[int, ...]
    transmission: float
    others: tuple[TallRow, ...]
    beside: tuple[Beside, ...]
    alike_mol: float


@dataclass(frozen=True, eq=False)
class Judged:
    """One arrangement with the light it leaves, means over the months [mol/m2/d].

    ``low_mol`` on the low rows (NaN where there are none), ``short_mol`` how far they fall below
    their need, ``beside_short_mol`` the same of the beds beside, ``ground_mol`` the light on the
    ground of the bed and of those beside.
    """

    arrangement: Arrangement
    low_mol: float
    short_mol: float
    beside_short_mol: float
    ground_mol: float


@dataclass(frozen=True, eq=False)
class Choice:
    """The arrangement taken and why: ``only``, ``need``, ``beside``, ``relief``, ``light`` or
    ``alike``; ``judged`` are all that were compared, the taken one first."""

    taken: Judged
    why: str
    judged: tuple[Judged, ...]


def choose(ways: Sequence[Arrangement], asked: Asked) -> Choice:
    """The side that leaves the low rows and the beds beside the light they need.

    First the light that crops ask for; then, where the low crop suffers from heat, shade in the
    afternoon; then the most light on the ground. Where sides are alike a crop alone stands in
    the middle, and tall rows beside low ones stand to the north or east.
    """
    judged = [_judged(each, asked) for each in ways]
    if len(judged) == 1:
        return Choice(judged[0], "only", tuple(judged))

    def taken(one: Judged, why: str) -> Choice:
        return Choice(one, why, (one, *(each for each in judged if each is not one)))

    least = min(each.short_mol + each.beside_short_mol for each in judged)
    kept = [
        each for each in judged if each.short_mol + each.beside_short_mol <= least + asked.alike_mol
    ]
    if asked.relief:
        west = max(kept, key=lambda each: _toward(each, asked, math.radians(270)))
        if _toward(west, asked, math.radians(270)) > _FACING:
            return taken(west, "relief")
    best = max(kept, key=_light)
    fed = not math.isnan(best.low_mol) and asked.need is not None and best.short_mol == 0
    far = _ALIKE_FED if fed else _ALIKE
    alike = [each for each in kept if _light(each) >= _light(best) * (1 - far)]
    if len(alike) > 1:
        return taken(_by_custom(alike, asked), "alike")
    if len(kept) < len(judged) and len(kept) == 1:
        own = [each.short_mol for each in judged]
        return taken(best, "need" if max(own) - best.short_mol > asked.alike_mol else "beside")
    return taken(best, "light")


def _light(each: Judged) -> float:
    return each.ground_mol if math.isnan(each.low_mol) else each.low_mol


def _by_custom(alike: Sequence[Judged], asked: Asked) -> Judged:
    if math.isnan(alike[0].low_mol):
        middle = next((each for each in alike if each.arrangement.position == "middle"), None)
        if middle is not None:
            return middle
    # toward the pole first, then east: tall crops to the north or east, as is the custom
    pole = 0.0 if asked.sun.latitude_deg >= 0 else math.pi
    return max(
        alike,
        key=lambda each: (
            round(max(_toward(each, asked, pole), 0.0), 1),
            round(_toward(each, asked, math.pi / 2), 6),
        ),
    )


def _toward(each: Judged, asked: Asked, bearing_rad: float) -> float:
    """How much the side of the tall rows faces a bearing, -1 to 1; 0 in the middle."""
    position = each.arrangement.position
    if position not in ("left", "right"):
        return 0.0
    side = asked.frame.bearing_across(left=position == "left")
    return math.cos(side - bearing_rad)


def tall_rows(
    frame: BedFrame, rows: Sequence[PlantRow], tops_m: tuple[float, ...], transmission: float
) -> tuple[TallRow, ...]:
    """The tall rows of a bed as they stand in the light, each with its offset as a tag."""
    return tuple(
        TallRow(
            frame.ground(start, row.offset_m),
            frame.ground(end, row.offset_m),
            tops_m,
            transmission,
            row_tag(row),
        )
        for row in rows
        if row.tall
        for start, end in row.spans
    )


def row_tag(row: PlantRow) -> str:
    """What tells a row's own leaves from those of others."""
    return f"row {row.offset_m:.4f}"


def stations(row: PlantRow, count: int = _STATIONS) -> tuple[float, ...]:
    """Points spread evenly along a row, over all its spans [m]."""
    whole = row.length_m
    found = []
    for at in range(count):
        rest = whole * (at + 0.5) / count
        for start, end in row.spans:
            if rest <= end - start:
                found.append(start + rest)
                break
            rest -= end - start
    return tuple(found)


def row_points(frame: BedFrame, row: PlantRow) -> FloatArray:
    """The places of a row's stations (stations, 2), east and north [m]."""
    return np.array([frame.ground(each, row.offset_m) for each in stations(row)])


def _judged(way: Arrangement, asked: Asked) -> Judged:
    frame, months = asked.frame, list(asked.months)
    shading = tall_rows(frame, way.rows, asked.tops_m, asked.transmission)
    middle = frame.ground(frame.length_m / 2, frame.width_m / 2)
    reach = frame.length_m + 2 * frame.width_m
    scenes = month_scenes(asked.document, (*asked.others, *shading), (middle, reach))
    low = [row for row in way.rows if not row.tall]
    parts = [row_points(frame, row) for row in low] + [ground_points(frame)]
    parts += [ground_points(each.frame) for each in asked.beside]
    ends = np.cumsum([0, *(len(each) for each in parts)])
    light = light_on(np.concatenate(parts), scenes, asked.sun).light_mol_m2_d

    def of(at: int, those: Sequence[int]) -> FloatArray:
        return np.asarray(light[ends[at] : ends[at + 1]][:, list(those)].mean(axis=0))

    rows = np.array([of(at, months) for at in range(len(low))])
    short = 0.0
    if asked.need is not None and low:
        short = float(np.maximum(asked.need.wanted_mol_m2 - rows, 0.0).mean())
    beside = []
    for at, each in enumerate(asked.beside, len(low) + 1):
        together = [month for month in each.months if asked.tops_m[month] > 0]
        if each.need is not None and together:
            lack = np.maximum(each.need.wanted_mol_m2 - of(at, together), 0.0)
            beside.append(float(lack.mean()))
    ground = light[ends[len(low)] :][:, months]
    return Judged(
        way,
        float(rows.mean()) if low else math.nan,
        short,
        sum(beside),
        float(ground.mean()),
    )
