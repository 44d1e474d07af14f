"""The shade of one moment in sentences, for those who read and those who listen."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from functools import lru_cache

import numpy as np

from bedwright.drawings.geometry import Polygon, bounds, contains, middle
from bedwright.drawings.lengths import tape
from bedwright.drawings.shade import Mark, ShadeLayer
from bedwright.drawings.svg import number
from bedwright.light.scene import Cloth, FloatArray
from bedwright.light.shade import beam_transmission
from bedwright.units import UnitSystem

_SAMPLES, _LEAST_SAMPLES = 16, 8  # points along a bed's sides, for how much of it is in shade
_SHADED, _WHOLLY, _HALF = 0.03, 0.97, 0.5


def shade_said(
    layer: ShadeLayer | None,
    beds: Mapping[str, Sequence[tuple[float, float]]],
    system: UnitSystem,
    *,
    loose: bool,
    listed: Callable[[Sequence[str]], str],
) -> list[str]:
    """The same in sentences: where the sun stands, what casts shade, on which beds it lies.

    ``beds`` has the outline [m] of each placed bed, ``loose`` says whether others are not placed,
    ``listed`` joins the names of beds. Nothing is said without a layer.
    """
    if layer is None:
        return []
    words = layer.words
    direction = words[f"from_{round(layer.azimuth_deg % 360 / 45) % 8 * 45}"]
    high = number(round(layer.elevation_deg))
    found = [words["shade_when"].format(when=layer.when, elevation=high, direction=direction)]
    things = [
        words["shade_thing"].format(name=mark.name, height=tape(_top(mark), system))
        for mark in layer.marks
        if mark.name
    ]
    if things:
        found.append(words["shade_things"].format(things="; ".join(dict.fromkeys(things))))
    dark = _shaded_shares(beds, layer)
    for key, low, high_end in (
        ("shade_full", _WHOLLY, 1.01),
        ("shade_most", _HALF, _WHOLLY),
        ("shade_some", _SHADED, _HALF),
    ):
        those = [bed for bed, share in dark.items() if low <= share < high_end]
        if those:
            found.append(words[key].format(beds=listed(those)))
    if all(share < _SHADED for share in dark.values()):
        found.append(words["shade_none"])
    if len({tone for tone in map(layer.tone, layer.marks) if tone > 0}) > 1:
        found.append(words["shade_porous"])
    if loose:
        found.append(words["shade_loose"])
    return found


def _top(mark: Mark) -> float:
    return mark.thing.height_m if isinstance(mark.thing, Cloth) else mark.thing.top_m


def _shaded_shares(
    beds: Mapping[str, Sequence[tuple[float, float]]], layer: ShadeLayer
) -> dict[str, float]:
    """Share of each bed's ground that some shadow lies on."""
    if not beds:
        return {}
    grids = [_grid(tuple((x, y) for x, y in outline)) for outline in beds.values()]
    places = np.concatenate(grids)
    lit = beam_transmission(places, layer.toward, layer.scene)[:, 0]
    ends = np.cumsum([len(each) for each in grids])[:-1]
    parts = np.split(lit < 1, ends)
    return {bed: float(part.mean()) for bed, part in zip(beds, parts, strict=True)}


@lru_cache(maxsize=512)  # beds stay where they are from hour to hour
def _grid(polygon: Polygon) -> FloatArray:
    """Points on a bed's ground (points, 3)."""
    left, low, right, high = bounds(polygon)
    step = max(right - left, high - low) / _SAMPLES
    counts = [max(_LEAST_SAMPLES, round(each / step)) for each in (right - left, high - low)]
    inside = [
        (left + (i + 0.5) * (right - left) / counts[0], low + (j + 0.5) * (high - low) / counts[1])
        for i in range(counts[0])
        for j in range(counts[1])
    ]
    inside = [each for each in inside if contains(polygon, each)] or [middle(polygon)]
    return np.column_stack([np.array(inside), np.zeros(len(inside))])
