"""The generator's statistics from stated monthly means, with published rules for the rest."""

from __future__ import annotations

import itertools
from collections.abc import Iterable
from dataclasses import dataclass

import numpy as np

from bedwright.climate.annual_cycle import (
    MONTH_DAYS,
    YEAR_DAYS,
    daily_curve,
)
from bedwright.climate.carry_over import correlations
from bedwright.climate.monthly import MonthlyStatistics
from bedwright.climate.record import FloatArray
from bedwright.climate.weather_statistics import WeatherStatistics
from bedwright.guards import not_negative
from bedwright.reference.tables import Row

_NAMES = ("t_max", "t_min", "radiation")
_STARTS = np.concatenate(([0], np.cumsum(MONTH_DAYS)))


@dataclass(frozen=True, eq=False)
class GeneratorDefaults:
    """The table ``weather_generator.csv``: ``carry`` and ``shock`` (3, 3), single numbers by
    (parameter, variable)."""

    carry: FloatArray
    shock: FloatArray
    numbers: dict[tuple[str, str], float]

    @property
    def wet_day_mm(self) -> float:
        """Least rain of a wet day [mm]."""
        return self.numbers["wet_day_least", "rain"]


def generator_defaults(rows: Iterable[Row]) -> GeneratorDefaults:
    """The defaults from the rows of ``weather_generator.csv`` that are in use.

    Parameters
    ----------
    rows : of the table

    Raises LookupError where a matrix is not complete.
    """
    matrices = {name: np.full((3, 3), np.nan) for name in ("carry", "shock")}
    numbers: dict[tuple[str, str], float] = {}
    for row in rows:
        if not row.used:
            continue
        name, variable = row["parameter"], row["variable"]
        if name in matrices:
            matrices[name][_NAMES.index(variable), _NAMES.index(row["other"])] = row.typical()
        else:
            numbers[name, variable] = row.typical()
    for name, matrix in matrices.items():
        if np.isnan(matrix).any():
            raise LookupError(f"weather_generator.csv has no whole matrix {name}")
    return GeneratorDefaults(matrices["carry"], matrices["shock"], numbers)


def weather_statistics(
    monthly: MonthlyStatistics, defaults: GeneratorDefaults, latitude_deg: float | None = None
) -> WeatherStatistics:
    """The generator's statistics of a place of which monthly means are known.

    Parameters
    ----------
    monthly : what is known
    defaults : published rules for what is not
    latitude_deg : needed where radiation is stated [deg], -66 to 66

    ``assumptions`` of the result lists what was taken from the rules: "no_rain_stated",
    "rain_goes_on_by_rule", "rain_spread_by_rule", "temperature_spread_by_rule",
    "wet_days_cooler_by_rule", "radiation_spread_by_rule", "carry_over_published" and
    "no_change_between_years" (generated years differ less than real ones).
    Raises ValueError where radiation is stated without a latitude.
    """
    if monthly.radiation_mj_m2 is not None and latitude_deg is None:
        raise ValueError("radiation is stated; its rule needs latitude_deg")
    assumed = ["no_change_between_years"]
    wet, rain, shape = _rain(monthly, defaults, assumed)
    after_dry, after_wet = _chances(monthly, wet, defaults, assumed)
    mean, sd = [], []
    warmth = _wet_dry_warmth(after_dry, defaults)
    assumed.append("wet_days_cooler_by_rule")
    for name, difference in (("t_max", warmth), ("t_min", 0.0)):
        each, spread = _temperature(monthly, name, wet, difference, defaults, assumed)
        mean.append(each)
        sd.append(spread)
    if monthly.radiation_mj_m2 is not None and latitude_deg is not None:
        each, spread = _radiation(
            monthly.radiation_mj_m2, monthly.radiation_sd_mj_m2, wet, latitude_deg, defaults
        )
        mean.append(each)
        sd.append(spread)
        assumed.append("radiation_spread_by_rule")
    now, lag = correlations(defaults.carry, defaults.shock)
    count = len(mean)
    scale = np.sqrt(np.outer(np.diag(now), np.diag(now)))
    now, lag = (np.tile((each / scale)[:count, :count], (12, 1, 1)) for each in (now, lag))
    now[:, np.arange(count), np.arange(count)] = 1.0
    goes_on = after_wet - after_dry
    for at, name in enumerate(_NAMES[:2]):
        stated = getattr(monthly, f"{name}_lag")
        if stated is not None:
            whole = getattr(monthly, f"{name}_c")
            lag[:, at, at] = _residual_lag(stated, whole, mean[at], sd[at], wet, goes_on)
    assumed.append("carry_over_published")
    return WeatherStatistics(
        p_wet_after_wet=after_wet,
        p_wet_after_dry=after_dry,
        rain_wet_day_mm=rain,
        rain_shape=shape,
        mean=np.stack(mean),
        sd=np.stack(sd),
        correlation=now,
        lag_correlation=lag,
        wet_day_mm=defaults.wet_day_mm,
        assumptions=tuple(dict.fromkeys(assumed)),
        rain_known=monthly.wet_fraction is not None,
    )


