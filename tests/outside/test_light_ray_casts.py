"""Transmissions against rays cast through meshes of the same things by trimesh.

The meshes are made here from the things' corners, not by the program: boxes and crowns as convex
hulls, an angled building as two boxes, screens and cloths as pairs of triangles.
"""

from __future__ import annotations

from functools import cache

import numpy as np
import pytest
import trimesh

from bedwright.light.scene import Cloth, Prism, Scene, Screen
from bedwright.light.shade import beam_transmission, sun_directions
from bedwright.light.sky import sky_share

ALIKE = 0.02
RAYS_PER_POINT = 400

BUILDING = [(-8, 6), (0, 6), (0, 8), (-5, 8), (-5, 12), (-8, 12)]
WINGS = [[(-8, 6), (0, 6), (0, 8), (-8, 8)], [(-8, 8), (-5, 8), (-5, 12), (-8, 12)]]
SHED = [(5, -8), (9, -6), (8, -4), (4, -6)]
CROWNS = [(7.0, 4.0, 2.0, 2.0, 6.0, 0.3), (-7.0, -6.0, 2.5, 1.5, 5.0, 0.15)]
SCREENS = [
    ((-4, 0), (5, 1), 0.2, 1.8, 0.35),
    ((-4, -2), (5, -2), 0.0, 2.0, 0.0),
    ((9, -9), (9, 9), 0.0, 1.5, 0.4),
]
NET = [(-3, -6), (2, -6), (2, -3), (-3, -3)]
FOLIAGE, LEAVES = [(1, 2.5), (6, 2.5), (6, 3.3), (1, 3.3)], (0.0, 1.9, 0.9)


def ring(east: float, north: float, radius: float) -> np.ndarray:
    turn = 2 * np.pi * np.arange(10) / 10
    return np.array([east, north]) + radius * np.column_stack([np.cos(turn), np.sin(turn)])


def scene() -> Scene:
    crowns = tuple(
        Prism(ring(east, north, radius), base, top, share)
        for east, north, radius, base, top, share in CROWNS
    )
    screens = tuple(
        Screen(np.array(start, float), np.array(end, float), base, top, share)
        for start, end, base, top, share in SCREENS
    )
    base, top, extinction = LEAVES
    return Scene(
        (
            Prism(np.array(BUILDING, float), 0.0, 4.0),
            Prism(np.array(SHED, float), 0.0, 2.5),
            *crowns,
            Prism(np.array(FOLIAGE, float), base, top, 1.0, extinction),
        ),
        screens,
        (Cloth(np.array(NET, float), 2.2, 0.5),),
    )


def solid(footprint, base: float, top: float):
    corners = np.array(footprint, float)
    both = [np.column_stack([corners, np.full(len(corners), each)]) for each in (base, top)]
    return trimesh.convex.convex_hull(np.vstack(both))


def sheet(corners) -> object:
    return trimesh.Trimesh(np.array(corners, float), [[0, 1, 2], [0, 2, 3]], process=False)


@cache
def opaque_and_porous() -> list[tuple[list[object], float]]:
    """Meshes that act as one thing, and the share that each lets through."""
    found = [
        ([solid(each, 0.0, 4.0) for each in WINGS], 0.0),
        ([solid(SHED, 0.0, 2.5)], 0.0),
    ]
    for east, north, radius, base, top, share in CROWNS:
        found.append(([solid(ring(east, north, radius), base, top)], share))
    for (x1, y1), (x2, y2), base, top, share in SCREENS:
        corners = [(x1, y1, base), (x2, y2, base), (x2, y2, top), (x1, y1, top)]
        found.append(([sheet(corners)], share))
    found.append(([sheet([(x, y, 2.2) for x, y in NET])], 0.5))
    return found


def cast(points: np.ndarray, directions: np.ndarray) -> np.ndarray:
    """Share that passes (points, directions), by rays."""
    origins = np.repeat(points, len(directions), axis=0)
    toward = np.tile(directions, (len(points), 1))
    passed = np.ones(len(origins))
    for meshes, share in opaque_and_porous():
        hit = np.zeros(len(origins), dtype=bool)
        for mesh in meshes:
            hit |= mesh.ray.intersects_any(origins, toward)
        passed[hit] *= share
    base, top, extinction = LEAVES
    passed *= np.exp(-extinction * way_through(solid(FOLIAGE, base, top), origins, toward))
    return passed.reshape(len(points), len(directions))


def way_through(mesh, origins: np.ndarray, toward: np.ndarray) -> np.ndarray:
    """Length within a convex mesh, from points outside it: between the first and the last hit."""
    places, rays, _ = mesh.ray.intersects_location(origins, toward, multiple_hits=True)
    far = np.linalg.norm(places - origins[rays], axis=1)
    first, last = np.full(len(origins), np.inf), np.zeros(len(origins))
    np.minimum.at(first, rays, far)
    np.maximum.at(last, rays, far)
    return np.maximum(last - np.minimum(first, last), 0.0)


def points(count: int) -> np.ndarray:
    """Points in the garden outside of what is solid at the ground."""
    dice = np.random.default_rng(17)
    found = np.column_stack(
        [dice.uniform(-9, 9, (4 * count, 2)), dice.uniform(0.02, 0.4, 4 * count)]
    )
    inside = np.zeros(len(found), dtype=bool)
    for mesh in [solid(each, -1.0, 4.0) for each in (*WINGS, SHED, FOLIAGE)]:
        inside |= mesh.contains(found)
    return found[~inside][:count]


def test_the_beam_among_buildings_trees_trellises_and_nets():
    dice = np.random.default_rng(3)
    toward = sun_directions(
        np.degrees(np.arcsin(np.sqrt(dice.uniform(0.001, 0.999, RAYS_PER_POINT)))),
        dice.uniform(0, 360, RAYS_PER_POINT),
    )
    places = points(60)
    ours, theirs = beam_transmission(places, toward, scene()), cast(places, toward)

    assert 0.2 < theirs.mean() < 0.9
    assert ours.mean(axis=1) == pytest.approx(theirs.mean(axis=1), abs=ALIKE)
    # ray by ray: rays that graze an edge may fall to either side
    assert (np.abs(ours - theirs) > 1e-3).mean() < 0.001


def test_the_sky_share_among_the_same():
    rings, sectors = 40, 120
    up = np.arcsin(np.sqrt((np.arange(rings) + 0.5) / rings))
    around = 2 * np.pi * (np.arange(sectors) + 0.5) / sectors
    grid = np.array(np.meshgrid(np.degrees(up), np.degrees(around))).reshape(2, -1)
    places = points(40)
    theirs = cast(places, sun_directions(grid[0], grid[1])).mean(axis=1)
    found = sky_share(places, scene())

    assert theirs.std() > 0.1
    assert found == pytest.approx(theirs, abs=ALIKE)
    assert np.abs(found - theirs).mean() < ALIKE / 4
