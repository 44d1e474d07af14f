"""What stands in the light: solids, upright screens, cloths. Meters east, north and up.

A porous thing lets the same share through at each crossing, whatever the angle: a stated
simplification that holds for meshes and slats seen squarely. Foliage is better told as a solid
with ``extinction_per_m``, which takes light by the length of the way through it.
"""

from __future__ import annotations

from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

from bedwright.guards import not_negative, positive, within
from bedwright.working import Source, formula

FloatArray = NDArray[np.float64]
Numbers = float | FloatArray


@dataclass(frozen=True, eq=False)
class Prism:
    """A solid with upright sides: a building, a tree's crown, a tall crop.

    Parameters
    ----------
    footprint : (corners, 2) outline in plan, east and north [m], either way round, not crossing
        itself
    base_m, top_m : heights of underside and top above the ground [m], base 0 or more
    transmission : share of the beam that passes a crossing, 0 to 1
    extinction_per_m : further loss along the way, exp(-extinction x way) [1/m], 0 or more; for
        foliage give ``transmission`` 1 and extinction coefficient times leaf area density
    tag : points with the same tag are not shaded by it; empty, it shades all

    Raises ValueError for another shape or range.
    """

    footprint: FloatArray
    base_m: float
    top_m: float
    transmission: float = 0.0
    extinction_per_m: float = 0.0
    tag: str = ""

    def __post_init__(self) -> None:
        object.__setattr__(self, "footprint", _outline(self.footprint))
        _heights(self.base_m, self.top_m)
        within(0, 1, transmission=self.transmission)
        not_negative(extinction_per_m=self.extinction_per_m)


@dataclass(frozen=True, eq=False)
class Screen:
    """A thin upright thing on a straight line: a trellis, a fence, a run of hedge.

    Parameters
    ----------
    start, end : (2,) its ends in plan, east and north [m], apart
    base_m, top_m : heights of its lower and upper edge [m], base 0 or more
    transmission : share of the beam that passes, 0 to 1
    tag : points with the same tag are not shaded by it; empty, it shades all

    Raises ValueError for another shape or range.
    """

    start: FloatArray
    end: FloatArray
    base_m: float
    top_m: float
    transmission: float = 0.0
    tag: str = ""

    def __post_init__(self) -> None:
        for name in ("start", "end"):
            point = np.asarray(getattr(self, name), dtype=np.float64)
            if point.shape != (2,) or not np.isfinite(point).all():
                raise ValueError(f"{name} is {getattr(self, name)}; it must be east and north [m]")
            object.__setattr__(self, name, point)
        positive(length_m=float(np.hypot(*(self.end - self.start))))
        _heights(self.base_m, self.top_m)
        within(0, 1, transmission=self.transmission)


@dataclass(frozen=True, eq=False)
class Cloth:
    """A level cloth or net over the ground.

    Parameters
    ----------
    footprint : (corners, 2) outline in plan, east and north [m], not crossing itself
    height_m : above the ground [m], more than 0
    transmission : share of the beam that passes, 0 to 1
    tag : points with the same tag are not shaded by it; empty, it shades all

    Raises ValueError for another shape or range.
    """

    footprint: FloatArray
    height_m: float
    transmission: float
    tag: str = ""

    def __post_init__(self) -> None:
        object.__setattr__(self, "footprint", _outline(self.footprint))
        positive(height_m=self.height_m)
        within(0, 1, transmission=self.transmission)


@dataclass(frozen=True, eq=False)
class Scene:
    """Everything that stands in the light at one time of the year, on level ground."""

    prisms: tuple[Prism, ...] = field(default=())
    screens: tuple[Screen, ...] = field(default=())
    cloths: tuple[Cloth, ...] = field(default=())


@formula(
    "share that passes = exp(-extinction x leaf area density x length of the way)",
    result=("ratio", "-"),
    sources=(
        Source("monsi_saeki_1953", "light in a canopy", "Beer's law as used for leaves"),
        Source("oyarzun_2011", "", "gaps between plants let more light through than this says"),
    ),
    example={"extinction": "0.7", "leaf_area_density_per_m": "4", "way_m": "30 cm"},
    extinction=("ratio", "-"),
    leaf_area_density_per_m=("ratio", "-"),
    way_m=("length", "m"),
)
def foliage_transmission(
    extinction: Numbers, leaf_area_density_per_m: Numbers, way_m: Numbers
) -> FloatArray:
    """Share of the beam that passes a wall of leaves without gaps [-].

    Parameters
    ----------
    extinction : of light by leaf area [-], 0 to 1.5; vegetables 0.5 to 0.9
    leaf_area_density_per_m : leaf area in a volume [m2/m3], 0 and up
    way_m : length of the light's way through the leaves [m], 0 and up

    Raises ValueError for an input outside its range.
    """
    within(0, 1.5, extinction=extinction)
    not_negative(leaf_area_density_per_m=leaf_area_density_per_m, way_m=way_m)
    return np.asarray(np.exp(-np.asarray(extinction) * leaf_area_density_per_m * np.asarray(way_m)))


def _outline(corners: FloatArray) -> FloatArray:
    """An outline, its corners counterclockwise seen from above."""
    outline = np.asarray(corners, dtype=np.float64)
    if outline.ndim != 2 or outline.shape[1] != 2 or len(outline) < 3:
        raise ValueError(f"footprint has shape {outline.shape}; it must be (3 or more, 2)")
    if not np.isfinite(outline).all():
        raise ValueError("footprint holds a corner that is not a number")
    x, y = outline.T
    area = float(np.sum(x * np.roll(y, -1) - y * np.roll(x, -1))) / 2
    positive(area_m2=abs(area))
    return outline if area > 0 else outline[::-1].copy()


def _heights(base_m: float, top_m: float) -> None:
    not_negative(base_m=base_m)
    if not base_m < top_m < np.inf:
        raise ValueError(f"top_m is {top_m:g}; it must be above base_m, {base_m:g}")
