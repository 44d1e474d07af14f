"""A weather generator: years of invented weather with the statistics of a place.

Rain follows a chain of wet and dry days with gamma amounts; the temperatures and radiation are
smooth annual cycles, apart for wet and dry days, with residuals that are carried from day to
day and hang together (Richardson's scheme). Noise is not cut off as the published programs do:
that narrows the spread, and the tails are what a gardener asks for.

Generated years differ from each other only by the chance of their days. Real years differ more
(a late spring as a whole, a hot summer), so the risky ends of date odds come out too mild: at
Champion, Nebraska, the date with one chance in ten of a later freeze lies a week too early. A
garden with a record should use the record.
"""

from __future__ import annotations

import numpy as np
import numpy.typing as npt

from bedwright.climate.annual_cycle import (
    MONTH_DAYS,
    YEAR_DAYS,
    daily_curve,
    daily_curve_not_negative,
)
from bedwright.climate.carry_over import carry_and_shock
from bedwright.climate.record import DailyRecord, FloatArray, IntArray, year_month_day
from bedwright.climate.weather_statistics import (
    RADIATION,
    T_MAX,
    T_MIN,
    WeatherStatistics,
)
from bedwright.guards import not_negative, positive

BoolArray = npt.NDArray[np.bool_]

_SPIN_UP = 128  # days: by then nothing is left of the start (0.9 to the 128th is 1e-6)
_BEFORE_MONTH = np.concatenate(([0], np.cumsum(MONTH_DAYS)[:-1]))


def generate(
    statistics: WeatherStatistics,
    years: int,
    seed: int,
    *,
    first_year: int = 2001,
    name: str = "",
    latitude_deg: float | None = None,
    elevation_m: float | None = None,
    radiation_limits_mj_m2: tuple[FloatArray, FloatArray] | None = None,
) -> DailyRecord:
    """Years of invented daily weather, labelled as made by the generator.

    Parameters
    ----------
    statistics : of the place, fitted to its record or made from stated monthly statistics
    years : how many calendar years, 1 and up
    seed : any whole number from 0; the same seed gives the same weather
    first_year : the calendar year of the first day (leap years follow from it)
    name, latitude_deg, elevation_m : carried into the record
    radiation_limits_mj_m2 : least and most radiation of each day of a common year (365,), (365,)

    Raises ValueError where years or seed are out of range or limits have another shape.
    """
    positive(years=years)
    not_negative(seed=seed)
    first = np.datetime64(f"{first_year:04d}-01-01", "D")
    last = np.datetime64(f"{first_year + years:04d}-01-01", "D")
    place = _place_in_year(np.arange(first - np.timedelta64(_SPIN_UP, "D"), last))
    noise_of_rain, noise_of_amounts, noise = np.random.default_rng(seed).spawn(3)
    wet = _wet_days(statistics, place, noise_of_rain)
    rain = _amounts(statistics, place, wet, noise_of_amounts)
    values = _values(statistics, place, wet, noise)[:, _SPIN_UP:]
    low = np.minimum(values[T_MAX], values[T_MIN])
    high = np.maximum(values[T_MAX], values[T_MIN])
    return DailyRecord(
        station="",
        name=name,
        latitude_deg=latitude_deg,
        longitude_deg=None,
        elevation_m=elevation_m,
        first_day=first,
        t_max_c=high,
        t_min_c=low,
        rain_mm=rain[_SPIN_UP:] if statistics.rain_known else None,
        radiation_mj_m2=_held(values, place[_SPIN_UP:], radiation_limits_mj_m2)
        if statistics.has_radiation
        else None,
        made_by="generator",
    )


def _place_in_year(dates: npt.NDArray[np.datetime64]) -> IntArray:
    """The day of a common year, 0 to 364; 29 February stands where the 28th does."""
    _, month, day = year_month_day(dates)
    in_month = np.minimum(day, MONTH_DAYS[month - 1])
    return np.asarray(_BEFORE_MONTH[month - 1] + in_month - 1, dtype=np.int64)


