"""Dates taken as normal in the seasons that have the event, beside seasons that have none."""

from __future__ import annotations

import numpy as np
import numpy.typing as npt

from bedwright.guards import not_negative, within
from bedwright.working import Source, formula

Numbers = float | npt.NDArray[np.float64]

_DAY = ("time", "day")
_SHARE = ("ratio", "-")
_METHOD = (
    Source("noaa_clim20", "method", "a discrete part for seasons with or without a freeze and a "
           "continuous one for the dates"),
)  # fmt: skip
_EXAMPLE = {"mean_day": "93.1 day", "sd_day": "14.06 day", "share": "1"}


@formula(
    "chance = share of seasons with a freeze x (1 - normal distribution of the date)",
    result=_SHARE,
    sources=_METHOD,
    example={"day": "111 day"} | _EXAMPLE,
    day=_DAY,
    mean_day=_DAY,
    sd_day=_DAY,
    share=_SHARE,
)
def later_chance(day: Numbers, mean_day: Numbers, sd_day: Numbers, share: Numbers) -> Numbers:
    """Chance that the last freeze comes after a date [-].

    Parameters
    ----------
    day : the date, counted from any day of the season [day]
    mean_day : mean date of the last freeze in seasons that have one [day]; NaN where unknown
    sd_day : standard deviation of these dates [day], 0 and up; NaN where unknown
    share : of the seasons that have a freeze [-], 0 to 1; where it is 0 the chance is 0

    Raises ValueError where the deviation or the share lie outside their range.
    """
    return _chance(np.subtract(mean_day, day), sd_day, share)


@formula(
    "chance = share of seasons with a freeze x normal distribution of the date",
    result=_SHARE,
    sources=_METHOD,
    example={"day": "293 day", "mean_day": "306 day", "sd_day": "15 day", "share": "1"},
    day=_DAY,
    mean_day=_DAY,
    sd_day=_DAY,
    share=_SHARE,
)
def earlier_chance(day: Numbers, mean_day: Numbers, sd_day: Numbers, share: Numbers) -> Numbers:
    """Chance that the first freeze comes before a date [-].

    Parameters
    ----------
    day : the date, counted from any day of the season [day]
    mean_day : mean date of the first freeze in seasons that have one [day]; NaN where unknown
    sd_day : standard deviation of these dates [day], 0 and up; NaN where unknown
    share : of the seasons that have a freeze [-], 0 to 1; where it is 0 the chance is 0

    Raises ValueError where the deviation or the share lie outside their range.
    """
    return _chance(np.subtract(day, mean_day), sd_day, share)


@formula(
    "date = mean date + deviation x normal quantile of (1 - chance / share)",
    result=_DAY,
    sources=_METHOD,
    example={"chance": "10 %"} | _EXAMPLE,
    chance=_SHARE,
    mean_day=_DAY,
    sd_day=_DAY,
    share=_SHARE,
)
def date_with_later_chance(
    chance: Numbers, mean_day: Numbers, sd_day: Numbers, share: Numbers
) -> Numbers:
    """The date after which the last freeze still comes with a chance [day].

    Parameters
    ----------
    chance : of a later freeze [-], 0 to 1
    mean_day : mean date of the last freeze in seasons that have one [day]
    sd_day : standard deviation of these dates [day], 0 and up
    share : of the seasons that have a freeze [-], 0 to 1

    NaN where the chance is not below the share: in so many seasons there is no freeze at all.
    Raises ValueError where an input lies outside its range.
    """
    return np.add(mean_day, np.multiply(sd_day, _score(chance, sd_day, share)))


@formula(
    "date = mean date - deviation x normal quantile of (1 - chance / share)",
    result=_DAY,
    sources=_METHOD,
    example={"chance": "10 %", "mean_day": "306 day", "sd_day": "15 day", "share": "1"},
    chance=_SHARE,
    mean_day=_DAY,
    sd_day=_DAY,
    share=_SHARE,
)
def date_with_earlier_chance(
    chance: Numbers, mean_day: Numbers, sd_day: Numbers, share: Numbers
) -> Numbers:
    """The date before which the first freeze has come with a chance [day].

    Parameters
    ----------
    chance : of an earlier freeze [-], 0 to 1
    mean_day : mean date of the first freeze in seasons that have one [day]
    sd_day : standard deviation of these dates [day], 0 and up
    share : of the seasons that have a freeze [-], 0 to 1

    NaN where the chance is not below the share. Raises ValueError where an input lies outside
    its range.
    """
    return np.subtract(mean_day, np.multiply(sd_day, _score(chance, sd_day, share)))


def _checked(sd_day: Numbers, share: Numbers) -> None:
    not_negative(sd_day=np.nan_to_num(sd_day))
    within(0, 1, share=np.nan_to_num(share))


def _chance(beyond: Numbers, sd_day: Numbers, share: Numbers) -> Numbers:
    """share x normal distribution of how far the mean lies beyond the date."""
    from scipy.special import ndtr

    _checked(sd_day, share)
    with np.errstate(divide="ignore", invalid="ignore"):
        scores = np.divide(beyond, sd_day)  # +-inf where all dates are one
    on_the_day = (np.asarray(beyond) == 0) & (np.asarray(sd_day) == 0)
    tail = ndtr(np.where(on_the_day, 0.0, scores))
    never = np.broadcast_to(np.asarray(share) == 0, tail.shape)
    return np.where(never, 0.0, share * tail)[()]


def _score(chance: Numbers, sd_day: Numbers, share: Numbers) -> Numbers:
    from scipy.special import ndtri

    _checked(sd_day, share)
    within(0, 1, chance=chance)
    with np.errstate(divide="ignore", invalid="ignore"):
        part = np.divide(chance, share)
    return np.where(part < 1, -ndtri(np.where(part < 1, part, 0.5)), np.nan)[()]
