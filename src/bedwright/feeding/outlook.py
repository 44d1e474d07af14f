"""Where a habit leads: change of a soil test a year, and the years until a level is reached."""

from __future__ import annotations

import itertools
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from bedwright.guards import not_negative, positive, within
from bedwright.working import Source, formula

Array = NDArray[np.float64]
Direction = Literal["rising", "falling", "steady", "either"]
Ends = tuple[float, float, float]  # low, value, high

_AREA_MASS = ("mass_per_area", "kg/m2")
_MG_PER_KG = 1e6


@dataclass(frozen=True)
class Reach:
    """When a level is reached, in years from now; infinity where it is not reached at all."""

    earliest: float
    typical: float
    latest: float


@formula(
    "change of the test = surplus P x share that the test finds / (bulk density x depth)",
    result=("fraction", "mg/kg"),
    sources=(Source("computed", "", "mass of an element in a layer over the mass of its soil"),),
    example={
        "surplus_p": "100 kg/ha",
        "share": "0.08 -",
        "bulk_density": "1.3 kg/l",
        "depth": "20 cm",
    },
    surplus_p=_AREA_MASS,
    share=("fraction", "-"),
    bulk_density=("density", "kg/m3"),
    depth=("depth", "m"),
)
def soil_test_change(surplus_p: float, share: float, bulk_density: float, depth: float) -> float:
    """Change of a soil test for phosphorus by a surplus or a deficit [mg/kg].

    Parameters
    ----------
    surplus_p : phosphorus brought less carried off, as the element [kg/m2], -1000 to
        1000, negative for a deficit
    share : of it, what the test finds afterward [-], 0 to 1; the rest is held by lime and soil
    bulk_density : of the dry soil [kg/m3], above 0
    depth : of the layer that is tested [m], above 0

    Raises ValueError for an input outside its range.
    """
    within(-1e3, 1e3, surplus_p=surplus_p)
    within(0, 1, share=share)
    positive(bulk_density=bulk_density, depth=depth)
    return surplus_p * share / (bulk_density * depth) * _MG_PER_KG


@formula(
    "depth = (removal - other sources) / (content x bulk density), not below 0",
    result=("depth", "m"),
    sources=(Source("computed", "", "what comes in equals what goes out"),),
    example={
        "removal": "0.5 lb/1000 ft2",
        "other_sources": "0 lb/1000 ft2",
        "content": "0.87 %",
        "bulk_density": "1000 lb/yd3",
    },
    removal=_AREA_MASS,
    other_sources=_AREA_MASS,
    content=("mass_per_mass", "kg/kg"),
    bulk_density=("density", "kg/m3"),
)
def steady_depth(
    removal: float, other_sources: float, content: float, bulk_density: float
) -> float:
    """Yearly depth of compost that brings what the harvest carries off, and no more [m].

    Parameters
    ----------
    removal : of the nutrient by a year's harvest [kg/m2], 0 and up
    other_sources : of the nutrient from other materials in the year [kg/m2], 0 and up
    content : of the nutrient in the compost as it lies [kg/kg], above 0
    bulk_density : of the compost as it lies [kg/m3], above 0

    Raises ValueError for an input outside its range.
    """
    not_negative(removal=removal, other_sources=other_sources)
    positive(content=content, bulk_density=bulk_density)
    return max(0.0, removal - other_sources) / (content * bulk_density)


def direction(change: Ends) -> Direction:
    """Which way a yearly change leads: either where its range holds both signs."""
    low, _, high = change
    if low > 0:
        return "rising"
    if high < 0:
        return "falling"
    return "steady" if low == high == 0 else "either"


def years_until(now: Array, change: Array, level: float) -> Array:
    """Years until a level is reached by a steady change a year [years].

    Parameters
    ----------
    now, change : today's value and its yearly change, of one shape [any one unit]
    level : to be reached [the same unit]

    Infinity where the change leads away from the level; 0 where it stands there already.
    """
    now, change = np.broadcast_arrays(np.asarray(now, float), np.asarray(change, float))
    gap = level - now
    toward = (np.sign(gap) == np.sign(change)) & (change != 0)
    years = np.full(now.shape, np.inf)
    with np.errstate(over="ignore"):  # a change of next to nothing takes forever
        np.divide(gap, change, out=years, where=toward)
    years[gap == 0] = 0.0
    return years


def reach(now: Ends, change: Ends, level: float) -> Reach:
    """When a level is reached over the ends of today's value and of its yearly change."""
    pairs = np.array(list(itertools.product(now, change)))
    years = years_until(pairs[:, 0], pairs[:, 1], level)
    typical = float(years_until(np.array([now[1]]), np.array([change[1]]), level)[0])
    return Reach(float(years.min()), typical, float(years.max()))


def ends_of(function: Callable[..., float], terms: Mapping[str, Ends]) -> Ends:
    """The lowest, typical and highest value of a function over the ends of its terms."""
    names = list(terms)
    values = [
        function(**dict(zip(names, corner, strict=True)))
        for corner in itertools.product(*((terms[name][0], terms[name][2]) for name in names))
    ]
    typical = function(**{name: terms[name][1] for name in names})
    return min(*values, typical), typical, max(*values, typical)


def least_certain(
    function: Callable[..., float], terms: Mapping[str, Ends]
) -> tuple[tuple[str, float], ...]:
    """The terms in the order of what their range does to a result, the least certain first.

    Each term is moved over its own range with the others at their typical value; the number
    beside it is the spread of the result that this makes.
    """
    typical = {name: ends[1] for name, ends in terms.items()}
    spreads = []
    for name, (low, _, high) in terms.items():
        spread = abs(function(**{**typical, name: high}) - function(**{**typical, name: low}))
        spreads.append((name, spread))
    return tuple(sorted(spreads, key=lambda each: (-each[1], each[0])))
