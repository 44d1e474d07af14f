"""How good a day is for fruit to set: a relative score from published temperature responses.

The score is no percentage of flowers: 1 is a day as good as the crop's best, 0 a day without set.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal, get_args

import numpy as np
from numpy.typing import NDArray

from bedwright.crops.responses import response_trapezoid

FloatArray = NDArray[np.float64]
Driver = Literal["mean", "max", "night", "hourly"]


@dataclass(frozen=True)
class SetResponse:
    """One published response: the temperature it takes and four cardinal temperatures [C].

    ``driver`` is the day's mean or maximum, the night's minimum, or each hour (the day's score
    is then the mean of the hours' scores).
    """

    driver: Driver
    base_c: float
    optimum_from_c: float
    optimum_to_c: float
    ceiling_c: float

    def __post_init__(self) -> None:
        if self.driver not in get_args(Driver):
            raise ValueError(f"driver is {self.driver!r}; it must be one of {get_args(Driver)}")
        ends = [self.base_c, self.optimum_from_c, self.optimum_to_c, self.ceiling_c]
        if ends != sorted(ends):
            raise ValueError(f"cardinal temperatures are not in rising order: {ends}")

    def score(self, temperature_c: FloatArray) -> FloatArray:
        """The response to temperatures of its driver [C]: a score from 0 to 1."""
        return np.asarray(
            response_trapezoid(
                temperature_c,
                self.base_c,
                self.optimum_from_c,
                self.optimum_to_c,
                self.ceiling_c,
            )
        )


def off_range(
    responses: Sequence[SetResponse],
    t_max_c: FloatArray,
    t_min_c: FloatArray,
    *,
    t_mean_c: FloatArray | None = None,
) -> tuple[NDArray[np.bool_], NDArray[np.bool_]]:
    """Which days are too hot, and which too cool, for the best set: by any of the responses.

    Parameters
    ----------
    responses : of a crop; those that take hourly temperatures are passed over
    t_max_c, t_min_c : day's maximum and minimum of the air [C], any shape
    t_mean_c : day's mean [C]; without it the middle of maximum and minimum

    A day that is not known is neither.
    """
    mean = (t_max_c + t_min_c) / 2 if t_mean_c is None else t_mean_c
    drivers = {"mean": mean, "max": t_max_c, "night": t_min_c}
    hot = np.zeros(np.shape(t_max_c), dtype=np.bool_)
    cool = hot.copy()
    for each in responses:
        if each.driver in drivers:
            hot |= drivers[each.driver] > each.optimum_to_c
            cool |= drivers[each.driver] < each.optimum_from_c
    return hot, cool


def set_score(
    responses: Sequence[SetResponse],
    t_max_c: FloatArray,
    t_min_c: FloatArray,
    *,
    t_mean_c: FloatArray | None = None,
    hourly_c: FloatArray | None = None,
) -> FloatArray:
    """The score of each day [-], 0 to 1: the product of a crop's responses.

    Parameters
    ----------
    responses : at least one
    t_max_c, t_min_c : day's maximum and minimum of the air [C], any shape
    t_mean_c : day's mean [C]; without it the middle of maximum and minimum
    hourly_c : temperatures of the hours [C], with one axis more at the end

    An unknown temperature (NaN) gives an unknown score. Raises ValueError without a response, or
    where one takes hourly temperatures and none are given.
    """
    if not responses:
        raise ValueError("there is no response to work with")
    mean = (t_max_c + t_min_c) / 2 if t_mean_c is None else t_mean_c
    score = np.ones(np.shape(t_max_c))
    for each in responses:
        if each.driver == "hourly":
            if hourly_c is None:
                raise ValueError("a response takes hourly temperatures; none are given")
            score = score * each.score(hourly_c).mean(axis=-1)
        else:
            drivers = {"mean": mean, "max": t_max_c, "night": t_min_c}
            score = score * each.score(drivers[each.driver])
    return np.asarray(score)
