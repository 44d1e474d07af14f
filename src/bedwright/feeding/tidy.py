"""No part of a recipe too small to spread: what is split too finely is put together again.

A recipe's least dose holds for a material's whole amount. Its parts, before planting and later,
may come out of the program as a pinch that no scale shows. Here each such part is either left
out or raised to the least dose, the materials and the packages staying as they are.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from bedwright.feeding.whole import Group, Shed

Array = NDArray[np.float64]
Parts = dict[tuple[int, int, int], bool]  # (group, side, material): whether it is spread

_ROOM = 1e-6  # share by which a demand may be missed for rounding
_SPARE = 0.01  # share by which the phosphorus brought may rise
_NOTHING = 1e-9  # kg/m2
_ENOUGH = 1 - 1e-6
_TINY = 1e-15  # below it a bound is nothing, and no scale for a row


def tidied(
    groups: tuple[Group, ...],
    shed: Shed,
    bought: tuple[float, ...],
    p2o5: tuple[Array, ...],
    recipes: tuple[tuple[Array, Array], ...],
) -> tuple[tuple[Array, Array], ...]:
    """The recipes with no part below its least dose, wherever the demands allow it.

    Parameters
    ----------
    groups, shed, bought : of the whole blend; what is bought is not changed
    p2o5 : P2O5 in a kilogram of each group's candidates [kg/kg]
    recipes : of each group, before planting and later [kg/m2]
    """
    settled: Parts = {}
    found = recipes
    for place in _small(groups, recipes):
        if place in settled or not _is_small(groups, found, place):
            continue
        for spread in (False, True):
            tried = _solved(groups, shed, bought, p2o5, recipes, {**settled, place: spread})
            if tried is not None:
                settled[place], found = spread, tried
                break
    return found


def _small(
    groups: tuple[Group, ...], recipes: tuple[tuple[Array, Array], ...]
) -> list[tuple[int, int, int]]:
    """All parts that are spread, the smallest share of its least dose first."""
    places = [
        (float(part[k]) / float(group.candidates.least[k]), (at, side, k))
        for at, (group, recipe) in enumerate(zip(groups, recipes, strict=True))
        for side, part in enumerate(recipe)
        for k in np.flatnonzero(part > 0)
        if group.candidates.least[k] > 0
    ]
    return [(at, side, int(k)) for _, (at, side, k) in sorted(places)]


def _is_small(
    groups: tuple[Group, ...],
    recipes: tuple[tuple[Array, Array], ...],
    place: tuple[int, int, int],
) -> bool:
    at, side, k = place
    part = float(recipes[at][side][k])
    return 0 < part < float(groups[at].candidates.least[k]) * _ENOUGH


def _solved(
    groups: tuple[Group, ...],
    shed: Shed,
    bought: tuple[float, ...],
    p2o5: tuple[Array, ...],
    recipes: tuple[tuple[Array, Array], ...],
    settled: Parts,
) -> tuple[tuple[Array, Array], ...] | None:
    """The recipes of least change with these parts left out or raised; None if there are none."""
    from scipy.optimize import linprog

    touched = sorted({at for at, _, _ in settled})
    columns: list[tuple[int, int, int]] = []
    bounds: list[tuple[float, float | None]] = []
    for at in touched:
        group = groups[at]
        for k in np.flatnonzero(recipes[at][0] + recipes[at][1] > 0):
            for side in (0, 1):
                place = (at, side, int(k))
                if side == 1 and not group.candidates.later[k]:
                    continue
                least = float(group.candidates.least[k]) if settled.get(place) else 0.0
                most = 0.0 if settled.get(place) is False else None
                columns.append(place)
                bounds.append((least, most))
    rows, uppers = _rows(groups, shed, bought, p2o5, recipes, columns)
    was = np.array([recipes[at][side][k] for at, side, k in columns])
    areas = np.array([groups[at].area_m2 for at, _, _ in columns])
    count = len(columns)
    # The last ``count`` variables are the changes, of which the sum is made least.
    eye = np.eye(count)
    matrix = np.vstack(
        [
            np.hstack([rows, np.zeros_like(rows)]),
            np.hstack([eye, -eye]),
            np.hstack([-eye, -eye]),
        ]
    )
    result = linprog(
        np.concatenate([np.zeros(count), areas]),
        A_ub=matrix,
        b_ub=np.concatenate([uppers, was, -was]),
        bounds=[*bounds, *([(0.0, None)] * count)],
    )
    if not result.success or result.x is None:
        return None
    found = [(before.copy(), later.copy()) for before, later in recipes]
    for place, value in zip(columns, result.x[:count], strict=True):
        found[place[0]][place[1]][place[2]] = value if value > _NOTHING else 0.0
    return tuple(found)


def _rows(
    groups: tuple[Group, ...],
    shed: Shed,
    bought: tuple[float, ...],
    p2o5: tuple[Array, ...],
    recipes: tuple[tuple[Array, Array], ...],
    columns: list[tuple[int, int, int]],
) -> tuple[Array, Array]:
    """Everything that must hold, as rows . columns <= uppers."""
    rows: list[Array] = []
    uppers: list[float] = []

    def add(row: Array, upper: float) -> None:
        scale = abs(upper) if abs(upper) > _TINY else float(np.abs(row).max(initial=0.0)) or 1.0
        rows.append(row / scale)  # the solver's tolerance is absolute, and traces of boron count
        uppers.append(upper / scale)

    sides = np.array([side for _, side, _ in columns])
    whose = np.array([at for at, _, _ in columns])
    which = np.array([k for _, _, k in columns])
    areas = np.array([groups[at].area_m2 for at in whose])
    for at in sorted({at for at, _, _ in columns}):
        group, (before, later) = groups[at], recipes[at]
        mine = whose == at
        for demand in group.demands:
            per = np.where(sides == 0, demand.preplant[which * mine], demand.later[which * mine])
            per = per * mine
            stands = float(demand.preplant @ before + demand.later @ later)
            if demand.upper is not None:
                add(per, max(demand.upper, stands))
            if demand.lower is not None:
                low = min(demand.lower, stands)
                add(-per, -(low - abs(low) * _ROOM))
        for k in set(which[mine].tolist()):
            both = (mine & (which == k)).astype(float)
            if np.isfinite(group.candidates.most[k]):
                add(both, max(float(group.candidates.most[k]), float(before[k] + later[k])))
            add(-both, -min(float(group.candidates.least[k]), float(before[k] + later[k])))
    keys = [groups[at].candidates.keys[k] for at, _, k in columns]
    for key in sorted(set(keys)):
        elsewhere = sum(
            groups[at].area_m2 * float(part[groups[at].candidates.keys.index(key)])
            for at, recipe in enumerate(recipes)
            if at not in set(whose.tolist()) and key in groups[at].candidates.keys
            for part in recipe
        )
        add(
            areas * np.array([each == key for each in keys]),
            max(0.0, shed.held_kg(key, bought) - elsewhere),
        )
    content = np.array([p2o5[at][k] for at, _, k in columns])
    now = sum(
        areas[n] * content[n] * recipes[at][side][k] for n, (at, side, k) in enumerate(columns)
    )
    add(areas * content, float(now) * (1 + _SPARE) + 1e-6)
    return np.array(rows), np.array(uppers)
