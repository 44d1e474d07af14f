"""What a bed's water balance tells its nitrogen: the wetted share, and what drains each week."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

import numpy as np
from numpy.typing import NDArray

from bedwright.feeding.response import leached_share
from bedwright.working import Figure

Array = NDArray[np.float64]
_WEEK = 7
_MM = 1000.0


@dataclass(frozen=True, eq=False)
class Drained:
    """A season's drainage from the day that it begins.

    ``by_week`` is what drains [m], (3, weeks): in a year of much drainage, on the mean, in a year
    of little, so that the first row goes with a low supply. ``held_m`` is the water that the roots'
    soil holds, in which the nitrate is dissolved; ``wetted`` the share of the bed that is watered.
    """

    start: date
    by_week: Array
    held_m: float
    wetted: Figure

    def shares(self, starts: Sequence[date]) -> Array:
        """The share of the nitrate that the drainage of each week carries off, (3, weeks).

        Parameters
        ----------
        starts : first days of the weeks; weeks outside the season lose nothing
        """
        found = np.zeros((len(self.by_week), len(starts)))
        for at, first in enumerate(starts):
            week = (first - self.start).days // _WEEK
            if 0 <= week < self.by_week.shape[1]:
                found[:, at] = leached_share(self.by_week[:, week] * _MM, self.held_m * _MM)
        return found

    @property
    def total(self) -> Figure:
        """What drains in the season [m]."""
        much, mean, little = self.by_week.sum(axis=1)
        return Figure(
            "drainage", float(mean), "m", "computed", low=float(min(little, mean)),
            high=float(max(much, mean)),
            formula="daily water balance of the bed over the years of the weather record",
        )  # fmt: skip
