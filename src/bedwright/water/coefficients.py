"""Crop coefficients over the crop's stages, and what climate, cover, neighbors and mulch change.

Stages come from the crop's real dates; here they are days counted from the first day of the
season, so that any calendar or record will do.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike

from bedwright.guards import not_negative, positive, within
from bedwright.water.arrays import FloatArray, floats
from bedwright.working import Source, formula

_FAO = "fao_56"
_PLAIN = ("ratio", "-")
_LENGTH = ("length", "m")
_SHARE = ("ratio", "-")
_LOWEST_M, _TALLEST_M = 0.1, 10.0  # fao_56 pp. 121 to 127; the lower not for Kc max
_CALMEST, _WINDIEST = 1.0, 6.0  # m/s
_DRIEST, _MOISTEST = 20.0, 80.0  # % of least humidity
_ADJUSTED_FROM = 0.45  # fao_56 equation 65: end values below it are not adjusted
_HAIR_DAYS = 1e-6  # a stage of no length is a step
_FAR_OFF = 1e9  # day that no season reaches
_MOST_KC = 2.5  # fao_56 pp. 202 and 203


@dataclass(frozen=True, eq=False)
class Stages:
    """Days on which a crop's stages end, each (beds,) or one number, counted as the season's days.

    Up to ``initial_end`` the coefficient keeps its initial value; it rises by a line to
    ``development_end``, stays to ``middle_end`` and goes by a line to ``late_end``. A stage that
    the season does not reach ends at infinity.
    """

    initial_end: ArrayLike
    development_end: ArrayLike
    middle_end: ArrayLike
    late_end: ArrayLike

    def __post_init__(self) -> None:
        ends = [floats(each) for each in vars(self).values()]
        for name, before, after in zip(list(vars(self))[1:], ends[:-1], ends[1:], strict=True):
            if not np.all(after >= before):
                raise ValueError(f"{name} comes before the stage that it follows, or is not known")

    def ramps(self, days: ArrayLike) -> tuple[FloatArray, FloatArray]:
        """How far development and the late stage have gone on each day [-], (days, beds).

        ``days`` are numbers of days, (days,). On the day of a stage's end the next has not begun.
        """
        on = floats(days)[:, np.newaxis]
        first, full, turn, end = (
            np.minimum(np.atleast_1d(floats(each)), _FAR_OFF)
            for each in (self.initial_end, self.development_end, self.middle_end, self.late_end)
        )
        return _ramp(on, first, full), _ramp(on, turn, end)


def _ramp(day: FloatArray, start: FloatArray, end: FloatArray) -> FloatArray:
    """0 up to the start, 1 from the end on, a line between; a step where they are one day."""
    gone = (day - start) / np.maximum(end - start, _HAIR_DAYS)
    np.maximum(gone, 0.0, out=gone)
    return np.minimum(gone, 1.0, out=gone)


def stage_coefficient(
    days: ArrayLike, stages: Stages, initial: ArrayLike, middle: ArrayLike, end: ArrayLike
) -> FloatArray:
    """Kc or Kcb on each day (FAO-56 equation 66), (days, beds).

    Parameters
    ----------
    days : numbers of days, as the stages count them, (days,)
    stages : when stages end
    initial, middle, end : values of the crop, adjusted to climate [-], 0 and up
    """
    not_negative(initial=initial, middle=middle, end=end)
    risen, fallen = stages.ramps(days)
    low, high, last = (floats(each) for each in (initial, middle, end))
    return np.asarray(low + (high - low) * risen + (last - high) * fallen)


@formula(
    "K + (0.04 (wind - 2) - 0.004 (least humidity - 45)) x (height / 3) ^ 0.3",
    result=_PLAIN,
    sources=(
        Source(_FAO, "equations 62, 65, 70; examples 27 and 29", "wind held to 1 to 6 m/s, "
               "humidity to 20 to 80 %, height to 0.1 to 10 m"),
    ),
    example={
        "tabled": "1.20",
        "wind_m_s": "4.6",
        "humidity_min_percent": "44",
        "height_m": "2 m",
    },
    tabled=_PLAIN,
    wind_m_s=_PLAIN,
    humidity_min_percent=_PLAIN,
    height_m=_LENGTH,
)  # fmt: skip
def climate_adjusted(
    tabled: ArrayLike, wind_m_s: ArrayLike, humidity_min_percent: ArrayLike, height_m: ArrayLike
) -> FloatArray:
    """A tabled coefficient of the middle or end of the season in another climate [-].

    Parameters
    ----------
    tabled : Kc or Kcb for 45 % and 2 m/s [-], 0 to 2; of the end only where 0.45 or more
    wind_m_s : mean of the stage at 2 m [m/s], 0 and up
    humidity_min_percent : mean of the stage's daily least [%], 0 to 100
    height_m : of the crop [m], 0 and up

    Raises ValueError for an input outside its range.
    """
    within(0, 2, tabled=tabled)
    tall = np.maximum(floats(height_m), _LOWEST_M)
    return np.asarray(floats(tabled) + _climate_term(wind_m_s, humidity_min_percent, tall))


def end_adjusted(
    tabled: ArrayLike, wind_m_s: ArrayLike, humidity_min_percent: ArrayLike, height_m: ArrayLike
) -> FloatArray:
    """As :func:`climate_adjusted`, for the end of the season: below 0.45 the table's value stays.

    Parameters
    ----------
    tabled : Kc or Kcb of the end for 45 % and 2 m/s [-], 0 to 2
    wind_m_s, humidity_min_percent, height_m : as there [m/s, %, m]
    """
    changed = climate_adjusted(tabled, wind_m_s, humidity_min_percent, height_m)
    return np.where(floats(tabled) >= _ADJUSTED_FROM, changed, floats(tabled))


def _climate_term(
    wind_m_s: ArrayLike, humidity_min_percent: ArrayLike, height_m: ArrayLike
) -> FloatArray:
    not_negative(wind_m_s=wind_m_s, height_m=height_m)
    within(0, 100, humidity_min_percent=humidity_min_percent)
    wind = np.clip(floats(wind_m_s), _CALMEST, _WINDIEST)
    moist = np.clip(floats(humidity_min_percent), _DRIEST, _MOISTEST)
    tall = np.minimum(floats(height_m), _TALLEST_M)
    return np.asarray((0.04 * (wind - 2) - 0.004 * (moist - 45)) * (tall / 3) ** 0.3)


@formula(
    "1.2 + (0.04 (wind - 2) - 0.004 (least humidity - 45)) x (height / 3) ^ 0.3, at least Kcb + "
    "0.05",
    result=_PLAIN,
    sources=(
        Source(_FAO, "equation 72, example 32", "base about 1.1 where wetted daily or every second "
               "day (p. 144)"),
    ),
    example={
        "basal": "0.9",
        "wind_m_s": "3",
        "humidity_min_percent": "20",
        "height_m": "1 m",
        "base": "1.2",
    },
    basal=_PLAIN,
    wind_m_s=_PLAIN,
    humidity_min_percent=_PLAIN,
    height_m=_LENGTH,
    base=_PLAIN,
)  # fmt: skip
def most_coefficient(
    basal: ArrayLike,
    wind_m_s: ArrayLike,
    humidity_min_percent: ArrayLike,
    height_m: ArrayLike,
    base: ArrayLike = 1.2,
) -> FloatArray:
    """Kc max: what energy allows for evaporation and transpiration together [-].

    Parameters
    ----------
    basal : Kcb of the day [-], 0 and up
    wind_m_s : at 2 m [m/s], 0 and up
    humidity_min_percent : the day's least [%], 0 to 100
    height_m : of the crop [m], 0 and up
    base : 1.2, or about 1.1 where the ground is wetted daily or every second day [-], 1 to 2.5;
        more for a small plot in dry surroundings

    Raises ValueError for an input outside its range.
    """
    not_negative(basal=basal)
    within(1, _MOST_KC, base=base)
    allowed = floats(base) + _climate_term(wind_m_s, humidity_min_percent, height_m)
    return np.asarray(np.maximum(allowed, floats(basal) + 0.05))


@formula(
    "((Kcb - least) / (Kc max - least)) ^ (1 + 0.5 height), 0 to 0.99",
    result=_SHARE,
    sources=(Source(_FAO, "equation 76, example 32", "least Kc of bare dry soil 0.15 to 0.20"),),
    example={"basal": "0.9", "ceiling": "1.30", "least": "0.15", "height_m": "1 m"},
    basal=_PLAIN,
    ceiling=_PLAIN,
    least=_PLAIN,
    height_m=_LENGTH,
)
def cover_share(
    basal: ArrayLike, ceiling: ArrayLike, least: ArrayLike, height_m: ArrayLike
) -> FloatArray:
    """Share of the ground that the crop shades [-], 0 to 0.99.

    Parameters
    ----------
    basal : Kcb of the day [-], 0 and up
    ceiling : Kc max [-], above ``least``
    least : Kcb of the crop at the start, or of bare dry soil [-], 0 to 0.5
    height_m : of the crop [m], 0 and up

    Raises ValueError for an input outside its range.
    """
    within(0, 0.5, least=least)
    not_negative(basal=basal, height_m=height_m)
    wide = floats(ceiling) - floats(least)
    positive(ceiling_less_least=wide)
    share = np.maximum(floats(basal) - floats(least), 0.0) / wide
    return np.asarray(np.minimum(share ** (1 + 0.5 * floats(height_m)), 0.99))


@formula(
    "Kcb - (1 - sqrt(cover / cover of a dense stand))",
    result=_PLAIN,
    sources=(Source(_FAO, "equations 94 and 96, example 40", "dense tomato shades 0.85 to 0.90"),),
    example={"basal": "1.17", "cover": "0.5", "dense_cover": "0.85"},
    basal=_PLAIN,
    cover=_SHARE,
    dense_cover=_SHARE,
)
def sparse_coefficient(basal: ArrayLike, cover: ArrayLike, dense_cover: ArrayLike) -> FloatArray:
    """Kcb of a stand that covers less ground than a usual one [-], never below 0.

    Parameters
    ----------
    basal : Kcb of a dense stand [-], 0 and up
    cover : share of the ground that this stand shades [-], 0 to 1
    dense_cover : share that a dense stand of the crop shades [-], above 0, at most 1

    Raises ValueError for an input outside its range.
    """
    not_negative(basal=basal)
    within(0, 1, cover=cover, dense_cover=dense_cover)
    positive(dense_cover=dense_cover)
    share = np.minimum(floats(cover) / floats(dense_cover), 1.0)
    return np.asarray(np.maximum(floats(basal) - (1 - np.sqrt(share)), 0.0))


@formula(
    "(share1 x height1 x K1 + share2 x height2 x K2) / (share1 x height1 + share2 x height2)",
    result=_PLAIN,
    sources=(Source(_FAO, "equation 104, example 46", "two crops that cover unlike ground"),),
    example={
        "share_one": "0.3",
        "height_one_m": "2 m",
        "coefficient_one": "1.20",
        "height_two_m": "0.3 m",
        "coefficient_two": "0.95",
    },
    share_one=_SHARE,
    height_one_m=_LENGTH,
    coefficient_one=_PLAIN,
    height_two_m=_LENGTH,
    coefficient_two=_PLAIN,
)
def shared_bed_coefficient(
    share_one: ArrayLike,
    height_one_m: ArrayLike,
    coefficient_one: ArrayLike,
    height_two_m: ArrayLike,
    coefficient_two: ArrayLike,
) -> FloatArray:
    """Coefficient of a bed that two crops share [-].

    Parameters
    ----------
    share_one : of the ground under the first crop, the second having the rest [-], 0 to 1
    height_one_m, height_two_m : of the crops [m], above 0
    coefficient_one, coefficient_two : Kc or Kcb of each alone [-], 0 and up

    Raises ValueError for an input outside its range.
    """
    within(0, 1, share_one=share_one)
    positive(height_one_m=height_one_m, height_two_m=height_two_m)
    not_negative(coefficient_one=coefficient_one, coefficient_two=coefficient_two)
    first = floats(share_one) * floats(height_one_m)
    second = (1 - floats(share_one)) * floats(height_two_m)
    both = first * floats(coefficient_one) + second * floats(coefficient_two)
    return np.asarray(both / (first + second))


@formula(
    "Kc = 1.2 + share of wind's fetch x height / width, at most 2.5",
    result=_PLAIN,
    sources=(
        Source(_FAO, "equation 105, pp. 200 to 203", "rough guidance: a single row or small plot "
               "in dry surroundings"),
    ),
    example={"stomatal_share": "1", "height_m": "1.5 m", "width_m": "1 m"},
    stomatal_share=_SHARE,
    height_m=_LENGTH,
    width_m=_LENGTH,
)  # fmt: skip
def oasis_ceiling(stomatal_share: ArrayLike, height_m: ArrayLike, width_m: ArrayLike) -> FloatArray:
    """Most that a crop's coefficient may reach where dry ground lies around it [-].

    Parameters
    ----------
    stomatal_share : Fr, 1 for vegetables that open their leaves as the reference grass does,
        less for a crop that closes them [-], 0 to 1
    height_m : of the crop [m], 0 and up
    width_m : of the planted strip [m], above 0

    Raises ValueError for an input outside its range.
    """
    within(0, 1, stomatal_share=stomatal_share)
    not_negative(height_m=height_m)
    positive(width_m=width_m)
    reach = floats(stomatal_share) * floats(height_m) / floats(width_m)
    return np.asarray(np.minimum(1.2 + reach, _MOST_KC))
