"""Fitting the weather generator to a record."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from bedwright.climate.annual_cycle import MONTH_DAYS, daily_curve, daily_curve_not_negative
from bedwright.climate.record import DailyRecord, FloatArray, IntArray, year_month_day
from bedwright.climate.weather_statistics import DRY, WET, WeatherStatistics
from bedwright.guards import positive

BoolArray = npt.NDArray[np.bool_]

_BEFORE_MONTH = np.concatenate(([0], np.cumsum(MONTH_DAYS)[:-1]))
_LEAST_VARIATION = 0.01  # of rain on wet days: keeps the shape finite where all were alike
_ROUNDS = 8  # of fitting the cycles' months to the days that there are


@dataclass(frozen=True)
class Pooling:
    """How many days a statistic must rest on; months with fewer borrow from their neighbors."""

    wet_days: int
    pairs: int


def fit_weather(record: DailyRecord, wet_day_mm: float, pooling: Pooling) -> WeatherStatistics:
    """The generator's statistics of a record.

    Parameters
    ----------
    record : with temperatures and rain; radiation is fitted where there is any
    wet_day_mm : least rain that makes a day wet [mm], above 0
    pooling : days below which a month borrows from its neighbors

    ``assumptions`` says "no_change_between_years": generated years differ less than real ones.
    Missing days are left out with the pairs that they belong to. Raises ValueError where the
    record has no rain, or a month or the record holds fewer days than the pooling asks for.
    """
    positive(wet_day_mm=wet_day_mm)
    if record.rain_mm is None:
        raise ValueError("the record has no rain; the generator needs which days were wet")
    series = [record.t_max_c, record.t_min_c]
    if record.radiation_mj_m2 is not None:
        series.append(record.radiation_mj_m2)
    years, month, day = year_month_day(record.dates())
    month = month - 1
    place = _BEFORE_MONTH[month] + np.minimum(day, MONTH_DAYS[month]) - 1
    rain = record.rain_mm
    known = ~np.isnan(rain)
    wet = known & (rain >= wet_day_mm)
    days = _by_month(known, known & ~np.isnan(series).any(axis=0), month)
    least = min(pooling.wet_days, MONTH_DAYS.min())  # one whole month at least
    if np.any(days < least):
        bare = (np.flatnonzero(days < least) + 1).tolist()
        raise ValueError(f"month(s) {bare} have fewer than {least} whole days to fit to")
    after_wet, after_dry = _chances(wet, known, month, pooling)
    mean_rain, shape = _gamma(rain, wet, month, pooling.wet_days)
    kind = np.where(known, wet, -1)
    cycles = [_cycle(each, kind, month, place, pooling.wet_days) for each in series]
    values = np.where(known, np.stack(series), np.nan)
    now, lag = _correlations(values, cycles, month, pooling.pairs)
    return WeatherStatistics(
        p_wet_after_wet=after_wet,
        p_wet_after_dry=after_dry,
        rain_wet_day_mm=mean_rain,
        rain_shape=shape,
        mean=np.stack([each.mean for each in cycles]),
        sd=np.sqrt(np.stack([each.variance for each in cycles])),
        correlation=now,
        lag_correlation=lag,
        wet_day_mm=wet_day_mm,
        years=len(np.unique(years)),
        assumptions=("no_change_between_years",),
    )


def _by_month(values: FloatArray | BoolArray, chosen: BoolArray, month: IntArray) -> FloatArray:
    """Sums of the chosen values by month (12,)."""
    sums = np.bincount(month[chosen], weights=values[chosen].astype(np.float64), minlength=12)
    return np.asarray(sums, dtype=np.float64)


def _pooled(sums: FloatArray, counts: FloatArray, least: int) -> FloatArray:
    """Means by month; a month of fewer than ``least`` takes in neighbors on both sides."""
    for_sum, for_count = np.array(sums, dtype=np.float64), np.array(counts, dtype=np.float64)
    reach = 0
    around = sums, counts
    while np.any(for_count < least):
        reach += 1
        if reach > 6:
            raise ValueError(
                f"the record holds {np.sum(counts):g} days of a kind; it needs {least} to be fitted"
            )
        wider = [
            sum(np.roll(each, shift) for shift in range(-min(reach, 6), min(reach, 5) + 1))
            for each in around
        ]
        short = for_count < least
        for_sum, for_count = (
            np.where(short, new, old) for new, old in zip(wider, (for_sum, for_count), strict=True)
        )
    return np.asarray(for_sum / for_count)


def _chances(
    wet: BoolArray, known: BoolArray, month: IntArray, pooling: Pooling
) -> tuple[FloatArray, FloatArray]:
    """Chance of a wet day after a wet and after a dry day, by the month of the second day."""
    today = np.zeros(len(wet), dtype=bool)
    today[1:] = known[1:] & known[:-1]
    before = np.concatenate(([False], wet[:-1]))
    ones = np.ones(len(wet))
    found = []
    for chosen, fewest in ((today & before, pooling.wet_days), (today & ~before, pooling.pairs)):
        counts = _by_month(ones, chosen, month)
        found.append(_pooled(_by_month(ones, chosen & wet, month), counts, fewest))
    return found[0], found[1]


def _gamma(
    rain: FloatArray, wet: BoolArray, month: IntArray, least: int
) -> tuple[FloatArray, FloatArray]:
    """Mean rain of a wet day and its gamma shape by month, from mean and variance.

    The shape of the greatest likelihood fits the many small rains better and makes the large
    ones too rare; what fills and empties the soil are the large ones.
    """
    counts = _by_month(np.ones(len(rain)), wet, month)
    amounts = np.where(wet, rain, 0.0)
    mean = _pooled(_by_month(amounts, wet, month), counts, least)
    square = _pooled(_by_month(amounts**2, wet, month), counts, least)
    return mean, mean**2 / np.maximum(square - mean**2, _LEAST_VARIATION * mean**2)


@dataclass(frozen=True)
class _Cycle:
    mean: FloatArray  # (2, 12)
    variance: FloatArray  # (2, 12)
    by_day: FloatArray  # (days,): the cycle at each day of the record
    sd_by_day: FloatArray  # (days,)


def _cycle(
    values: FloatArray, kind: IntArray, month: IntArray, place: IntArray, least: int
) -> _Cycle:
    """Monthly means and variances of dry and wet days that the daily curves then reproduce.

    The variance is the month's own less that of the cycle: where the cycle falls more slowly
    within a month than the weather did, the residuals take over the rest.

    A kind with few days in a month is taken to differ from the month's other days as it does
    in the months around. Days of unknown kind (-1) or value are left out.
    """
    known = (kind >= 0) & ~np.isnan(values)
    ones = np.ones(len(values))
    masks = [known & (kind == each) for each in (DRY, WET)]
    counts = [_by_month(ones, each, month) for each in masks]

    def by_kind(of: FloatArray) -> FloatArray:
        return np.stack(
            [
                _pooled(_by_month(of, mask, month), count, least)
                for mask, count in zip(masks, counts, strict=True)
            ]
        )

    filled = np.where(known, values, 0.0)
    whole = _pooled(_by_month(filled, known, month), _by_month(ones, known, month), least)
    mean = np.tile(whole, (2, 1))
    for _ in range(_ROUNDS):
        mean = mean + by_kind(filled - daily_curve(mean)[kind, place])
    by_day = daily_curve(mean)[kind, place]
    squares = (filled - whole[month]) ** 2 - (by_day - whole[month]) ** 2
    wanted = np.maximum(by_kind(squares), _LEAST_VARIATION * by_kind((filled - by_day) ** 2))
    variance = wanted
    for _ in range(_ROUNDS):
        spread = by_kind(daily_curve_not_negative(variance)[kind, place])
        variance = variance * wanted / spread
    sd = np.sqrt(daily_curve_not_negative(variance))[kind, place]
    return _Cycle(mean, variance, by_day, sd)


def _correlations(
    values: FloatArray, cycles: list[_Cycle], month: IntArray, least: int
) -> tuple[FloatArray, FloatArray]:
    """Correlations of the residuals on one day, and with the day before, by month.

    They are what the products of the values themselves ask for once the products of the cycles
    are taken off: what rain and warmth have to do with each other across days, which the scheme
    leaves out, is carried by the residuals, and the correlations of the weather come out right.
    """
    cycle, spread = (
        np.stack([getattr(each, name) for each in cycles]) for name in ("by_day", "sd_by_day")
    )
    known: BoolArray = ~np.any(np.isnan(values), axis=0)
    both = known & np.roll(known, 1)
    both[0] = False
    center = np.stack(
        [
            _pooled(_by_month(each, known, month), _by_month(known, known, month), least)
            for each in np.where(known, values, 0.0)
        ]
    )[:, month]
    off, cycle = np.where(known, values, center) - center, cycle - center
    found = []
    for chosen, lag in ((known, 0), (both, 1)):
        matrix = np.empty((12, len(values), len(values)))
        for row in range(len(values)):
            for column in range(len(values)):
                excess = off[row] * np.roll(off[column], lag) - cycle[row] * np.roll(
                    cycle[column], lag
                )
                sums = _by_month(excess, chosen, month)
                weights = _by_month(spread[row] * np.roll(spread[column], lag), chosen, month)
                counts = _by_month(known, chosen, month)
                matrix[:, row, column] = _pooled(sums, counts, least) / _pooled(
                    weights, counts, least
                )
        found.append(np.clip(matrix, -1.0, 1.0))
    now = found[0]
    diagonal = np.arange(len(values))
    now[:, diagonal, diagonal] = 1.0
    return now, found[1]