def _rain(
    monthly: MonthlyStatistics, defaults: GeneratorDefaults, assumed: list[str]
) -> tuple[FloatArray, FloatArray, FloatArray]:
    """Wet fraction, mean rain of a wet day and gamma shape."""
    number = defaults.numbers
    none = number["rain_shape_none", "rain"]
    if monthly.wet_fraction is None or monthly.rain_wet_day_mm is None:
        assumed.append("no_rain_stated")
        return np.zeros(12), np.full(12, defaults.wet_day_mm), np.full(12, none)
    wet = np.asarray(monthly.wet_fraction, dtype=np.float64)
    mean = np.where(wet > 0, monthly.rain_wet_day_mm, defaults.wet_day_mm)
    mean = np.maximum(mean, defaults.wet_day_mm)
    if monthly.rain_wet_day_sd_mm is not None:
        spread = np.where(monthly.rain_wet_day_sd_mm > 0, monthly.rain_wet_day_sd_mm, np.nan)
        shape = (mean / spread) ** 2
    else:
        scale = number["rain_scale_offset", "rain"] + number["rain_scale_slope", "rain"] * mean
        shape = mean / np.maximum(scale, 1e-6 * mean)
        shape = np.clip(
            shape, number["rain_shape_least", "rain"], number["rain_shape_most", "rain"]
        )
        assumed.append("rain_spread_by_rule")
    return wet, mean, np.where((wet > 0) & np.isfinite(shape), shape, none)


def _chances(
    monthly: MonthlyStatistics,
    wet: FloatArray,
    defaults: GeneratorDefaults,
    assumed: list[str],
) -> tuple[FloatArray, FloatArray]:
    """Chances of a wet day after a dry and after a wet one that give the wet fraction."""
    if monthly.wet_fraction is None:
        return np.zeros(12), np.zeros(12)
    dry = 1 - wet
    by_rule = defaults.numbers["wet_after_dry_share", "rain"] * wet
    after_dry = by_rule
    if monthly.p_wet_after_wet is not None:
        stated = np.divide(
            wet * (1 - monthly.p_wet_after_wet), dry, out=np.full(12, np.nan), where=dry > 0
        )
        after_dry = np.clip(np.where(np.isnan(stated), by_rule, stated), 0.0, 1.0)
    else:
        assumed.append("rain_goes_on_by_rule")
    after_wet = 1 - np.divide(after_dry * dry, wet, out=np.ones(12), where=wet > 0)
    return after_dry, np.clip(after_wet, 0.0, 1.0)


def _wet_dry_warmth(after_dry: FloatArray, defaults: GeneratorDefaults) -> float:
    """By how much dry days have the higher maximum [K]."""
    offset, slope = (defaults.numbers[f"wet_dry_{each}", "t_max"] for each in ("offset", "slope"))
    return abs(offset + slope * float(after_dry.mean()))


