"""Salt in a bed's layer: what the water leaves, what passes through, what a season leaches."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from bedwright.feeding.ledger import Account, account
from bedwright.feeding.outlook import years_until
from bedwright.guards import not_negative, positive, within
from bedwright.working import Source, formula

Array = NDArray[np.float64]

_RATIO = ("ratio", "-")


@formula(
    "share passing = leaching fraction + (1 - leaching fraction) x uptake of water below the layer",
    result=("fraction", "-"),
    sources=(Source("computed", "", "what is not taken up above a depth passes it"),),
    leaching_fraction=("fraction", "-"),
    depth=("depth", "m"),
    root_depth=("depth", "m"),
    quarters=("word", "shares of the uptake by quarters of the root depth"),
    example={
        "leaching_fraction": "15 %",
        "depth": "12 in",
        "root_depth": "24 in",
        "quarters": "0.4,0.3,0.2,0.1",
    },
)
def share_passing(
    leaching_fraction: float, depth: float, root_depth: float, quarters: tuple[float, ...]
) -> float:
    """Share of the irrigation that passes the lower face of a layer [-].

    Parameters
    ----------
    leaching_fraction : share of the water that drains below the roots [-], 0 to 1
    depth : of the layer [m], above 0
    root_depth : down to which the crop takes water [m], above 0
    quarters : shares of the uptake in the first, second, ... quarter of the root depth, from the
        top, together 1

    Raises ValueError for an input outside its range.
    """
    within(0, 1, leaching_fraction=leaching_fraction, quarters=quarters)
    within(1 - 1e-9, 1 + 1e-9, sum_of_quarters=sum(quarters))
    positive(depth=depth, root_depth=root_depth)
    places = np.linspace(0.0, 1.0, len(quarters) + 1)
    above = float(np.interp(depth / root_depth, places, np.cumsum((0.0, *quarters))))
    return leaching_fraction + (1 - leaching_fraction) * (1 - above)


@formula(
    "share leached = 1 - 0.5 ^ (water drained / (half depth x depth of soil))",
    result=("fraction", "-"),
    sources=(Source("judgement", "", "the reclamation rule, read as a law of halves"),),
    example={"drained": "6 in", "depth": "12 in", "half_depth": "0.5 -"},
    drained=("depth", "m"),
    depth=("depth", "m"),
    half_depth=_RATIO,
)
def leached_share(drained: float, depth: float, half_depth: float) -> float:
    """Share of a layer's soluble salts that draining water carries off [-].

    Parameters
    ----------
    drained : water that drains through the layer in the season [m], 0 and up
    depth : of the layer [m], above 0
    half_depth : water that halves the salts, for each depth of soil [-], above 0

    Raises ValueError for an input outside its range.
    """
    not_negative(drained=drained)
    positive(depth=depth, half_depth=half_depth)
    return 1 - float(0.5 ** (drained / (half_depth * depth)))


def salt_account(
    opening: Array, spread: Array, water: Array, leached: Array, settles: Array
) -> Account:
    """The account of soluble salts between what is spread, the water and the drainage.

    The water alone would bring the layer to ``settles``. What lies above it is leached by the
    season's drainage, what lies below it is filled up.

    Parameters
    ----------
    opening : salts in the layer before the first season, one entry a bed [kg/m2]
    spread : salts of the materials, by bed and season [kg/m2], 0 and up
    water : salts of the irrigation water, by bed and season [kg/m2], 0 and up
    leached : share of the excess that the season's drainage carries off, by bed and season [-],
        0 to 1
    settles : salts that the layer holds under this water without any dressing, one entry a bed
        [kg/m2]

    Raises ValueError for a share outside its range.
    """
    within(0, 1, leached=leached[~np.isnan(leached)])
    stock, out = opening, np.zeros_like(leached)
    for season in range(leached.shape[1]):
        before = stock + spread[:, season] + water[:, season]
        excess = stock + spread[:, season] - settles
        stock = np.minimum(before, settles + excess * (1 - leached[:, season]))
        out[:, season] = before - stock
    return account(opening, {"materials": spread, "water": water}, {"leached": out})


def salt_years_until(now: Array, added: Array, leached: Array, level: float) -> Array:
    """Years until salts reach a level, a share of the excess being leached each year [years].

    Parameters
    ----------
    now : salts above what the water alone would leave [dS/m or kg/m2]; negative if below it
    added : by materials each year [the same unit], 0 and up
    leached : share of the excess that each year's drainage carries off [-], 0 to 1
    level : to be reached, counted like ``now`` [the same unit]

    Notes
    -----
    Next year's excess is (excess + added) x (1 - leached); it settles at added x (1 - leached) /
    leached. Infinity where the level does not lie between today's excess and that.
    """
    within(0, 1, leached=leached)
    now, added, leached = np.broadcast_arrays(
        *(np.asarray(each, float) for each in (now, added, leached))
    )
    kept = 1 - leached
    none = leached == 0
    settles = np.divide(added * kept, leached, out=np.full(now.shape, np.inf), where=~none)
    between = (np.minimum(now, settles) < level) & (level < np.maximum(now, settles))
    with np.errstate(divide="ignore", invalid="ignore", over="ignore"):
        years = np.log((level - settles) / (now - settles)) / np.log(kept)
    years = np.where(none, years_until(now, added, level), years)
    reached = np.where(none, np.isfinite(years), between)
    return np.where(now == level, 0.0, np.where(reached, years, np.inf))


@formula(
    "ECe = ECw x (1 + 1 / leaching fraction) / factor",
    result=("conductivity", "dS/m"),
    sources=(Source("fao_29", "leaching requirement", "Rhoades' rule solved for ECe"),),
    example={"ec_water": "1.3 dS/m", "leaching_fraction": "0.15 -", "factor": "5 -"},
    ec_water=("conductivity", "dS/m"),
    leaching_fraction=("fraction", "-"),
    factor=("ratio", "-"),
)
def settled_ec_e(ec_water: float, leaching_fraction: float, factor: float) -> float:
    """Conductivity at which a root zone settles under a water, without any dressing [dS/m].

    Parameters
    ----------
    ec_water : of the irrigation water [dS/m], 0 and up
    leaching_fraction : share of the water that drains below the roots [-], above 0 to 1
    factor : of Rhoades' rule [-], above 0

    Raises ValueError for an input outside its range.
    """
    not_negative(ec_water=ec_water)
    positive(leaching_fraction=leaching_fraction, factor=factor)
    within(0, 1, leaching_fraction=leaching_fraction)
    return ec_water * (1 + 1 / leaching_fraction) / factor
