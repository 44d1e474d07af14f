"""Light on the garden's ground, month by month: what stands in its way, and what is left.

Buildings, fences, hedges, trees and shade cloth come from the document; trellises and tall crops
from the rows that a layout has laid. Ground is taken as level.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

from bedwright.garden import Document
from bedwright.garden.ground_plan import Point
from bedwright.garden.model_structure import Structure, stands_on
from bedwright.light.daily import PointLight, light_at
from bedwright.light.scene import Cloth, Prism, Scene, Screen
from bedwright.planning.layout.frame import BedFrame, bed_frame
from bedwright.planning.sunlight import MONTHS, Sunlight, sunlight
from bedwright.reference import Library

FloatArray = NDArray[np.float64]

_HEIGHT_M = 0.05  # of the points above the ground: at the foot of the plants
_ALONG, _ACROSS = 7, 3  # points of a bed along and across it: judgement
_STEP_M = 0.05  # heights of growing crops are told apart so finely
_FAR = 12.0  # times its height that a thing is looked for: the sun stands below 5 degrees then


@dataclass(frozen=True)
class TallRow:
    """A row that casts shade. ``start`` and ``end`` are east and north [m].

    ``tops_m`` are its heights in the middle of each month, January first, 0 where nothing stands;
    ``transmission`` the share of the beam that passes it. Points with its ``tag`` are not shaded
    by it; empty, it shades all.
    """

    start: Point
    end: Point
    tops_m: tuple[float, ...]
    transmission: float
    tag: str = ""


@dataclass(frozen=True, eq=False)
class BedLight:
    """The light on a bed on the mean day of each month, January first.

    ``light_mol_m2_d`` (12,) is the mean over the bed, ``least_mol_m2_d`` (12,) that of its
    darkest point, ``sun_h`` (12,) hours of direct sun on a clear day; ``open_mol_m2_d`` and
    ``open_sun_h`` (12,) those of open ground. ``placed`` is false for a bed whose corner is not
    stated: it is taken to lie open.
    """

    light_mol_m2_d: FloatArray
    least_mol_m2_d: FloatArray
    sun_h: FloatArray
    open_mol_m2_d: FloatArray
    open_sun_h: FloatArray
    placed: bool


def bed_light(
    document: Document, library: Library, sun: Sunlight | None = None
) -> dict[str, BedLight]:
    """The light on every bed by month, of the structures alone, by the bed's name.

    ``sun`` saves working it again. Empty where the document does not state its latitude. Raises
    WeatherError for a weather file that can't be used.
    """
    sun = sun or sunlight(document, library)
    if sun is None:
        return {}
    scenes = month_scenes(document, ())
    beds = document.garden.bed
    frames = [bed_frame(bed) for bed in beds]
    grids = [ground_points(each) for each in frames]
    found = light_on(np.concatenate(grids), scenes, sun)
    starts = np.cumsum([0, *(len(each) for each in grids)])
    open_light, open_hours = found.open_mol_m2_d, found.open_sun_h_d
    light = {}
    for at, (bed, frame) in enumerate(zip(beds, frames, strict=True)):
        those = slice(starts[at], starts[at + 1])
        whole, hours = found.light_mol_m2_d[those], found.sun_h_d[those]
        if not frame.placed:
            whole, hours = open_light[None, :], open_hours[None, :]
        light[bed.id] = BedLight(
            whole.mean(axis=0),
            whole.min(axis=0),
            hours.mean(axis=0),
            open_light,
            open_hours,
            frame.placed,
        )
    return light


def light_on(
    points: FloatArray,
    scenes: Sequence[Scene],
    sun: Sunlight,
    own: Sequence[str] | None = None,
) -> PointLight:
    """The light at points (points, 2) east and north [m] in the scene of each month (12).

    ``own`` is a tag for each point: what bears the same tag does not shade it.
    """
    lifted = np.column_stack([points, np.full(len(points), _HEIGHT_M)])
    return light_at(lifted, scenes, sun.supply, own=own)


def ground_points(frame: BedFrame) -> FloatArray:
    """Points spread over a bed (points, 2), east and north [m]."""
    found = []
    for row in range(_ACROSS):
        across = frame.width_m * (row + 0.5) / _ACROSS
        for start, end in frame.spans(across):
            for at in range(_ALONG):
                along = start + (end - start) * (at + 0.5) / _ALONG
                found.append(frame.ground(along, across))
    return np.array(found)


def month_scenes(
    document: Document, rows: Sequence[TallRow], near: tuple[Point, float] | None = None
) -> list[Scene]:
    """What stands in the light in each month (12); months alike share one scene.

    ``rows`` are those that cast shade. ``near`` is a point and how far from it the ground
    reaches that is asked about [m]: what stands too far off to matter is left out.
    """
    structures = [each for each in document.garden.structure if _reaches(each, near)]
    known: dict[tuple[object, ...], Scene] = {}
    found = []
    for month in range(MONTHS):
        there = tuple(at for at, each in enumerate(structures) if _is_there(each, month))
        tops = tuple(round(each.tops_m[month] / _STEP_M) * _STEP_M for each in rows)
        key = (there, tops)
        if key not in known:
            known[key] = _scene([structures[at] for at in there], rows, tops)
        found.append(known[key])
    return found


def _scene(
    structures: Sequence[Structure], rows: Sequence[TallRow], tops: Sequence[float]
) -> Scene:
    prisms, cloths = [], []
    screens = [
        Screen(np.array(row.start), np.array(row.end), 0.0, top, row.transmission, row.tag)
        for row, top in zip(rows, tops, strict=True)
        if top > 0
    ]
    for each in structures:
        plan = np.array([(x.si, y.si) for x, y in each.outline or each.line or ()])
        if each.line is not None:
            screens += [
                Screen(start, end, each.base.si, each.height.si, each.openness.si)
                for start, end in pairwise(plan)
                if not np.array_equal(start, end)
            ]
        elif each.kind == "shade cloth":
            cloths.append(Cloth(plan, each.height.si, each.openness.si))
        else:
            prisms.append(Prism(plan, each.base.si, each.height.si, each.openness.si))
    return Scene(tuple(prisms), tuple(screens), tuple(cloths))


def _reaches(structure: Structure, near: tuple[Point, float] | None) -> bool:
    if near is None:
        return True
    (east, north), reach = near
    corners = [(x.si, y.si) for x, y in structure.outline or structure.line or ()]
    spread = max(
        abs(a - b) for axis in (0, 1) for a in _axis(corners, axis) for b in _axis(corners, axis)
    )
    closest = min(np.hypot(x - east, y - north) for x, y in corners)
    return bool(closest <= reach + spread + _FAR * structure.height.si)


def _axis(corners: Sequence[Point], axis: int) -> list[float]:
    return [each[axis] for each in corners]


def _is_there(structure: Structure, month: int) -> bool:
    """Whether a structure stands for more than half of a month, 0 to 11."""
    first = date(2027, month + 1, 1)
    days = [first + timedelta(days=at) for at in range(28)]
    there = [stands_on(day, structure.from_day, structure.to_day) for day in days]
    return sum(there) * 2 > len(days)
