"""The sun's beam among things that stand in its way: which share reaches a point, from where.

Exact for the shapes of the scene: each beam is followed in plan, where an upright side is crossed
at one distance, and the heights there decide. Directions are worked in small lots of like height
and bearing, and a thing is left out for the points that it cannot shade from any of them.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from bedwright.guards import within
from bedwright.light.scene import Cloth, FloatArray, Numbers, Prism, Scene, Screen

IntArray = NDArray[np.intp]
BoolArray = NDArray[np.bool_]
Thing = Prism | Screen | Cloth

_LOT = 128  # directions worked at once: small enough for a core's cache
_BANDS = 6  # of the directions' heights, each sorted by bearing
_STEEPEST = 1e-3  # level share of a direction to the zenith: 0.06 degree off, so that it has a plan
_TOUCH_M = 1e-9  # a crossing this near to the point is the point's own side


def sun_directions(elevation_deg: Numbers, azimuth_deg: Numbers) -> FloatArray:
    """Unit vectors (..., 3) east, north and up, toward the sun.

    Parameters
    ----------
    elevation_deg : above the horizon [deg], -90 to 90
    azimuth_deg : from north over east [deg], -360 to 720

    Raises ValueError for an input outside its range.
    """
    within(-90, 90, elevation_deg=elevation_deg)
    within(-360, 720, azimuth_deg=azimuth_deg)
    up, around = np.radians(elevation_deg), np.radians(azimuth_deg)
    level = np.cos(up)
    return np.stack(
        np.broadcast_arrays(level * np.sin(around), level * np.cos(around), np.sin(up)), axis=-1
    ).astype(np.float64)


def beam_transmission(
    points: FloatArray,
    directions: FloatArray,
    scene: Scene,
    *,
    own: Sequence[str] | None = None,
) -> FloatArray:
    """Share of the beam that reaches each point from each direction (points, directions).

    Several things on the way multiply. A thing that carries a point's own tag does not shade it.

    Parameters
    ----------
    points : (points, 3) east, north and height above the ground [m], height 0 or more
    directions : (directions, 3) unit vectors toward the sun, above the horizon
    scene : what stands in the way
    own : a tag for each point; without, all things shade all points

    Raises ValueError for another shape and for a direction that is not above the horizon.
    """
    found = np.empty((len(points), len(directions)))
    for lot, share in transmission_lots(points, directions, scene, own=own):
        found[:, lot] = share
    return found


def transmission_lots(
    points: FloatArray,
    directions: FloatArray,
    scene: Scene,
    *,
    own: Sequence[str] | None = None,
) -> Iterator[tuple[IntArray, FloatArray]]:
    """As :func:`beam_transmission`, in lots: which directions, and (points, lot) for these.

    For sums over directions, without holding them all.
    """
    place, toward = _checked(points, directions)
    tags = np.array([""] * len(place) if own is None else list(own), dtype=str)
    if tags.shape != (len(place),):
        raise ValueError(f"own has {tags.size} tags for {len(place)} points")
    things = [_Seen.of(each, place, tags) for each in _things(scene)]
    for lot in _lots(toward):
        beam = _Beam.of(toward[lot])
        share = np.ones((len(place), lot.size))
        for seen in things:
            rows = seen.within_reach(beam)
            if rows.size:
                share[rows] *= _passed(seen.thing, place[rows], beam)
        yield lot, share


@dataclass(frozen=True)
class _Beam:
    """A lot of directions in plan: level unit vector, rise per meter, length per level meter."""

    east: FloatArray
    north: FloatArray
    rise: FloatArray
    stretch: FloatArray
    middle: float  # bearing [rad]
    half: float  # of the lot's spread of bearings [rad]

    @classmethod
    def of(cls, directions: FloatArray) -> _Beam:
        level = np.hypot(directions[:, 0], directions[:, 1])
        bearing = np.arctan2(directions[:, 0], directions[:, 1])
        spread = (bearing - bearing[0] + np.pi) % (2 * np.pi) - np.pi
        low, high = float(spread.min()), float(spread.max())
        flat = np.maximum(level, _STEEPEST)
        return cls(
            np.sin(bearing),
            np.cos(bearing),
            directions[:, 2] / flat,
            np.hypot(flat, directions[:, 2]) / flat,
            float(bearing[0]) + (low + high) / 2,
            (high - low) / 2,
        )


@dataclass(frozen=True)
class _Seen:
    """A thing as the points see it: how near, how high, in which bearing, how wide."""

    thing: Thing
    near_m: FloatArray
    height_m: FloatArray  # of its top above the point; -inf where it does not shade the point
    bearing: FloatArray
    half: FloatArray

    @classmethod
    def of(cls, thing: Thing, place: FloatArray, tags: NDArray[np.str_]) -> _Seen:
        corners = (
            np.stack([thing.start, thing.end]) if isinstance(thing, Screen) else thing.footprint
        )
        top = thing.height_m if isinstance(thing, Cloth) else thing.top_m
        low, high = corners.min(axis=0), corners.max(axis=0)
        center = (low + high) / 2
        radius = float(np.hypot(*(high - low))) / 2
        beyond = np.maximum(np.maximum(low - place[:, :2], place[:, :2] - high), 0.0)
        off = center - place[:, :2]
        far = np.hypot(off[:, 0], off[:, 1])
        width = np.arcsin(np.minimum(radius / np.maximum(far, radius), 1.0))
        height = top - place[:, 2]
        if thing.tag:
            height = np.where(tags == thing.tag, -np.inf, height)
        return cls(
            thing,
            np.hypot(beyond[:, 0], beyond[:, 1]),
            height,
            np.arctan2(off[:, 0], off[:, 1]),
            np.where(far <= radius, np.pi, width),
        )

    def within_reach(self, beam: _Beam) -> IntArray:
        """The points that the thing may shade from some direction of the lot."""
        reached = self.near_m * float(beam.rise.min()) <= self.height_m
        turned = np.abs((self.bearing - beam.middle + np.pi) % (2 * np.pi) - np.pi)
        return np.flatnonzero(reached & (turned <= self.half + beam.half + _TOUCH_M))


def _checked(points: FloatArray, directions: FloatArray) -> tuple[FloatArray, FloatArray]:
    place = np.asarray(points, dtype=np.float64)
    toward = np.asarray(directions, dtype=np.float64)
    for name, each in (("points", place), ("directions", toward)):
        if each.ndim != 2 or each.shape[1] != 3 or not np.isfinite(each).all():
            raise ValueError(f"{name} has shape {each.shape}; it must be (any, 3), all numbers")
    if (place[:, 2] < 0).any():
        raise ValueError("points lie below the ground; heights must be 0 or more")
    if (toward[:, 2] <= 0).any():
        raise ValueError("directions are not all above the horizon; leave out the night")
    if (np.abs(np.linalg.norm(toward, axis=1) - 1) > 1e-6).any():
        raise ValueError("directions are not unit vectors; take sun_directions")
    return place, toward


def _things(scene: Scene) -> tuple[Thing, ...]:
    return (*scene.screens, *scene.prisms, *scene.cloths)


def _lots(directions: FloatArray) -> Iterator[IntArray]:
    """Directions by height in bands, and within each by bearing, in lots."""
    if not len(directions):
        return
    order = np.argsort(directions[:, 2], kind="stable")
    bearing = np.arctan2(directions[:, 0], directions[:, 1]) % (2 * np.pi)
    bands = min(_BANDS, max(1, len(order) // _LOT))
    for band in np.array_split(order, bands):
        turned = band[np.argsort(bearing[band], kind="stable")]
        yield from np.array_split(turned, max(1, -(-turned.size // _LOT)))


def _passed(thing: Thing, place: FloatArray, beam: _Beam) -> FloatArray:
    if isinstance(thing, Screen):
        return np.where(_screen_hit(thing, place, beam), thing.transmission, 1.0)
    if isinstance(thing, Cloth):
        return np.where(_cloth_hit(thing, place, beam), thing.transmission, 1.0)
    way = _way_through(thing, place, beam)
    share = np.where(way > _TOUCH_M, thing.transmission, 1.0)
    if thing.extinction_per_m:
        share *= np.exp(-thing.extinction_per_m * way * beam.stretch)
    return share


def _screen_hit(screen: Screen, place: FloatArray, beam: _Beam) -> BoolArray:
    """Where p + r h = start + w (end - start): r is the way in plan, w the place on the screen."""
    along = screen.end - screen.start
    over = _inverse(beam.east * along[1] - beam.north * along[0])
    off = screen.start - place[:, :2]
    w = off[:, :1] * (beam.north * over) - off[:, 1:] * (beam.east * over)
    reach = off[:, 0] * along[1] - off[:, 1] * along[0]
    height = reach[:, None] * (beam.rise * over)
    hit = (w >= 0) & (w < 1) & (height <= screen.top_m - place[:, 2:])
    # ahead of the point, and not through it: r > 0 as a height, since that is what was worked
    hit &= height >= np.maximum(screen.base_m - place[:, 2:], 0.0)
    hit &= height > _TOUCH_M * beam.rise
    return np.asarray(hit)


def _way_through(prism: Prism, place: FloatArray, beam: _Beam) -> FloatArray:
    """Length in plan of the beam's way within the solid [m]."""
    over = 1 / beam.rise
    first = np.maximum(prism.base_m - place[:, 2:], 0.0) * over
    last = np.maximum(prism.top_m - place[:, 2:], 0.0) * over
    way = np.zeros(first.shape)
    for crossed, reach, sign in _crossings(prism.footprint, place, beam):
        way += crossed * (sign * np.clip(reach, first, last))
    return way


