"""Nights that kill or damage a crop, with a cover over it for some of them."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from bedwright.crops.stages import IntArray, next_day
from bedwright.guards import not_negative, positive
from bedwright.working import Source, formula

FloatArray = NDArray[np.float64]

# C: a station that records whole F or tenths of C is off by so much when the other unit is asked;
# climate dossier 1.5: 24 F is stored as -4.4 C
RECORDING_STEP_C = 0.05


@dataclass(frozen=True)
class Cover:
    """What is put over the plants, from the day of planting.

    ``frost_k`` [K] is what it takes off a frost, ``day_gain_k`` [K] what it adds to the day's
    maximum. It comes off when plants flower (``off_at_flower``), after ``longest_days``, or on
    the ``hot_days``-th day that is above ``heat_limit_c`` [C] under it, whichever is first.
    """

    frost_k: float = 0.0
    day_gain_k: float = 0.0
    longest_days: int = 0
    heat_limit_c: float = np.inf
    hot_days: int = 1
    off_at_flower: bool = True

    def __post_init__(self) -> None:
        not_negative(
            frost_k=self.frost_k, day_gain_k=self.day_gain_k, longest_days=self.longest_days
        )
        positive(hot_days=self.hot_days)


@formula(
    "1 at and below the low end of the range, 0 at and above its high end, a line between",
    result=("ratio", "-"),
    sources=(
        Source("extension_frost_lists", "list of tender crops", "killed at 31 to 33 F"),
        Source("judgement", "", "a straight line within the range"),
    ),
    example={"t_min": "32 F", "kill_low": "31 F", "kill_high": "33 F", "protection": "0 K"},
    t_min=("temperature", "K"),
    kill_low=("temperature", "K"),
    kill_high=("temperature", "K"),
    protection=("temperature_difference", "K"),
)
def frost_kill_share(
    t_min: ArrayLike, kill_low: ArrayLike, kill_high: ArrayLike, protection: ArrayLike
) -> FloatArray:
    """Chance that a night kills, from the range in which sources place the killing minimum [-].

    Parameters
    ----------
    t_min : night's minimum of the air [K or C, all alike]
    kill_low, kill_high : range of the killing minimum [K or C], low below high
    protection : what a cover adds to the night [K], 0 or more

    Raises ValueError for an input outside its range.
    """
    not_negative(protection=protection)
    low, high = np.asarray(kill_low, dtype=np.float64), np.asarray(kill_high, dtype=np.float64)
    if not np.all(high > low):
        raise ValueError("kill_high must be above kill_low")
    felt = np.asarray(t_min, dtype=np.float64) + np.asarray(protection, dtype=np.float64)
    return np.clip((high - felt) / (high - low), 0.0, 1.0)


def frost_nights(
    t_min_c: FloatArray, threshold_c: float, protection_k: float = 0.0
) -> NDArray[np.bool_]:
    """Whether each night is as cold as a threshold, for plants with so much protection.

    Parameters
    ----------
    t_min_c : night's minimum [C], (days,); an unknown night (NaN) is no frost here
    threshold_c : minimum that kills or damages [C]; NaN where it is not known: no night does
    protection_k : what a cover adds [K], 0 or more

    A night within RECORDING_STEP_C above the threshold counts: 28 F is recorded as -2.2 C.
    """
    not_negative(protection_k=protection_k)
    with np.errstate(invalid="ignore"):
        return np.asarray(t_min_c + protection_k <= threshold_c + RECORDING_STEP_C)


@dataclass(frozen=True)
class FrostAhead:
    """For each day the next night of a kind, bare and covered, (days + 1,)."""

    bare: IntArray
    covered: IntArray

    @staticmethod
    def of(t_min_c: FloatArray, threshold_c: float, protection_k: float) -> FrostAhead:
        """The nights of a record that reach a threshold [C], with and without a cover [K]."""
        bare = next_day(frost_nights(t_min_c, threshold_c))
        if protection_k == 0.0:
            return FrostAhead(bare, bare)
        return FrostAhead(bare, next_day(frost_nights(t_min_c, threshold_c, protection_k)))

    def first(self, exposed: FloatArray, cover_off: FloatArray) -> FloatArray:
        """The first such night for plants exposed from a day on, covered until ``cover_off``.

        Days [index]; the number of days where none comes within the record. NaN (plants never
        up) gives none.
        """
        days = self.bare.size - 1
        start = np.clip(np.where(np.isnan(exposed), days, exposed), 0, days).astype(np.int64)
        off = np.clip(np.where(np.isnan(cover_off), 0, cover_off), 0, days).astype(np.int64)
        under = self.covered[start]
        after = self.bare[np.maximum(start, off)]
        return np.where(under < off, under, after).astype(np.float64)
