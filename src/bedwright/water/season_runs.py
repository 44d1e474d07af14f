"""A season's watering as a gardener sets a timer: runs a week and minutes a run, week by week."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from bedwright.guards import not_negative, positive, within
from bedwright.water.arrays import FloatArray, floats
from bedwright.water.irrigation import CatchCups, gross_depth, run_minutes, runs_per_week

_DAYS = 7


@dataclass(frozen=True)
class KnownEmitter:
    """Flow of an emitter [l/h] and uniformity of the line, and whether cups were set under it."""

    flow_l_h: float
    uniformity: float
    measured: bool


def known_emitter(
    printed_l_h: float | None, usual_uniformity: float, cups: CatchCups | None = None
) -> KnownEmitter:
    """What is known of an emitter; a catch-cup reading outranks the printed flow.

    Parameters
    ----------
    printed_l_h : at the line's pressure [l/h], None where not known
    usual_uniformity : of lines of which nothing was measured, from the tables [-], above 0 to 1
    cups : the reading, None where none was taken

    Raises ValueError where neither is known.
    """
    positive(usual_uniformity=usual_uniformity)
    within(0, 1, usual_uniformity=usual_uniformity)
    if cups is not None:
        return KnownEmitter(cups.value, cups.uniformity, True)
    if printed_l_h is None:
        raise ValueError("printed_l_h is not known and no cups were set: one of them is needed")
    positive(printed_l_h=printed_l_h)
    return KnownEmitter(printed_l_h, usual_uniformity, False)


@dataclass(frozen=True, eq=False)
class SeasonRuns:
    """For each week and bed, (weeks, beds): ``net_m`` the water needed [m]; ``runs`` in the week;
    ``minutes`` of each run [min]; ``gap_days`` between two runs at most [d], infinite where none
    is needed. A last week of fewer days counts as one, its runs for the days it has.
    """

    net_m: FloatArray
    runs: NDArray[np.int64]
    minutes: FloatArray
    gap_days: FloatArray


def season_runs(
    need_m: FloatArray,
    most_per_run_m: ArrayLike,
    longest_gap_days: ArrayLike,
    area_m2: ArrayLike,
    flow_l_h: ArrayLike,
    uniformity: ArrayLike,
    leaching_share: ArrayLike = 0.0,
) -> SeasonRuns:
    """Even runs that bring each week what a balance found the beds to need.

    Parameters
    ----------
    need_m : net water of each day, as by a daily refill [m], (days, beds), 0 and up
    most_per_run_m : net that one run may bring: the readily available water of the week's roots
        [m], (beds,), (weeks, beds) or one number, above 0
    longest_gap_days : between runs [d], (beds,), (weeks, beds) or one number, 1 and up
    area_m2, flow_l_h : credited ground and flow of each bed's lines, above 0
    uniformity : of the lines [-], above 0 to 1
    leaching_share : of the water applied that is to drain [-], 0 to 0.9

    Raises ValueError for an input outside its range.
    """
    need = floats(need_m)
    if need.ndim != 2 or not len(need):
        raise ValueError(f"need_m has shape {need.shape}; it must be (days, beds) with a day")
    not_negative(need_m=need)
    starts = np.arange(0, len(need), _DAYS)
    net = np.add.reduceat(need, starts, axis=0)
    lengths = np.diff(np.append(starts, len(need)))[:, np.newaxis]
    full_week = runs_per_week(net * _DAYS / lengths, most_per_run_m, longest_gap_days)
    runs = np.ceil(full_week * lengths / _DAYS - 1e-9).astype(np.int64)
    each = np.divide(net, runs, out=np.zeros_like(net), where=runs > 0)
    minutes = run_minutes(gross_depth(each, uniformity, leaching_share), area_m2, flow_l_h)
    gaps = np.divide(_DAYS, full_week, out=np.full(net.shape, np.inf), where=full_week > 0)
    return SeasonRuns(net, runs, minutes, np.where(gaps > 1, np.ceil(gaps - 1e-9), gaps))