def _cloth_hit(cloth: Cloth, place: FloatArray, beam: _Beam) -> BoolArray:
    """Whether the beam is over the cloth's ground where it is as high as the cloth."""
    there = (cloth.height_m - place[:, 2:]) / beam.rise
    ahead = np.zeros(there.shape)
    for crossed, reach, sign in _crossings(cloth.footprint, place, beam):
        ahead += (crossed & (reach > there)) * sign
    return np.asarray((ahead > 0.5) & (there > 0))


def _crossings(
    outline: FloatArray, place: FloatArray, beam: _Beam
) -> Iterator[tuple[BoolArray, FloatArray, FloatArray]]:
    """For each side: whether the beam's whole line crosses it, at which r, out (1) or in (-1)."""
    sides = [
        (y - place[:, 1:2]) * beam.east - (x - place[:, :1]) * beam.north > 0 for x, y in outline
    ]
    for at, (x, y) in enumerate(outline):
        to = (at + 1) % len(outline)
        along = outline[to] - outline[at]
        outward = beam.east * along[1] - beam.north * along[0]
        reach = (x - place[:, 0]) * along[1] - (y - place[:, 1]) * along[0]
        yield sides[at] != sides[to], reach[:, None] * _inverse(outward), np.sign(outward)


def _inverse(values: FloatArray) -> FloatArray:
    """1 / values, 0 where the beam runs along the side and so does not cross it."""
    return np.divide(1.0, values, out=np.zeros_like(values), where=np.abs(values) > 1e-12)
