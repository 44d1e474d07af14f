"""The shadows that things cast on level ground, as outlines."""

from __future__ import annotations

import numpy as np

from bedwright.guards import within
from bedwright.light.scene import Cloth, FloatArray, Prism, Screen


def ground_shadow(
    thing: Prism | Screen | Cloth, elevation_deg: float, azimuth_deg: float
) -> tuple[FloatArray, ...]:
    """Outlines (corners, 2) east and north [m] that together make a thing's shadow.

    All run counterclockwise and may overlap: filled as one they are the shadow, exactly.

    Parameters
    ----------
    thing : what casts it
    elevation_deg : of the sun [deg], 1 to 90: lower, shadows reach beyond any garden
    azimuth_deg : of the sun from north over east [deg], -360 to 720

    Raises ValueError for a sun outside these.
    """
    within(1, 90, elevation_deg=elevation_deg)
    within(-360, 720, azimuth_deg=azimuth_deg)
    turn = np.radians(azimuth_deg)
    per_m = -np.array([np.sin(turn), np.cos(turn)]) / np.tan(np.radians(elevation_deg))
    if isinstance(thing, Cloth):
        return (thing.footprint + thing.height_m * per_m,)
    low, high = thing.base_m * per_m, thing.top_m * per_m
    if isinstance(thing, Screen):
        return _swept(thing.start, thing.end, low, high)
    corners = thing.footprint
    walls = [
        part
        for start, end in zip(corners, np.roll(corners, -1, axis=0), strict=True)
        for part in _swept(start, end, low, high)
    ]
    return (corners + low, corners + high, *walls)


def _swept(
    start: FloatArray, end: FloatArray, low: FloatArray, high: FloatArray
) -> tuple[FloatArray, ...]:
    """The ground over which a level edge moves; nothing where it moves along itself."""
    along, move = end - start, high - low
    turn = float(along[0] * move[1] - along[1] * move[0])
    if abs(turn) < 1e-12:
        return ()
    outline = np.stack([start + low, end + low, end + high, start + high])
    return (outline if turn > 0 else outline[::-1],)