def _wet_days(
    statistics: WeatherStatistics, place: IntArray, noise: np.random.Generator
) -> BoolArray:
    """Which days are wet: each day is set wet, set dry, kept as the day before, or turned.

    A run of kept and turned days counts back to the last day that was set, so that the whole
    chain is worked without a loop.
    """
    chances = np.stack([statistics.p_wet_after_dry, statistics.p_wet_after_wet])
    after_dry, after_wet = np.minimum(daily_curve_not_negative(chances), 1.0)[:, place]
    draw = noise.random(len(place))
    if_dry, if_wet = draw < after_dry, draw < after_wet
    fixed = if_dry == if_wet
    fixed[0] = True
    since = np.maximum.accumulate(np.where(fixed, np.arange(len(place)), 0))
    turned = np.cumsum(~fixed & if_dry)
    return np.asarray(if_dry[since] ^ ((turned - turned[since]) % 2 == 1))


def _amounts(
    statistics: WeatherStatistics, place: IntArray, wet: BoolArray, noise: np.random.Generator
) -> FloatArray:
    """Rain of each day [mm]: gamma on wet days, not less than the least rain of a wet day."""
    shape, mean = daily_curve_not_negative(
        np.stack([statistics.rain_shape, statistics.rain_wet_day_mm])
    )[:, place]
    rain = noise.standard_gamma(shape) * mean / shape
    return np.where(wet, np.maximum(rain, statistics.wet_day_mm), 0.0)


def _values(
    statistics: WeatherStatistics, place: IntArray, wet: BoolArray, noise: np.random.Generator
) -> FloatArray:
    """Temperatures and radiation (variables, days): cycle + spread x residual."""
    mean = daily_curve(statistics.mean)
    sd = np.sqrt(daily_curve_not_negative(statistics.sd**2))
    residual = _residuals(statistics, place, noise)
    kind = wet.astype(np.int64)
    return np.asarray(mean[:, kind, place] + sd[:, kind, place] * residual)


def _residuals(
    statistics: WeatherStatistics, place: IntArray, noise: np.random.Generator
) -> FloatArray:
    """Residuals (variables, days), each day's from the day before.

    The years are run side by side; each starts far enough ahead, on the noise of the year
    before, to join it without a seam.
    """
    carries, shocks = _daily_carry(statistics)
    carry, count = carries[place], len(statistics.mean)
    fresh = np.einsum("tij,tj->ti", shocks[place], noise.standard_normal((len(place), count)))
    step = 366
    lanes = -(-(len(place) - _SPIN_UP) // step)
    starts = np.arange(lanes) * step
    found = np.zeros((len(place), count))
    state = np.zeros((lanes, count))
    for offset in range(_SPIN_UP + step):
        at = starts + offset
        on = at < len(place)
        at = at[on]
        state[on] = np.einsum("tij,tj->ti", carry[at], state[on]) + fresh[at]
        if offset >= _SPIN_UP:
            found[at] = state[on]
    return found.T


def _daily_carry(statistics: WeatherStatistics) -> tuple[FloatArray, FloatArray]:
    """Carry and shock of each day of a common year (365, n, n), smooth over the year.

    Each day's pair leads exactly from the correlations of the day before to its own, so that
    the residuals keep unit variance where the months pass into each other.
    """
    now, lag = (
        np.moveaxis(daily_curve(np.moveaxis(each, 0, -1)), -1, 0)
        for each in (statistics.correlation, statistics.lag_correlation)
    )
    diagonal = np.arange(now.shape[-1])
    now[:, diagonal, diagonal] = 1.0
    carry, shock = carry_and_shock(np.roll(now, 1, axis=0), now, lag)
    largest = float(np.abs(np.linalg.eigvals(carry)).max())
    if largest >= 1:
        raise ValueError(f"lag_correlation is too strong: the carry grows by {largest:g} a day")
    return carry, shock


def _held(
    values: FloatArray, place: IntArray, limits: tuple[FloatArray, FloatArray] | None
) -> FloatArray:
    """Radiation between its limits [MJ/m2]; never below 0."""
    radiation: FloatArray = np.maximum(values[RADIATION], 0.0)
    if limits is None:
        return radiation
    least, most = (np.asarray(each, dtype=np.float64) for each in limits)
    if least.shape != (YEAR_DAYS,) or most.shape != least.shape:
        raise ValueError(f"radiation limits have shapes {least.shape}, {most.shape}; not (365,)")
    return np.asarray(np.clip(radiation, least[place], most[place]))
