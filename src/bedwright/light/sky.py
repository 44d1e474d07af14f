"""Which share of the light from an even sky reaches a point on level ground."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from bedwright.light.scene import FloatArray, Scene
from bedwright.light.shade import transmission_lots

_DIRECTIONS, _STRIDE = 1597, 987  # neighbors in the Fibonacci series: an even lattice


def sky_directions() -> FloatArray:
    """The directions (1597, 3) that stand for the sky, each for the same share of its light.

    They lie evenly on the disk below the sky, so that a level surface takes the same from each.
    """
    at = np.arange(_DIRECTIONS)
    level = np.sqrt((at + 0.5) / _DIRECTIONS)
    around = 2 * np.pi * ((at * _STRIDE / _DIRECTIONS) % 1.0)
    return np.column_stack([level * np.sin(around), level * np.cos(around), np.sqrt(1 - level**2)])


def sky_share(points: FloatArray, scene: Scene, *, own: Sequence[str] | None = None) -> FloatArray:
    """Share of an even sky's light that reaches each point's level ground (points,), 0 to 1.

    By counting directions: within 0.005 of the exact share beside a long wall and below a round
    cloth. Light that walls and ground throw back is left out.

    Parameters
    ----------
    points : (points, 3) east, north and height above the ground [m], height 0 or more
    scene : what stands in the way
    own : a tag for each point; things with the same tag do not shade it

    Raises ValueError for another shape.
    """
    found = np.zeros(len(points))
    for _, share in transmission_lots(points, sky_directions(), scene, own=own):
        found += share.sum(axis=1)
    return found / _DIRECTIONS