def _temperature(
    monthly: MonthlyStatistics,
    name: str,
    wet: FloatArray,
    difference: float,
    defaults: GeneratorDefaults,
    assumed: list[str],
) -> tuple[FloatArray, FloatArray]:
    """Means and deviations on dry and wet days (2, 12) that give the month's mean (and sd)."""
    whole = np.asarray(getattr(monthly, f"{name}_c"), dtype=np.float64)
    mean = _kinds(whole, wet, difference)
    stated = getattr(monthly, f"{name}_sd_c")
    number = defaults.numbers
    least = number["sd_least", name]
    if stated is None:
        assumed.append("temperature_spread_by_rule")
        by_rule = number["sd_offset", name] + number["sd_slope", name] * mean
        return mean, np.maximum(by_rule, least)
    between = wet * (1 - wet) * difference**2
    left = np.asarray(stated, dtype=np.float64) ** 2 - between - _within_month(whole)
    return mean, np.tile(np.sqrt(np.maximum(left, least**2)), (2, 1))


def _kinds(whole: FloatArray, wet: FloatArray, difference: float) -> FloatArray:
    """Dry and wet means (2, 12) that lie so far apart about the month's mean."""
    return np.stack([whole + wet * difference, whole - (1 - wet) * difference])


def _within_month(monthly: FloatArray) -> FloatArray:
    """The variance that the yearly course alone gives the days of each month (12,)."""
    curve = daily_curve(monthly)
    return np.array([curve[start:end].var() for start, end in itertools.pairwise(_STARTS)])


def _residual_lag(
    stated: FloatArray,
    whole: FloatArray,
    mean: FloatArray,
    sd: FloatArray,
    wet: FloatArray,
    goes_on: FloatArray,
) -> FloatArray:
    """What the residuals carry over (12,), once what the yearly course and the rain carry over
    is taken off the correlation of the days themselves."""
    residual = (1 - wet) * sd[0] ** 2 + wet * sd[1] ** 2
    course = _within_month(whole)
    kinds = wet * (1 - wet) * (mean[0] - mean[1]) ** 2
    total = residual + course + kinds
    return np.asarray(np.clip((stated * total - course - goes_on * kinds) / residual, -1.0, 1.0))


def _radiation(
    whole: FloatArray,
    stated_sd: FloatArray | None,
    wet: FloatArray,
    latitude_deg: float,
    defaults: GeneratorDefaults,
) -> tuple[FloatArray, FloatArray]:
    """Radiation on dry and wet days and its spread (2, 12)."""
    number = defaults.numbers
    whole = np.asarray(whole, dtype=np.float64)
    difference = abs(
        number["wet_dry_offset", "radiation"]
        + number["wet_dry_slope", "radiation"] * abs(latitude_deg)
        + number["wet_dry_share", "radiation"] * float(whole.mean())
    )
    # no darker on wet days than the scheme's least share of its most
    darkest = number["least_share", "radiation"] * whole
    mean = np.maximum(_kinds(whole, wet, difference), darkest)
    swing = (whole - whole.mean()) / max(np.ptp(whole) / 2, 1e-9)
    swing = np.clip(swing, -1.0, 1.0)
    variation = np.stack(
        [
            number[f"variation_{kind}", "radiation"]
            + number[f"variation_{kind}_swing", "radiation"] * swing
            for kind in ("dry", "wet")
        ]
    )
    sd = np.maximum(variation, number["variation_least", "radiation"]) * mean
    if stated_sd is None:
        return mean, sd
    between = wet * (1 - wet) * (mean[0] - mean[1]) ** 2
    left = np.asarray(stated_sd, dtype=np.float64) ** 2 - between - _within_month(whole)
    return mean, np.tile(np.sqrt(np.maximum(left, sd.min(axis=0) ** 2)), (2, 1))


def radiation_limits(
    extraterrestrial_mj_m2: FloatArray, defaults: GeneratorDefaults
) -> tuple[FloatArray, FloatArray]:
    """Least and most radiation of each day of a common year [MJ/m2], (365,), (365,).

    Parameters
    ----------
    extraterrestrial_mj_m2 : radiation outside the air on each day [MJ/m2], 0 and up, (365,)
    defaults : published shares

    Raises ValueError for another number of days.
    """
    outside = np.asarray(extraterrestrial_mj_m2, dtype=np.float64)
    not_negative(extraterrestrial_mj_m2=outside)
    if outside.shape != (YEAR_DAYS,):
        raise ValueError(f"extraterrestrial_mj_m2 has the shape {outside.shape}; not (365,)")
    most = defaults.numbers["most_share", "radiation"] * outside
    return defaults.numbers["least_share", "radiation"] * most, most
