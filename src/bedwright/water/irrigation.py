"""Drip lines: flow, depth into minutes and back, how many runs a week, how even they are.

Flow is in liters an hour, as emitters are sold; depths are meters of water over the bed's ground.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from bedwright.guards import not_negative, positive, within
from bedwright.water.arrays import FloatArray, floats
from bedwright.working import Source, formula, step

_PLAIN = ("ratio", "-")
_DEPTH = ("depth", "m")
_LENGTH = ("length", "m")
_LITERS_PER_M3 = 1000.0
_MINUTES_PER_HOUR = 60.0
_DAYS = 7
_LOWEST_QUARTER = 4  # uc_anr_du: mean of the lowest quarter over the mean of all


@formula(
    "flow = lines x length / emitter spacing x emitter flow; l/h",
    result=_PLAIN,
    sources=(Source("computed", "", "emitters on the lines times their flow"),),
    example={
        "emitter_l_h": "1.0",
        "spacing_m": "0.2 m",
        "length_m": "10 m",
        "lines": "2",
    },
    emitter_l_h=_PLAIN,
    spacing_m=_LENGTH,
    length_m=_LENGTH,
    lines=_PLAIN,
)
def drip_flow(
    emitter_l_h: ArrayLike, spacing_m: ArrayLike, length_m: ArrayLike, lines: ArrayLike
) -> FloatArray:
    """Flow of a bed's drip lines [l/h].

    Parameters
    ----------
    emitter_l_h : of one emitter [l/h], above 0
    spacing_m : between emitters [m], above 0
    length_m : of one line [m], above 0
    lines : on the bed [-], above 0

    Raises ValueError for an input outside its range.
    """
    positive(emitter_l_h=emitter_l_h, spacing_m=spacing_m, length_m=length_m, lines=lines)
    return np.asarray(floats(lines) * floats(length_m) / floats(spacing_m) * floats(emitter_l_h))


@formula(
    "flow = printed flow x (pressure / printed pressure) ^ exponent; l/h",
    result=_PLAIN,
    sources=(
        Source("common_practice", "", "the emitter's law of flow; exponent 0.5 for plain emitters, "
               "next to 0 for pressure compensating ones"),
    ),
    example={
        "printed_l_h": "1.0",
        "pressure_kpa": "70",
        "printed_pressure_kpa": "100",
        "exponent": "0.5",
    },
    printed_l_h=_PLAIN,
    pressure_kpa=_PLAIN,
    printed_pressure_kpa=_PLAIN,
    exponent=_PLAIN,
)  # fmt: skip
def emitter_flow(
    printed_l_h: ArrayLike,
    pressure_kpa: ArrayLike,
    printed_pressure_kpa: ArrayLike,
    exponent: ArrayLike,
) -> FloatArray:
    """Flow of an emitter at the pressure of its line [l/h].

    Parameters
    ----------
    printed_l_h : at the printed pressure [l/h], above 0
    pressure_kpa : in the line [kPa], above 0
    printed_pressure_kpa : at which the printed flow holds [kPa], above 0
    exponent : of the emitter [-], 0 to 1

    Raises ValueError for an input outside its range.
    """
    positive(printed_l_h=printed_l_h, pressure_kpa=pressure_kpa)
    positive(printed_pressure_kpa=printed_pressure_kpa)
    within(0, 1, exponent=exponent)
    ratio = floats(pressure_kpa) / floats(printed_pressure_kpa)
    return np.asarray(floats(printed_l_h) * ratio ** floats(exponent))


@dataclass(frozen=True)
class CatchCups:
    """Mean flow of the emitters that were caught [l/h], and how evenly they run."""

    value: float
    uniformity: float = step("-")


@formula(
    "flow = mean of the cups / minutes x 60; uniformity = mean of the lowest quarter / mean of all",
    result=_PLAIN,
    sources=(Source("uc_anr_du", "distribution uniformity", "36 emitters in its example"),),
    example={"cups_ml": "33,30,32,35,28,31,34,33", "minutes": "2 min"},
    cups_ml=("word", "milliliters of each cup, with commas"),
    minutes=("time", "min"),
)
def catch_cup_flow(cups_ml: tuple[float, ...], minutes: float) -> CatchCups:
    """Flow and uniformity by cups set under emitters; it outranks the printed flow.

    Parameters
    ----------
    cups_ml : caught under single emitters [ml], 4 or more
    minutes : that the line ran [min], above 0

    Raises ValueError for fewer than 4 cups, and where all are empty.
    """
    caught = np.sort(floats(cups_ml))
    if caught.ndim != 1 or caught.size < _LOWEST_QUARTER:
        raise ValueError(f"cups_ml has {caught.size} cups; 4 or more are needed")
    not_negative(cups_ml=caught)
    positive(minutes=minutes, mean_of_cups_ml=float(caught.mean()))
    low = caught[: max(1, round(caught.size / _LOWEST_QUARTER))].mean()
    flow = caught.mean() / 1000 / minutes * _MINUTES_PER_HOUR
    return CatchCups(float(flow), float(low / caught.mean()))


@formula(
    "gross = net / (uniformity x (1 - leaching share))",
    result=_DEPTH,
    sources=(
        Source("common_practice", "", "the driest quarter gets the net depth"),
        Source("fao_29", "leaching requirement", "as (1 - LR)"),
    ),
    example={"net_m": "6 mm", "uniformity": "0.85", "leaching_share": "0"},
    net_m=_DEPTH,
    uniformity=_PLAIN,
    leaching_share=_PLAIN,
)
def gross_depth(
    net_m: ArrayLike, uniformity: ArrayLike, leaching_share: ArrayLike = 0.0
) -> FloatArray:
    """Depth to apply so that the net depth reaches even the driest quarter [m].

    Parameters
    ----------
    net_m : that the root zone is to get [m], 0 and up
    uniformity : of the lines, or their efficiency [-], above 0, at most 1
    leaching_share : of the water applied that is to drain [-], 0 to 0.9

    Raises ValueError for an input outside its range.
    """
    not_negative(net_m=net_m)
    positive(uniformity=uniformity)
    within(0, 1, uniformity=uniformity)
    within(0, 0.9, leaching_share=leaching_share)
    return np.asarray(floats(net_m) / (floats(uniformity) * (1 - floats(leaching_share))))


@formula(
    "minutes = depth x area / flow x 60",
    result=("time", "min"),
    sources=(Source("computed", "", "1 mm over 1 m2 is 1 liter"),),
    example={"gross_m": "6.667 mm", "area_m2": "7.5 m2", "flow_l_h": "100"},
    gross_m=_DEPTH,
    area_m2=("area", "m2"),
    flow_l_h=_PLAIN,
)
def run_minutes(gross_m: ArrayLike, area_m2: ArrayLike, flow_l_h: ArrayLike) -> FloatArray:
    """How long a bed's lines run for a depth of water [min].

    Parameters
    ----------
    gross_m : over the credited ground [m], 0 and up
    area_m2 : of ground credited to the bed: its top, or with its share of the path where the
        canopy fills that too [m2], above 0
    flow_l_h : of the bed's lines [l/h], above 0

    Raises ValueError for an input outside its range.
    """
    not_negative(gross_m=gross_m)
    positive(area_m2=area_m2, flow_l_h=flow_l_h)
    liters = floats(gross_m) * floats(area_m2) * _LITERS_PER_M3
    return np.asarray(liters / floats(flow_l_h) * _MINUTES_PER_HOUR)


@formula(
    "depth = minutes / 60 x flow / area",
    result=_DEPTH,
    sources=(Source("computed", "", "1 mm over 1 m2 is 1 liter"),),
    example={"minutes": "30 min", "area_m2": "7.5 m2", "flow_l_h": "100"},
    minutes=("time", "min"),
    area_m2=("area", "m2"),
    flow_l_h=_PLAIN,
)
def run_depth(minutes: ArrayLike, area_m2: ArrayLike, flow_l_h: ArrayLike) -> FloatArray:
    """Depth of water that a run brings [m], gross.

    Parameters
    ----------
    minutes : of the run [min], 0 and up
    area_m2 : of ground credited to the bed [m2], above 0
    flow_l_h : of the bed's lines [l/h], above 0

    Raises ValueError for an input outside its range.
    """
    not_negative(minutes=minutes)
    positive(area_m2=area_m2, flow_l_h=flow_l_h)
    liters = floats(minutes) / _MINUTES_PER_HOUR * floats(flow_l_h)
    return np.asarray(liters / floats(area_m2) / _LITERS_PER_M3)


def runs_per_week(
    weekly_net_m: ArrayLike, most_per_run_m: ArrayLike, longest_gap_days: ArrayLike
) -> NDArray[np.int64]:
    """How many runs a week keep each within what the root zone takes and the gaps within a bound.

    Parameters
    ----------
    weekly_net_m : water that the bed needs in the week [m], 0 and up
    most_per_run_m : that one run may bring without draining or waiting for stress [m], above 0
    longest_gap_days : between the starts of two runs that the crop should see [d], 1 and up

    Returns whole numbers, 0 where the week needs nothing; above 7 means more than one run a day.
    """
    not_negative(weekly_net_m=weekly_net_m)
    positive(most_per_run_m=most_per_run_m)
    within(1, np.inf, longest_gap_days=longest_gap_days)
    need = floats(weekly_net_m)
    by_depth = np.ceil(need / floats(most_per_run_m) - 1e-9)
    by_gap = np.ceil(_DAYS / floats(longest_gap_days) - 1e-9)
    return np.where(need > 0, np.maximum(by_depth, by_gap), 0).astype(np.int64)


def run_days(runs: int, shift: int = 0) -> tuple[int, ...]:
    """Days of the week, 0 to 6, on which runs fall evenly; gaps differ by one day at most.

    Parameters
    ----------
    runs : in the week, 0 to 7
    shift : days by which the pattern is moved

    Raises ValueError for more runs than days.
    """
    within(0, _DAYS, runs=runs)
    return tuple(sorted((k * _DAYS // runs + shift) % _DAYS for k in range(runs)))


def longest_gap(days: tuple[int, ...]) -> int:
    """Longest gap between runs of a week that repeats [d].

    Parameters
    ----------
    days : of the week, 0 to 6, at least one

    Raises ValueError where there is none.
    """
    if not days:
        raise ValueError("days holds no run")
    ordered = sorted(days)
    return max(
        after - before
        for before, after in zip(ordered, [*ordered[1:], ordered[0] + _DAYS], strict=True)
    )
