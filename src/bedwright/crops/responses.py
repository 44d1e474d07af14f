"""How fast or how well a plant does at a temperature, as a share of its best.

The temperatures of one call may be kelvins or degrees Celsius, as long as all are the same.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike, NDArray

from bedwright.working import Source, formula

FloatArray = NDArray[np.float64]

_TEMPERATURE = ("temperature", "K")
_SHARE = ("ratio", "-")


@formula(
    "0 at the base, up by a line to 1, level between the two optima, down by a line to 0 at the "
    "ceiling",
    result=_SHARE,
    sources=(
        Source("dssat_genotype", "species files, temperature curves of type LIN", ""),
        Source("boote_2012", "tomato cardinal temperatures", "cited for the tomato values"),
    ),
    example={
        "temperature": "29 C",
        "base": "6 C",
        "optimum_from": "21 C",
        "optimum_to": "26 C",
        "ceiling": "33 C",
    },
    temperature=_TEMPERATURE,
    base=_TEMPERATURE,
    optimum_from=_TEMPERATURE,
    optimum_to=_TEMPERATURE,
    ceiling=_TEMPERATURE,
)
def response_trapezoid(
    temperature: ArrayLike,
    base: ArrayLike,
    optimum_from: ArrayLike,
    optimum_to: ArrayLike,
    ceiling: ArrayLike,
) -> FloatArray:
    """Response by straight lines between four cardinal temperatures [-], 0 to 1.

    Parameters
    ----------
    temperature : of the air or soil [K or C]; an unknown (NaN) stays unknown
    base : at and below it nothing happens [K or C]
    optimum_from, optimum_to : between them all goes at its best [K or C]
    ceiling : at and above it nothing happens [K or C]

    Raises ValueError where the four are not in order.
    """
    t, low, best, still, top = (
        np.asarray(each, dtype=np.float64)
        for each in (temperature, base, optimum_from, optimum_to, ceiling)
    )
    if np.any(low > best) or np.any(best > still) or np.any(still > top):
        raise ValueError("base, optimum_from, optimum_to and ceiling must be in rising order")
    rise, fall = best - low, top - still
    with np.errstate(over="ignore"):  # a rise of next to nothing is a step
        up = np.where(
            rise > 0, (t - low) / np.where(rise > 0, rise, 1.0), np.where(t > low, 1.0, 0.0)
        )
        down = np.where(
            fall > 0, (top - t) / np.where(fall > 0, fall, 1.0), np.where(t < top, 1.0, 0.0)
        )
    share = np.clip(np.minimum(up, down), 0.0, 1.0)
    return np.asarray(np.where(np.isnan(t), np.nan, share))


@formula(
    "(ceiling - T) / (ceiling - optimum) x ((T - base) / (optimum - base)) ^ ((optimum - base) / "
    "(ceiling - optimum))",
    result=_SHARE,
    sources=(
        Source("yan_hunt_1999", "equation for a base of 0 C", ""),
        Source("from_memory", "", "the general form with a base other than 0 C"),
    ),
    example={"temperature": "21 C", "optimum": "28 C", "ceiling": "48 C", "base": "0 C"},
    temperature=_TEMPERATURE,
    optimum=_TEMPERATURE,
    ceiling=_TEMPERATURE,
    base=_TEMPERATURE,
)
def response_yan_hunt_1999(
    temperature: ArrayLike, optimum: ArrayLike, ceiling: ArrayLike, base: ArrayLike
) -> FloatArray:
    """Response by the smooth curve through three cardinal temperatures [-], 0 to 1.

    Parameters
    ----------
    temperature : of the air [K or C]; an unknown (NaN) stays unknown
    optimum : where the response is 1 [K or C], above the base
    ceiling : at and above it nothing happens [K or C], above the optimum
    base : at and below it nothing happens [K or C]

    Raises ValueError where the three are not in order.
    """
    t, best, top, low = (
        np.asarray(each, dtype=np.float64) for each in (temperature, optimum, ceiling, base)
    )
    if np.any(low >= best) or np.any(best >= top):
        raise ValueError("base, optimum and ceiling must be in rising order")
    held = np.clip(t, low, top)
    power = (best - low) / (top - best)
    share = (top - held) / (top - best) * ((held - low) / (best - low)) ** power
    return np.asarray(np.where(np.isnan(t), np.nan, share))


@formula(
    "0 up to the low end, 1 from the high end on, a line between",
    result=_SHARE,
    sources=(Source("judgement", "", "a straight line between a source's low and high figure"),),
    example={"amount": "30", "low": "16.8", "high": "44.8"},
    amount=("ratio", "-"),
    low=("ratio", "-"),
    high=("ratio", "-"),
)
def share_between(amount: ArrayLike, low: ArrayLike, high: ArrayLike) -> FloatArray:
    """How far an amount has gone from a low to a high figure [-], 0 to 1.

    Parameters
    ----------
    amount : any unit [-]; an unknown (NaN) stays unknown
    low, high : in the same unit [-], low not above high; where equal, 1 from there on

    Raises ValueError where low is above high.
    """
    x, start, end = (np.asarray(each, dtype=np.float64) for each in (amount, low, high))
    if np.any(start > end):
        raise ValueError("low must not be above high")
    wide = end > start
    part = (x - start) / np.where(wide, end - start, 1.0)
    share = np.where(wide, np.clip(part, 0.0, 1.0), np.where(x >= end, 1.0, 0.0))
    return np.asarray(np.where(np.isnan(x), np.nan, share))
